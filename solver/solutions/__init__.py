"""The incumbent of each material, and the Pareto front between stock and sawing."""

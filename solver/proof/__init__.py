"""What no plan can beat: bounds, column generation, and the models solved by CP-SAT."""

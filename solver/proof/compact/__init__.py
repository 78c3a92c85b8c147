"""The compact guillotine model: every cut of a few sheets as variables of CP-SAT."""

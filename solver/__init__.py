"""What to cut from what, and in which order: bounds, patterns, CP-SAT, sequencing."""

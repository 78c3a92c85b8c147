"""What bounds a step of work (stop, effort), and what is noted of it (phase, statistics)."""

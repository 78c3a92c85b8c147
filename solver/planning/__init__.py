"""One planning run: who works on what for how long, and in which process."""

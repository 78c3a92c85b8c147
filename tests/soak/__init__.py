"""Long trials by hand, each with a short form in the suite: ``python -m tests.soak.NAME``."""

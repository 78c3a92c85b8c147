"""Long trials with counts: ``python -m tests.soak.NAME --n N``; short forms are tests."""

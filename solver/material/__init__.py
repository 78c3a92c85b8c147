"""One material in the solver's own numbers, and the rooms its parts can lie in."""

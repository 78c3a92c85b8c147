"""The words of the job: lengths, parts, sheets, cuts, plans, and the simulated saw."""

"""What one step notes while it works; written by the thread that works, read by others."""

from solver.budget.phase import Method
from solver.budget.statistics import NOTHING, WorkDone


class Notes:
    """The method in use and the work so far; each is replaced as a whole."""

    def __init__(self, method: Method = Method.QUICK) -> None:
        self.method = method
        self.work = NOTHING

    def add(self, more: WorkDone) -> None:
        """Add work that was done."""
        self.work += more

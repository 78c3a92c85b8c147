"""How much one step of work may take, and what it notes while it works.

Notes are written by the thread that works, and read by others.
"""

from typing import NamedTuple

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


class Effort(NamedTuple):
    """Seconds at most, the seed, and units of work if it is counted instead of timed.

    What is done is noted in ``notes``, if anybody wants to know.
    """

    seconds: float
    seed: int
    work: int | None = None
    notes: Notes | None = None

    def part(self, share: float) -> "Effort":
        """Return a share of the effort."""
        work = None if self.work is None else int(share * self.work)
        return self._replace(seconds=share * self.seconds, work=work)

    def less(self, seconds: float) -> "Effort":
        """Return what is left after so many seconds; counted work is not less."""
        return self._replace(seconds=self.seconds - seconds)

    def by(self, method: Method) -> None:
        """Note which method is used from now on."""
        if self.notes is not None:
            self.notes.method = method

    def did(self, work: WorkDone) -> None:
        """Note what was done."""
        if self.notes is not None:
            self.notes.add(work)

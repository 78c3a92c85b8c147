"""How much one step of work may take."""

from typing import NamedTuple

from solver.notes import Notes
from solver.phase import Method
from solver.statistics import Work


class Effort(NamedTuple):
    """Seconds at most, the seed, and units of work if it is counted instead of timed.

    What is done is noted in ``notes``, if anybody wants to know.
    """

    seconds: float
    seed: int
    work: int | None = None
    notes: Notes | None = None

    def by(self, method: Method) -> None:
        """Note which method is used from now on."""
        if self.notes is not None:
            self.notes.method = method

    def did(self, work: Work) -> None:
        """Note what was done."""
        if self.notes is not None:
            self.notes.add(work)

"""Runs whose pieces stay in their order because a figure flows across them."""

from shared.job import Job
from solver.sequencing.forest import PieceRun, copies_in


class Matched:
    """Says whether a run parts the block of a match group: its parts stay in their order."""

    def __init__(self, job: Job) -> None:
        """Take the job whose match groups they are."""
        self._groups = {part.id: part.group for part in job.parts if part.group}

    def __call__(self, run: PieceRun) -> bool:
        """Whether two pieces of the run hold parts of one group."""
        if not self._groups:
            return False
        met: set[str] = set()
        for piece in run.run.pieces:
            groups = {self._groups[part] for part, _ in copies_in(piece) if part in self._groups}
            if groups & met:
                return True
            met |= groups
        return False

"""A true lower bound on the cuts of every plan of the proven price.

cuts = parts - sheets + waste pieces: every cut makes one piece more, and where nothing is
left over, one cut is saved. So the waste pieces are bounded from below, by the linear
program of strips and sheets with waste pieces as its cost. No value of the program itself
is ever used: whatever its prices are, items of so much worth lie on sheets none of which is
worth more than the dearest one, and pricing finds that one on the exact scale (A. M.
Geoffrion, "Lagrangean relaxation for integer programming", Mathematical Programming Study
2, 1974).
"""

from collections.abc import Callable
from contextlib import suppress

from solver.budget.statistics import NOTHING, WorkDone
from solver.budget.stop import Stop
from solver.material.instance import Instance, SheetKind, Solution
from solver.proof.column_generation import BoundError
from solver.proof.cut_bound.positions import TooManyPositions
from solver.proof.cut_bound.stock import TooManySums, budget_of
from solver.proof.cut_bound.waste_relaxation import WasteRelaxation
from solver.proof.pricing import Stopped

ONE_ROUND = WorkDone(rounds=1)


class CutBound:
    """Raises a lower bound on the cuts of complete solutions of a given price.

    Attributes
    ----------
    work
        What was done.
    """

    def __init__(self, instance: Instance, solution: Solution) -> None:
        """Take a complete solution of the least price, or of the fewest sheets."""
        self.work = NOTHING
        self._instance, self._solution = instance, solution
        self._best = 0

    def run(
        self,
        stop: Stop,
        target: Callable[[], int | None],
        on_bound: Callable[[int], object],
        steps: int | None = None,
    ) -> int:
        """Return the bound reached; 0 if nothing is known.

        Nothing is said of rooms on begun sheets: what is cut there, no incumbent knows.

        Parameters
        ----------
        stop
            Ends the run.
        target
            Cuts of some solution of that price; reaching them ends the run.
        on_bound
            Hears every better bound.
        steps
            Most steps, for runs that are to be repeated exactly.

        Raises
        ------
        BoundError
            When the bound exceeds the target.
        """
        self._target, self._on_bound = target, on_bound
        if any(row.begun for row in self._instance.rows):
            return 0
        with suppress(Stopped, TooManyPositions, TooManySums):
            self._rise(quick_bound(self._instance, self._solution))
            self._step_by_step(stop, steps)
        return self._best

    def _step_by_step(self, stop: Stop, steps: int | None) -> None:
        if stop or steps == 0 or self._best == self._target():
            return
        relaxation = WasteRelaxation(self._instance, self._solution)
        left = steps
        try:
            while not stop and left != 0 and relaxation.step(stop):
                left = None if left is None else left - 1
                self.work += ONE_ROUND
                self._rise(relaxation.cuts)
                if relaxation.most <= self._best or self._best == self._target():
                    return
        finally:
            self.work += WorkDone(columns=relaxation.columns)

    def _rise(self, bound: int) -> None:
        if bound > self._best:
            self._best = bound
            target = self._target()
            if target is not None and bound > target:
                raise BoundError(f"no fewer than {bound} cuts, but a plan has {target}")
            self._on_bound(bound)


def quick_bound(instance: Instance, solution: Solution) -> int:
    """Return what costs no time: trims that every sheet takes, and sheets that cannot be full.

    A sheet makes one cut less than it has pieces; one that is not full has a waste piece.

    Raises
    ------
    TooManySums
        When prices add up in too many ways.
    """
    parts = sum(item.demand for item in instance.items)
    area = sum(item.demand * item.length * item.width for item in instance.items)
    full = area // min(kind.length * kind.width for kind in instance.kinds)
    least = [
        min((_least_waste(kind) for kind in instance.kinds if kind.row == row), default=0)
        for row in range(len(instance.rows))
    ]
    saved = budget_of(instance, solution).dearest([1 - waste for waste in least])
    return max(0, parts - min(full, saved))


def _least_waste(kind: SheetKind) -> int:
    """Count the trims and waste pieces of a sheet that holds a single strip."""
    far = (not kind.exact_length) + (not kind.exact_width)
    return kind.strip_trim + kind.sheet_trim + far

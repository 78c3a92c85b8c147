"""From the sheets of a job to the order of their cuts, and how good it is.

What the cuts take is made least, in one of three modes: sheet after sheet; set-up after set-up
over all sheets while no more than so many pieces lie about; or sheet after sheet with the fewest
lifts. What finishes blanks comes when all is sawn from the sheets. The order of the passes also
says in which order the pieces of a run lie, so the trees come back with it.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from shared.asked import CutsToOrder
from shared.cuts.forest import Pass
from shared.cuts.order_problem import stable
from solver.budget.stop import Stop
from solver.cut_order.arranging import ordered
from solver.cut_order.clock import START
from solver.cut_order.deciding import Decided, decide
from solver.cut_order.quick import quick
from solver.cut_order.task import task_of
from solver.outcome import Ordered

LONGEST_S: Final = 3600.0
"""An order is sought for so long at most, if nobody stops before."""


def put_in_order(asked: CutsToOrder, stop: Stop, workers: int = 2) -> Iterator[Ordered]:
    """Yield ever better orders, the first one within a moment; nothing without a tree."""
    if all(sheet.tree is None for sheet in asked.sheets):
        return
    ordering = _Ordering(asked)
    order = quick(ordering.task, stop)
    best = ordering.ordered(Decided(order, 0, 0))
    yield best
    if not order or stop:
        return
    for decided in decide(asked, order, stop, min(LONGEST_S, stop.remaining_s), workers):
        found = ordering.ordered(decided)
        better = (found.seconds, -found.least_s) < (best.seconds, -best.least_s)
        if better or (ordering.walks and found != best):
            best = found
            yield best


class _Ordering:
    """Makes what is shown of the orders of one task."""

    def __init__(self, asked: CutsToOrder) -> None:
        self.task, self._asked = task_of(asked), asked
        problem = self.task.problem
        number = {one.key: place for place, one in enumerate(problem.made)}
        self._head = [number[key] for key in asked.made if key in number]
        self._head_s = self.task.clock.seconds(self._head, START, 0)

    @property
    def walks(self) -> bool:
        """Whether fewer lifts are better whatever they cost in seconds."""
        return self.task.lift > 0

    def ordered(self, decided: Decided) -> Ordered:
        """Return an order with its trees; a bound on seconds, unless hands have mixed sheets."""
        order = [*self._head, *decided.order]
        least = self._head_s + decided.least if decided.least else -1
        if self.walks:
            least = self._seconds(order) if decided.is_best else -1
        if self._asked.before:
            wished = stable(self.task.problem, order)
            least = least if wished == order else -1
            order = wished
        return ordered(self._asked, self._passes(order), least)

    def _seconds(self, order: Sequence[int]) -> int:
        return self.task.clock.seconds(order, START, 0)

    def _passes(self, order: Sequence[int]) -> list[Pass]:
        return [self.task.problem.made[number] for number in order]

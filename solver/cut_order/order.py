"""From the sheets of a job to the order of their cuts, and how good it is.

What the cuts take is made least, in one of three modes: sheet after sheet; set-up after set-up
over all sheets while no more than so many pieces lie about; or sheet after sheet with the fewest
lifts. What finishes blanks comes when all is sawn from the sheets. The order of the passes also
says in which order the pieces of a run lie, so the trees come back with it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final, NamedTuple

from shared.asked import CutsToOrder
from shared.cuts.order_problem import stable
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.arranging import ordered
from solver.cut_order.clock import START
from solver.cut_order.deciding import Decided, decide
from solver.cut_order.quick import quick
from solver.cut_order.task import Task, task_of
from solver.cut_order.tidying import tidied
from solver.outcome import Ordered

WIDE: Final = 200
"""Passes that the beam looks at for each one made, once a first order is shown."""


def put_in_order(asked: CutsToOrder, stop: Stop, workers: int = 2) -> Iterator[Ordered]:
    """Yield ever better orders, the first one within a moment; nothing without a tree."""
    if all(sheet.tree is None for sheet in asked.sheets):
        return
    ordering = _Ordering(asked)
    order = quick(ordering.task, stop)
    best = ordering.shown(Decided(order, 0, 0))
    yield best.ordered
    if not order or stop:
        return
    order = min(_starts(asked, ordering.task, order, stop), key=ordering.task.worth)
    for decided in decide(asked, ordering.task, order, stop, workers):
        found = ordering.shown(decided)
        if found.worth < best.worth:
            best = found
            yield best.ordered


def _starts(asked: CutsToOrder, task: Task, first: list[int], stop: Stop) -> Iterator[list[int]]:
    """Yield orders to begin with: sheet by sheet is also one of those set-up by set-up."""
    yield first
    yield quick(task, stop, WIDE)
    job = asked.job
    if job.shop.sawing is SawingOrder.BY_SETUP and not task.finishing:
        shop = replace(job.shop, sawing=SawingOrder.BY_SHEET)
        sheets = task_of(replace(asked, job=replace(job, shop=shop)))
        if sheets.problem.before == task.problem.before:
            yield quick(sheets, stop, WIDE)


class _Shown(NamedTuple):
    """An order with its trees, and what it is worth: the less the better."""

    ordered: Ordered
    worth: tuple[int, int, int]


class _Ordering:
    """Makes what is shown of the orders of one task."""

    def __init__(self, asked: CutsToOrder) -> None:
        self.task, self._asked = task_of(asked), asked
        problem = self.task.problem
        number = {one.key: place for place, one in enumerate(problem.made)}
        self._head = [number[key] for key in asked.made if key in number]
        self._head_s = self.task.clock.seconds(self._head, START, 0)

    def shown(self, decided: Decided) -> _Shown:
        """Return what is shown of an order, and what that is worth.

        Where hands have mixed sheets nothing is known of the least, nor of the least seconds
        where fewer lifts come first, unless no order is better.
        """
        task = self.task
        order = [*self._head, *tidied(task, decided.order)]
        least = self._head_s + decided.least if decided.least else -1
        if task.lift:
            least = self._worked(order)[0] if decided.is_best else -1
        if self._asked.before:
            wished = stable(task.problem, order)
            least = least if wished == order else -1
            order = wished
        found = ordered(self._asked, [task.problem.made[number] for number in order], least)
        lifts = self._worked(order)[1] if task.lift else 0
        return _Shown(found, (lifts, found.seconds, -found.least_s))

    def _worked(self, order: Sequence[int]) -> tuple[int, int]:
        """Return the seconds and the lifts of an order."""
        seconds, lifts, standing, done = 0, 0, START, 0
        for number in order:
            step = self.task.clock.step(standing, number, done)
            seconds, lifts = seconds + step.seconds, lifts + step.lifts
            standing, done = step.standing, done | 1 << number
        return seconds, lifts

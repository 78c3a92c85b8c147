"""Cuts put in order within a moment, for plans that are looked at while better ones are sought."""

from shared.asked import CutsToOrder
from shared.cuts.order_problem import stable
from solver.budget.stop import Stop
from solver.cut_order.arranging import ordered
from solver.cut_order.quick import WIDTH, quick
from solver.cut_order.task import Task, task_of
from solver.outcome import Ordered


def put_quickly(asked: CutsToOrder, width: int = WIDTH, stop: Stop | None = None) -> Ordered:
    """Return a good order of all passes, begun with those made already; nothing is proven of it.

    ``width`` says how many passes are looked at for each one made; one once it is time to stop.
    """
    if all(sheet.tree is None for sheet in asked.sheets):
        return Ordered(sheets=asked.sheets, order=(), seconds=0, least_s=-1)
    task = task_of(asked)
    return ordered(
        asked, [task.problem.made[number] for number in _all_of(asked, task, width, stop or Stop())]
    )


def _all_of(asked: CutsToOrder, task: Task, width: int, stop: Stop) -> list[int]:
    """Return the passes made and ahead, with what was set by hand between groups."""
    problem = task.problem
    number = {one.key: place for place, one in enumerate(problem.made)}
    head = [number[key] for key in asked.made if key in number]
    order = [*head, *quick(task, stop, width)]
    return stable(problem, order) if asked.before else order

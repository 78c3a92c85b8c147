"""Groups in another row: what one leaves in hand, joined or set may be what another begins with."""

from collections.abc import Sequence

from solver.budget.stop import Stop
from solver.cut_order.task import Task


def moved(task: Task, order: Sequence[int], stop: Stop) -> list[int]:
    """Return an order with its groups in a row that counts less, if moving one after another helps.

    Those begun stay first, and what finishes blanks last; within a group nothing is changed.
    """
    groups, best = task.split(order), task.worth(order)
    free = range(task.begun, len(groups) - task.finishing)
    better = True
    while better and not stop:
        better = False
        for place, to in ((one, other) for one in free for other in free if one != other):
            row = list(groups)
            row.insert(to, row.pop(place))
            counts = task.worth([number for group in row for number in group])
            if counts < best:
                groups, best, better = row, counts, True
    return [number for group in groups for number in group]

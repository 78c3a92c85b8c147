"""An order made tidier where that takes no longer: trims come right before the cuts they serve."""

from collections.abc import Sequence

from shared.plan import CutKind
from solver.cut_order.task import Task


def tidied(task: Task, order: Sequence[int]) -> list[int]:
    """Return an order of all passes ahead with its trims moved to the next pass over their piece.

    A trim stays where it is if the order would count more, if something between needs it, or if
    what comes next over its piece is of another group.
    """
    row, worth = list(order), task.worth(order)
    for number in reversed(order):
        if task.problem.made[number].kind is CutKind.TRIM:
            moved = _moved(task, row, number)
            if moved != row and (counts := task.worth(moved)) <= worth:
                row, worth = moved, counts
    return row


def _moved(task: Task, row: list[int], number: int) -> list[int]:
    """Return the order with a trim before the next pass over its piece, or as it is."""
    problem, place = task.problem, row.index(number)
    group = next(one for one in task.groups if one >> number & 1)
    for at in range(place + 1, len(row)):
        if not group >> row[at] & 1:
            return row
        if problem.piece_of[row[at]] == problem.piece_of[number]:
            return [*row[:place], *row[place + 1 : at], number, *row[at:]]
        if problem.before[row[at]] >> number & 1:
            return row
    return row

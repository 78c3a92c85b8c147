"""Less sawing for dearer stock: what one sheet more than the best solution takes saves."""

from collections import Counter
from typing import NamedTuple

from solver.budget.effort import Effort
from solver.budget.stop import Stop
from solver.limits.measure import counts_sheets
from solver.material.instance import Instance, Solution, StockRow
from solver.search.annealing import anneal
from solver.solutions.incumbent import Incumbent


class Offer(NamedTuple):
    """A solution to begin with, and kinds of empty sheets laid beside it."""

    solution: Solution
    more: tuple[int, ...] = ()


def save_sawing_dearer(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Anneal once on stock that is a sheet dearer than the best; seeds take turns at which.

    What is found goes to the incumbent's Pareto front.
    """
    offers = dearer(incumbent)
    if offers and incumbent.complete:
        solution, more = offers[effort.seed % len(offers)]
        anneal(incumbent, solution, stop, effort, more)


def dearer(incumbent: Incumbent) -> list[Offer]:
    """Return what to begin with: the best with a sheet more, and the next on the front."""
    more = _cheapest_more(incumbent.instance, incumbent.solution)
    above = [c.solution for c in incumbent.front.candidates if c.stock > incumbent.stock[1:]]
    return [*(Offer(incumbent.solution, (kind,)) for kind in more), *map(Offer, above[:1])]


def _cheapest_more(instance: Instance, solution: Solution) -> list[int]:
    """Return the kinds of the cheapest further sheet that costs anything, the roomiest of equal.

    One that costs nothing beside others that do would make no dearer plan.
    """
    counted = counts_sheets(instance)
    used = Counter(instance.kinds[sheet.kind].row for sheet in solution.sheets)
    rows = {
        kind.row: (instance.rows[kind.row].price, -kind.length * kind.width)
        for kind in instance.kinds
        if (counted or instance.rows[kind.row].price)
        and _is_left(instance.rows[kind.row], used[kind.row])
        and any(kind.orientations)
    }
    cheapest = min(rows, key=lambda row: rows[row], default=None)
    return [number for number, kind in enumerate(instance.kinds) if kind.row == cheapest]


def _is_left(row: StockRow, used: int) -> bool:
    return not row.begun and (row.at_hand is None or used < row.at_hand)

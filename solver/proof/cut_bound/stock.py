"""Which sheets a plan at a known price may take: the other side of a bound on cuts."""

from collections.abc import Sequence
from typing import NamedTuple

from solver.limits.measure import counts_sheets, goal_value
from solver.material.instance import Instance, Solution

MOST_SUMS = 20_000
"""Sums of prices kept track of."""


class TooManySums(Exception):  # noqa: N818 - says what was found
    """The prices add up in too many ways to look at all of them."""


class StockBudget(NamedTuple):
    """What may be spent, and for each stock row what a sheet costs and how many there may be.

    Where sheets are counted each costs 1.
    """

    total: int
    costs: tuple[int, ...]
    most: tuple[int, ...]

    def dearest(self, values: Sequence[int]) -> int:
        """Return the most value of sheets that cost just the total, by the value of each row's.

        Raises
        ------
        TooManySums
            When that takes too long to know.
        """
        sums = {0: 0}
        for value, cost, most in zip(values, self.costs, self.most, strict=True):
            offered: dict[int, int] = {}
            for spent, worth in sums.items():
                payable = min(most, (self.total - spent) // cost) if cost else most
                for count in range(payable + 1):
                    total, new = spent + count * cost, worth + count * value
                    offered[total] = max(new, offered.get(total, new))
                if len(offered) > MOST_SUMS:
                    raise TooManySums
            sums = offered
        return sums[self.total]


def budget_of(instance: Instance, solution: Solution) -> StockBudget:
    """Return the budget of all plans that cost what a solution costs.

    No plan needs more sheets than there are parts.
    """
    counted = counts_sheets(instance)
    parts = sum(item.demand for item in instance.items)
    used = {kind.row for kind in instance.kinds}
    return StockBudget(
        goal_value(instance, solution),
        tuple(1 if counted else row.price for row in instance.rows),
        tuple(
            min(parts, parts if row.at_hand is None else row.at_hand) if index in used else 0
            for index, row in enumerate(instance.rows)
        ),
    )

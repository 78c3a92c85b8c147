"""The restricted master of the bound on cuts, which counts waste pieces.

Rows: every item is cut as often as it is needed; of every height of strip as many are used
as sheets give; the sheets cost what may be spent; of a stock row no more than there are.
The objective counts the waste pieces less the sheets: with the number of parts added, the
cuts. All heights stand alone: a strip in a higher place would leave waste pieces there.
"""

from collections.abc import Sequence

from solver.proof.cut_bound.stock import StockBudget
from solver.proof.restricted_master import Constraint, RestrictedMaster

MISSING, SPARE = 2.0, 0.25
"""Waste pieces that an item missing, or one too many, counts for; plans have none.

They hold prices near those that prove most, and can only make the bound weaker.
"""


class WasteMaster(RestrictedMaster):
    """Heights are indices into the positions of their shape."""

    def __init__(self, demands: Sequence[int], budget: StockBudget, shapes: int) -> None:
        super().__init__(shapes)
        self._costs = budget.costs
        self._items = [self._solver.Constraint(demand, demand) for demand in demands]
        self._spent = self._solver.Constraint(budget.total, budget.total)
        self._stock = [self._solver.Constraint(-self._infinity, most) for most in budget.most]
        for row in self._items:
            self._column(MISSING, [(row, 1.0)])
            self._column(SPARE, [(row, -1.0)])

    def _height(self, shape: int, height: int) -> Constraint:
        rows = self._heights[shape]
        if height not in rows:
            rows[height] = self._solver.Constraint(0, 0)
        return rows[height]

    def _cost(self, row: int, waste: int) -> float:
        return waste - 1.0

    def _taken(self, row: int) -> list[tuple[Constraint, float]]:
        return [(self._spent, float(self._costs[row])), (self._stock[row], 1.0)]

    def _worths(self) -> list[float]:
        spent = self._spent.dual_value()
        return [
            -cost * spent - row.dual_value()
            for cost, row in zip(self._costs, self._stock, strict=True)
        ]

"""The restricted master of the bound on price.

Rows: every item is covered; of every height of strip, no more are used than sheets give;
of a limited stock row, no more sheets are bought than are at hand. A strip may be taken
where a higher one was given: a *chain* column from each height to the next lower makes the
duals of heights rise with height, and lets heights enter at any time.
"""

from collections.abc import Sequence
from itertools import pairwise

from solver.proof.restricted_master import Constraint, RestrictedMaster


class PriceMaster(RestrictedMaster):
    """Heights are indices into the grid of their shape, 0 is free.

    Covering an item by nothing costs its ``penalty``, which keeps the program solvable.
    """

    def __init__(
        self,
        *,
        demands: Sequence[int],
        penalties: Sequence[float],
        costs: Sequence[float],
        at_hand: Sequence[int | None],
        shapes: int,
    ) -> None:
        super().__init__(shapes)
        self._costs = costs
        self._items = [self._solver.Constraint(demand, self._infinity) for demand in demands]
        self._stock = [
            None if n is None else self._solver.Constraint(-self._infinity, n) for n in at_hand
        ]
        for row, penalty in zip(self._items, penalties, strict=True):
            self._column(penalty, [(row, 1)])

    def _height(self, shape: int, height: int) -> Constraint:
        rows = self._heights[shape]
        if height not in rows:
            rows[height] = self._solver.Constraint(0, self._infinity)
            self._chain(shape, height)
        return rows[height]

    def _chain(self, shape: int, height: int) -> None:
        """Let a new height give strips to the next lower one, and take from the next higher."""
        rows, ascending = self._heights[shape], self.heights(shape)
        place = ascending.index(height)
        for lower, higher in pairwise(ascending[max(place - 1, 0) : place + 2]):
            self._column(0.0, [(rows[higher], -1.0), (rows[lower], 1.0)])

    def _cost(self, row: int, waste: int) -> float:
        return self._costs[row]

    def _taken(self, row: int) -> list[tuple[Constraint, float]]:
        limit = self._stock[row]
        return [] if limit is None else [(limit, 1.0)]

    def _dual(self, row: Constraint) -> float:
        return max(0.0, super()._dual(row))

    def _worths(self) -> list[float]:
        """Return what each sheet costs, and what one more at hand would save."""
        return [
            cost + (0.0 if row is None else max(0.0, -row.dual_value()))
            for cost, row in zip(self._costs, self._stock, strict=True)
        ]

"""Proof by column generation: a true lower bound on price from strips and sheets.

The linear program of `price_relaxation` is solved on coarser scales first (see
`normal_patterns.Scale`); each gives a true bound. Within one column an item may be covered
more often than there are copies of it, which makes the bound weaker, never false.
"""

from collections.abc import Callable, Sequence
from contextlib import suppress
from fractions import Fraction

import numpy as np

from solver.budget.statistics import NOTHING, WorkDone
from solver.budget.stop import Stop
from solver.material.instance import Instance
from solver.proof.bounds import fractional_bound, item_extents, round_up
from solver.proof.price_relaxation import Floats, PriceRelaxation
from solver.proof.pricing import Stopped
from solver.proof.shapes import grid_of, shapes_of
from solver.proof.strip_pool import StripPool

SCALES = ((300, 160), (1800, 1000))
"""Most points along and across the strips, scale after scale."""
ONE_ROUND = WorkDone(rounds=1)


class BoundError(RuntimeError):
    """A bound above a plan: the program is wrong somewhere, and nothing is proven."""


class ColumnGeneration:
    """Raises a lower bound on the price of a plan with all items that fit at all.

    Attributes
    ----------
    pool
        Real strips met on the way, for `solver.proof.pool`.
    work
        Rounds, columns on all scales, and the value of the last linear program.

    need
        Best bound of a program before it is rounded up to a price that can be paid.
    prices
        What a copy of each item counts in that bound; the dearest sheet costs 1.
    """

    def __init__(
        self, instance: Instance, costs: Sequence[int] | None = None, seed: int = 0
    ) -> None:
        """Take a price for each stock row: hundredths as they are, or 1 to count sheets."""
        self.pool = StripPool(instance)
        self.work = NOTHING
        self._instance = instance
        self._costs = tuple(costs or (row.price for row in instance.rows))
        self._rng = np.random.default_rng(seed)
        self._shapes = shapes_of(instance)
        self._best = 0
        self.need = Fraction(0)
        self.prices: Floats = np.zeros(len(instance.items))

    def run(
        self,
        stop: Stop,
        target: Callable[[], int | None],
        on_bound: Callable[[int], None],
        steps: int | None = None,
        *,
        prices: Floats | None = None,
        tight: bool = False,
    ) -> int:
        """Return the price that no complete plan undercuts; 0 if the stock is too small.

        Parameters
        ----------
        stop
            Ends the run.
        target
            Price of the best complete plan known, asked for often; reaching it ends the run.
        on_bound
            Hears every better bound.
        steps
            Most steps on each scale, for runs that are to be repeated exactly.
        prices
            Of each item, to begin with; by area if not given.
        tight
            Go on when the bound can be rounded up no further, until `need` is the program's.

        Raises
        ------
        BoundError
            When the bound exceeds the target.
        """
        self._stop, self._target, self._on_bound = stop, target, on_bound
        self._tight = tight
        quick = fractional_bound(self._instance, self._costs)
        if quick is None or not any(self._costs):
            return 0
        self._rise(quick)
        with suppress(Stopped):
            self._all_scales(_areas(self._instance) if prices is None else prices, steps)
        return self._best

    def _all_scales(self, items: Floats, steps: int | None) -> None:
        for scale in SCALES:
            if self._is_done():
                return
            grids = [grid_of(self._instance, shape, *scale) for shape in self._shapes]
            relaxation = PriceRelaxation(
                instance=self._instance,
                costs=self._costs,
                grids=grids,
                pool=self.pool,
                rng=self._rng,
                stop=self._stop,
            )
            try:
                self._one_scale(relaxation, items, steps)
            finally:
                solved = float(relaxation.value) or None
                self.work += WorkDone(columns=relaxation.columns, lp_value=solved)
            if relaxation.is_short:
                self._best = 0
            if relaxation.is_short or all(grid.is_exact for grid in grids):
                return
            items = relaxation.items

    def _one_scale(self, relaxation: PriceRelaxation, items: Floats, steps: int | None) -> None:
        """Step until this scale can prove no higher sum of prices."""
        relaxation.begin(items)
        self._learn(relaxation)
        left = steps
        while not (self._is_done() or relaxation.is_short or left == 0) and self._step(relaxation):
            left = None if left is None else left - 1
            self._learn(relaxation)
            if not self._tight and self._payable(relaxation.value) <= self._best:
                return

    def _step(self, relaxation: PriceRelaxation) -> bool:
        self.work += ONE_ROUND
        return relaxation.step()

    def _learn(self, relaxation: PriceRelaxation) -> None:
        """Keep the best bound of a program, and the prices that prove it."""
        if relaxation.bound > self.need:
            self.need, self.prices = relaxation.bound, relaxation.items
        self._rise(relaxation.bound)

    def _payable(self, bound: Fraction) -> int:
        return round_up(self._instance, self._costs, bound)

    def _rise(self, bound: Fraction) -> None:
        """Report a better bound."""
        payable = self._payable(bound)
        if payable > self._best:
            self._best = payable
            self._check()
            self._on_bound(payable)

    def _check(self) -> None:
        target = self._target()
        if target is not None and self._best > target:
            raise BoundError(f"bound {self._best} above a plan of {target}")

    def _is_done(self) -> bool:
        self._check()
        return bool(self._stop) or self._best == self._target()


def _areas(instance: Instance) -> Floats:
    """Prices by area; the largest sheet costs 1."""
    areas = [min((x * y for x, y in lies), default=0) for lies in item_extents(instance)]
    largest = max(kind.length * kind.width for kind in instance.kinds)
    return np.array(areas, dtype=np.float64) / largest

"""The linear program of strips and sheets on one scale, and the bound it proves.

Prices are sought between the outer point, the duals of the columns known so far, and the
inner point, the best prices proven feasible: W. Ben-Ameur, J. Neto, "Acceleration of
cutting-plane and column generation algorithms: applications to network design", Networks
49 (2007). A strip that is worth too much there is worth too much at the outer point too.
"""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.budget.stop import Stop
from solver.material.instance import Instance
from solver.proof.bounds import best_factor, demands_of, dual_value
from solver.proof.normal_patterns import Ints
from solver.proof.pricing import Pricing, Stopped, StripColumn, dearest_sheet
from solver.proof.restricted_master import Duals, PriceMaster
from solver.proof.shapes import ScaledShape
from solver.proof.strip_pool import StripPool

Floats = NDArray[np.float64]

UNITS = 2**22
"""Whole price units of the dearest sheet: prices are rounded to whole numbers."""

INWARDS = 0.5
"""How far from the outer point towards the inner one prices are sought."""

STRIPS_AT_ONCE = 20
SHEETS_AT_ONCE = 5
SHEETS_TO_BE_SURE = 30

HEIGHTS_AT_RANDOM = 60
STEPS_TO_FULL = 7
"""Between two evaluations of all heights, so many look at known and random heights only."""

FEW_STRIPS = 3
"""When a look at some heights finds fewer strips, all heights are evaluated."""

SCARCE = 4.0
"""Penalty, in dearest sheets, of an item that only limited rows can take."""


class DualPrices(NamedTuple):
    """What items are worth, and strips by shape and height; the dearest sheet costs 1."""

    items: Floats
    heights: tuple[Floats, ...]


class Evaluated(NamedTuple):
    """One grid: a value for each height that no strip exceeds, and how many strips were new."""

    values: Ints
    new: int


class PriceRelaxation:
    """Grows its program step by step; ``bound`` is true after every one of them."""

    def __init__(
        self,
        *,
        instance: Instance,
        costs: Sequence[int],
        grids: Sequence[ScaledShape],
        pool: StripPool,
        rng: np.random.Generator,
        stop: Stop,
    ) -> None:
        """Begin with strips of equal items and those of the pool.

        Raises
        ------
        Stopped
            By any method that evaluates strips.
        """
        self.bound = Fraction(0)
        self.is_short = False
        """Whether the stock at hand is proven too small for all items."""
        self._instance, self._costs, self._grids = instance, tuple(costs), tuple(grids)
        self._pool, self._rng, self._stop = pool, rng, stop
        self._unit = max(costs)
        self._at_hand = [row.at_hand for row in instance.rows]
        self._rows = [sorted({instance.kinds[k].row for k in g.shape.kinds}) for g in grids]
        self._demands = demands_of(instance)
        self._steps_to_full = 0
        self._value = 0.0
        self._master = PriceMaster(
            demands=self._demands,
            penalties=[self._penalty(item) for item in range(len(instance.items))],
            costs=[cost / self._unit for cost in self._costs],
            at_hand=self._at_hand,
            shapes=len(self._grids),
        )
        self._inner = DualPrices(np.zeros(len(instance.items)), ())
        for shape in range(len(self._grids)):
            self._add_plain(shape)
            self._add_pool(shape)

    @property
    def items(self) -> Floats:
        """Prices of items that prove the bound; the dearest sheet costs 1."""
        return self._inner.items

    @property
    def value(self) -> Fraction:
        """Value of the program so far; no bound of this scale will exceed it."""
        return Fraction(self._value * (1 - 1e-7)) * self._unit

    @property
    def columns(self) -> int:
        """Strips and sheets known so far."""
        return self._master.columns

    def _penalty(self, item: int) -> float:
        """Price of the cheapest unlimited sheet that takes the item alone; nobody pays more."""
        prices = [
            self._costs[row] / self._unit
            for grid, rows in zip(self._grids, self._rows, strict=True)
            for row in rows
            if grid.shape.orientations[item] and self._at_hand[row] is None
        ]
        return min(prices, default=SCARCE)

    def _add_plain(self, shape: int) -> None:
        """Add strips of one item each, and sheets of such strips."""
        grid = self._grids[shape]
        for lie in grid.lies:
            self._go_on()
            if lie.width and lie.length:
                height = grid.across.index(lie.width)
                copies = min(lie.copies, grid.along.scale.cells // lie.length)
                self._add_strip(shape, StripColumn(height, ((lie.lying,),) * copies))
                strips = grid.across.scale.cells // lie.width
                self._add_sheet(shape, [height] * strips, self._rows[shape])

    def _add_pool(self, shape: int) -> None:
        """Add what is known to fit on the exact scale: it fits on every scale."""
        grid = self._grids[shape]
        for strip in self._pool.of(grid.shape):
            self._go_on()
            stacks = [block.stack for block in strip.blocks]
            widths = [[self._instance.size(*lying)[1] for lying in stack] for stack in stacks]
            height = max(sum(map(grid.across.scale, across)) for across in widths)
            self._add_strip(shape, StripColumn(grid.across.index(height), tuple(stacks)))

    def _add_strip(self, shape: int, strip: StripColumn) -> bool:
        items = Counter(lying.item for stack in strip.blocks for lying in stack)
        new = self._master.add_strip(shape, strip.height, items)
        if new:
            self._pool.add(self._grids[shape].shape, strip.blocks)
        return new

    def _add_sheet(self, shape: int, heights: Sequence[int], rows: Sequence[int]) -> bool:
        added = [self._master.add_sheet(shape, row, heights) for row in rows]
        return any(added)

    def begin(self, items: Floats) -> None:
        """Evaluate prices from elsewhere; the bound starts with what they prove."""
        nothing = [np.full(len(grid.across), -1, dtype=np.int64) for grid in self._grids]
        self._prove(items, nothing)

    def step(self) -> bool:
        """Add columns or raise the bound; return whether there was anything to do.

        Should a step gain nothing, it is repeated with an outer point for which no sheet is
        missing, and then at that point itself.
        """
        thorough = self._steps_to_full <= 0
        return any(
            self._advance(inwards, sure)
            for inwards, sure in ((INWARDS, thorough), (INWARDS, True), (0.0, True))
        )

    def _advance(self, inwards: float, sure: bool) -> bool:
        tries = SHEETS_TO_BE_SURE if sure else SHEETS_AT_ONCE
        duals = self._master.solve_with(self._add_dear_sheets, tries)
        if duals is None:
            return False
        self._value = duals.value
        prices = self._between(duals, inwards)
        goals = [np.ceil(heights * UNITS).astype(np.int64) for heights in prices.heights]
        self._steps_to_full -= 1
        if self._steps_to_full >= 0 and self._look(prices.items, goals) >= FEW_STRIPS:
            return True
        self._steps_to_full = STEPS_TO_FULL
        before = self.bound
        return self._prove(prices.items, goals) > 0 or self.bound > before * Fraction(1 + 1e-6)

    def _go_on(self) -> None:
        """Raise `Stopped` once it is time: the steps between take a tenth of a second."""
        if self._stop:
            raise Stopped

    def _add_dear_sheets(self, duals: Duals) -> bool:
        self._go_on()
        added = False
        for shape, grid in enumerate(self._grids):
            values = np.floor(self._by_height(shape, duals) * UNITS).astype(np.int64)
            sheet = dearest_sheet(grid.across, values)
            rows = [
                row for row in self._rows[shape] if sheet.value / UNITS > duals.sheets[row] + 1e-6
            ]
            added |= self._add_sheet(shape, sheet.heights, rows)
        return added

    def _by_height(self, shape: int, duals: Duals) -> Floats:
        """Return a dual for every height: that of the next lower one that has a row."""
        values = np.zeros(len(self._grids[shape].across))
        for height, value in sorted(duals.heights[shape].items()):
            values[height:] = value
        return values

    def _between(self, duals: Duals, inwards: float) -> DualPrices:
        outer = DualPrices(
            np.array(duals.items),
            tuple(self._by_height(shape, duals) for shape in range(len(self._grids))),
        )
        return DualPrices(
            inwards * self._inner.items + (1 - inwards) * outer.items,
            tuple(
                inwards * a + (1 - inwards) * b
                for a, b in zip(self._inner.heights, outer.heights, strict=True)
            ),
        )

    def _look(self, items: Floats, goals: Sequence[Ints]) -> int:
        """Evaluate known and some random heights; return how many strips were new."""
        return sum(
            self._evaluate(shape, Pricing(grid, _whole(items)), goals[shape], some=True).new
            for shape, grid in enumerate(self._grids)
        )

    def _prove(self, items: Floats, goals: Sequence[Ints]) -> int:
        """Evaluate all heights, and raise the bound; return how many strips were new."""
        values, most, new = [], [0] * len(self._costs), 0
        for shape, grid in enumerate(self._grids):
            self._go_on()
            pricing = Pricing(grid, _whole(items))
            evaluated = self._evaluate(shape, pricing, goals[shape], some=False)
            sheet = dearest_sheet(grid.across, evaluated.values)
            self._add_sheet(shape, sheet.heights, self._rows[shape])
            lacking = [h for h in {*sheet.heights} if evaluated.values[h] > goals[shape][h]]
            new += evaluated.new + self._add_best(shape, pricing, np.array(lacking, dtype=np.int64))
            values.append(evaluated.values)
            for row in self._rows[shape]:
                most[row] = max(most[row], sheet.value)
        self._raise(_whole(items), values, most)
        return new

    def _evaluate(self, shape: int, pricing: Pricing, goal: Ints, *, some: bool) -> Evaluated:
        """Add the strips whose value exceeds the goal of their height most."""
        heights = np.flatnonzero(pricing.at_most() > goal)
        if some and len(heights) > HEIGHTS_AT_RANDOM:
            heights = self._some(shape, heights)
        best = pricing.best(heights, self._stop)
        values = goal.copy()
        values[heights] = np.maximum(goal[heights], best)
        excess = values - goal
        order = np.argsort(-excess, kind="stable")[:STRIPS_AT_ONCE]
        return Evaluated(values, self._add_best(shape, pricing, order[excess[order] > 0]))

    def _some(self, shape: int, heights: Ints) -> Ints:
        known = np.intersect1d(heights, self._master.heights(shape))
        return np.union1d(known, self._rng.choice(heights, HEIGHTS_AT_RANDOM, replace=False))

    def _add_best(self, shape: int, pricing: Pricing, heights: Ints) -> int:
        if not len(heights):
            return 0
        return sum(
            self._add_strip(shape, strip) for strip in pricing.strips(np.sort(heights), self._stop)
        )

    def _raise(self, prices: Ints, values: Sequence[Ints], most: Sequence[int]) -> None:
        """Scale prices so that they are feasible; keep them if they prove more than before."""
        total = sum(p * d for p, d in zip(prices.tolist(), self._demands, strict=True))
        factor = best_factor(total, most, self._costs, self._at_hand)
        if factor is None:
            self.is_short = True
            return
        bound = dual_value(factor, total, most, self._costs, self._at_hand)
        if bound > self.bound or not self._inner.heights:
            self.bound = bound
            share = np.float64(float(factor) / self._unit)
            self._inner = DualPrices(prices * share, tuple(v * share for v in values))


def _whole(items: Floats) -> Ints:
    return np.rint(items * UNITS).astype(np.int64)

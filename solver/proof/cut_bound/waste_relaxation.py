"""The linear program of waste pieces step by step, and the bound that its prices prove."""

from collections import Counter
from collections.abc import Sequence
from functools import partial
from math import ceil

import numpy as np

from solver.budget.stop import Stop
from solver.material.instance import Instance, Laid, Solution, Strip
from solver.proof.cut_bound.exact_shape import ExactShape, exact_shapes
from solver.proof.cut_bound.pricing import Priced, price
from solver.proof.cut_bound.sheets import SheetKnapsack, WasteSheet
from solver.proof.cut_bound.stacks import NEVER, PIECE
from solver.proof.cut_bound.stock import StockBudget, budget_of
from solver.proof.cut_bound.strips import WasteStrip
from solver.proof.normal_patterns import Ints
from solver.proof.price_relaxation import INWARDS, Floats
from solver.proof.restricted_master import Constraint, Duals, RestrictedMaster

SHEETS_AT_ONCE = 12
"""Most sheets of known strips added before prices are sought."""

MISSING, SPARE = 2.0, 0.25
"""Waste pieces that an item missing, or one too many, counts for; plans have none.

They hold prices near those that prove most, and can only make the bound weaker.
"""


class WasteMaster(RestrictedMaster):
    """The program; heights are indices into the positions of their shape.

    Rows: every item is cut as often as it is needed; of every height of strip as many are used
    as sheets give; the sheets cost what may be spent; of a stock row no more than there are.
    The objective counts the waste pieces less the sheets: with the number of parts added, the
    cuts. All heights stand alone: a strip in a higher place would leave waste pieces there.
    """

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


class WasteRelaxation:
    """Grows the linear program; ``cuts`` is a true bound after every step."""

    def __init__(self, instance: Instance, solution: Solution) -> None:
        """Begin with the strips and sheets of a solution.

        Raises
        ------
        TooManyPositions, TooManySums
            When the tables would be too large; the latter by `step`.
        """
        self._instance, self._budget = instance, budget_of(instance, solution)
        self._shapes = exact_shapes(instance)
        self._demands = np.array([item.demand for item in instance.items])
        self._parts = int(self._demands.sum())
        self._master = WasteMaster(self._demands.tolist(), self._budget, len(self._shapes))
        self._inner: Floats = np.zeros(len(self._demands))
        self._bound: int | None = None
        self.value = 0.0
        for sheet in solution.sheets:
            self._add_known(sheet)

    @property
    def cuts(self) -> int:
        """What is proven."""
        return 0 if self._bound is None else max(0, self._parts - (-self._bound // PIECE))

    @property
    def columns(self) -> int:
        """Strips and sheets in the program."""
        return self._master.columns

    @property
    def most(self) -> int:
        """What the program can prove at most."""
        return self._parts + ceil(self.value - 1e-6)

    def _add_known(self, sheet: Laid) -> None:
        """Add a sheet of a plan, with strips no wider and blocks no longer than need be."""
        for number, shape in enumerate(self._shapes):
            if sheet.kind in shape.kinds:
                strips = [known_strip(self._instance, shape, strip) for strip in sheet.strips]
                for strip in strips:
                    self._add_strip(number, strip)
                row = self._instance.kinds[sheet.kind].row
                self._add_sheet(number, row, known_sheet(shape, [s.height for s in strips]))

    def _add_strip(self, number: int, strip: WasteStrip) -> bool:
        items = Counter(lying.item for lying in strip.lying)
        return self._master.add_strip(number, strip.height, items, strip.waste)

    def _add_sheet(self, number: int, row: int, sheet: WasteSheet) -> bool:
        return self._master.add_sheet(number, row, sheet.heights, sheet.waste)

    def step(self, stop: Stop) -> bool:
        """Add columns or raise the bound; return whether there was anything to do."""
        return any(self._advance(inwards, stop) for inwards in (INWARDS, 0.0))

    def _advance(self, inwards: float, stop: Stop) -> bool:
        duals = self._master.solve_with(partial(self._add_dear_sheets, stop), SHEETS_AT_ONCE)
        if duals is None:
            return False
        self.value = duals.value
        items = inwards * self._inner + (1 - inwards) * np.array(duals.items)
        priced = [
            price(shape, self._whole(items), self._master.heights(number), stop)
            for number, shape in enumerate(self._shapes)
        ]
        new = sum([self._add(number, each) for number, each in enumerate(priced)])
        return self._raise(items, priced) or new > 0

    def _add_dear_sheets(self, stop: Stop, duals: Duals) -> bool:
        """Add the dearest sheets of known strips, if they are dearer than they cost."""
        added = False
        for number, shape in enumerate(self._shapes):
            values = np.full(len(shape.across), NEVER, dtype=np.int64)
            for height, value in duals.heights[number].items():
                values[height] = max(NEVER // 4, int(value * PIECE))
            if (values > NEVER).any():
                floor = int((min(duals.sheets[row] for row in shape.rows) - 1) * PIECE)
                sheet = SheetKnapsack(shape, values, stop, floor).best()
                for row in shape.rows:
                    if sheet.value / PIECE + 1 > duals.sheets[row] + 1e-6:
                        added |= self._add_sheet(number, row, sheet)
        return added

    def _whole(self, items: Floats) -> Ints:
        """Return prices in whole numbers that suit all shapes."""
        most = min(shape.most_price for shape in self._shapes)
        return np.clip(np.rint(items * PIECE), -most, most).astype(np.int64)

    def _add(self, number: int, priced: Priced) -> int:
        rows = self._shapes[number].rows
        new = [self._add_strip(number, strip) for strip in priced.strips]
        new += [self._add_sheet(number, row, priced.sheet) for row in rows]
        return sum(new)

    def _raise(self, items: Floats, priced: list[Priced]) -> bool:
        """Keep what the prices prove if it is more than before."""
        dearest = [NEVER] * len(self._instance.rows)
        for shape, each in zip(self._shapes, priced, strict=True):
            for row in shape.rows:
                dearest[row] = max(dearest[row], each.sheet.value + PIECE)
        worth = int((self._whole(items) * self._demands).sum())
        bound = worth - self._budget.dearest(dearest)
        if self._bound is not None and bound <= self._bound:
            return False
        self._bound, self._inner = bound, items
        return True


def known_strip(instance: Instance, shape: ExactShape, strip: Strip) -> WasteStrip:
    """Return a strip as a column, no wider and with blocks no longer than need be."""
    width = max(sum(instance.size(*lying)[1] for lying in block.stack) for block in strip.blocks)
    lengths = [max(instance.size(*lying)[0] for lying in block.stack) for block in strip.blocks]
    waste = shape.strip_waste // PIECE
    waste += not (shape.fills_length and sum(lengths) == shape.along.capacity)
    for block, length in zip(strip.blocks, lengths, strict=True):
        sizes = [instance.size(*lying) for lying in block.stack]
        waste += sum(y for _, y in sizes) != width
        waste += sum(x != length for x, _ in sizes)
    lying = tuple(sorted(lying for block in strip.blocks for lying in block.stack))
    return WasteStrip(int(shape.across.index(np.array([width]))[0]), lying, waste)


def known_sheet(shape: ExactShape, heights: list[int]) -> WasteSheet:
    """Return a sheet of strips as a column; its value is left open."""
    filled = sum(int(shape.across.points[height]) for height in heights)
    exact = shape.fills_width and filled == shape.across.capacity
    return WasteSheet(tuple(heights), shape.sheet_waste // PIECE + (not exact), 0)

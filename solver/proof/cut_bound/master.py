"""The linear program of waste pieces over strips and sheets found so far.

Rows: every item is cut as often as it is needed; of every height of strip as many are used
as sheets give; the sheets cost what may be spent; of a stock row no more than there are.
The objective counts the waste pieces less the sheets: with the number of parts added, the
cuts. All heights stand alone: a strip in a higher place would leave waste pieces there.
"""

from collections import Counter
from collections.abc import Sequence
from typing import Any, NamedTuple

from ortools.linear_solver import pywraplp

from solver.proof.cut_bound.sheets import WasteSheet
from solver.proof.cut_bound.stock import Budget
from solver.proof.cut_bound.strips import WasteStrip
from solver.proof.glop import solve_from_scratch

MISSING, SPARE = 2.0, 0.25
"""Waste pieces that an item missing, or one too many, counts for; plans have none.

They hold prices near those that prove most, and can only make the bound weaker.
"""

Row = Any
"""A constraint of the linear program (its library has no types)."""


class Duals(NamedTuple):
    """Value of the linear program and its prices in waste pieces.

    ``items`` by item type, ``heights`` by ground and height (index), ``sheets`` by stock
    row: what a sheet has to be worth.
    """

    value: float
    items: list[float]
    heights: list[dict[int, float]]
    sheets: list[float]


class WasteMaster:
    """Grows by columns; heights are indices into the positions of their ground."""

    def __init__(self, demands: Sequence[int], budget: Budget, grounds: int) -> None:
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        # Presolve would throw away the basis of the solve before.
        self._solver.SetSolverSpecificParametersAsString("use_preprocessing:false")
        self._objective = self._solver.Objective()
        self._costs = budget.costs
        self._items = [self._row(demand, demand) for demand in demands]
        self._spent = self._row(budget.total, budget.total)
        self._rows = [self._row(-self._solver.infinity(), most) for most in budget.most]
        self._heights: list[dict[int, Row]] = [{} for _ in range(grounds)]
        self._known: set[object] = set()
        for row in self._items:
            self._column(MISSING, [(row, 1.0)])
            self._column(SPARE, [(row, -1.0)])

    @property
    def columns(self) -> int:
        """Number of strips and sheets."""
        return len(self._known)

    def _row(self, least: float, most: float) -> Row:
        return self._solver.Constraint(least, most)

    def _column(self, cost: float, entries: Sequence[tuple[Row, float]]) -> None:
        variable = self._solver.NumVar(0, self._solver.infinity(), "")
        self._objective.SetCoefficient(variable, cost)
        for row, coefficient in entries:
            row.SetCoefficient(variable, coefficient)

    def _is_new(self, key: object) -> bool:
        new = key not in self._known
        self._known.add(key)
        return new

    def _height(self, ground: int, height: int) -> Row:
        rows = self._heights[ground]
        if height not in rows:
            rows[height] = self._row(0, 0)
        return rows[height]

    def heights(self, ground: int) -> list[int]:
        """Return the heights that have a row."""
        return sorted(self._heights[ground])

    def add_strip(self, ground: int, strip: WasteStrip) -> bool:
        """Add a strip; return whether it is new."""
        items = Counter(lying.item for lying in strip.lying)
        key = (ground, strip.height, strip.waste, frozenset(items.items()))
        if not (strip.height and items and self._is_new(key)):
            return False
        used = [(self._items[item], float(n)) for item, n in items.items()]
        self._column(strip.waste, [(self._height(ground, strip.height), -1.0), *used])
        return True

    def add_sheet(self, ground: int, row: int, sheet: WasteSheet) -> bool:
        """Add a sheet of a stock row; return whether it is new."""
        strips = Counter(sheet.heights)
        key = (ground, row, -1 - sheet.waste, frozenset(strips.items()))
        if not (strips and self._is_new(key)):
            return False
        given = [(self._height(ground, h), float(n)) for h, n in strips.items()]
        stock = [(self._spent, float(self._costs[row])), (self._rows[row], 1.0)]
        self._column(sheet.waste - 1.0, [*stock, *given])
        return True

    def solve(self) -> Duals | None:
        """Solve; ``None`` when GLOP fails, from scratch too."""
        status = self._solver.Solve()
        if status != pywraplp.Solver.OPTIMAL:  # seen now and then after added columns
            status = solve_from_scratch(self._solver)
        return self._duals() if status == pywraplp.Solver.OPTIMAL else None

    def _duals(self) -> Duals:
        spent = self._spent.dual_value()
        return Duals(
            self._objective.Value(),
            [row.dual_value() for row in self._items],
            [{h: row.dual_value() for h, row in rows.items()} for rows in self._heights],
            [
                -cost * spent - row.dual_value()
                for cost, row in zip(self._costs, self._rows, strict=True)
            ],
        )

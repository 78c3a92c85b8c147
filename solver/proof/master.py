"""The linear program over strips and sheets found so far; GLOP keeps it between solves.

Rows: every item is covered; of every height of strip, no more are used than sheets give;
of a limited stock row, no more sheets are bought than are at hand. A strip may be taken
where a higher one was given: a *chain* column from each height to the next lower makes the
duals of heights rise with height, and lets heights enter at any time.
"""

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from ortools.linear_solver import pywraplp

from solver.proof.glop import solve_from_scratch

Row = Any
"""A constraint of the linear program (its library has no types)."""


class Duals(NamedTuple):
    """Value of the linear program and its prices.

    ``items`` by item type, ``heights`` by shape and height (index), ``rows`` by stock row:
    what one more sheet at hand would save.
    """

    value: float
    items: list[float]
    heights: list[dict[int, float]]
    rows: list[float]


class Master:
    """Grows by columns; heights are indices into the grid of their shape, 0 is free.

    Covering an item by nothing costs its ``penalty``, which keeps the program solvable.
    """

    def __init__(
        self,
        *,
        demands: Sequence[int],
        penalties: Sequence[float],
        at_hand: Sequence[int | None],
        shapes: int,
    ) -> None:
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        # Presolve would throw away the basis of the solve before.
        self._solver.SetSolverSpecificParametersAsString("use_preprocessing:false")
        self._infinity: float = self._solver.infinity()
        self._objective = self._solver.Objective()
        self._items = [self._solver.Constraint(demand, self._infinity) for demand in demands]
        self._rows = [self._limit(n) for n in at_hand]
        self._heights: list[dict[int, Row]] = [{} for _ in range(shapes)]
        self._ascending: list[list[int]] = [[] for _ in range(shapes)]
        self._known: set[object] = set()
        for row, penalty in zip(self._items, penalties, strict=True):
            self._column(penalty, [(row, 1)])

    def _limit(self, at_hand: int | None) -> Row | None:
        if at_hand is None:
            return None
        return self._solver.Constraint(-self._infinity, at_hand)

    def _column(self, cost: float, entries: Sequence[tuple[Row, float]]) -> None:
        variable = self._solver.NumVar(0, self._infinity, "")
        if cost:
            self._objective.SetCoefficient(variable, cost)
        for row, coefficient in entries:
            row.SetCoefficient(variable, coefficient)

    @property
    def columns(self) -> int:
        """Number of strips and sheets."""
        return len(self._known)

    def _is_new(self, key: object) -> bool:
        new = key not in self._known
        self._known.add(key)
        return new

    def heights(self, shape: int) -> list[int]:
        """Return the heights that have a row, ascending."""
        return list(self._ascending[shape])

    def add_strip(self, shape: int, height: int, items: Mapping[int, int]) -> bool:
        """Add a strip that covers so many of each item; return whether it is new."""
        new = self._is_new((shape, height, frozenset(items.items())))
        if new:
            supply = [(self._height(shape, height), -1.0)] if height else []
            self._column(0.0, [*supply, *((self._items[i], n) for i, n in items.items())])
        return new

    def add_sheet(self, shape: int, row: int, cost: float, heights: Sequence[int]) -> bool:
        """Add a sheet of a stock row that gives one strip of each height; say if it is new."""
        strips = Counter(heights)
        new = self._is_new((shape, row, frozenset(strips.items())))
        if new:
            limit = self._rows[row]
            supply = [(self._height(shape, h), float(n)) for h, n in strips.items()]
            self._column(cost, supply if limit is None else [(limit, 1.0), *supply])
        return new

    def _height(self, shape: int, height: int) -> Row:
        """Return the row of a height, made if need be."""
        rows = self._heights[shape]
        if height not in rows:
            rows[height] = self._solver.Constraint(0, self._infinity)
            insort(self._ascending[shape], height)
            self._chain(shape, bisect_left(self._ascending[shape], height))
        return rows[height]

    def _chain(self, shape: int, place: int) -> None:
        """Let a new height give strips to the next lower one, and take from the next higher."""
        rows = self._heights[shape]
        near = self._ascending[shape][max(place - 1, 0) : place + 2]
        for lower, higher in pairwise(near):
            self._column(0.0, [(rows[higher], -1.0), (rows[lower], 1.0)])

    def solve(self) -> Duals | None:
        """Solve; ``None`` when GLOP fails, from scratch too."""
        status = self._solver.Solve()
        if status != pywraplp.Solver.OPTIMAL:  # seen now and then after added columns
            status = solve_from_scratch(self._solver)
        return self._duals() if status == pywraplp.Solver.OPTIMAL else None

    def _duals(self) -> Duals:
        return Duals(
            self._objective.Value(),
            [max(0.0, row.dual_value()) for row in self._items],
            [{h: max(0.0, row.dual_value()) for h, row in rows.items()} for rows in self._heights],
            [0.0 if row is None else max(0.0, -row.dual_value()) for row in self._rows],
        )

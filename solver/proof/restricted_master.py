"""The linear program over the strips and sheets found so far; GLOP keeps it between solves.

Two bounds rest on such a program, that on price and that on cuts
(`solver.proof.cut_bound.waste_relaxation`): they differ in their rows and in what columns
cost. Heights of strips are indices into the positions across a shape.
"""

from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from ortools.linear_solver import pywraplp

Constraint = Any
"""A row of the linear program (its library has no types)."""


class Duals(NamedTuple):
    """Value of the linear program and its prices, in units of its objective.

    ``items`` by item type, ``heights`` by shape and height, ``sheets`` by stock row: what a
    sheet has to be worth.
    """

    value: float
    items: list[float]
    heights: list[dict[int, float]]
    sheets: list[float]


class RestrictedMaster(ABC):
    """Grows by columns; rows of heights are made when the first column names one."""

    def __init__(self, shapes: int) -> None:
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        # Presolve would throw away the basis of the solve before.
        self._solver.SetSolverSpecificParametersAsString("use_preprocessing:false")
        self._infinity: float = self._solver.infinity()
        self._objective = self._solver.Objective()
        self._items: list[Constraint] = []
        self._heights: list[dict[int, Constraint]] = [{} for _ in range(shapes)]
        self._known: set[object] = set()

    @property
    def columns(self) -> int:
        """Number of strips and sheets."""
        return len(self._known)

    def heights(self, shape: int) -> list[int]:
        """Return the heights that have a row, ascending."""
        return sorted(self._heights[shape])

    def add_strip(self, shape: int, height: int, items: Mapping[int, int], waste: int = 0) -> bool:
        """Add a strip with so many of each item, and waste pieces; return whether it is new."""
        new = bool(items) and self._is_new("strip", shape, height, waste, frozenset(items.items()))
        if new:
            used = [(self._height(shape, height), -1.0)] if height else []
            self._column(waste, [*used, *((self._items[i], float(n)) for i, n in items.items())])
        return new

    def add_sheet(self, shape: int, row: int, heights: Sequence[int], waste: int = 0) -> bool:
        """Add a sheet of a stock row that gives one strip of each height; say if it is new."""
        strips = Counter(heights)
        new = bool(strips) and self._is_new("sheet", shape, row, waste, frozenset(strips.items()))
        if new:
            given = [(self._height(shape, h), float(n)) for h, n in strips.items()]
            self._column(self._cost(row, waste), [*self._taken(row), *given])
        return new

    def solve(self) -> Duals | None:
        """Solve; ``None`` when GLOP fails, from scratch too."""
        status = self._solver.Solve()
        if status != pywraplp.Solver.OPTIMAL:  # seen now and then after added columns
            status = solve_from_scratch(self._solver)
        if status != pywraplp.Solver.OPTIMAL:
            return None
        return Duals(
            self._objective.Value(),
            [self._dual(row) for row in self._items],
            [{h: self._dual(row) for h, row in rows.items()} for rows in self._heights],
            self._worths(),
        )

    def solve_with(self, add_dear: Callable[[Duals], bool], tries: int) -> Duals | None:
        """Solve, and add the dearest sheets until none is dearer than it costs, or tries end."""
        duals = self.solve()
        while duals is not None and tries > 0 and add_dear(duals):
            duals = self.solve()
            tries -= 1
        return duals

    @abstractmethod
    def _height(self, shape: int, height: int) -> Constraint:
        """Return the row of a height, made if need be."""

    @abstractmethod
    def _cost(self, row: int, waste: int) -> float:
        """Return what a sheet of a stock row costs in the objective."""

    @abstractmethod
    def _taken(self, row: int) -> list[tuple[Constraint, float]]:
        """Return what a sheet of a stock row takes of the rows of the stock."""

    @abstractmethod
    def _worths(self) -> list[float]:
        """Return `Duals.sheets`."""

    def _dual(self, row: Constraint) -> float:
        """Return the price of a row of an item or a height."""
        return float(row.dual_value())

    def _column(self, cost: float, entries: Sequence[tuple[Constraint, float]]) -> None:
        variable = self._solver.NumVar(0, self._infinity, "")
        if cost:
            self._objective.SetCoefficient(variable, cost)
        for row, coefficient in entries:
            row.SetCoefficient(variable, coefficient)

    def _is_new(self, *column: object) -> bool:
        new = column not in self._known
        self._known.add(column)
        return new


class PriceMaster(RestrictedMaster):
    """The program of the bound on price; heights are indices into the grid, 0 is free.

    Rows: every item is covered; of every height of strip, no more are used than sheets give;
    of a limited stock row, no more sheets are bought than are at hand. A strip may be taken
    where a higher one was given: a *chain* column from each height to the next lower makes the
    duals of heights rise with height, and lets heights enter at any time. Covering an item by
    nothing costs its ``penalty``, which keeps the program solvable.
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


def solve_from_scratch(solver: pywraplp.Solver) -> int:
    """Solve as if for the first time, without the basis of the last time; return the status."""
    options = pywraplp.MPSolverParameters()
    options.SetIntegerParam(options.INCREMENTALITY, options.INCREMENTALITY_OFF)
    return int(solver.Solve(options))

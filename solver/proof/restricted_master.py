"""The linear program over the strips and sheets found so far; GLOP keeps it between solves.

Two bounds rest on such a program, that on price (`solver.proof.price_master`) and that on
cuts (`solver.proof.cut_bound.waste_master`): they differ in their rows and in what columns
cost. Heights of strips are indices into the positions across a shape.
"""

from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Mapping, Sequence
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


def solve_from_scratch(solver: pywraplp.Solver) -> int:
    """Solve as if for the first time, without the basis of the last time; return the status."""
    options = pywraplp.MPSolverParameters()
    options.SetIntegerParam(options.INCREMENTALITY, options.INCREMENTALITY_OFF)
    return int(solver.Solve(options))

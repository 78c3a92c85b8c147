"""Least stock by a general mixed-integer program: a second opinion on whole jobs.

Written from the rule as design/solver.md states it (rips over the whole length, crosscuts in
a strip, rips in a block, a last trim), straight from a `Job`: it shares nothing with the
solver, neither numbers nor code nor library (SCIP through OR-Tools' linear interface; the
solver's own compact model is CP-SAT). One material, a dozen parts at most.

The pieces are named by what lies in them, as J. Puchinger and G. R. Raidl do, "Models and
algorithms for three-stage two-dimensional bin packing", European Journal of Operational
Research 183 (2007). A *lie* is one copy, lying one way, on one way to use a sheet. Lies are
ordered by extent along the strips, longest first; a block, a strip and a sheet each bear the
name of their first lie. So a block is just as long as the lie it is named after, and only the
widths of strips are unknown.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import ceil, gcd
from typing import Any, NamedTuple

from ortools.linear_solver import pywraplp

from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule, Part
from shared.shop import FirstCut
from shared.stock import SheetGrain, Stock

Pairs = dict[tuple[int, int], Any]
"""For (lie, lie that names the piece), whether the one is in that piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the program found.

    ``value`` is a number of sheets where all rows cost the same, else hundredths, or square
    millimetres where nobody gave a price; ``None`` where no plan holds every part. Without
    ``is_proven`` it says nothing.
    """

    is_proven: bool
    value: int | None


class Use(NamedTuple):
    """One way to use a sheet of a row: usable size along and across the strips."""

    row: int
    length: int
    width: int
    transposed: bool


class Lie(NamedTuple):
    """A copy as it may lie: extents along and across the strips, and the use it lies on."""

    copy: int
    use: int
    along: int
    across: int


def least_stock(job: Job, seconds: float) -> Verdict:
    """Return the least price of sheets that hold all parts of a job of one material."""
    return _Program(job).solve(seconds)


def costs_of(job: Job) -> list[int]:
    """Return what a sheet of each row counts, 1 where all cost the same.

    Its price; without one nothing if it is owned, else its area at the lowest price by area of
    what can be bought, or of what is owned. Where nothing has a price: the area of what can be
    bought without a price, of all that can be bought, or of all there is.
    """
    rows = job.stock
    priced = [row for row in rows if row.price]
    if priced:
        rates = [row for row in priced if row.at_hand is None] or priced
        rate = min(Fraction(row.price or 0, row.length * row.width) for row in rates)
        costs = [_priced(row, rate) for row in rows]
    else:
        by_area = [row for row in rows if row.at_hand is None and row.price is None]
        by_area = by_area or [row for row in rows if row.at_hand is None] or list(rows)
        costs = [ceil(Fraction(row.length * row.width, MM**2)) * (row in by_area) for row in rows]
    return costs if len(set(costs)) > 1 else [1] * len(costs)


def _priced(row: Stock, rate: Fraction) -> int:
    if row.price is not None:
        return row.price
    return 0 if row.at_hand is not None else ceil(row.length * row.width * rate)


def uses_of(job: Job) -> list[Use]:
    """Return the ways to use the stock: trims are lost, crosscut first exchanges the axes."""
    return [
        _use(number, row, transposed)
        for number, row in enumerate(job.stock)
        for transposed in _directions(job.rule.first)
    ]


def _directions(first: FirstCut) -> tuple[bool, ...]:
    return {
        FirstCut.RIP: (False,),
        FirstCut.CROSSCUT: (True,),
        FirstCut.EITHER: (False, True),
    }[first]


def _use(number: int, row: Stock, transposed: bool) -> Use:
    x = row.length - row.trims.start - row.trims.end
    y = row.width - row.trims.near - row.trims.far
    return Use(number, y, x, True) if transposed else Use(number, x, y, False)


def lies_of(job: Job) -> list[Lie]:
    """Return every way each copy may lie on each use, longest along the strips first."""
    copies = [part for part in job.parts for _ in range(part.copies)]
    found = {
        Lie(number, u, *extents)
        for number, part in enumerate(copies)
        for u, use in enumerate(uses_of(job))
        for extents in _extents(part, job.stock[use.row], use)
    }
    return sorted(found, key=lambda lie: (-lie.along, lie))


def _extents(part: Part, row: Stock, use: Use) -> Iterator[tuple[int, int]]:
    """Yield (along, across) of the ways a part may lie on a use and fits it."""
    x, y = part.cut_length, part.cut_width
    for dx, dy in _on_sheet(part.grain_rule, row.grain, x, y):
        along, across = (dy, dx) if use.transposed else (dx, dy)
        if along <= use.length and across <= use.width:
            yield along, across


def _on_sheet(rule: GrainRule, grain: SheetGrain, x: int, y: int) -> list[tuple[int, int]]:
    """Return extents on the sheet: the grain of part and sheet must run the same way."""
    if rule is GrainRule.EITHER or grain is SheetGrain.NONE:
        return [(x, y), (y, x)]
    runs_along_length = rule is GrainRule.ALONG_LENGTH
    lies_as_it_is = runs_along_length == (grain is SheetGrain.ALONG_L)
    return [(x, y)] if lies_as_it_is else [(y, x)]


class _Program:
    """Variables and rules; lengths are whole numbers of their common divisor."""

    def __init__(self, job: Job) -> None:
        self._solver = pywraplp.Solver.CreateSolver("SCIP")
        self._copies = sum(part.copies for part in job.parts)
        self._levels = job.rule.levels
        self._costs = costs_of(job)
        self._hands = [row.at_hand for row in job.stock]
        self._scale(job)
        self._of_use: dict[int, list[int]] = defaultdict(list)
        for number, lie in enumerate(self._lies):
            self._of_use[lie.use].append(number)
        self._name_pieces()
        self._place_everything()
        self._fill_strips()
        self._fill_sheets()
        self._count_stock()

    def _scale(self, job: Job) -> None:
        lies, uses, kerf = lies_of(job), uses_of(job), job.shop.kerf
        numbers = [size for lie in lies for size in lie[2:]]
        unit = reduce(gcd, numbers + [size for use in uses for size in use[1:3]], kerf) or 1
        self._kerf = kerf // unit
        self._lies = [
            lie._replace(along=lie.along // unit, across=lie.across // unit) for lie in lies
        ]
        self._uses = [
            use._replace(length=use.length // unit, width=use.width // unit) for use in uses
        ]

    def _name_pieces(self) -> None:
        self._block, self._strip, self._sheet = (self._pairs() for _ in range(3))
        for inner, outer in ((self._block, self._strip), (self._strip, self._sheet)):
            for n in range(len(self._lies)):
                homes = [outer[n, m] for m in self._before(n)]
                self._solver.Add(sum(homes) == inner[n, n])
        for pairs in (self._block, self._strip, self._sheet):
            for (member, name), together in pairs.items():
                if member != name:
                    self._solver.Add(together <= pairs[name, name])

    def _pairs(self) -> Pairs:
        return {
            (n, m): self._solver.BoolVar("")
            for n in range(len(self._lies))
            for m in self._before(n)
        }

    def _before(self, number: int) -> list[int]:
        """Return the lies on the same use that may name a piece this one is in, itself too."""
        return [m for m in self._of_use[self._lies[number].use] if m <= number]

    def _after(self, number: int) -> list[int]:
        return [m for m in self._of_use[self._lies[number].use] if m >= number]

    def _place_everything(self) -> None:
        """Every copy lies one way in one block; with two levels each has its own."""
        homes: list[list[Any]] = [[] for _ in range(self._copies)]
        for (n, m), together in self._block.items():
            if n == m or self._levels == 3:
                homes[self._lies[n].copy].append(together)
            else:
                self._solver.Add(together == 0)
        for choices in homes:
            self._solver.Add(sum(choices) == 1)

    def _fill_strips(self) -> None:
        """Blocks lie end to end in a strip, none wider than it, a kerf between neighbours."""
        kerf, lies = self._kerf, self._lies
        self._width = [self._solver.NumVar(0, self._uses[lie.use].width, "") for lie in self._lies]
        for n, lie in enumerate(lies):
            use, later = self._uses[lie.use], self._after(n)
            along = sum((lies[b].along + kerf) * self._strip[b, n] for b in later)
            self._solver.Add(along - kerf <= use.length)
            stack = sum((lies[m].across + kerf) * self._block[m, n] for m in later)
            stack -= kerf * self._block[n, n]
            for strip in self._before(n):
                slack = use.width * (1 - self._strip[n, strip])
                self._solver.Add(self._width[strip] >= stack - slack)

    def _fill_sheets(self) -> None:
        """Strips lie side by side on a sheet, a kerf between neighbours."""
        kerf = self._kerf
        for n, lie in enumerate(self._lies):
            use, shares = self._uses[lie.use], []
            for strip in self._after(n):
                share = self._solver.NumVar(0, use.width, "")
                here = self._sheet[strip, n]
                self._solver.Add(share >= self._width[strip] - use.width * (1 - here))
                shares.append(share + kerf * here)
            self._solver.Add(sum(shares) - kerf * self._sheet[n, n] <= use.width)

    def _count_stock(self) -> None:
        """No more sheets than are at hand, area enough, and the least price of them."""
        opened = {n: self._sheet[n, n] for n in range(len(self._lies))}
        for row, most in enumerate(self._hands):
            taken = [v for n, v in opened.items() if self._uses[self._lies[n].use].row == row]
            if most is not None and taken:
                self._solver.Add(sum(taken) <= most)
        for use in range(len(self._uses)):
            self._need_area(use)
        price = [self._costs[self._uses[self._lies[n].use].row] * v for n, v in opened.items()]
        self._solver.Minimize(sum(price))

    def _need_area(self, use: int) -> None:
        """Say what follows from the rest, but helps: what lies on sheets has area."""
        kerf, numbers = self._kerf, self._of_use[use]
        if numbers:
            room = (self._uses[use].length + kerf) * (self._uses[use].width + kerf)
            lying = sum(
                (self._lies[n].along + kerf)
                * (self._lies[n].across + kerf)
                / room
                * sum(self._block[n, m] for m in self._before(n))
                for n in numbers
            )
            self._solver.Add(lying <= sum(self._sheet[n, n] for n in numbers))

    def solve(self, seconds: float) -> Verdict:
        """Solve, for so long at most."""
        self._solver.SetTimeLimit(int(seconds * 1000))
        status = self._solver.Solve()
        if status == pywraplp.Solver.OPTIMAL:
            return Verdict(is_proven=True, value=round(self._solver.Objective().Value()))
        return Verdict(is_proven=status == pywraplp.Solver.INFEASIBLE, value=None)

"""Sheets in a row: which set-ups may stay from the end of one sheet to the beginning of the next.

Each set-up that stays saves a change. CP-SAT puts the sheets in a row in which most stay; the
same model with everything a sheet might begin and end with bounds how many can.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import permutations
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from shared.cuts.forest import Setting
from shared.cuts.order_problem import Problem, bits, surely_set
from shared.making.settings import LETTERS, Device
from solver.budget.stop import Stop
from solver.cut_order.beam import ColourBlock
from solver.proof.stoppable import Reach, solve

SECONDS = 2.0
"""Time for a row."""

Variable = Any
"""A variable of CP-SAT (the library's types are not checked)."""


class Ends(NamedTuple):
    """Settings that a sheet may begin with, and such that it may end with."""

    firsts: frozenset[Setting]
    lasts: frozenset[Setting]


class Option(NamedTuple):
    """One way to saw a sheet: the settings it begins and ends with, and its blocks.

    One block more than another way costs what a set-up that stays saves.
    """

    first: Setting
    last: Setting
    blocks: tuple[ColourBlock, ...] = ()


class SheetOrder(NamedTuple):
    """Sheets in order, with the option of each."""

    sheets: tuple[int, ...]
    options: tuple[Option, ...]


def ends_of(problem: Problem) -> Ends:
    """Return what a sheet may begin and end with: passes that need none, that none needs.

    Only of what is surely set: marks between leave what is set as it is.
    """
    problem = surely_set(problem)
    ahead = problem.ahead
    needed = 0
    for number in bits(ahead):
        needed |= problem.before[number]
    firsts = (n for n in bits(ahead) if not problem.before[n] & ahead)
    return Ends(
        frozenset(problem.made[n].setting for n in firsts),
        frozenset(problem.made[n].setting for n in bits(ahead & ~needed)),
    )


def shared_ends(ends: Sequence[Ends], sheet: int) -> Ends:
    """Return what a sheet may begin with that another may end with, and the other way round."""
    others = [one for n, one in enumerate(ends) if n != sheet]
    firsts = frozenset[Setting]().union(*(one.firsts for one in others))
    lasts = frozenset[Setting]().union(*(one.lasts for one in others))
    return Ends(ends[sheet].firsts & lasts, ends[sheet].lasts & firsts)


def ending_with(problem: Problem, setting: Setting) -> Iterator[Problem]:
    """Yield the problem with one pass of a setting after all of other settings, pass by pass."""
    ahead, needed = problem.ahead, 0
    for number in bits(ahead):
        needed |= problem.before[number]
    same = [n for n in bits(ahead) if problem.made[n].setting == setting]
    others = ahead & ~sum(1 << n for n in same)
    for last in same:
        if not needed >> last & 1:
            before = list(problem.before)
            before[last] |= others
            yield replace(problem, before=tuple(before))


def most_kept(ends: Sequence[Ends], stop: Stop) -> int:
    """Return how many set-ups can stay from sheet to sheet at most."""
    shared = [shared_ends(ends, sheet) for sheet in range(len(ends))]
    if not any(one.firsts for one in shared):
        return 0
    none = ("", Device.MARK, -1)
    options = [
        [Option(first, last) for first in (none, *one.firsts) for last in (none, *one.lasts)]
        for one in shared
    ]
    rows = _Rows(options)
    bound = rows.solve(stop).bound
    return min(len(ends) - 1, int(bound + 1e-6)) if bound > float("-inf") else len(ends) - 1


def best_row(options: Sequence[Sequence[Option]], stop: Stop) -> SheetOrder:
    """Return the sheets in a row in which many set-ups stay; the first option is taken else."""
    rows = _Rows(options)
    return rows.read(rows.solve(stop)) if rows.kept else rows.given()


class _Rows:
    """The model: an arc for each pair of neighbours, and a choice for each sheet."""

    def __init__(self, options: Sequence[Sequence[Option]]) -> None:
        self._options = options
        self._model = cp_model.CpModel()
        ends = range(len(options) + 1)
        self._arcs = {pair: self._model.new_bool_var("") for pair in permutations(ends, 2)}
        self._model.add_circuit([(one, other, arc) for (one, other), arc in self._arcs.items()])
        self._uses = [[self._model.new_bool_var("") for _ in ways] for ways in options]
        for ways in self._uses:
            self._model.add_exactly_one(ways)
        self.kept = [
            self._stays(one, other, setting)
            for one, other in permutations(range(len(options)), 2)
            for setting in self._shared(one, other)
        ]
        self._model.maximize(sum(self.kept) - sum(self._dearer()))

    def _dearer(self) -> Iterator[Variable]:
        """Yield how many blocks each sheet takes beyond the fewest of its ways."""
        for ways, uses in zip(self._options, self._uses, strict=True):
            fewest = min(len(way.blocks) for way in ways)
            for way, used in zip(ways, uses, strict=True):
                yield (len(way.blocks) - fewest) * used

    def _shared(self, one: int, other: int) -> list[Setting]:
        lasts = {way.last for way in self._options[one]}
        firsts = {way.first for way in self._options[other]}
        return sorted(setting for setting in lasts & firsts if setting[0] and setting[1] in LETTERS)

    def _stays(self, one: int, other: int, setting: Setting) -> Variable:
        """Return whether one sheet ends, and the next begins, with a setting."""
        stays = self._model.new_bool_var("")
        self._model.add_implication(stays, self._arcs[one, other])
        ending = [way.last == setting for way in self._options[one]]
        beginning = [way.first == setting for way in self._options[other]]
        for sheet, suits in ((one, ending), (other, beginning)):
            suiting = [use for use, suit in zip(self._uses[sheet], suits, strict=True) if suit]
            self._model.add_bool_or([~stays, *suiting])
        return stays

    def solve(self, stop: Stop) -> Any:
        """Solve for a while."""
        return solve(self._model, Reach(seconds=SECONDS), stop)

    def given(self) -> SheetOrder:
        """Return the row as the sheets came."""
        return SheetOrder(
            tuple(range(len(self._options))), tuple(ways[0] for ways in self._options)
        )

    def read(self, answer: Any) -> SheetOrder:
        """Return the row that was found."""
        if not answer.is_found:
            return self.given()
        after: Mapping[int, int] = {one: o for (one, o), arc in self._arcs.items() if answer(arc)}
        sheets, at = list[int](), after[len(self._options)]
        while at != len(self._options):
            sheets.append(at)
            at = after[at]
        return SheetOrder(tuple(sheets), tuple(self._chosen(sheet, answer) for sheet in sheets))

    def _chosen(self, sheet: int, answer: Any) -> Option:
        ways = zip(self._options[sheet], self._uses[sheet], strict=True)
        return next(way for way, used in ways if answer(used))

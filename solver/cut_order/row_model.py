"""Groups in a row, each with a way through it, such that they count least: a model for CP-SAT.

An arc for each pair of neighbours, and a choice for each group; a group is entered as the one
before it is left.
"""

from collections.abc import Callable, Mapping
from itertools import permutations
from math import ceil
from typing import Any, Final, NamedTuple

from ortools.sat.python import cp_model

from solver.budget.stop import Stop
from solver.cut_order.groups import FIRST, Stands, may_follow
from solver.cut_order.states import Ending
from solver.cut_order.task import Task
from solver.proof.stoppable import Reach, solve

SECONDS: Final = 2.0
"""Time for a row, in seconds."""

Variable = Any
"""A variable of CP-SAT (the library's types are not checked)."""


class Key(NamedTuple):
    """A way through a group: how it is entered and left, and what stands then."""

    place: int
    entry: Stands
    ending: Ending | None
    left: Stands


class Way(NamedTuple):
    """What a way counts at least, and its order if that is exact."""

    least: int
    order: list[int] | None = None


class Row(NamedTuple):
    """Groups in a row, each with its way, and what every row counts at least."""

    least: int
    keys: list[Key]


class RowModel:
    """The model of some ways through the groups of a task."""

    def __init__(
        self,
        task: Task,
        ways: Mapping[Key, Way],
        entered: Callable[[int, Stands], Stands],
        only_last: Callable[[Key], bool],
    ) -> None:
        """Take the ways, how a group is entered after what stands, and which ways end a row."""
        self._entered, count = entered, len(task.groups)
        self._model, self._depot = cp_model.CpModel(), count
        self._uses = {key: self._model.new_bool_var("") for key in ways}
        self._arcs: dict[tuple[int, int], Variable] = {}
        for one, other in permutations(range(count + 1), 2):
            if other == count or may_follow(task, -1 if one == count else one, other):
                self._arcs[one, other] = self._model.new_bool_var("")
        arcs = [(one, other, arc) for (one, other), arc in self._arcs.items()]
        self._model.add_circuit(arcs)
        for place in range(count):
            self._enter(place)
        for key, use in self._uses.items():
            if only_last(key):
                self._model.add_implication(use, self._arcs[key.place, count])
        self._model.minimize(sum(ways[key].least * use for key, use in self._uses.items()))

    def _enter(self, place: int) -> None:
        """Let a group have one way, and be entered as the one before it is left."""
        its = {key: use for key, use in self._uses.items() if key.place == place}
        self._model.add_exactly_one(its.values())
        entering: dict[Stands, list[Variable]] = {}
        for key, use in its.items():
            entering.setdefault(key.entry, []).append(use)
        for one in range(self._depot + 1):
            arc = self._arcs.get((one, place))
            if arc is None:
                continue
            if one == self._depot:
                self._model.add_bool_or([~arc, *entering.get(FIRST, [])])
                continue
            for key, use in self._uses.items():
                if key.place == one:
                    entered = entering.get(self._entered(place, key.left), [])
                    self._model.add_bool_or([~arc, ~use, *entered])

    def solve(self, stop: Stop) -> Row | None:
        """Return the best row, ``None`` if none was found in time."""
        answer = solve(self._model, Reach(seconds=SECONDS), stop)
        if not answer.is_found:
            return None
        after = {one: other for (one, other), arc in self._arcs.items() if answer(arc)}
        its = {key.place: key for key, use in self._uses.items() if answer(use)}
        keys, at = list[Key](), after[self._depot]
        while at != self._depot:
            keys.append(its[at])
            at = after[at]
        return Row(max(0, ceil(answer.bound - 1e-6)), keys)

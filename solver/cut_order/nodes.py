"""Passes in a row as nodes of an order: what each takes by what it finds, and what it leaves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final, NamedTuple

from shared.cuts.order_problem import bits
from shared.making.rail_choice import Rails
from shared.making.settings import Device
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.task import Task

FOREIGN: Final = 1 << 30
"""A colour that no pass has."""

Row = tuple[int, ...]
"""Passes that are made one right after the other."""


class Single(Enum):
    """Whether one pass alone was made at what stands after a node."""

    ALWAYS = 1
    NEVER = 2
    UNLESS_MATCHED = 3
    """If what the node sets stood there before, it is not the only pass."""
    AS_BEFORE = 4
    """The node sets nothing."""


class Way(NamedTuple):
    """What a node takes when it finds certain rails, and what it leaves.

    ``takes`` is what it counts where what it sets first does not stand there, its first lift left
    out; ``saves`` what it counts less where that stands. ``colour`` stands after it, ``None`` for
    what stood before.
    """

    takes: int
    saves: int
    leaves: Rails
    colour: int | None
    single: Single


@dataclass(frozen=True, slots=True)
class Node:
    """Passes in a row, what is set for them first, and a way for each state of the rails."""

    row: Row
    first: int
    ways: tuple[Way, ...]

    @property
    def is_through(self) -> bool:
        """Whether nothing is set in it."""
        return self.first == NOTHING


class Nodes:
    """Makes nodes of rows as they lie in an order, between what stands and what follows."""

    def __init__(
        self, task: Task, rows: Sequence[Row], standing: Standing, done: int, follows: int | None
    ) -> None:
        """Take the rows in their order; passes ``done`` are made before, ``follows`` comes next."""
        self.task, self.standing, self.done = task, standing, done
        self.given = len(rows)
        rows = [*rows, *([(follows,)] if follows is not None else [])]
        self._done: list[int] = []
        for row in rows:
            self._done.append(done)
            done |= sum(1 << number for number in row)
        self.rails = self._rails_met(rows)
        self.all = [self._node(row, at) for at, row in enumerate(rows)]

    def _rails_met(self, rows: Sequence[Row]) -> list[Rails]:
        """Return all states of the rails that come up: closed under what passes do."""
        known = [self.standing.rails]
        for rails in known:
            for row, begun in zip(rows, self._done, strict=True):
                done = begun
                for number in row:
                    after = self.task.clock.step(Standing(rails), number, done).standing.rails
                    done |= 1 << number
                    if after not in known:
                        known.append(after)
        return known

    def _node(self, row: Row, at: int) -> Node:
        colour, device = self._first_set(row, at)
        return Node(
            row, colour, tuple(self._way(row, at, one, (colour, device)) for one in self.rails)
        )

    def _first_set(self, row: Row, at: int) -> tuple[int, Device]:
        done = self._done[at]
        for number in row:
            doing = self.task.clock.doing(number, done)
            if doing.colour != NOTHING:
                return doing.colour, doing.device
            done |= 1 << number
        return NOTHING, Device.MARK

    def _way(self, row: Row, at: int, rails: Rails, first: tuple[int, Device]) -> Way:
        cold, after = self._run(row, at, Standing(rails))
        colour, device = first
        if colour == NOTHING:
            foreign = Standing(rails, FOREIGN, Device.GUIDE, 2)
            kept = self._run(row, at, foreign)[1].colour == FOREIGN
            return Way(cold, 0, after.rails, None if kept else NOTHING, Single.AS_BEFORE)
        warm, then = self._run(row, at, Standing(rails, colour, device, 2))
        single = Single.NEVER
        if after.since == 1:
            single = Single.ALWAYS if then.since == 1 else Single.UNLESS_MATCHED
        return Way(cold, cold - warm, after.rails, after.colour, single)

    def _run(self, row: Row, at: int, standing: Standing) -> tuple[int, Standing]:
        """Return what a row takes, its first lift left out, and what it leaves."""
        problem, first = self.task.problem, row[0]
        standing = standing._replace(
            pieces=(problem.piece_of[first], NOTHING), axis=problem.made[first].axis
        )
        total, done = 0, self._done[at]
        for number in row:
            step = self.task.clock.step(standing, number, done)
            total += self.task.value(step)
            standing, done = step.standing, done | 1 << number
        return total, standing

    def lift(self, one: int, other: int) -> int:
        """Return what the first lift of a node counts after another one, -1 for what stands."""
        clock, problem, number = self.task.clock, self.task.problem, self.all[other].row[0]
        standing = Standing(pieces=self.standing.pieces, axis=self.standing.axis)
        if one >= 0:
            last = self.all[one].row[-1]
            pieces = (problem.piece_of[last], problem.opens[last])
            standing = Standing(pieces=pieces, axis=problem.made[last].axis)
        pieces, axis = (problem.piece_of[number], NOTHING), problem.made[number].axis
        held = standing._replace(pieces=pieces, axis=axis)
        done = self._done[other]
        count = self.task.value
        return count(clock.step(standing, number, done)) - count(clock.step(held, number, done))

    def pairs(self) -> Iterator[tuple[int, int]]:
        """Yield which node has to come before which, as far as passes need each other.

        What follows is of another group, maybe, and hands may have set that before some of these:
        it stays behind them here.
        """
        of = {number: at for at, node in enumerate(self.all) for number in node.row}
        found = set()
        for number, at in of.items():
            for one in bits(self.task.problem.before[number]):
                if of.get(one, at) != at and of[one] < self.given:
                    found.add((of[one], at))
        yield from sorted(found)

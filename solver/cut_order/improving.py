"""An order made better, part by part: neighbourhoods that CP-SAT puts in order anew.

A neighbourhood frees a window of passes, all passes of one setting, those of one sheet, or those
made on one rail; the rest keeps its row. What comes out is measured by the clock and held
against what comes first and the room for loose pieces; as good is taken too, so that the search
moves on along plateaus. (Large neighbourhood search: P. Shaw, "Using constraint programming and
local search methods to solve vehicle routing problems", CP 1998.)
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from random import Random
from typing import Final, NamedTuple

from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING
from solver.cut_order.nodes import Nodes, Row
from solver.cut_order.resolving import Resolving
from solver.cut_order.task import Task
from solver.proof.stoppable import Reach

MOST_NODES: Final = 20
"""Nodes of one neighbourhood, at first; CP-SAT is done with so few within a moment."""
SECONDS: Final = 1.0
"""Time for one neighbourhood."""
FRUITLESS: Final = 40
"""After so many neighbourhoods that changed nothing they may become larger."""
LARGEST: Final = 34
"""Nodes of a neighbourhood at most."""


class Freed(NamedTuple):
    """Part of an order: from one place to another, with the places that are free in it."""

    begin: int
    end: int
    free: frozenset[int]


class Improving:
    """Improves the orders of the groups of a task, which keep their row."""

    def __init__(self, task: Task, orders: Sequence[Sequence[int]], seed: int = 0) -> None:
        """Take an order of each group; where one takes more room than there is, it keeps it."""
        self._task, self._random = task, Random(seed)
        self._groups = [list(order) for order in orders]
        self.worth = task.worth(self.order)
        self._size = MOST_NODES

    @property
    def order(self) -> list[int]:
        """All passes ahead in their order."""
        return [number for group in self._groups for number in group]

    def improve(
        self, stop: Stop, reach: Reach, which: Sequence[int] | None = None
    ) -> Iterator[list[int]]:
        """Yield ever better orders until stopped, or no neighbourhood is worth trying."""
        chosen = [n for n in (which or range(len(self._groups))) if len(self._groups[n]) > 1]
        fruitless = 0
        while chosen and not stop:
            before = self.worth
            changed = self._try(self._random.choice(chosen), stop, reach)
            if self.worth < before:
                fruitless = 0
                yield self.order
            else:
                fruitless += not changed
            if fruitless > FRUITLESS:
                fruitless = 0
                if self._size >= LARGEST:
                    return
                self._size = min(LARGEST, self._size + 5)

    def _try(self, place: int, stop: Stop, reach: Reach) -> bool:
        """Put one neighbourhood in order anew; say whether the order is another."""
        group = self._groups[place]
        done = self._task.problem.start
        for earlier in self._groups[:place]:
            done |= sum(1 << number for number in earlier)
        before = [number for earlier in self._groups[:place] for number in earlier]
        freed = self._freed(group, done)
        rows, chain = _rows(group, freed, self._size)
        head = [*before, *group[: freed.begin]]
        standing = self._task.clock.run(head, self._task.standing)[1]
        first = done | sum(1 << number for number in group[: freed.begin])
        after = [*group[freed.end :], *(n for later in self._groups[place + 1 :] for n in later)]
        nodes = Nodes(self._task, rows, standing, first, after[0] if after else None)
        limit = max(self._task.problem.limit, most_loose(self._task, group, done))
        model = Resolving(nodes, [chain], limit)
        found = model.solve(
            stop, reach._replace(seconds=SECONDS, seed=self._random.randrange(1 << 20))
        )
        if found is None:
            return False
        middle = [number for row in found.rows for number in row]
        new = [*group[: freed.begin], *middle, *group[freed.end :]]
        if new == group or most_loose(self._task, new, done) > limit:
            return False
        worth = self._task.worth([*head, *middle, *after])
        if worth > self.worth:
            return False
        self._groups[place], self.worth = new, worth
        return True

    def _freed(self, group: Sequence[int], done: int) -> Freed:
        kinds = (self._window, self._window, self._setting, self._sheet, self._rail)
        return self._random.choice(kinds)(group, done)

    def _window(self, group: Sequence[int], done: int) -> Freed:
        del done
        size = min(len(group), self._size)
        begin = self._random.randrange(len(group) - size + 1)
        return Freed(begin, begin + size, frozenset(range(begin, begin + size)))

    def _setting(self, group: Sequence[int], done: int) -> Freed:
        """Free all passes that need the same as one that is chosen at random."""
        clock = self._task.clock
        colours = [clock.doing(number, done).colour for number in group]
        return self._alike(colours, NOTHING)

    def _sheet(self, group: Sequence[int], done: int) -> Freed:
        del done
        problem = self._task.problem
        return self._alike([problem.pieces[problem.piece_of[number]].sheet for number in group])

    def _rail(self, group: Sequence[int], done: int) -> Freed:
        """Free the passes that are made on the rail a random one is made on."""
        rails, standing = [], self._task.standing
        for number in group:
            standing = self._task.clock.step(standing, number, done).standing
            done |= 1 << number
            rails.append(standing.rails.hand)
        return self._alike(rails)

    def _alike(self, names: Sequence[object], none: object = None) -> Freed:
        """Free the places named like a random one, so many as go into a neighbourhood."""
        chosen = self._random.choice(names)
        places = [place for place, name in enumerate(names) if name == chosen]
        if chosen == none or len(places) < 2:
            return self._window(names, 0)  # type: ignore[arg-type] # only its length counts
        most = max(4, self._size // 2)
        if len(places) > most:
            at = self._random.randrange(len(places) - most + 1)
            places = places[at : at + most]
        reach = self._size
        begin, end = max(0, places[0] - reach), min(len(names), places[-1] + 1 + reach)
        return Freed(begin, end, frozenset(places))


def _rows(group: Sequence[int], freed: Freed, most: int) -> tuple[list[Row], list[int]]:
    """Return the rows of a neighbourhood, and the places of those that keep their row.

    The rest is cut where free passes lie, and in pieces as equal as can be for what room is left.
    """
    rest = freed.end - freed.begin - len(freed.free)
    length = max(1, -(-rest // max(1, most - len(freed.free))))
    rows: list[Row] = []
    chain: list[int] = []
    places = range(freed.begin, freed.end)
    for free, its in groupby(places, lambda place: place in freed.free):
        some = [group[place] for place in its]
        if free:
            rows += [(number,) for number in some]
            continue
        for at in range(0, len(some), length):
            chain.append(len(rows))
            rows.append(tuple(some[at : at + length]))
    return rows, chain


def most_loose(task: Task, order: Sequence[int], done: int) -> int:
    """Return how many pieces lie about at most while passes are made in an order."""
    problem = task.problem
    loose = most = problem.loose(done)
    for number in order:
        loose += problem.change(done, number)
        done |= 1 << number
        most = max(most, loose)
    return most


def split(task: Task, order: Sequence[int]) -> list[list[int]]:
    """Return an order group by group, the groups in the row in which the order has them."""
    found: list[list[int]] = []
    for number in order:
        group = next(one for one in task.groups if one >> number & 1)
        if not found or not group >> found[-1][0] & 1:
            found.append([])
        found[-1].append(number)
    return found

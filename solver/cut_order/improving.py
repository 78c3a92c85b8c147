"""An order made better, part by part: neighbourhoods that CP-SAT puts in order anew.

A neighbourhood frees a window of passes, all passes of one setting, those of one sheet, or those
made on one rail; the rest keeps its row. What comes out is measured by the clock and held
against what comes first and the room for loose pieces; as good is taken too, so that the search
moves on along plateaus. (Large neighbourhood search: P. Shaw, "Using constraint programming and
local search methods to solve vehicle routing problems", CP 1998.)
"""

from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from itertools import groupby, pairwise
from random import Random
from typing import Final, NamedTuple

from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING
from solver.cut_order.loose import Roomy
from solver.cut_order.nodes import Nodes, Row
from solver.cut_order.resolving import Resolved, Resolving
from solver.cut_order.room import Room
from solver.cut_order.task import Task, passes_in
from solver.proof.stoppable import Reach

MOST_NODES: Final = 14
"""Nodes of one neighbourhood at first: CP-SAT is done with so few within a tenth of a second."""
SECONDS: Final = 1.0
"""Time for one neighbourhood."""
FRUITLESS: Final = 40
"""After so many neighbourhoods that changed nothing they may become larger."""
MOST_TRIED: Final = 400
"""So many draws of a neighbourhood without one that is new, and larger ones are wanted."""
MOVES: Final = 60
"""Passes that are moved at random, as far as they can be, when nothing else is of use."""
LARGER: Final = 5
LARGEST: Final = 34
"""Nodes of a neighbourhood at most, and how many more each time."""


class Freed(NamedTuple):
    """Part of a group: from one place to another, with the places that are free in it."""

    group: int
    begin: int
    end: int
    free: frozenset[int]


class _Asked(NamedTuple):
    """A neighbourhood that is being solved, with the passes it had when it was asked for."""

    freed: Freed
    key: object
    was: tuple[int, ...]
    answer: "Future[Resolved | None]"


class Improving:
    """Improves the orders of the groups of a task, which keep their row.

    So many neighbourhoods are solved at a time as there are workers; they lie apart.
    """

    def __init__(
        self, task: Task, orders: Sequence[Sequence[int]], workers: int = 1, seed: int = 0
    ) -> None:
        """Take an order of each group; where one takes more room than there is, it keeps it."""
        self._task, self._random, self._workers = task, Random(seed), workers
        self._groups = [list(order) for order in orders]
        self._rooms = [
            Room(task.problem, passes_in(group), self._before(place))
            for place, group in enumerate(self._groups)
        ]
        self._roomy = [self._limited(place) for place in range(len(self._groups))]
        self._size = MOST_NODES
        self._settled: set[object] = set()
        self._under_way: list[_Asked] = []
        self._solved: set[int] = set()
        self._asked = 0
        self._now = self.worth = task.worth(self._whole)
        self.order = self._whole
        """The best order of all passes ahead that was found, and what it counts."""

    def _limited(self, place: int) -> Roomy | None:
        """Return the room of a group, as much as its order takes at least; blanks need none."""
        if self._task.finishing and place == len(self._groups) - 1:
            return None
        group = self._groups[place]
        limit = max(self._task.problem.limit, self._rooms[place].most_loose(group))
        return Roomy(passes_in(group), limit)

    def _fits(self, place: int, order: Sequence[int]) -> bool:
        roomy = self._roomy[place]
        return roomy is None or self._rooms[place].most_loose(order) <= roomy.limit

    @property
    def _whole(self) -> list[int]:
        return [number for group in self._groups for number in group]

    def _before(self, place: int) -> int:
        """Return the passes that are made before a group."""
        return self._task.problem.start | passes_in(
            [number for group in self._groups[:place] for number in group]
        )

    def improve(self, stop: Stop) -> Iterator[list[int]]:
        """Yield ever better orders until each group was solved whole."""
        chosen = [place for place, group in enumerate(self._groups) if len(group) > 1]
        wanted = self._wanted(chosen)
        freed: Freed | None = None
        with ThreadPoolExecutor(self._workers) as pool:
            while not stop:
                while len(self._under_way) < self._workers and not stop:
                    freed = freed or next(wanted, None)
                    if freed is None or any(_meet(freed, one.freed) for one in self._under_way):
                        break
                    self._ask(freed, pool, stop)
                    freed = None
                if not self._under_way:
                    return
                wait([one.answer for one in self._under_way], return_when=FIRST_COMPLETED)
                for one in self._ended():
                    self._take(one)
                if self._now < self.worth:
                    self.order, self.worth = self._whole, self._now
                    yield self.order

    def _wanted(self, chosen: Sequence[int]) -> Iterator[Freed]:
        """Yield windows over each group, then neighbourhoods at random, and then larger ones.

        Once the largest are of no use either, some passes are moved at random, and all begins
        again from there.
        """
        while chosen := [place for place in chosen if place not in self._solved]:
            for place in chosen:
                for begin in range(0, max(1, len(self._groups[place]) - 2), self._size // 2):
                    yield self._window_at(place, begin)
            now, asked, tried = self._now, self._asked, 0
            while self._asked - asked < FRUITLESS and tried < MOST_TRIED and chosen:
                yield self._freed(self._random.choice(chosen))
                tried += 1
                if self._now < now:
                    now, asked, tried = self._now, self._asked, 0
            self._size += LARGER
            if self._size > LARGEST:
                self._size = MOST_NODES
                self._move_some(self._random.choice(chosen))

    def _ended(self) -> list[_Asked]:
        ended = [one for one in self._under_way if one.answer.done()]
        self._under_way = [one for one in self._under_way if not one.answer.done()]
        return ended

    def _ask(self, freed: Freed, pool: ThreadPoolExecutor, stop: Stop) -> None:
        """Have a neighbourhood solved, unless it was as it is now."""
        task, group = self._task, self._groups[freed.group]
        key = (freed, tuple(group[freed.begin : freed.end + 1]))
        if key in self._settled:
            return
        head, after = self._around(freed)
        rows, chain = _rows(group, freed, self._size)
        done = task.problem.start | passes_in(head)
        standing = task.clock.run(head, task.standing)[1]
        nodes = Nodes(task, rows, standing, done, after[0] if after else None)
        model = Resolving(nodes, [chain], self._roomy[freed.group])
        reach = Reach(seconds=SECONDS, seed=self._random.randrange(1 << 20))
        was = tuple(group[freed.begin : freed.end])
        self._asked += 1
        self._under_way.append(_Asked(freed, key, was, pool.submit(model.solve, stop, reach)))

    def _around(self, freed: Freed) -> tuple[list[int], list[int]]:
        """Return the passes before and after a neighbourhood."""
        groups, place = self._groups, freed.group
        before = [number for group in groups[:place] for number in group]
        after = [number for group in groups[place + 1 :] for number in group]
        return (
            [*before, *groups[place][: freed.begin]],
            [*groups[place][freed.end :], *after],
        )

    def _take(self, asked: _Asked) -> None:
        """Take what came out unless it is worse, or of no use any more."""
        found, freed = asked.answer.result(), asked.freed
        group = self._groups[freed.group]
        if found is None or tuple(group[freed.begin : freed.end]) != asked.was:
            return
        if found.optimal:
            self._settled.add(asked.key)
            if len(freed.free) == len(group):
                self._solved.add(freed.group)
        head, after = self._around(freed)
        middle = [number for row in found.rows for number in row]
        new = [*group[: freed.begin], *middle, *group[freed.end :]]
        worth = self._task.worth([*head, *middle, *after])
        if (worth, self._switches(new)) <= (self._now, self._switches(group)) and self._fits(
            freed.group, new
        ):
            self._groups[freed.group], self._now = new, worth

    def _switches(self, order: Sequence[int]) -> int:
        """Count how often another run is gone on with: as seldom is as tidy."""
        made = self._task.problem.made
        return sum(made[one].run != made[other].run for one, other in pairwise(order))

    def _move_some(self, place: int) -> None:
        """Move some passes of a group to other places where they may be."""
        task = self._task
        for _ in range(MOVES):
            group = list(self._groups[place])
            number = group.pop(self._random.randrange(len(group)))
            group.insert(self._random.randrange(len(group) + 1), number)
            if self._fits(place, group) and _is_in_order(task, group):
                self._groups[place] = group
        self._now = task.worth(self._whole)

    def _freed(self, place: int) -> Freed:
        kinds = (self._window, self._setting, self._piece, self._sheet, self._rail)
        return self._random.choice(kinds)(place)

    def _window(self, place: int) -> Freed:
        return self._window_at(place, self._random.randrange(len(self._groups[place])))

    def _window_at(self, place: int, begin: int) -> Freed:
        """Free the passes from one on, or the last ones where there are too few behind it."""
        whole = len(self._groups[place])
        begin = max(0, min(begin, whole - self._size))
        end = min(whole, begin + self._size)
        return Freed(place, begin, end, frozenset(range(begin, end)))

    def _setting(self, place: int) -> Freed:
        """Free passes that need the same as one that is chosen at random."""
        return self._alike(place, self._colours(place))

    def _piece(self, place: int) -> Freed:
        """Free the passes of a piece, and those that need the same as one of them."""
        group, problem = self._groups[place], self._task.problem
        colours = self._colours(place)
        at = self._random.randrange(len(group))
        piece, colour = problem.piece_of[group[at]], colours[at]
        names = [
            problem.piece_of[number] == piece or (its == colour != NOTHING)
            for number, its in zip(group, colours, strict=True)
        ]
        return self._named(place, names, chosen=True)

    def _colours(self, place: int) -> list[int]:
        clock, start = self._task.clock, self._task.problem.start
        return [clock.doing(number, start).colour for number in self._groups[place]]

    def _sheet(self, place: int) -> Freed:
        problem = self._task.problem
        its = [problem.pieces[problem.piece_of[number]].sheet for number in self._groups[place]]
        return self._alike(place, its)

    def _rail(self, place: int) -> Freed:
        """Free passes as long as one that is chosen at random, which so take the same rail."""
        clock, start = self._task.clock, self._task.problem.start
        return self._alike(place, [clock.doing(n, start).long for n in self._groups[place]])

    def _alike(self, place: int, names: Sequence[object]) -> Freed:
        """Free the places named like a random one."""
        return self._named(place, names, self._random.choice(names))

    def _named(self, place: int, names: Sequence[object], chosen: object) -> Freed:
        """Free the places of a name, so many as go into a neighbourhood."""
        free = [at for at, name in enumerate(names) if name == chosen]
        if chosen == NOTHING or len(free) < 2:
            return self._window(place)
        most = max(4, self._size // 2)
        if len(free) > most:
            first = self._random.randrange(len(free) - most + 1)
            free = free[first : first + most]
        begin, end = max(0, free[0] - self._size), min(len(names), free[-1] + 1 + self._size)
        return Freed(place, begin, end, frozenset(free))


def _is_in_order(task: Task, group: Sequence[int]) -> bool:
    """Whether every pass of a group comes behind what it needs."""
    ahead = passes_in(group)
    for number in group:
        ahead &= ~(1 << number)
        if task.problem.before[number] & ahead:
            return False
    return True


def _meet(one: Freed, other: Freed) -> bool:
    """Whether two neighbourhoods have a place in common, or one begins where the other ends."""
    return one.group == other.group and one.begin <= other.end and other.begin <= one.end


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

"""A good order of all passes within a moment: a beam of states, pass after pass.

A state is what is made and what stands. It is worth what its passes took by the clock, and what
`solver.cut_order.outlook` says of those ahead. The few best go on. Of states worth the same, the
tidier goes on: a trim comes right before the cut it serves, passes over one piece stay together,
large pieces come first, and names come in order.
"""

from bisect import insort
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple, TypeAlias

from shared.cuts.order_problem import bits
from shared.plan import CutKind
from shared.shop import Axis, Support
from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING
from solver.cut_order.outlook import GONE, Outlook
from solver.cut_order.room import Room
from solver.cut_order.task import Task
from solver.cut_order.tidying import tidied
from solver.cut_order.ways import Way, Ways

WIDTH: Final = 32
"""Passes looked at for each pass made, where nothing else is said: 0.1 to 0.3 ms of work."""
STATES: Final = 32
"""States that go on at most, when so many passes are looked at."""
STANDS: Final = 80
"""What stands counts so much of a set-up, in per cent: it is not sure to be used to the end."""

Trail: TypeAlias = "tuple[int, Trail] | None"
"""The last pass made, with those before it."""


class _State(NamedTuple):
    """Passes made, what could be made next, and how it came to that.

    ``value`` is what counts so far and ahead, whatever stands; ``stands`` the number of what is
    in hand and set.
    """

    value: int
    untidy: int
    done: int
    ready: Sequence[int]
    loose: int
    stands: int
    trail: Trail


_Look: TypeAlias = tuple[int, int, int, int, int, int, int, int]
"""A pass made after a state; less is better, in the order of what it says.

What counts in all, how untidy it is, the place of the state it comes after, the rank of the pass,
the pass, what counts so far and ahead whatever stands, the number of what stands, and by how many
more pieces lie about.
"""


class _Facts(NamedTuple):
    """What is known of a pass in its group: its bit, its piece, its run, and passes of these.

    ``its`` are those of the group over its piece, ``sheet`` all of them where it is a sheet,
    ``same`` and ``levels`` as in the outlook.
    """

    bit: int
    rank: int
    piece: int
    run: int
    of_run: int
    opens: bool
    its: int
    sheet: int
    same: int
    levels: tuple[int, ...]


class _Left(NamedTuple):
    """What a state leaves when another run is sawn.

    ``away`` counts for its own run, which has to come again, and ``others`` for what lies there
    besides, unless that comes next: the next run over its piece, or of the piece it opened.
    """

    run: int
    pieces: tuple[int, int]
    axis: Axis
    away: int
    others: tuple[int, int]
    untidy: int


def quick(task: Task, stop: Stop, width: int = WIDTH) -> list[int]:
    """Return an order of all passes ahead, group after group as they come.

    For each pass made so many are looked at: more of them take longer and find better orders.
    More than the task's number of pieces lie about only where the search finds no order of a
    group without. When it is time to stop, the best is taken at every pass.
    """
    return tidied(task, _Quick(task).order(stop, width))


class _Quick:
    """What is known of a task whatever is made."""

    def __init__(self, task: Task) -> None:
        self.task, self.problem = task, task.problem
        self.outlook = Outlook(task)
        self.ways = Ways(task, self.outlook)
        self.turns = task.clock.shop.support is Support.HORSES
        self.rank = self._ranks()

    def _ranks(self) -> list[int]:
        """Return the place of each pass when those over large pieces come first."""
        problem = self.problem
        areas = [problem.pieces[piece].area for piece in problem.piece_of]
        row = sorted(range(len(areas)), key=lambda number: (-areas[number], number))
        place = {number: at for at, number in enumerate(row)}
        return [place[number] for number in range(len(areas))]

    def order(self, stop: Stop, width: int) -> list[int]:
        """Return the order."""
        task = self.task
        stands = self.ways.number_of(task.standing)
        states = [_State(0, 0, task.problem.start, (), 0, stands, None)]
        for place, group in enumerate(task.groups):
            is_last = place == len(task.groups) - 1
            states = _Group(self, group, states[0].done).best(states, stop, width, is_last)
        return _row(states[0].trail)


class _View(NamedTuple):
    """What standing things are good for: passes made with what is set, or not with the rail."""

    fitting: int
    unfit: int
    measured: bool


class _Group:
    """The beam over the passes of one group."""

    def __init__(self, whole: _Quick, group: int, done: int) -> None:
        self._whole, self._problem, self._outlook = whole, whole.problem, whole.outlook
        self._group, self._done = group, done
        self._room = Room(whole.problem, group, done)
        self._limit = max(whole.problem.limit, self._room.enough)
        self._shop = whole.task.clock.shop
        self._before = {n: whole.problem.before[n] & group for n in bits(group)}
        self._after: dict[int, list[int]] = {number: [] for number in self._before}
        for number, needed in self._before.items():
            for one in bits(needed & ~done):
                self._after[one].append(number)
        self._stands_s = self._shop.setup_s * STANDS // 100
        self._lefts: dict[tuple[int, int], _Left] = {}
        self._views: dict[int, _View] = {}
        self._facts = {number: self._facts_of(number) for number in self._before}

    def _facts_of(self, number: int) -> _Facts:
        problem, outlook, its = self._problem, self._outlook, self._room.its
        piece, opens = problem.piece_of[number], problem.opens[number]
        return _Facts(
            bit=1 << number,
            rank=self._whole.rank[number],
            piece=piece,
            run=outlook.run_of[number],
            of_run=outlook.runs[outlook.run_of[number]],
            opens=opens >= 0 and its[opens] != 0,
            its=its[piece],
            sheet=problem.pieces[piece].passes if problem.pieces[piece].maker < 0 else 0,
            same=outlook.same[number],
            levels=outlook.levels[number],
        )

    def best(self, states: Sequence[_State], stop: Stop, width: int, is_last: bool) -> list[_State]:
        """Return the best states once all passes of the group are made."""
        if is_last and self._whole.task.finishing:
            self._limit = 1 << 30
        rank = self._whole.rank.__getitem__
        ready = tuple(
            sorted((n for n, needed in self._before.items() if not needed & ~self._done), key=rank)
        )
        first = [one._replace(ready=ready, loose=self._room.at_first) for one in states]
        while True:
            found = self._searched(first, stop, width)
            if found:
                return found
            row = self._room.some_order(self._limit)
            if row is not None:
                return [self._along(first[0], row)]
            self._limit += 1

    def _searched(self, states: list[_State], stop: Stop, width: int) -> list[_State]:
        """Return the best states at the end; none if all got stuck for want of room."""
        for _ in range(self._group.bit_count()):
            looks: list[_Look] = []
            for place, state in enumerate(states):
                looks += self._looks(place, state)
            ready = sum(len(one.ready) for one in states)
            looks.sort()
            states = self._chosen(states, looks, 1 if stop else width * ready // max(1, len(looks)))
        return states

    def _chosen(self, states: Sequence[_State], looks: Sequence[_Look], ready: int) -> list[_State]:
        """Return the states that the best looks lead to, of those that are alike the best.

        Once so many passes could be made after them they are enough.
        """
        problem, known, found = self._problem, set[object](), list[_State]()
        for look in looks:
            _, _, place, _, number, _, stands, change = look
            state = states[place]
            done = state.done | 1 << number
            key = (done, stands, problem.piece_of[number], problem.opens[number])
            if key in known:
                continue
            known.add(key)
            room = self._limit - state.loose - change
            if change <= 0 or self._room.is_safe(done, room):
                found.append(self._made(state, look))
                ready -= len(found[-1].ready)
                if ready <= 0 or len(found) == STATES:
                    break
        return found

    def _made(self, state: _State, look: _Look) -> _State:
        _, untidy, _, _, number, value, stands, change = look
        done = state.done | 1 << number
        ready, rank = list(state.ready), self._whole.rank.__getitem__
        ready.remove(number)
        for one in self._after[number]:
            if not self._before[one] & ~done:
                insort(ready, one, key=rank)
        trail = (number, state.trail)
        return _State(value, untidy, done, ready, state.loose + change, stands, trail)

    def _along(self, state: _State, row: Sequence[int]) -> _State:
        """Return the state after passes in a given order."""
        for number in row:
            (look,) = self._looks(0, state._replace(ready=(number,)))
            state = self._made(state, look)
        return state

    # -- what a pass counts after a state

    def _looks(self, place: int, state: _State) -> Iterator[_Look]:
        """Yield passes that may be made next.

        Of those at one setting over pieces that do not lie there, one of a kind is enough: the
        others come when it stands.
        """
        done, stands, left, whole = state.done, state.stands, self._left(state), self._whole
        free = max(0, self._limit - state.loose)
        known_ways, steps, seen = whole.ways.known, whole.ways.steps, self._seen
        setup_s, measure_s = self._shop.setup_s, self._shop.measure_s
        fetched, known = {left.run: (0, 0)}, set[object]()
        for number in state.ready:
            bit, rank, piece, run, of_run, opens, its, sheet, same, levels = self._facts[number]
            now = done | bit
            change = opens - (not its & ~now) + bool(sheet and not sheet & done)
            if change > free:
                continue
            if same and run != left.run:
                kind = (same, change > 0, piece in left.pieces, not its & done)
                if kind in known:
                    continue
                known.add(kind)
            way = known_ways.get((number, done & of_run)) or whole.ways.way(number, done)
            step = steps.get((stands, way[0])) or whole.ways.step(stands, way[0], number, done)
            if run not in fetched:
                fetched[run] = self._fetched(left, number, way, done), left.untidy
            comes, untidy = fetched[run]
            value = state.value + step[0] + way[1] + comes
            rest = same & ~now
            if not rest:
                value -= setup_s * len(levels)
            else:
                if len(levels) > 1:
                    value -= setup_s * sum(not some & ~now for some in levels[1:])
                value -= 0 if rest & (rest - 1) else measure_s
            total, untidy = value + seen(step[1], now), state.untidy + untidy
            yield total, untidy, place, rank, number, value, step[1], change

    def _left(self, state: _State) -> _Left:
        """Return what it counts to saw another run next."""
        if state.trail is None:
            standing = self._whole.task.standing
            return _Left(GONE, standing.pieces, standing.axis, 0, (0, 0), 0)
        last = state.trail[0]
        key = (last, state.done & self._problem.pieces[self._problem.piece_of[last]].passes)
        found = self._lefts.get(key)
        if found is None:
            found = self._lefts[key] = self._left_by(last, state.done)
        return found

    def _left_by(self, last: int, done: int) -> _Left:
        problem, run, its = self._problem, self._outlook.run_of[last], self._room.its
        piece, opened = problem.piece_of[last], problem.opens[last]
        rest = self._outlook.runs[run] & self._group & ~done
        others = (
            0 if rest else self._worse(its[piece] & ~done),
            0 if opened < 0 else self._worse(its[opened] & ~done),
        )
        is_trim = problem.made[last].kind is CutKind.TRIM
        axis, away = problem.made[last].axis, self._away(run, rest, done) if rest else 0
        return _Left(run, (piece, opened), axis, away, others, bool(rest) + is_trim)

    def _away(self, run: int, rest: int, done: int) -> int:
        """Return what it counts that the piece of a run, with passes left, has to come again."""
        whole = self._outlook.entries[run].laid
        if whole == self._shop.lift_s + self._whole.task.lift:  # what is left is no heavier
            return whole
        return self._whole.ways.way(rest.bit_length() - 1, done).laid

    def _worse(self, passes: int) -> int:
        """Return how much more it counts when a piece comes later than at once."""
        if not passes:
            return 0
        entry = self._outlook.entries[self._outlook.run_of[next(bits(passes))]]
        return entry.laid - entry.best

    def _fetched(self, left: _Left, number: int, way: Way, done: int) -> int:
        """Return what it counts that a run comes, less what was seen ahead of that."""
        piece, run = self._problem.piece_of[number], self._outlook.run_of[number]
        laid, turned = way.laid, way.turned
        one, other = left.others
        entry = self._outlook.entries[run]
        is_begun = self._outlook.runs[run] & done
        if piece not in left.pieces:
            return left.away + one + other + laid - (laid if is_begun else entry.laid)
        seen = laid if is_begun else entry.best
        turns = self._whole.turns and self._problem.made[number].axis is not left.axis
        later = other if piece == left.pieces[0] else one
        return left.away + later + (turned if turns else 0) - seen

    def _seen(self, stands: int, now: int) -> int:
        """Return what is ahead by what stands: less for what is set, more for another rail."""
        view = self._views.get(stands)
        if view is None:
            view = self._views[stands] = self._view(stands)
        fitting, unfit, measured = view
        found = self._shop.rail_s if unfit & ~now else 0
        rest, others = fitting & ~now, self._outlook.others
        if not rest:
            return found
        if others[rest.bit_length() - 1] & ~now and all(others[n] & ~now for n in bits(rest)):
            return found
        several = bool(rest & (rest - 1))
        return found - self._stands_s - self._shop.measure_s * (several - (not measured))

    def _view(self, stands: int) -> _View:
        standing = self._whole.ways.standings[stands]
        hand, fitting, unfit = standing.rails.hand, 0, 0
        if standing.colour != NOTHING:
            fitting = self._outlook.fitting(standing.colour, hand, self._group)
        if hand is not None:
            unfit = self._outlook.unfit(standing.rails, self._group)
        return _View(fitting, unfit, standing.since != 1)


def _row(trail: Trail) -> list[int]:
    """Return the passes of a trail, the first one first."""
    row: list[int] = []
    while trail is not None:
        row.append(trail[0])
        trail = trail[1]
    return row[::-1]

"""A good order of all passes within a moment: a beam of states, pass after pass.

A state is what is made and what stands. It is worth what its passes took by the clock, and what
`solver.cut_order.outlook` says of those ahead. The few best go on. Of states worth the same, the
tidier goes on: a trim comes right before the cut it serves, passes over one piece stay together,
large pieces come first, and names come in order.
"""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple, TypeAlias

from shared.cuts.order_problem import bits
from shared.plan import CutKind
from shared.shop import Axis, Support
from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.outlook import GONE, Outlook
from solver.cut_order.room import Room
from solver.cut_order.task import Task

WIDTH: Final = 64
"""Passes looked at for each pass made, where nothing else is said: about 0.2 ms of work."""
STATES: Final = 24
"""States that go on at most, when so many passes are looked at."""
NO_PIECES: Final = (NOTHING, NOTHING)

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
    ready: int
    loose: int
    stands: int
    trail: Trail


class _Look(NamedTuple):
    """A pass made after a state: less is better, in the order of what it says."""

    total: int
    untidy: int
    state: int
    rank: int
    number: int
    value: int
    stands: int
    change: int


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
    return _Quick(task).order(stop, width)


class _Quick:
    """What is known of a task whatever is made."""

    def __init__(self, task: Task) -> None:
        self.task, self.problem, self.clock = task, task.problem, task.clock
        self.outlook = Outlook(task)
        made, start = task.problem.made, task.problem.start
        self.axes = [one.axis for one in made]
        self.turns = task.clock.shop.support is Support.HORSES
        self.fixed = [task.clock.doing(number, start).fixed_s for number in range(len(made))]
        self.rank = self._ranks()
        self._numbers: dict[Standing, int] = {}
        self.standings: list[Standing] = []
        self._steps: dict[tuple[int, int, int], tuple[int, int]] = {}
        self._handled: dict[tuple[int, int], tuple[int, int]] = {}

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
        stands = self._number(task.standing._replace(pieces=NO_PIECES))
        states = [_State(0, 0, task.problem.start, 0, 0, stands, None)]
        for place, group in enumerate(task.groups):
            is_last = place == len(task.groups) - 1
            states = _Group(self, group, states[0].done).best(states, stop, width, is_last)
        return _row(states[0].trail)

    def step(self, stands: int, number: int, done: int) -> tuple[int, int]:
        """Return what a pass takes beside handling its piece, and what it leaves standing.

        What it takes when nothing else is made, whatever it finds, is left out.
        """
        key = (stands, number, done & self.outlook.runs[self.outlook.run_of[number]])
        found = self._steps.get(key)
        if found is None:
            piece, axis = self.problem.piece_of[number], self.axes[number]
            standing = self.standings[stands]._replace(pieces=(piece, NOTHING), axis=axis)
            step = self.clock.step(standing, number, done)
            leaves = step.standing._replace(pieces=NO_PIECES, axis=Axis.RIP)
            found = step.seconds - self.fixed[number], self._number(leaves)
            self._steps[key] = found
        return found

    def handled(self, number: int, done: int) -> tuple[int, int]:
        """Return what it counts to lay the piece of a pass down, and to turn it."""
        key = (number, done & self.outlook.runs[self.outlook.run_of[number]])
        found = self._handled.get(key)
        if found is None:
            doing, lift = self.clock.doing(number, done), self.task.lift
            found = self._handled[key] = doing.laid_s + lift, doing.turned_s + lift
        return found

    def _number(self, standing: Standing) -> int:
        found = self._numbers.get(standing)
        if found is None:
            found = self._numbers[standing] = len(self.standings)
            self.standings.append(standing)
        return found


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
        self._shop = whole.clock.shop
        self._before = {n: whole.problem.before[n] & group for n in bits(group)}
        self._after: dict[int, list[int]] = {number: [] for number in self._before}
        for number, needed in self._before.items():
            for one in bits(needed & ~done):
                self._after[one].append(number)
        self._views: dict[int, _View] = {}

    def best(self, states: Sequence[_State], stop: Stop, width: int, is_last: bool) -> list[_State]:
        """Return the best states once all passes of the group are made."""
        if is_last and self._whole.task.finishing:
            self._limit = 1 << 30
        ready = sum(1 << n for n, needed in self._before.items() if not needed & ~self._done)
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
                if len(looks) >= width or stop:
                    break
            looks.sort()
            states = self._chosen(states, looks, 1 if stop else STATES)
        return states

    def _chosen(self, states: Sequence[_State], looks: Sequence[_Look], most: int) -> list[_State]:
        """Return the states that the best looks lead to, of those that are alike the best."""
        problem, known, found = self._problem, set[object](), list[_State]()
        for look in looks:
            done = states[look.state].done | 1 << look.number
            lies = problem.piece_of[look.number], problem.opens[look.number]
            key = (done, look.stands, lies)
            if key not in known and self._is_safe(states[look.state], look, done):
                known.add(key)
                found.append(self._made(states[look.state], look))
                if len(found) == most:
                    break
        return found

    def _is_safe(self, state: _State, look: _Look, done: int) -> bool:
        """Whether there is room to go on after a pass."""
        room = self._limit - state.loose - look.change
        return look.change <= 0 or self._room.is_safe(done, room)

    def _made(self, state: _State, look: _Look) -> _State:
        number = look.number
        done, ready = state.done | 1 << number, state.ready & ~(1 << number)
        for other in self._after[number]:
            if not self._before[other] & ~done:
                ready |= 1 << other
        loose, trail = state.loose + look.change, (number, state.trail)
        return _State(look.value, look.untidy, done, ready, loose, look.stands, trail)

    def _along(self, state: _State, row: Sequence[int]) -> _State:
        """Return the state after passes in a given order."""
        for number in row:
            look = next(one for one in self._looks(0, state, 1 << 30) if one.number == number)
            state = self._made(state, look)
        return state

    # -- what a pass counts after a state

    def _looks(self, place: int, state: _State, limit: int = 0) -> Iterator[_Look]:
        """Yield all passes that may be made next."""
        whole, room, run_of = self._whole, self._room, self._outlook.run_of
        done, left = state.done, self._left(state)
        free = (limit or self._limit) - state.loose
        for number in bits(state.ready):
            change, now = room.change(number, done), done | 1 << number
            if change > max(0, free):
                continue
            took, stands = whole.step(state.stands, number, done)
            value, untidy = state.value + took - self._settled(number, now), state.untidy
            if run_of[number] != left.run:
                value += self._fetched(left, number, done)
                untidy += left.untidy
            total = value + self._seen(stands, now)
            yield _Look(total, untidy, place, whole.rank[number], number, value, stands, change)

    def _left(self, state: _State) -> _Left:
        """Return what it counts to saw another run next."""
        whole, problem = self._whole, self._problem
        runs, run_of = self._outlook.runs, self._outlook.run_of
        if state.trail is None:
            standing = whole.task.standing
            return _Left(GONE, standing.pieces, standing.axis, 0, (0, 0), 0)
        last, done = state.trail[0], state.done
        piece, opened = problem.piece_of[last], problem.opens[last]
        rest = runs[run_of[last]] & self._group & ~done
        away = whole.handled(rest.bit_length() - 1, done)[0] if rest else 0
        its = self._room.its
        others = (
            0 if rest else self._worse(its[piece] & ~done),
            0 if opened < 0 else self._worse(its[opened] & ~done),
        )
        is_trim = problem.made[last].kind is CutKind.TRIM
        axis = whole.axes[last]
        return _Left(run_of[last], (piece, opened), axis, away, others, bool(rest) + is_trim)

    def _worse(self, passes: int) -> int:
        """Return how much more it counts when a piece comes later than at once."""
        if not passes:
            return 0
        entry = self._outlook.entries[self._outlook.run_of[next(bits(passes))]]
        return entry.laid - entry.best

    def _fetched(self, left: _Left, number: int, done: int) -> int:
        """Return what it counts that a run comes, less what was seen ahead of that."""
        piece, run = self._problem.piece_of[number], self._outlook.run_of[number]
        laid, turned = self._whole.handled(number, done)
        one, other = left.others
        entry = self._outlook.entries[run]
        is_begun = self._outlook.runs[run] & done
        if piece not in left.pieces:
            return left.away + one + other + laid - (laid if is_begun else entry.laid)
        seen = laid if is_begun else entry.best
        turns = self._whole.turns and self._whole.axes[number] is not left.axis
        later = other if piece == left.pieces[0] else one
        return left.away + later + (turned if turns else 0) - seen

    def _settled(self, number: int, now: int) -> int:
        """Return what was seen ahead for the setting of a pass, and is not ahead any more."""
        outlook, found = self._outlook, 0
        for some in outlook.levels[number]:
            if not some & ~now:
                found += self._shop.setup_s
        rest = outlook.same[number] & ~now
        if rest and not rest & (rest - 1):
            found += self._shop.measure_s
        return found

    def _seen(self, stands: int, now: int) -> int:
        """Return what is ahead by what stands: less for what is set, more for another rail."""
        view = self._views.get(stands)
        if view is None:
            view = self._views[stands] = self._view(stands)
        fitting, unfit, measured = view
        found = self._shop.rail_s if unfit & ~now else 0
        rest = fitting & ~now
        if rest:
            several = rest & (rest - 1)
            if measured:
                return found - self._shop.setup_s - (self._shop.measure_s if several else 0)
            return found - self._shop.setup_s + (0 if several else self._shop.measure_s)
        return found

    def _view(self, stands: int) -> _View:
        standing = self._whole.standings[stands]
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

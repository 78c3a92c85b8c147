"""All states that the passes of a group can come to, those of least seconds first.

A state is what is made and what stands. States are gone through in the order of what an order
by way of them takes at least (P. E. Hart, N. J. Nilsson, B. Raphael, "A formal basis for the
heuristic determination of minimum cost paths", IEEE Transactions on Systems Science and
Cybernetics 4, 1968). So orders come out best first, one for each way in which the group may be
left; and while none has come out, none is better than the state that is next.

A pass is made at once, and lose no better order so, where it takes nothing but its own cut, saws
off what is not cut further, is always made the same way, and nobody waits for what it leaves:
taken out of its place in any order and put here, it spares there at least what it takes here.
"""

from collections.abc import Iterable
from heapq import heappop, heappush
from typing import Any, Final, NamedTuple

from shared.cuts.order_problem import bits
from shared.shop import Axis, Rail
from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING, Standing, Step
from solver.cut_order.least import Least
from solver.cut_order.room import Room


class Leaving(NamedTuple):
    """An order of the group, what it counts, and what it leaves to others."""

    counts: int
    leaves: Standing
    order: list[int]


class Ending(NamedTuple):
    """How a group is to be left: with a setting, with a rail in hand, or both."""

    colour: int = NOTHING
    rail: Rail | None = None


class Useful(NamedTuple):
    """What other groups may begin with: settings, each with its rail if it takes one, and rails."""

    settings: frozenset[tuple[int, Rail | None]] = frozenset()
    rails: frozenset[Rail] = frozenset()

    def keeps(self, colour: int, hand: Rail | None) -> bool:
        """Whether a setting that stands may be of use, with a rail in hand."""
        return (colour, hand) in self.settings or (colour, None) in self.settings


NOTHING_USEFUL: Final = Useful()


class State(NamedTuple):
    """What is made, what may come next, and what stands; ``trail`` is how that came about."""

    counts: int
    done: int
    ready: int
    loose: int
    standing: Standing
    trail: Any


class States:
    """The search through a group from where it is entered, or from any of several places."""

    def __init__(
        self,
        least: Least,
        entry: tuple[Iterable[Standing], int],
        useful: Useful = NOTHING_USEFUL,
        limit: int = 1 << 30,
        ending: Ending | None = None,
    ) -> None:
        """Take what may stand, and what is made, at first, and how the group is to be left."""
        facts = least.facts
        self._least, self._facts, self._task = least, facts, facts.task
        self._clock, self._group = facts.task.clock, least.passes
        self._useful, self._limit, self._ending = useful, limit, ending
        self._room = Room(facts.problem, least.passes, entry[1])
        self._before = [needed & least.passes for needed in facts.before]
        self._after: list[list[int]] = [[] for _ in self._before]
        for number in bits(least.passes):
            for one in bits(self._before[number]):
                self._after[one].append(number)
        self._at_once = self._sure_to_be_free()
        self.found: dict[Standing, Leaving] = {}
        self.seen = 0
        self._goal = entry[1] | least.passes
        self._best: dict[tuple[int, Standing], int] = {}
        self._ahead: list[tuple[int, int, int, State]] = []
        self._count = 0
        ready = sum(1 << n for n in bits(least.passes) if not self._before[n])
        for standing in entry[0]:
            self._push(State(0, entry[1], ready, self._room.at_first, standing, None))

    @property
    def bound(self) -> int | None:
        """What every order still to come out counts at least; ``None`` if there is none."""
        return self._ahead[0][0] if self._ahead else None

    @property
    def least(self) -> int | None:
        """What every order counts at least; ``None`` if there is none."""
        if self.found:
            return min(one.counts for one in self.found.values())
        return self.bound

    def run(self, stop: Stop, most: int) -> bool:
        """Go through so many states at most; whether an order came out."""
        for _ in range(most):
            if not self._ahead or (not self.seen % 64 and stop):
                return False
            *_, state = heappop(self._ahead)
            if self._best[state.done, state.standing] < state.counts:
                continue
            self.seen += 1
            if state.done != self._goal:
                self._expand(state)
            elif state.standing not in self.found:
                leaving = Leaving(state.counts, state.standing, _order(state.trail))
                self.found[state.standing] = leaving
                return True
        return False

    def _sure_to_be_free(self) -> int:
        """Return the passes that are made at once where they take nothing but their own cut."""
        if not self._facts.forgets:
            return 0
        of, problem, useful = self._facts.of, self._facts.problem, self._useful
        unsteady = {problem.made[n].run for n in bits(self._group) if not of[n].steady}
        return sum(
            1 << n
            for n in bits(self._group)
            if problem.made[n].run not in unsteady
            and problem.opens[n] < 0
            and of[n].rail not in useful.rails
            and not useful.keeps(of[n].colour, of[n].rail)
        )

    def _push(self, state: State) -> None:
        standing = self._cleared(state.standing, state.done)
        key, counts = (state.done, standing), state.counts
        if counts >= self._best.get(key, counts + 1):
            return
        more = self._to_end(standing, state.done)
        if more is None:
            return
        self._best[key] = counts
        self._count += 1
        at_least = counts + self._least.of(state.done, standing) + more
        state = state._replace(standing=standing)
        heappush(self._ahead, (at_least, -state.done.bit_count(), self._count, state))

    def _cleared(self, standing: Standing, done: int) -> Standing:
        """Return what stands without what nobody can use any more."""
        left, pieces = self._group & ~done, self._room.its
        one, other = standing.pieces
        if one >= 0 and not pieces[one] & left:
            one = NOTHING
        if other >= 0 and not pieces[other] & left:
            other = NOTHING
        if one < other:
            one, other = other, one
        axis = standing.axis if one >= 0 and self._facts.turns else Axis.RIP
        colour, device, since = standing.colour, standing.device, standing.since
        hand = standing.rails.hand
        wanted = self._least.may_set(colour, hand) & left or self._useful.keeps(colour, hand)
        if colour == NOTHING or not wanted:
            colour, device, since = NOTHING, None, 0
        return Standing(standing.rails, colour, device, since, (one, other), axis)

    def _to_end(self, standing: Standing, done: int) -> int | None:
        """Return what the wanted end takes besides, ``None`` if it cannot be reached any more."""
        if self._ending is None:
            return 0
        (colour, rail), left, change = self._ending, self._group & ~done, 0
        shop, more = self._facts.shop, 0
        last = self._least.may_take(rail) & left if rail is not None else left
        if rail is not None:
            if standing.rails.hand != rail and not last:
                return None
            if standing.rails.hand == rail and self._least.surely_other(rail) & left:
                change = shop.rail_s
        if colour != NOTHING:
            last = self._least.may_set(colour, rail) & left
            others = self._least.surely_set & left & ~self._least.may_set(colour, rail)
            if (standing.colour != colour or others) and not last:
                return None
            if standing.colour == colour and others:
                more = max(0, shop.setup_s - (shop.measure_s if standing.since == 1 else 0))
        more += self._fetched_again(standing, done, last)
        return change + (max(0, more - self._least.circuits.again(left)) if more else 0)

    def _fetched_again(self, standing: Standing, done: int, last: int) -> int:
        """Return what it takes to fetch what lies there for its last pass, after others."""
        lies, other = standing.pieces
        if lies < 0 or other >= 0 or not last or last & ~self._room.its[lies]:
            return 0
        if not self._group & ~done & ~self._room.its[lies]:
            return 0
        return self._least.fetched_again(lies, done)

    def _expand(self, state: State) -> None:
        for number, step in self._steps(state):
            new, change = state.done | 1 << number, self._room.change(number, state.done)
            if change > 0 and state.loose + change > self._limit:
                continue
            ready = state.ready & ~(1 << number)
            for other in self._after[number]:
                if not self._before[other] & ~new:
                    ready |= 1 << other
            counts = state.counts + self._task.value(step)
            loose, trail = state.loose + change, (number, state.trail)
            self._push(State(counts, new, ready, loose, step.standing, trail))

    def _steps(self, state: State) -> list[tuple[int, Step]]:
        """Return the passes to go on with: all that are ready, or one that is made at once."""
        standing, step_of = state.standing, self._clock.step
        if standing.pieces[1] < 0:
            for number in bits(state.ready & self._at_once):
                if self._room.change(number, state.done) > 0:
                    continue
                step = step_of(standing, number, state.done)
                its_own = self._task.value(step) == self._facts.of[number].fixed
                if its_own and step.standing[:4] == standing[:4]:
                    return [(number, step)]
        return [(n, step_of(standing, n, state.done)) for n in bits(state.ready)]


def _order(trail: Any) -> list[int]:
    order: list[int] = []
    while trail is not None:
        number, trail = trail
        order.append(number)
    return order[::-1]

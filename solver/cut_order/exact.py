"""The fewest blocks there can be: a proof by CP-SAT, and all states where these are few.

A setting that gets along with one block has all its passes there. Then what any of them
needs comes before the block, and what needs any of them comes after it: so the settings of
one block each can be put in a row such that no pass comes before what it needs. The model
chooses the row, and the fewest settings that have to stay out of it: each of those takes a
second block. How many pieces may lie about is left out, so the bound is true, if weaker.

The search knows of the room for loose pieces, too. A state is what is made and which setting
stands. States are gone through in the order of the blocks that they take at least: those made,
and one for each other setting still needed (P. E. Hart, N. J. Nilsson, B. Raphael, "A formal
basis for the heuristic determination of minimum cost paths", IEEE Transactions on Systems
Science and Cybernetics 4, 1968).

Two things are done at once, and lose no better order: a pass with the setting that stands
that leaves no more pieces lying about, and, once that setting has no more to do for now, one
that is done with for good by such passes. Whatever is made later finds no more lying about.
"""

from collections.abc import Iterator
from math import ceil
from typing import NamedTuple

from ortools.sat.python import cp_model

from shared.cuts.order_problem import Problem, ancestors, bits
from solver.budget.stop import Stop
from solver.cut_order.beam import ColourBlock
from solver.proof.stoppable import Reach, solve

STATES = 20_000
"""States that are looked at before it is given up."""


class Exact(NamedTuple):
    """The blocks, if they were found, and a number of blocks that no order undercuts."""

    blocks: list[ColourBlock] | None
    fewest: int


class _State(NamedTuple):
    """``blocks`` are begun; ``trail`` is the setting and passes made last, and those before."""

    done: int
    ready: int
    loose: int
    colour: int
    blocks: int
    trail: tuple[object, ...] | None = None


def exactly(problem: Problem, stop: Stop, first: int = -1, most: int = STATES) -> Exact:
    """Search all states, beginning with the setting ``first`` if it has to be that one."""
    return _ExactSearch(problem, first).run(stop, most)


class _ExactSearch:
    def __init__(self, problem: Problem, first: int) -> None:
        self._problem = problem
        self._first = first
        self._masks: dict[int, int] = {}
        self._after: list[list[int]] = [[] for _ in problem.made]
        for number in bits(problem.ahead):
            colour = problem.colours[number]
            self._masks[colour] = self._masks.get(colour, 0) | 1 << number
            for one in bits(problem.before[number]):
                self._after[one].append(number)

    def run(self, stop: Stop, most: int) -> Exact:
        """Go through the states, least first, at most so many of them."""
        start = self._start()
        ahead = {self._least(start): [start]}
        known = {(start.done, start.colour): 0}
        seen = 0
        while ahead:
            fewest = min(ahead)
            state = ahead[fewest].pop()
            if not ahead[fewest]:
                del ahead[fewest]
            if known[state.done, state.colour] < state.blocks:
                continue
            if state.done == self._problem.everything:
                return Exact(_blocks(state), fewest)
            seen += 1
            if seen > most or (not seen % 64 and stop):
                return Exact(None, fewest)
            for new in self._next(state):
                if new.blocks < known.get((new.done, new.colour), new.blocks + 1):
                    known[new.done, new.colour] = new.blocks
                    ahead.setdefault(self._least(new), []).append(new)
        return Exact(None, len(self._masks))

    def _start(self) -> _State:
        problem = self._problem
        ready = sum(1 << n for n in bits(problem.ahead) if not problem.before[n] & ~problem.start)
        return _State(problem.start, ready, problem.loose(problem.start), -1, 0)

    def _least(self, state: _State) -> int:
        """Return how many blocks an order by way of this state has at least."""
        return state.blocks + sum(
            bool(mask & ~state.done) and colour != state.colour
            for colour, mask in self._masks.items()
        )

    def _next(self, state: _State) -> list[_State]:
        """Return what one pass, and all that comes with it, can lead to."""
        found = []
        goes_on = state.ready & self._masks.get(state.colour, 0)
        for colour, mask in self._masks.items():
            if state.colour < 0 and self._first not in {-1, colour}:
                continue
            for number in self._choices(state, state.ready & mask):
                new = self._made(state, number, colour)
                if not goes_on and not mask & ~new.done and new.loose <= state.loose:
                    return [new]
                found.append(new)
        return found

    def _choices(self, state: _State, ready: int) -> list[int]:
        """Return the passes of one setting worth trying: one that is free, else all with room."""
        fitting = []
        for number in bits(ready):
            change = self._problem.change(state.done, number)
            if change <= 0:
                return [number]
            if state.loose + change <= self._problem.limit:
                fitting.append(number)
        return fitting

    def _made(self, state: _State, number: int, colour: int) -> _State:
        """Make a pass, and all of its setting that leave no more pieces lying about."""
        problem, mask = self._problem, self._masks[colour]
        done, ready, loose = state.done, state.ready, state.loose
        made: list[int] = []
        while number >= 0:
            loose += problem.change(done, number)
            done |= 1 << number
            made.append(number)
            ready = self._ready(ready, done, number)
            free = (n for n in bits(ready & mask) if problem.change(done, n) <= 0)
            number = next(free, -1)
        blocks = state.blocks + (colour != state.colour)
        return _State(done, ready, loose, colour, blocks, (colour, made, state.trail))

    def _ready(self, ready: int, done: int, number: int) -> int:
        """Return what can be made after a pass."""
        ready &= ~(1 << number)
        for other in self._after[number]:
            if not self._problem.before[other] & ~done:
                ready |= 1 << other
        return ready


def _blocks(state: _State) -> list[ColourBlock]:
    """Return the blocks that led to a state."""
    blocks: list[ColourBlock] = []
    for colour, made in reversed(list(_steps(state.trail))):
        goes_on = bool(blocks) and blocks[-1].colour == colour
        before = blocks.pop().passes if goes_on else ()
        blocks.append(ColourBlock(colour, (*before, *made)))
    return blocks


def _steps(trail: tuple[object, ...] | None) -> Iterator[tuple[int, list[int]]]:
    while trail is not None:
        colour, made, trail = trail  # type: ignore[assignment] # a trail of trails
        yield colour, made  # type: ignore[misc] # as above


def fewest_blocks(problem: Problem, stop: Stop, seconds: float = 5.0) -> int:
    """Return a number of blocks that no order of the passes ahead undercuts."""
    colours = sorted({problem.colours[number] for number in bits(problem.ahead)})
    pairs = _comes_before(problem)
    if not pairs:
        return len(colours)
    model = cp_model.CpModel()
    place = {colour: model.new_int_var(0, len(colours), "") for colour in colours}
    twice = {colour: model.new_bool_var("") for colour in colours}
    for one, other in pairs:
        row = model.add(place[one] < place[other])
        row.only_enforce_if([~twice[one], ~twice[other]])
    model.minimize(sum(twice.values()))
    answer = solve(model, Reach(seconds=seconds), stop)
    return len(colours) + (max(0, ceil(answer.bound - 1e-6)) if answer.is_found else 0)


def _comes_before(problem: Problem) -> set[tuple[int, int]]:
    """Return which setting some pass needs before a pass of which other setting."""
    return {
        (problem.colours[one], problem.colours[number])
        for number in bits(problem.ahead)
        for one in bits(ancestors(problem.before, number) & problem.ahead)
        if problem.colours[one] != problem.colours[number]
    }

"""A good order within a moment: a beam of states, block after block of one setting.

A block makes all passes of its setting that can be made; those that leave no more pieces
lying about first, then such as open a piece, as far as there is room for it. Where a setting
can be finished for good with no more pieces lying about than before, that is done at once:
no better order is lost by it.
"""

from collections.abc import Iterator
from typing import NamedTuple

from shared.cuts.order_problem import Problem, bits
from solver.budget.stop import Stop

WIDTHS = (4, 24, 120, 600, 3000)
"""States kept, search after search, as long as there is time."""


class ColourBlock(NamedTuple):
    """Passes of one colour, made one after the other."""

    colour: int
    passes: tuple[int, ...]


class State(NamedTuple):
    """What is made, what could be made next, and how it came to that.

    ``loose`` pieces lie about, ``left`` settings are still needed. ``trail`` is the last
    block with the trail before it.
    """

    done: int
    ready: int
    loose: int
    left: int
    trail: "tuple[ColourBlock, object] | None" = None

    @property
    def colour(self) -> int:
        """The setting that stands, -1 before the first."""
        return -1 if self.trail is None else self.trail[0].colour


class Beam:
    """Searches one problem; can be asked again with more states kept."""

    def __init__(self, problem: Problem, first: int = -1) -> None:
        """Take the problem, and the setting to begin with, if it has to be that one."""
        self._problem = problem
        self._first_colour = first
        self._masks: dict[int, int] = {}
        for number, colour in enumerate(problem.colours):
            if not problem.start >> number & 1:
                self._masks[colour] = self._masks.get(colour, 0) | 1 << number
        self._after: list[list[int]] = [[] for _ in problem.made]
        for number, needed in enumerate(problem.before):
            for one in bits(needed):
                self._after[one].append(number)
        self._needs = _Needs(problem)

    @property
    def settings(self) -> int:
        """Number of settings that are needed."""
        return len(self._masks)

    def blocks(self, width: int, stop: Stop) -> list[ColourBlock] | None:
        """Return the best order found with so many states kept; ``None`` if stopped or stuck."""
        return next(self.finals(width, stop), None)

    def finals(self, width: int, stop: Stop) -> Iterator[list[ColourBlock]]:
        """Yield orders of as few blocks as the search finds, that differ in their end."""
        problem = self._problem
        states = {(problem.start, -1): self._first()}
        while states and not stop:
            found: dict[tuple[int, int], State] = {}
            for state in states.values():
                for new in self._next(state):
                    found.setdefault((new.done, -1 if new.left else new.colour), new)
            complete = [state for state in found.values() if not state.left]
            if complete:
                yield from (_trail(state) for state in complete)
                return
            states = found if len(found) <= width else dict(self._best(found, width))

    def _first(self) -> State:
        problem = self._problem
        ready = sum(
            1 << number
            for number in bits(problem.ahead)
            if not problem.before[number] & ~problem.start
        )
        return State(problem.start, ready, problem.loose(problem.start), len(self._masks))

    @staticmethod
    def _best(
        found: dict[tuple[int, int], State], width: int
    ) -> list[tuple[tuple[int, int], State]]:
        """Return the states with fewest settings still needed, then most passes made."""
        order = sorted(found.items(), key=lambda one: (one[1].left, -one[1].done.bit_count()))
        return order[:width]

    def _next(self, state: State) -> list[State]:
        """Return what one more block can lead to."""
        found = []
        for colour, mask in self._masks.items():
            if state.trail is None and self._first_colour not in {-1, colour}:
                continue
            if state.ready & mask and colour != state.colour:
                new = self._block(state, colour)
                if new is None:
                    continue
                if new.left < state.left and new.loose <= state.loose:
                    return [new]
                found.append(new)
        return found

    def _block(self, state: State, colour: int) -> State | None:
        """Make all passes of a colour that can be made."""
        problem, mask = self._problem, self._masks[colour]
        done, ready, loose = state.done, state.ready, state.loose
        made: list[int] = []
        while True:
            number, change = self._choice(done, ready & mask, loose)
            if number < 0:
                break
            done |= 1 << number
            ready &= ~(1 << number)
            loose += change
            made.append(number)
            for other in self._after[number]:
                if not problem.before[other] & ~done:
                    ready |= 1 << other
        if not made:
            return None
        left = state.left - (not mask & ~done)
        return State(done, ready, loose, left, (ColourBlock(colour, tuple(made)), state.trail))

    def _choice(self, done: int, ready: int, loose: int) -> tuple[int, int]:
        """Return the pass to make next and its change; -1 if none may be made."""
        problem = self._problem
        opening: list[tuple[int, int]] = []
        for number in bits(ready):
            change = problem.change(done, number)
            if change <= 0:
                return number, change
            opening.append((change, number))
        for change, number in sorted(opening):
            after = loose + change
            if after <= problem.limit and self._needs.safe(done | 1 << number, after):
                return number, change
        return -1, 0


def _trail(state: State) -> list[ColourBlock]:
    blocks: list[ColourBlock] = []
    trail: object = state.trail
    while isinstance(trail, tuple):
        block, trail = trail
        blocks.append(block)
    return blocks[::-1]


class _Needs:
    """How much more room it takes to finish pieces one by one, deepest first."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._whole = [self._of(piece.passes) for piece in problem.pieces]

    def _of(self, passes: int) -> int:
        """Return the room that some passes of a piece take: all but one of what they open waits."""
        opened = [self._problem.opens[number] for number in bits(passes)]
        needs = sorted((self._need(piece) for piece in opened if piece >= 0), reverse=True)
        return max([needs[0], *(1 + need for need in needs[1:])]) if needs else 0

    def _need(self, piece: int) -> int:
        return self._of(self._problem.pieces[piece].passes)

    def safe(self, done: int, loose: int) -> bool:
        """Whether some piece that lies about can be finished in the room that is left."""
        room = self._problem.limit - loose
        if room >= 3 or not loose:
            return True
        return any(
            self._left(piece.passes & ~done) <= room
            for piece in self._problem.pieces
            if self._problem.is_loose(piece, done)
        )

    def _left(self, passes: int) -> int:
        opened = [self._problem.opens[number] for number in bits(passes)]
        needs = sorted((self._whole[piece] for piece in opened if piece >= 0), reverse=True)
        return max([needs[0], *(1 + need for need in needs[1:])]) if needs else 0

    @property
    def least(self) -> int:
        """Fewest loose pieces that it takes, sheet after sheet, in the best order within runs."""
        sheets = [n for n, piece in enumerate(self._problem.pieces) if piece.maker < 0]
        return max((1 + self._whole[n] for n in sheets), default=0)


def least_loose(problem: Problem) -> int:
    """Return with how few loose pieces the passes can be made, one sheet after the other."""
    return _Needs(problem).least

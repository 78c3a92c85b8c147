"""How many pieces of a group lie about, and whether its passes still get along with the room.

What is opened for another group, such as a blank that is finished at the end, is stacked away and
does not lie about.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from shared.cuts.order_problem import Problem, bits

STATES: Final = 2_000
"""Sets of passes that are looked at while just any order is sought."""
AMPLE: Final = 3
"""With so much room left nobody looks whether it is enough."""
FEW: Final = 60
"""Passes of which every order may be looked at."""


class Room:
    """The room for the pieces of a group."""

    def __init__(self, problem: Problem, group: int, done: int) -> None:
        """Take a group of passes ahead, and what is made before it is begun."""
        self._problem, self._group, self._done = problem, group, done
        self.its = [piece.passes & group for piece in problem.pieces]
        self._opens = [one >= 0 and self.its[one] != 0 for one in problem.opens]
        self._fresh = [piece.maker < 0 for piece in problem.pieces]
        self._whole = [piece.passes for piece in problem.pieces]
        self._needs = [0] * len(problem.pieces)
        for piece in self._deepest_first():
            self._needs[piece] = self._left(self.its[piece])
        self.at_first = sum(self._lie_about(done))

    def change(self, number: int, done: int) -> int:
        """Return by how much a pass changes the number of pieces that lie about."""
        piece = self._problem.piece_of[number]
        ends = not self.its[piece] & ~(done | 1 << number)
        begins = self._fresh[piece] and not self._whole[piece] & done
        return self._opens[number] + begins - ends

    def most_loose(self, order: Sequence[int]) -> int:
        """Return how many pieces lie about at most in an order of all passes, at first too."""
        loose, done = self.at_first, self._done
        most = loose
        for number in order:
            loose += self.change(number, done)
            done |= 1 << number
            most = max(most, loose)
        return most

    def is_safe(self, done: int, room: int) -> bool:
        """Whether some piece that lies about can be finished in the room that is left."""
        if room >= AMPLE:
            return True
        lying = [piece for piece, lies in enumerate(self._lie_about(done)) if lies]
        return not lying or any(self._left(self.its[piece] & ~done) <= room for piece in lying)

    def some_order(self, limit: int) -> list[int] | None:
        """Return just any order with no more pieces about, ``None`` if none comes up soon."""
        known, row = {self._done}, list[int]()
        stack = [self._choices(self._done, self.at_first, limit)]
        while stack and len(known) < STATES:
            one = next(stack[-1], None)
            if one is None:
                stack.pop()
                del row[-1:]
                continue
            number, done, loose = one
            if done in known:
                continue
            known.add(done)
            row.append(number)
            if not self._group & ~done:
                return row
            stack.append(self._choices(done, loose, limit))
        return None

    @property
    def enough(self) -> int:
        """Room that is enough for many passes, piece after piece, where their order is free."""
        if self._group.bit_count() <= FEW:
            return 0
        sheets = [n for n, fresh in enumerate(self._fresh) if fresh and self.its[n]]
        return max((1 + self._needs[n] for n in sheets), default=0)

    def _choices(self, done: int, loose: int, limit: int) -> Iterator[tuple[int, int, int]]:
        """Yield passes that may be made next, with what is made and lies about then."""
        before, group = self._problem.before, self._group
        ready = [n for n in bits(group & ~done) if not before[n] & group & ~done]
        for change, number in sorted((self.change(n, done), n) for n in ready):
            if change <= 0 or loose + change <= limit:
                yield number, done | 1 << number, loose + change

    def _lie_about(self, done: int) -> Iterator[bool]:
        for its, piece in zip(self.its, self._problem.pieces, strict=True):
            yield bool(its & ~done) and self._problem.is_loose(piece, done)

    def _deepest_first(self) -> list[int]:
        """Return the pieces so that those a piece is sawn into come before it."""
        row = [n for n, piece in enumerate(self._problem.pieces) if piece.maker < 0]
        known = set(row)
        for piece in row:
            for number in bits(self._whole[piece]):
                opened = self._problem.opens[number]
                if opened >= 0 and opened not in known:
                    known.add(opened)
                    row.append(opened)
        return row[::-1]

    def _left(self, passes: int) -> int:
        """Return the room that some passes of a piece take: all but one of what they open waits."""
        needs = sorted(
            (self._needs[self._problem.opens[n]] for n in bits(passes) if self._opens[n]),
            reverse=True,
        )
        return max([needs[0], *(1 + need for need in needs[1:])]) if needs else 0

"""The best stack of items for a block, where what is not exact costs a waste piece.

Items shorter than the block are trimmed, and a stack that does not fill the width of its
strip leaves a waste piece. Sizes are on the exact scale, values whole numbers of which
`PIECE` make one waste piece, so every sum is exact.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.proof.bounds import doublings
from solver.proof.cut_bound.positions import ExactPositions
from solver.proof.normal_patterns import Ints
from solver.proof.shapes import WayToLie

PIECE = 2**14
"""Value of one waste piece."""
NEVER = -(2**29)
"""Value of what cannot be; half of it is far below every value that can."""


class Taken(NamedTuple):
    """One pass over a table of stacks: so many copies of a lie offered, and who took them."""

    lie: int
    times: int
    took: NDArray[np.bool_]


class ExactStacks:
    """Values of blocks under prices of items.

    Attributes
    ----------
    seeded
        Most value of a block that a lie opens, by lie and by height of strip (its index
        among the positions across); `NEVER` where it does not fit.
    """

    def __init__(
        self, lies: Sequence[WayToLie], across: ExactPositions, prices: Sequence[int], levels: int
    ) -> None:
        """Take lies by rising length, and a price for each of them."""
        self._lies, self._across, self._prices = lies, across, prices
        self._group = _groups(lies)
        self._passes: dict[int, list[Taken]] = {}
        self._filled: dict[int, Ints] = {}
        self._whole: dict[int, Ints] = {}
        if levels > 2:
            self._take_all()
        seeds = (self._stack(s) if levels > 2 else self._alone(s) for s in range(len(lies)))
        self.seeded: Ints = np.stack(list(seeds))

    def _take_all(self) -> None:
        """Fill tables for every length: what is shorter is trimmed, what is as long is not."""
        shorter = np.full(len(self._across) + 1, NEVER, dtype=np.int64)
        shorter[0] = 0
        passes: list[Taken] = []
        for first, group in groupby(range(len(self._lies)), key=self._group.__getitem__):
            mine = list(group)
            filled = shorter.copy()
            self._passes[first] = [*passes, *self._take(mine, filled, trim=0)]
            self._filled[first], self._whole[first] = filled, self._with_rest(filled)
            passes += self._take(mine, shorter, trim=PIECE)

    def _take(self, lies: Sequence[int], table: Ints, trim: int) -> Iterator[Taken]:
        """Offer lies to a table, and say who took them."""
        for number in lies:
            lie = self._lies[number]
            for times in doublings(min(lie.copies, self._across.capacity // lie.width)):
                back = self._across.back(times * lie.width)
                inside = table[len(self._across) - len(back) : -1]
                offered = table[back] + times * (self._prices[number] - trim)
                took = np.zeros(len(table), dtype=np.bool_)
                took[len(self._across) - len(back) : -1] = offered > inside
                np.maximum(inside, offered, out=inside)
                yield Taken(number, times, took)

    def _with_rest(self, filled: Ints) -> Ints:
        """Return the best stack within each height: one that fills it, or one less a piece."""
        best = filled.copy()
        np.maximum(best[1:-1], _so_far(filled)[:-2] - PIECE, out=best[1:-1])
        return best

    def _stack(self, seed: int) -> Ints:
        """Return the value of a block with a seed and the best stack beside it.

        That stack may take one copy of the seed too many, so the best stack without a word
        on seeds bounds the value too.
        """
        lie, group = self._lies[seed], self._group[seed]
        filled = self._filled[group]
        room = self._across.points - lie.width
        within = self._across.not_beyond(room)
        value = np.maximum(filled[self._across.index(room)], _so_far(filled)[within] - PIECE)
        value = np.minimum(value + self._prices[seed], self._whole[group][:-1])
        return np.where(room >= 0, value, NEVER)

    def _alone(self, seed: int) -> Ints:
        """Return the value of a block of one item, trimmed to its width."""
        rest = self._across.points - self._lies[seed].width
        value = self._prices[seed] - PIECE * (rest > 0)
        return np.where(rest >= 0, value, NEVER)

    def contents(self, seed: int, height: int) -> list[int]:
        """Return the lies of a block whose value is ``seeded[seed, height]``."""
        group = self._group[seed]
        if not self._passes:
            return [seed]
        if self.seeded[seed, height] == self._whole[group][height]:
            return self._trace(group, self._end(group, int(self._across.points[height])))
        room = int(self._across.points[height]) - self._lies[seed].width
        return [seed, *self._trace(group, self._end(group, room))]

    def _end(self, group: int, room: int) -> int:
        """Return the index where the best stack within a room ends."""
        filled = self._filled[group]
        exact = int(self._across.index(np.array([room]))[0])
        within = int(self._across.not_beyond(np.array([room]))[0])
        shorter = int(np.argmax(filled[: within + 1]))
        return exact if filled[exact] >= filled[shorter] - PIECE else shorter

    def _trace(self, group: int, end: int) -> list[int]:
        lies: list[int] = []
        for lie, times, took in reversed(self._passes[group]):
            if took[end]:
                lies += [lie] * times
                size = times * self._lies[lie].width
                end = int(self._across.index(self._across.points[[end]] - size)[0])
        return lies


def _groups(lies: Sequence[WayToLie]) -> list[int]:
    """Return for each lie the first one of its length."""
    firsts: dict[int, int] = {}
    return [firsts.setdefault(lie.length, number) for number, lie in enumerate(lies)]


def _so_far(filled: Ints) -> Ints:
    """Return the running maximum of a table without its last entry, with `NEVER` at -1."""
    return np.append(np.maximum.accumulate(filled[:-1]), NEVER)

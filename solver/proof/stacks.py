"""The dearest stack of items for a block, for every length and every height at once.

Items are taken by rising length, each up to its number of copies: what has been taken
when all items up to some length are in is the answer for blocks of that length.
"""

from bisect import bisect_right

import numpy as np
from numpy.typing import NDArray

from solver.proof.bounds import doublings
from solver.proof.normal_patterns import Ints
from solver.proof.shapes import ScaledShape

Table = NDArray[np.int64]
"""Values by height: one row for each number of lies taken, or for each seed."""


class ScaledStacks:
    """Values of blocks under prices of items, on one grid.

    A block of some length holds at least one item of just that length, its *seed*.
    """

    def __init__(self, grid: ScaledShape, prices: Ints) -> None:
        """Take a price for each item type."""
        self._grid = grid
        self._lengths = [lie.length for lie in grid.lies]
        self._prices = [int(prices[lie.lying.item]) for lie in grid.lies]
        self._taken = self._take_all()
        self.seeded = np.stack([self._seeded(seed) for seed in range(len(grid.lies))])
        """For each lie as a seed, the most value of its block at every height."""

    def _take_all(self) -> Table:
        """Return the best stack of the first so many lies, for each number of them."""
        table = np.zeros((len(self._grid.lies) + 1, len(self._grid.across)), dtype=np.int64)
        for number, lie in enumerate(self._grid.lies):
            best = table[number + 1]
            best[:] = table[number]
            for times in doublings(self._fitting(number)):
                before = self._grid.across.before(times * lie.width)
                _take(best, before, times * self._prices[number])
        return table

    def _fitting(self, number: int) -> int:
        """Copies of a lie that fit a stack."""
        lie = self._grid.lies[number]
        most = self._grid.across.scale.cells // lie.width if lie.width else lie.copies
        return min(lie.copies, most)

    def _seeded(self, seed: int) -> Ints:
        """Return the value of a block that a lie opens.

        Adding the best stack above the seed may take one copy too many of it, so the best
        stack without a word on seeds bounds the value too.
        """
        reach = self._grid.across.before(self._grid.lies[seed].width)
        value = np.zeros(len(self._grid.across), dtype=np.int64)
        inside = value[len(value) - len(reach) :]
        inside += self._prices[seed]
        if self._grid.levels > 2:
            best = self._taken[self._upto(seed)]
            inside += best[reach]
            np.minimum(inside, best[len(value) - len(reach) :], out=inside)
        return value

    def _upto(self, seed: int) -> int:
        """Return how many lies are no longer than the seed."""
        return bisect_right(self._lengths, self._lengths[seed])

    def contents(self, seed: int, height: int) -> list[int]:
        """Return the lies of the block whose value is ``seeded[seed, height]``."""
        if self._grid.levels < 3:
            return [seed]
        number = self._upto(seed)
        if self.seeded[seed, height] == self._taken[number, height]:
            return self._trace(number, height)
        lie = self._grid.lies[seed]
        above = self._grid.across.before(lie.width)
        return [seed, *self._trace(number, int(above[height - len(self._grid.across)]))]

    def _trace(self, number: int, height: int) -> list[int]:
        """Return the lies of the best stack of the first ``number`` lies."""
        lies: list[int] = []
        while number and self._taken[number, height]:
            number -= 1
            copies, height = self._copies(number, height)
            lies += [number] * copies
        return lies

    def _copies(self, number: int, height: int) -> tuple[int, int]:
        """Return how many copies of a lie the best stack takes, and the height then left."""
        before = self._grid.across.before(self._grid.lies[number].width)
        goal = self._taken[number + 1, height]
        copies = 0
        while self._taken[number, height] < goal:
            copies += 1
            goal -= self._prices[number]
            height = int(before[height - len(self._grid.across)])
        return copies, height


def _take(best: Ints, before: Ints, value: int) -> None:
    """Offer one more thing of a value to every point that it fits before."""
    offered = best[before] + value
    inside = best[len(best) - len(before) :]
    np.maximum(inside, offered, out=inside)

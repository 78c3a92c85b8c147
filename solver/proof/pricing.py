"""The dearest strips and the dearest sheet under prices of items: pricing by knapsacks.

A block holds a stack of items, for every length and every height at once: items are taken by
rising length, each up to its number of copies, and what has been taken when all items up to
some length are in is the answer for blocks of that length. A strip is a bounded knapsack of
blocks along its length, for all heights that are asked
for at once; a sheet is an unbounded knapsack of strips across its width. P. C. Gilmore,
R. E. Gomory, "Multistage cutting stock problems of two and more dimensions", Operations
Research 13 (1965).

All prices are whole numbers, so sums are exact and every choice can be traced back.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.budget.stop import Stop
from solver.material.instance import Lying
from solver.proof.bounds import doublings
from solver.proof.normal_patterns import Ints, ScaledPositions
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


SAFE_32_BIT = 2**30
"""Values below this are added up in half the memory, twice as fast."""

CHUNK_CELLS = 400_000
"""Cells of a table worked on at once."""
PASSES_AT_ONCE = 16
"""Passes over a table without asking whether to stop; a large one takes a millisecond."""

Values = NDArray[np.int32] | NDArray[np.int64]
"""Values of strips so far, by point and height."""


class BlockOffer(NamedTuple):
    """One offer to the knapsack along a strip: so many equal blocks, or none of them.

    ``seeds`` and ``values`` are by column (a height asked for); a value is of one block.
    """

    length: int
    times: int
    seeds: Ints
    values: Ints


class StripColumn(NamedTuple):
    """A strip on a grid: index of its height, and the items of each block, seed first."""

    height: int
    blocks: tuple[tuple[Lying, ...], ...]


class Stopped(Exception):  # noqa: N818 - nothing went wrong
    """The search was asked to end in the middle of a long sum."""


class Pricing:
    """Strips on one grid under one set of prices."""

    def __init__(self, grid: ScaledShape, prices: Ints) -> None:
        """Take a price for each item type."""
        self._grid = grid
        self._stacks = ScaledStacks(grid, prices)

    def at_most(self) -> Ints:
        """Return for every height a value that no strip of it exceeds.

        As if the densest block could be repeated in fractions; blocks too short for a cell
        come on top.
        """
        most = np.zeros(len(self._grid.across), dtype=np.int64)
        extra = np.zeros_like(most)
        for lie, values in zip(self._grid.lies, self._stacks.seeded, strict=True):
            if lie.length:
                np.maximum(most, -(-values * self._grid.along.scale.cells // lie.length), out=most)
            else:
                extra += values * lie.copies
        return most + extra

    def best(self, heights: Ints, stop: Stop) -> Ints:
        """Return the value of the best strip of each height (given by index).

        Raises
        ------
        Stopped
            When told to stop before all are known.
        """
        wide = int(self.at_most()[heights].max(initial=0)) >= SAFE_32_BIT
        chunk = max(1, CHUNK_CELLS // len(self._grid.along))
        parts = [np.zeros(0, dtype=np.int64)]
        for start in range(0, len(heights), chunk):
            parts.append(self._best(heights[start : start + chunk], wide, stop))
        return np.concatenate(parts)

    def _best(self, heights: Ints, wide: bool, stop: Stop) -> Ints:
        table = self._table(heights, wide)
        buffer = np.empty_like(table)
        for offer in _until(stop, self._passes(heights)):
            _offer(table, buffer, self._grid.along, offer)
        return np.array(table[-1], dtype=np.int64)

    def _table(self, heights: Ints, wide: bool) -> Values:
        shape = (len(self._grid.along), len(heights))
        return np.zeros(shape, dtype=np.int64) if wide else np.zeros(shape, dtype=np.int32)

    def strips(self, heights: Ints, stop: Stop) -> list[StripColumn]:
        """Return the best strip of each height, with what it holds.

        Raises
        ------
        Stopped
            When told to stop before all are known.
        """
        passes = list(_until(stop, self._passes(heights)))
        table = self._table(heights, wide=True)
        buffer = np.empty_like(table)
        taken = []
        for offer in _until(stop, passes):
            before = table.copy()
            _offer(table, buffer, self._grid.along, offer)
            taken.append(table > before)
        return [self._trace(heights, column, passes, taken) for column in range(len(heights))]

    def _trace(
        self, heights: Ints, column: int, passes: list[BlockOffer], taken: list[NDArray[np.bool_]]
    ) -> StripColumn:
        blocks: list[list[int]] = []
        point = len(self._grid.along) - 1
        for offer, took in zip(reversed(passes), reversed(taken), strict=True):
            if took[point, column]:
                before = self._grid.along.before(offer.times * offer.length)
                point = int(before[point - len(self._grid.along)])
                seed, height = int(offer.seeds[column]), int(heights[column])
                blocks += [self._stacks.contents(seed, height)] * offer.times
        return self._column(blocks)

    def _column(self, blocks: list[list[int]]) -> StripColumn:
        """Turn blocks of lies into a column; its height is what they need, no more."""
        lies = self._grid.lies
        height = max((sum(lies[i].width for i in block) for block in blocks), default=0)
        return StripColumn(
            self._grid.across.index(height),
            tuple(tuple(lies[i].lying for i in block) for block in blocks),
        )

    def _passes(self, heights: Ints) -> Iterator[BlockOffer]:
        """Yield all offers, by rising length."""
        lies = self._grid.lies
        for length, group in groupby(range(len(lies)), key=lambda i: lies[i].length):
            seeds = list(group)
            values = self._stacks.seeded[seeds][:, heights]
            if values.any():
                yield from self._offers(length, seeds, values)

    def _offers(self, length: int, seeds: list[int], values: Table) -> Iterator[BlockOffer]:
        """Yield offers that make up any number of blocks of one length.

        Either by seed, copies doubled up; or block by block, dearest first, as many as fit
        at all. Whichever is less work; both give the same.
        """
        copies = [self._grid.lies[seed].copies for seed in seeds]
        most = min(sum(copies), self._grid.along.scale.cells // length if length else sum(copies))
        by_seed = [
            BlockOffer(length, times, np.full(values.shape[1], seed), values[row])
            for row, seed in enumerate(seeds)
            for times in doublings(min(copies[row], most))
        ]
        yield from by_seed if len(by_seed) <= most else _sorted(length, seeds, copies, values, most)


def _until(stop: Stop, passes: Iterable[BlockOffer]) -> Iterator[BlockOffer]:
    """Yield the passes; raise `Stopped` between two of them once it is time."""
    for number, offer in enumerate(passes):
        if number % PASSES_AT_ONCE == 0 and stop:
            raise Stopped
        yield offer


def _sorted(
    length: int, seeds: list[int], copies: list[int], values: Table, most: int
) -> Iterator[BlockOffer]:
    """Yield the dearest ``most`` blocks of one length, one at a time."""
    rows = np.repeat(np.arange(len(seeds)), [min(c, most) for c in copies])
    order = np.argsort(-values[rows], axis=0, kind="stable")[:most]
    for ranked in rows[order]:
        yield BlockOffer(
            length, 1, np.array(seeds)[ranked], values[ranked, np.arange(values.shape[1])]
        )


def _offer(table: Values, buffer: Values, along: ScaledPositions, offer: BlockOffer) -> None:
    """Let every point and height take the offer or leave it; ``buffer`` is for scratch."""
    before = along.before(offer.times * offer.length)
    if count := len(before):
        offered = np.take(table, before, axis=0, out=buffer[:count], mode="clip")
        offered += (offer.times * offer.values).astype(table.dtype)
        inside = table[len(table) - count :]
        np.maximum(inside, offered, out=inside)


class SheetPrice(NamedTuple):
    """The dearest sheet: its value, and the heights of its strips (indices, any order)."""

    value: int
    heights: tuple[int, ...]


def dearest_sheet(across: ScaledPositions, values: Ints) -> SheetPrice:
    """Return the best way to fill the width with strips of given values by height.

    The first height is none at all, and worth nothing.
    """
    heights = _worth_taking(values)
    table = np.zeros(len(across), dtype=np.int64)
    for height in heights:
        _repeat(table, across, int(height), int(values[height]))
    return SheetPrice(int(table[-1]), tuple(_strips(table, across, heights, values)))


def _worth_taking(values: Ints) -> Ints:
    """Return the heights that are worth more than every lower one."""
    lower = np.maximum.accumulate(values)[:-1]
    return np.flatnonzero(values[1:] > lower) + 1


def _repeat(table: Ints, across: ScaledPositions, height: int, value: int) -> None:
    """Offer a strip any number of times: once, then twice that, and so on."""
    before = across.before(int(across.points[height]))
    while len(before):
        inside = table[len(table) - len(before) :]
        np.maximum(inside, table[before] + value, out=inside)
        before, value = _twice(before, len(table)), 2 * value


def _twice(before: Ints, points: int) -> Ints:
    """Return the points reached by two steps back."""
    middle = before[before >= points - len(before)]
    return before[middle - (points - len(before))]


def _strips(table: Ints, across: ScaledPositions, heights: Ints, values: Ints) -> Iterator[int]:
    """Trace strips worth no less than the best sheet, from its full width down."""
    point = len(table) - 1
    while table[point]:
        point, height = next(
            (int(before), int(height))
            for height in heights
            if (before := _left(across, point, int(height))) is not None
            and table[before] + values[height] >= table[point]
        )
        yield height


def _left(across: ScaledPositions, point: int, height: int) -> int | None:
    """Return the point that a strip of a height leaves, if it fits."""
    before = across.before(int(across.points[height]))
    back = len(across) - point
    return int(before[-back]) if back <= len(before) else None

"""The best strip of every height under prices of items, with exact ends told apart.

A strip is a bounded knapsack of blocks along its length, for many heights at once, as in
`solver.proof.pricing`; but every state is an exact position, so that a strip that fills its
length is known from one that leaves a waste piece.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.budget.stop import Stop
from solver.material.instance import Lying
from solver.proof.bounds import doublings
from solver.proof.cut_bound.exact_shape import ExactShape
from solver.proof.cut_bound.stacks import NEVER, PIECE, ExactStacks
from solver.proof.normal_patterns import Ints
from solver.proof.pricing import Stopped

CHUNK_CELLS = 800_000
"""Cells of a table worked on without asking whether to stop."""
TRACED_CELLS = 50_000_000
"""About so many cells are remembered, over all passes, to trace what a strip holds."""

Table = NDArray[np.int32]
"""Values of strips so far, by point and height; the last row is of no point."""


class SeedOffer(NamedTuple):
    """So many equal blocks offered: the lie that opens them, and their value by height."""

    seed: int
    times: int
    values: Ints


class Filled(NamedTuple):
    """A table filled pass by pass: who took what, and the best strip of each column."""

    passes: Sequence[SeedOffer]
    taken: Sequence[NDArray[np.bool_]]
    values: Ints
    ends: Ints


class WasteStrip(NamedTuple):
    """A strip: index of its height, copies of each lying item, and its waste pieces.

    Near trims count as waste pieces here: each costs one cut more.
    """

    height: int
    lying: tuple[Lying, ...]
    waste: int


class StripKnapsack:
    """Strips of one shape under one set of prices."""

    def __init__(self, shape: ExactShape, prices: Ints) -> None:
        """Take a price for each item type, none beyond `ExactShape.most_price`."""
        self._shape = shape
        self._prices = [int(prices[lie.lying.item]) for lie in shape.lies]
        self._stacks = ExactStacks(shape.lies, shape.across, self._prices, shape.levels)

    def at_most(self, stop: Stop) -> Ints:
        """Return for every height a value that no strip of it exceeds.

        As if its blocks, densest first, could be cut off where the length ends.

        Raises
        ------
        Stopped
            When told to stop before all are known.
        """
        chunk = max(1, CHUNK_CELLS // len(self._shape.lies))
        parts = []
        for start in range(0, len(self._shape.across), chunk):
            if stop:
                raise Stopped
            parts.append(self._at_most(self._stacks.seeded[:, start : start + chunk]))
        return np.concatenate(parts)

    def _at_most(self, seeded: Ints) -> Ints:
        seeded = np.maximum(seeded, 0)
        lengths = np.array([lie.length for lie in self._shape.lies])
        wholes = np.array([lie.length * lie.copies for lie in self._shape.lies])
        density = seeded / lengths[:, None]
        order = np.argsort(-density, axis=0, kind="stable")
        ends = np.cumsum(wholes[order], axis=0)
        room = np.clip(self._shape.along.capacity - (ends - wholes[order]), 0, wholes[order])
        most = (np.take_along_axis(density, order, axis=0) * room).sum(axis=0)
        whole: Ints = np.ceil(most * (1 + 1e-9) + 1e-6).astype(np.int64)
        return whole - self._shape.strip_waste

    def best(self, heights: Ints, stop: Stop) -> Ints:
        """Return the value of the best strip of each height (given by index).

        Raises
        ------
        Stopped
            When told to stop before all are known.
        """
        chunk = max(1, CHUNK_CELLS // len(self._shape.along))
        parts = [np.zeros(0, dtype=np.int64)]
        for start in range(0, len(heights), chunk):
            if stop:
                raise Stopped
            parts.append(self._best(heights[start : start + chunk]))
        return np.concatenate(parts)

    def _best(self, heights: Ints) -> Ints:
        table = self._table(heights)
        buffer = np.empty_like(table)
        for offer in self._passes(heights):
            self._offer(table, buffer, offer)
        return self._ends(table)[0]

    def _table(self, heights: Ints) -> Table:
        table = np.full((len(self._shape.along) + 1, len(heights)), NEVER, dtype=np.int32)
        table[0] = 0
        return table

    def _passes(self, heights: Ints) -> Iterator[SeedOffer]:
        for seed, lie in enumerate(self._shape.lies):
            values = self._stacks.seeded[seed][heights]
            if (values > NEVER // 2).any():
                for times in doublings(min(lie.copies, self._shape.along.capacity // lie.length)):
                    yield SeedOffer(seed, times, np.maximum(times * values, NEVER))

    def _offer(self, table: Table, buffer: Table, offer: SeedOffer) -> None:
        """Let every point and height take the offer or leave it; ``buffer`` is for scratch."""
        back = self._shape.along.back(offer.times * self._shape.lies[offer.seed].length)
        if count := len(back):
            offered = np.take(table, back, axis=0, out=buffer[:count], mode="clip")
            offered += offer.values.astype(table.dtype)
            inside = table[-1 - count : -1]
            np.maximum(inside, offered, out=inside)

    def _ends(self, table: Table) -> tuple[Ints, Ints]:
        """Return the value of the best strip of each column, and the point where it ends."""
        shape = self._shape
        last = len(shape.along) - 1
        short = table[1 : last if shape.fills_length else last + 1]
        value = np.full(table.shape[1], NEVER, dtype=np.int64)
        end = np.full(table.shape[1], last)
        if len(short):
            end = np.argmax(short, axis=0) + 1
            value = np.max(short, axis=0).astype(np.int64) - PIECE
        if shape.fills_length:
            end = np.where(table[last] >= value, last, end)
            value = np.maximum(value, table[last])
        return value - shape.strip_waste, end

    def strips(self, heights: Ints, stop: Stop) -> list[WasteStrip]:
        """Return the best strip of each height, with what it holds.

        Raises
        ------
        Stopped
            When told to stop before all are known.
        """
        passes = 1 + 2 * len(self._shape.lies)
        chunk = max(1, TRACED_CELLS // (passes * len(self._shape.along)))
        found: list[WasteStrip] = []
        for start in range(0, len(heights), chunk):
            if stop:
                raise Stopped
            found += self._strips(heights[start : start + chunk])
        return found

    def _strips(self, heights: Ints) -> list[WasteStrip]:
        passes = list(self._passes(heights))
        table = self._table(heights)
        buffer = np.empty_like(table)
        taken = []
        for offer in passes:
            before = table.copy()
            self._offer(table, buffer, offer)
            taken.append(table > before)
        filled = Filled(passes, taken, *self._ends(table))
        return [
            self._trace(int(height), column, filled)
            for column, height in enumerate(heights)
            if filled.values[column] > NEVER // 2
        ]

    def _trace(self, height: int, column: int, filled: Filled) -> WasteStrip:
        lies: list[int] = []
        end = int(filled.ends[column])
        for offer, took in zip(reversed(filled.passes), reversed(filled.taken), strict=True):
            if took[end, column]:
                size = offer.times * self._shape.lies[offer.seed].length
                points = self._shape.along.points
                end = int(self._shape.along.index(points[[end]] - size)[0])
                lies += self._stacks.contents(offer.seed, height) * offer.times
        worth = sum(self._prices[lie] for lie in lies)
        lying = tuple(sorted(self._shape.lies[lie].lying for lie in lies))
        return WasteStrip(height, lying, (worth - int(filled.values[column])) // PIECE)

"""The dearest sheet of strips, and which heights of strip have to be looked at to know it."""

from typing import NamedTuple

import numpy as np

from solver.budget.stop import Stop
from solver.proof.cut_bound.exact_shape import ExactShape
from solver.proof.cut_bound.stacks import NEVER, PIECE
from solver.proof.normal_patterns import Ints
from solver.proof.pricing import Stopped

NOTHING = -(2**50)
"""Value of a sheet that cannot be."""


class WasteSheet(NamedTuple):
    """Heights of the strips on a sheet (indices), its waste pieces, and its value.

    The near trim counts as a waste piece.
    """

    heights: tuple[int, ...]
    waste: int
    value: int


class SheetKnapsack:
    """Sheets of one shape under values of strips by height; `NEVER` or so is no strip.

    Heights that cannot be on a sheet of more value than ``floor`` are left out.
    """

    def __init__(self, shape: ExactShape, values: Ints, stop: Stop, floor: int = NOTHING) -> None:
        """Fill the table.

        Raises
        ------
        Stopped
            When told to stop meanwhile.
        """
        self._shape, self._across, self._values = shape, shape.across, values
        self._heights = np.flatnonzero(self._at_most() > floor)
        self._filled = self._fill(stop)

    def _at_most(self) -> Ints:
        """Return for each height a value no sheet with it exceeds, as if strips came in parts."""
        points, values = self._across.points, self._values
        density = float((values[1:] / points[1:]).max(initial=0.0))
        rest = np.ceil((self._across.capacity - points) * density * (1 + 1e-9) + 1e-6)
        within: Ints = values + rest.astype(np.int64) - self._shape.sheet_waste
        within[values <= NEVER // 2] = NOTHING
        within[0] = NOTHING
        return within

    def _fill(self, stop: Stop) -> Ints:
        """Return the most value of strips that end at each point exactly, none allowed."""
        table = np.full(len(self._across) + 1, NOTHING, dtype=np.int64)
        table[0] = 0
        for height in self._heights:
            if stop:
                raise Stopped
            size, value = int(self._across.points[height]), int(self._values[height])
            _repeat(table, self._across.back(size), value, self._across.capacity // size)
        return table

    def best(self) -> WasteSheet:
        """Return the dearest sheet with at least one strip."""
        last = len(self._across) - 1
        fills = self._shape.fills_width
        short = self._filled[1 : last if fills else last + 1]
        end = int(np.argmax(short)) + 1 if len(short) else last
        value = int(self._filled[end]) - PIECE
        if fills and self._filled[last] >= value:
            end, value = last, int(self._filled[last])
        waste = self._shape.sheet_waste // PIECE + (not fills or end != last)
        heights = self._trace(end) if value > NOTHING // 2 else ()
        return WasteSheet(heights, waste, value - self._shape.sheet_waste)

    def with_strip(self) -> Ints:
        """Return the value of the dearest sheet that has a strip of each height."""
        room = self._across.capacity - self._across.points
        within = self._across.not_beyond(room)
        rest = np.maximum.accumulate(self._filled[:-1])[within] - PIECE
        if self._shape.fills_width:
            rest = np.maximum(rest, self._filled[self._across.index(room)])
        return rest + self._values - self._shape.sheet_waste

    def _trace(self, end: int) -> tuple[int, ...]:
        found: list[int] = []
        points = self._across.points
        while end:
            before = self._across.index(points[end] - points[self._heights])
            sums = self._filled[before] + self._values[self._heights]
            place = int(np.argmax(sums))
            found.append(int(self._heights[place]))
            end = int(before[place])
        return tuple(found)


def _repeat(table: Ints, back: Ints, value: int, times: int) -> None:
    """Offer a strip so many times to every point that it can end at, while any takes it."""
    inside = table[len(table) - 1 - len(back) : -1]
    for left in range(times, 0, -1):
        offered = table[back]
        offered += value
        if left > 2 and not (offered > inside).any():
            return
        np.maximum(inside, offered, out=inside)

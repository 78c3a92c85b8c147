"""What is written on the slip of a waiting part: name, size and number, in rows.

A name takes up to three rows where one is too short; a size shrinks, and then L and W part.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF

from layout_app.look import pens

NAME_PX, NAME_ROWS = 12, 3
SIZES_PX, LEAST_PX = (10, 9), 8
ROW_PX = {12: 16, 10: 15, 9: 14, 8: 12}
"""Heights of rows by their text size."""
PAD_PX, INSET_PX = 4, 5
"""Between the slip's edge and its words: above and below, and at the sides."""
BETWEEN = " × "
"""Stands between L and W."""


class Row(NamedTuple):
    """A row of a slip; the number is ``quiet``."""

    words: str
    size: int
    bold: bool = False
    quiet: bool = False

    @property
    def height(self) -> int:
        """How high it is in pixels."""
        return ROW_PX[self.size]


def rows(lines: Sequence[str], width: float) -> list[Row]:
    """Return the rows of a slip: name, size and number in so many pixels."""
    name, size, number = lines
    last = _cut_short(number, SIZES_PX[0], width)
    return [*_named(name, width), *_sized(size, width), Row(last, SIZES_PX[0], quiet=True)]


def slip_height(written: Sequence[Row]) -> int:
    """Return how high a slip is in pixels."""
    return sum(row.height for row in written) + 2 * PAD_PX


def _named(name: str, width: float) -> Iterator[Row]:
    """Yield the name: broken at spaces into a few rows, and cut short where that does not help."""
    words = name.split()
    for number in range(NAME_ROWS):
        row, last = "", number == NAME_ROWS - 1
        while words and (last or not row or _fits(f"{row} {words[0]}", NAME_PX, width, bold=True)):
            row = f"{row} {words.pop(0)}".lstrip()
        if row:
            yield Row(_cut_short(row, NAME_PX, width, bold=True), NAME_PX, bold=True)


def _sized(size: str, width: float) -> list[Row]:
    """Return the size in one row if it has room at any usual text size, else L above W."""
    length, _, across = size.partition(BETWEEN)
    for parts, sizes in (((size,), SIZES_PX), ((length, across), (*SIZES_PX, LEAST_PX))):
        for size_px in sizes:
            if all(_fits(one, size_px, width) for one in parts):
                return [Row(one, size_px) for one in parts]
    return [Row(_cut_short(one, LEAST_PX, width), LEAST_PX) for one in (length, across)]


def _fits(words: str, size: int, width: float, *, bold: bool = False) -> bool:
    return pens.em_width(words, bold=bold) * size <= width


def _cut_short(words: str, size: int, width: float, *, bold: bool = False) -> str:
    if _fits(words, size, width, bold=bold):
        return words
    metrics = QFontMetricsF(pens.font(size, bold=bold))
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, width / 1.03)

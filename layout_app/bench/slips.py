"""What is written on a slip of the tray, in rows: name, size, number, reason and what is taken."""

from collections.abc import Iterator
from typing import NamedTuple

from layout_app.bench.bubble import cut_short, fits
from layout_app.model.off_sheets import Stack
from shared.lengths import LengthStyle, format_pair

NAME_PX, NAME_ROWS = 12, 3
SIZES_PX, LEAST_PX = (10, 9), 8
REASON_PX, REASON_ROWS = 10, 4
ROW_PX = {12: 16, 10: 15, 9: 14, 8: 12}
"""Heights of rows by their text size."""
PAD_PX, INSET_PX = 4, 5
"""Between the slip's edge and its words: above and below, and at the sides."""
CHOOSER_PX = 24
"""Height of the row that says how many are taken, and width of each of its two buttons."""
BETWEEN = " × "
"""Stands between L and W."""


class Lines(NamedTuple):
    """The words of a slip: name, size, how many of which kind, and why they are not placed."""

    name: str
    size: str
    number: str
    reason: str = ""


class SlipRow(NamedTuple):
    """A row of a slip; number and reason are ``quiet``."""

    words: str
    size: int
    bold: bool = False
    quiet: bool = False

    @property
    def height(self) -> int:
        """How high it is in pixels."""
        return ROW_PX[self.size]


def lines_of(stack: Stack, style: LengthStyle) -> Lines:
    """Return the words of a stack of parts."""
    size = format_pair(stack.part.cut_length, stack.part.cut_width, style)
    return Lines(stack.part.name, size, stack.number, stack.reason)


def slip_rows(lines: Lines, width: float) -> list[SlipRow]:
    """Return the rows of a slip, as they are written in so many pixels.

    A name takes up to three rows where one is too short; a size shrinks, and then L and W part.
    A reason takes up to four.
    """
    return [
        *(SlipRow(row, NAME_PX, bold=True) for row in _broken(lines.name, width, bold=True)),
        *_sized(lines.size, width),
        *(SlipRow(row, SIZES_PX[0], quiet=True) for row in _broken(lines.number, width)),
        *(SlipRow(row, REASON_PX, quiet=True) for row in _broken(lines.reason, width)),
    ]


def slip_height(written: list[SlipRow], *, chooser: bool = False) -> int:
    """Return how high a slip is in pixels; ``chooser``: it says how many are taken."""
    rows = sum(row.height for row in written) + 2 * PAD_PX
    return rows + CHOOSER_PX if chooser else rows


def _broken(text: str, width: float, *, bold: bool = False) -> Iterator[str]:
    """Yield words broken at spaces into a few rows, and cut short where that does not help."""
    size, most = (NAME_PX, NAME_ROWS) if bold else (REASON_PX, REASON_ROWS)
    words = text.split()
    for number in range(most):
        row, last = "", number == most - 1
        while words and (last or not row or fits(f"{row} {words[0]}", size, width, bold=bold)):
            row = f"{row} {words.pop(0)}".lstrip()
        if row:
            yield cut_short(row, size, width, bold=bold)


def _sized(size: str, width: float) -> list[SlipRow]:
    """Return the size in one row if it has room at any usual text size, else L above W."""
    if not size:
        return []
    length, _, across = size.partition(BETWEEN)
    for parts, sizes in (((size,), SIZES_PX), ((length, across), (*SIZES_PX, LEAST_PX))):
        for size_px in sizes:
            if all(fits(one, size_px, width) for one in parts):
                return [SlipRow(one, size_px) for one in parts]
    return [SlipRow(cut_short(one, LEAST_PX, width), LEAST_PX) for one in (length, across)]

"""A piece of a rule with a size of the job that lies between two of its marks."""

from collections.abc import Iterator
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.pictures import LINE, THICK, THIN, Picture, arrow, line, said
from layout_app.paper.pack.setting import length_of
from shared.lengths import (
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_mark,
    round_nearest,
    step,
)

EITHER_SIDE: Final = 4
"""So many marks are drawn on each side of the nearest."""
EIGHTH: Final = 8


def between_marks(ticks: Length, style: LengthStyle) -> bool:
    """Say whether a size is written as one that lies between two marks."""
    return format_mark(ticks, style) != format_length(ticks, style)


def rule_picture(ticks: Length, style: LengthStyle) -> Picture:
    """Draw the marks around a size in ticks, and an arrow where it lies."""
    fine = step(style)
    nearest = round_nearest(ticks, style) // fine

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        apart = length / (2 * EITHER_SIDE + 2)
        middle, top = x + length / 2, y + LINE + 5.0
        yield line((x, top), (x + length, top), pen=THICK)
        for place in range(-EITHER_SIDE, EITHER_SIDE + 1):
            mark = middle + place * apart
            high = _height(nearest + place, style)
            yield line((mark, top), (mark, top + high), pen=THICK if high > 3 else THIN)
        at = middle + (ticks / fine - nearest) * apart
        yield from arrow((at, top - 4.6), (at, top - 0.3))
        text = format_mark(ticks, style)
        half = length_of(text, 4.0, bold=True) / 2
        yield said(text, max(x + half, min(at, x + length - half)), y + LINE / 2, bold=True)
        yield said(format_length(nearest * fine, style), middle, top + 6.6 + LINE / 2)

    return Picture(2 * LINE + 5.0 + 6.6, draw)


def _height(mark: int, style: LengthStyle) -> float:
    """Return how long a mark of a rule is drawn, in mm: longer for rounder sizes."""
    if style.unit is Unit.MM:
        ten = 10 ** max(1, style.decimals)
        return 6.0 if mark % ten == 0 else 4.5 if mark % (ten // 2) == 0 else 3.0
    for part, high in ((1, 6.4), (2, 5.6), (4, 5.0), (EIGHTH, 4.2), (16, 3.4)):
        if mark * part % style.denominator == 0:
            return high
    return 2.6

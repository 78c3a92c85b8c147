"""The two signs of the pack, and the box to tick: what they mean stands on the reading page."""

from collections.abc import Iterator
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pens import NARROW, OUTLINE

SIGN: Final = 6.2
"""Room of a sign before its line, in mm."""


def danger_sign(x: float, middle: float) -> Iterator[ink.Item]:
    """Draw a triangle on its base with a stroke and a dot inside, its left corner at x, in mm."""
    top, bottom, half = middle - 2.2, middle + 1.8, 2.3
    corners = (x, bottom), (x + half, top), (x + 2 * half, bottom), (x, bottom)
    yield ink.Strokes(lines=(corners,), pen=ink.Pen(width=OUTLINE))
    stem = (x + half, top + 1.4), (x + half, bottom - 1.3)
    yield ink.Strokes(lines=(stem,), pen=ink.Pen(width=OUTLINE))
    yield ink.Disc(x=x + half, y=bottom - 0.7, radius=0.3, fill="#000000")


def handling_mark(x: float, middle: float) -> Iterator[ink.Item]:
    """Draw an H in a box at x, in mm."""
    left, right, half = x + 0.6, x + 4.0, 1.7
    corners = (left, middle - half), (right, middle - half), (right, middle + half)
    box = (*corners, (left, middle + half), corners[0])
    legs = [((at, middle - 1.0), (at, middle + 1.0)) for at in (x + 1.6, x + 3.0)]
    bar = (x + 1.6, middle), (x + 3.0, middle)
    yield ink.Strokes(lines=(box, *legs, bar), pen=ink.Pen(width=NARROW))


def tick_box(x: float, middle: float, side: float, *, ticked: bool = False) -> Iterator[ink.Item]:
    """Draw a box to tick, its left edge at x; a cross in it where the cut is made; in mm."""
    top = middle - side / 2
    pen = ink.Pen(width=OUTLINE)
    yield ink.Plate(x=x, y=top, length=side, width=side, pen=pen)
    if ticked:
        inner = side / 5
        left, right = x + inner, x + side - inner
        high, low = top + inner, top + side - inner
        lines = ((left, high), (right, low)), ((left, low), (right, high))
        yield ink.Strokes(lines=lines, pen=pen)

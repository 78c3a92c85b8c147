"""Small signs on bars: what they ask for is told apart without reading, in grey print too."""

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final

from layout_app.paper import ink
from layout_app.paper.panels.saying import BarKind
from layout_app.paper.pens import CUT, NARROW, OUTLINE

ROOM: Final = 9.0
"""What a sign takes before the words of a bar, in mm."""
_HEAD: Final = 1.1
_STEPS: Final = 8


def bar_sign(kind: BarKind, x: float, middle: float) -> Iterator[ink.Item]:
    """Draw the sign of a bar, its left side at x, in mm; nothing for a set-up."""
    centre = x + 3.2
    if kind is BarKind.CHECK:
        yield from _sheet(x, middle)
    elif kind is BarKind.TURN:
        yield from _arc(centre, middle, 2.6, (200, 340))
        yield from _arc(centre, middle, 2.6, (20, 160))
    elif kind is BarKind.MOVE:
        yield from _arc(centre - 1.6, middle + 1.6, 3.6, (270, 355))
    elif kind is BarKind.RAIL:
        yield ink.Plate(x=x, y=middle - 1.1, length=6.4, width=2.2, pen=ink.Pen(width=NARROW))
        edge = (x, middle + 1.1), (x + 6.4, middle + 1.1)
        yield ink.Strokes(lines=(edge,), pen=ink.Pen(width=0.9))


def has_sign(kind: BarKind) -> bool:
    """Say whether bars of that kind have a sign."""
    return kind is not BarKind.SET


def _sheet(x: float, middle: float) -> Iterator[ink.Item]:
    """Draw a sheet with both its diagonals."""
    left, right, top, bottom = x, x + 6.4, middle - 1.8, middle + 1.8
    yield ink.Plate(x=left, y=top, length=6.4, width=3.6, pen=ink.Pen(width=CUT))
    across = ((left, top), (right, bottom)), ((left, bottom), (right, top))
    yield ink.Strokes(lines=across, pen=ink.Pen(width=NARROW))


def _arc(x: float, y: float, radius: float, angles: tuple[int, int]) -> Iterator[ink.Item]:
    """Draw an arc about x, y with an arrow head at its end; angles in degrees, clockwise."""
    first, last = angles
    steps = [first + (last - first) * step / _STEPS for step in range(_STEPS + 1)]
    line = tuple(_on(x, y, radius, angle) for angle in steps)
    yield ink.Strokes(lines=(line,), pen=ink.Pen(width=OUTLINE))
    tip = _on(x, y, radius, last + 60 * _HEAD / radius)
    ends = _on(x, y, radius - _HEAD, last), _on(x, y, radius + _HEAD, last)
    yield ink.Patch(outlines=((tip, *ends),), fill="#000000")


def _on(x: float, y: float, radius: float, angle: float) -> ink.Spot:
    return x + radius * cos(radians(angle)), y + radius * sin(radians(angle))

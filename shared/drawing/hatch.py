"""Hatching: slanted lines inside a rectangle, crossed for waste."""

from collections.abc import Iterator

from shared.drawing.records import Point
from shared.geometry import Rect
from shared.lengths import Length

Stroke = tuple[Point, Point]


def hatch(rect: Rect, spacing: Length, *, crossed: bool = False) -> tuple[Stroke, ...]:
    """Return strokes at 45 degrees that lie on one grid over the whole sheet.

    Parameters
    ----------
    rect
        What is hatched.
    spacing
        Distance between strokes along x, in ticks; at least 1.
    crossed
        Also hatch the other way: the sign of waste.
    """
    strokes = tuple(_rising(rect, max(1, spacing)))
    return strokes + tuple(_falling(rect, max(1, spacing))) if crossed else strokes


def _rising(rect: Rect, spacing: Length) -> Iterator[Stroke]:
    """Strokes on lines x + y = constant."""
    for total in _grid(rect.x + rect.y, rect.right + rect.bottom, spacing):
        left = max(rect.x, total - rect.bottom)
        right = min(rect.right, total - rect.y)
        yield (left, total - left), (right, total - right)


def _falling(rect: Rect, spacing: Length) -> Iterator[Stroke]:
    """Strokes on lines x - y = constant."""
    for difference in _grid(rect.x - rect.bottom, rect.right - rect.y, spacing):
        left = max(rect.x, difference + rect.y)
        right = min(rect.right, difference + rect.bottom)
        yield (left, left - difference), (right, right - difference)


def _grid(low: Length, high: Length, spacing: Length) -> range:
    return range((low // spacing + 1) * spacing, high, spacing)

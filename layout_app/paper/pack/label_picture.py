"""Small pictures on labels: a part or an offcut, and the place of a part in its matched set."""

from collections.abc import Iterator
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.label_words import Place, Shape
from shared.parts import GrainRule

THIN: Final = 0.3
"""Width of a bare edge, in mm."""
BAND: Final = 1.0
"""Width of a banded edge, in mm."""
MARK: Final = 1.4
"""What the V takes beyond an edge, in mm."""
NARROW: Final = 2.4
"""A shape that is drawn narrower has its grain beside it."""
ASIDE: Final = 1.6
"""So far beside it, in mm."""
HEAD, LEAST_ARROW = 0.9, 1.3
"""Of the line that shows the grain: its heads, and half of it at least, in mm."""
CELL: Final = 5.0
"""Side of a cell of a matched set at most, in mm."""
LEAST_CELL: Final = 0.8
"""A set whose cells would be smaller is not drawn."""


def draw_shape(shape: Shape, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw a shape to scale in a frame: a heavy line is a banded edge, the V the reference corner.

    The double-headed line runs the way the grain runs; none is drawn where it may run either way.
    """
    length, width = shape.length, shape.width
    free = frame.length - 2 * BAND, frame.width - 2 * BAND - 2 * MARK
    if min(free) <= 1 or min(length, width) <= 0:
        return
    scale = min(free[0] / length, free[1] / width)
    box = ink.Spread(
        x=frame.x + (frame.length - length * scale) / 2,
        y=frame.y + (frame.width - width * scale) / 2,
        length=length * scale,
        width=width * scale,
    )
    yield from _edges(shape, box)
    yield from _grain(shape, box)
    yield _corner(shape.corner, box)


def _corner(corner: tuple[int, int], box: ink.Spread) -> ink.Item:
    """Draw the V beyond the top or the bottom edge, near the left or the right end."""
    aside, low = corner
    inset = min(1.2, box.length / 2)
    tip = box.right - inset if aside else box.x + inset
    edge, open_at = (box.bottom, box.bottom + MARK) if low else (box.y, box.y - MARK)
    mark = ((tip - 0.7, open_at), (tip, edge), (tip + 0.7, open_at))
    return ink.Strokes(lines=(mark,), pen=ink.Pen(width=THIN))


def draw_place(place: Place, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw the grid of a matched set, the place of a part filled."""
    cell = min((frame.length - 1) / place.columns, (frame.width - 1) / place.rows, CELL)
    if cell < LEAST_CELL:
        return
    length, width = cell * place.columns, cell * place.rows
    left = frame.x + (frame.length - length) / 2
    top = frame.y + (frame.width - width) / 2
    yield ink.Plate(
        x=left + place.column * cell,
        y=top + place.row * cell,
        length=cell,
        width=cell,
        fill="#000000",
    )
    down = [((left + n * cell, top), (left + n * cell, top + width)) for n in _to(place.columns)]
    across = [((left, top + n * cell), (left + length, top + n * cell)) for n in _to(place.rows)]
    yield ink.Strokes(lines=(*down, *across), pen=ink.Pen(width=0.18))


def _to(number: int) -> range:
    return range(number + 1)


def _edges(shape: Shape, box: ink.Spread) -> Iterator[ink.Item]:
    bands = shape.bands
    sides = (
        (bands.top, (box.x, box.y), (box.right, box.y)),
        (bands.bottom, (box.x, box.bottom), (box.right, box.bottom)),
        (bands.left, (box.x, box.y), (box.x, box.bottom)),
        (bands.right, (box.right, box.y), (box.right, box.bottom)),
    )
    for band, start, end in sides:
        yield ink.Strokes(lines=((start, end),), pen=ink.Pen(width=BAND if band else THIN))


def _grain(shape: Shape, box: ink.Spread) -> Iterator[ink.Item]:
    """Draw a double-headed line in the middle, or beside a shape that is too narrow for it."""
    if shape.grain is GrainRule.EITHER:
        return
    along = shape.grain is GrainRule.ALONG_LENGTH
    x, y = box.x + box.length / 2, box.y + box.width / 2
    if min(box.length, box.width) < NARROW:
        x, y = (x, box.bottom + ASIDE) if box.length > box.width else (box.right + ASIDE, y)
    half = max(0.35 * (box.length if along else box.width), LEAST_ARROW)
    head = min(HEAD, half / 2)
    line = _turned(((-half, 0.0), (half, 0.0)), x, y, along=along)
    heads = [
        _turned(
            ((end * (half - head), -head / 2), (end * half, 0.0), (end * (half - head), head / 2)),
            x,
            y,
            along=along,
        )
        for end in (-1, 1)
    ]
    yield ink.Strokes(lines=(line, *heads), pen=ink.Pen(width=0.25))


def _turned(
    spots: tuple[ink.Spot, ...], x: float, y: float, *, along: bool
) -> tuple[ink.Spot, ...]:
    return tuple((x + a, y + b) if along else (x + b, y + a) for a, b in spots)

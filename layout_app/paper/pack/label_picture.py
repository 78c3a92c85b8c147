"""The small picture on a label: the part lying with its length across, its grain, its bands."""

from collections.abc import Iterator

from layout_app.paper import ink
from shared.parts import GrainRule, Part

THIN, BAND = 0.3, 1.0
"""Widths of a bare and of a banded edge, in mm."""


def label_picture(part: Part, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw a part to scale in a frame: a heavy line is a banded edge, the V the reference corner.

    The double-headed line runs the way the grain runs; none is drawn where it may run either way.
    """
    length, width = part.cut_length, part.cut_width
    free = frame.length - 2 * BAND, frame.width - 2 * BAND - 1.4
    if min(free) <= 1 or min(length, width) <= 0:
        return
    scale = min(free[0] / length, free[1] / width)
    box = ink.Spread(
        x=frame.x + (frame.length - length * scale) / 2,
        y=frame.y + BAND + 1.4 + (free[1] - width * scale) / 2,
        length=length * scale,
        width=width * scale,
    )
    yield from _edges(part, box)
    yield from _grain(part, box)
    tip = box.x + min(1.2, box.length / 2)
    mark = ((tip - 0.7, box.y - 1.3), (tip, box.y), (tip + 0.7, box.y - 1.3))
    yield ink.Strokes(lines=(mark,), pen=ink.Pen(width=THIN))


def _edges(part: Part, box: ink.Spread) -> Iterator[ink.Item]:
    bands = part.bands
    sides = (
        (bands.top, (box.x, box.y), (box.right, box.y)),
        (bands.bottom, (box.x, box.bottom), (box.right, box.bottom)),
        (bands.left, (box.x, box.y), (box.x, box.bottom)),
        (bands.right, (box.right, box.y), (box.right, box.bottom)),
    )
    for band, start, end in sides:
        yield ink.Strokes(lines=((start, end),), pen=ink.Pen(width=BAND if band else THIN))


def _grain(part: Part, box: ink.Spread) -> Iterator[ink.Item]:
    if part.grain_rule is GrainRule.EITHER:
        return
    along = part.grain_rule is GrainRule.ALONG_LENGTH
    x, y = box.x + box.length / 2, box.y + box.width / 2
    half = 0.35 * (box.length if along else box.width)
    head = min(0.9, half / 2)
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

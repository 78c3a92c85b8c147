"""Running positions beside a sheet: one scale from the trimmed reference edge, as ISO 129-1
has running dimensions: a common zero, a tick at each position, its figure beside it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout_app.paper import ink
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import NARROW, Hand
from shared.drawing import RunningMark, SheetDrawing, Space, spread
from shared.lengths import MM
from shared.shop import Axis

LINE, TICK, WORDS = 0.6, 0.3, 1.0
"""From the sheet to the line of the scale, half a tick, from the line to the figures; all in
text sizes."""
APART = 1.3
"""Least distance of two figures, in text sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Items in the frame of the sheet, and how far they reach, in mm."""

    items: tuple[ink.Item, ...]
    right: float
    bottom: float


def scale_beside(drawing: SheetDrawing, hand: Hand, tags: Sequence[Space] = ()) -> Beside:
    """Draw the scale at the right edge for rips, below the sheet where crosscuts come first.

    It stands clear of tags that found no room on the sheet.
    """
    marks, rect = drawing.marks, drawing.rect
    if not marks:
        return Beside(items=(), right=to_mm(rect.length), bottom=to_mm(rect.width))
    rips = marks[0].axis is Axis.RIP
    ends = [tag.x + tag.length if rips else tag.y + tag.width for tag in tags]
    edge = max([to_mm(rect.length if rips else rect.width), *ends])
    places = _apart([mark.at for mark in marks], hand.size)
    reach = edge + (LINE + WORDS + max(width_of(mark.text) for mark in marks)) * hand.size
    far = max(places) + hand.size
    return Beside(
        items=tuple(_items(marks, places, edge, hand, rips=rips)),
        right=reach if rips else max(to_mm(rect.length), far),
        bottom=max(to_mm(rect.width), far) if rips else reach,
    )


def _apart(at: Sequence[int], size: float) -> list[float]:
    """Move positions apart as little as possible; in mm."""
    return [to_mm(place) for place in spread(at, int(APART * size * MM))]


def _items(
    marks: Sequence[RunningMark],
    places: Sequence[float],
    edge: float,
    hand: Hand,
    *,
    rips: bool,
) -> Iterator[ink.Item]:
    size, line = hand.size, edge + LINE * hand.size
    ends = to_mm(min(mark.at for mark in marks)), to_mm(max(mark.at for mark in marks))
    lines = [((line, ends[0]), (line, ends[1]))]
    for mark, place in zip(marks, places, strict=True):
        at = to_mm(mark.at)
        lines.append(((line - TICK * size, at), (line + TICK * size, at)))
        lines.append(((line + TICK * size, at), (line + 2 * TICK * size, place)))
    pen = hand.pen(NARROW, hand.colours.pencil)
    yield ink.Strokes(lines=tuple(_flipped(one, rips=rips) for one in lines), pen=pen)
    for mark, place in zip(marks, places, strict=True):
        x, y = line + (WORDS - TICK) * size, place
        yield ink.Words(
            text=mark.text,
            x=x if rips else place,
            y=y if rips else x,
            size=size,
            anchor=ink.Anchor.START if rips else ink.Anchor.END,
            turned=not rips,
            colour=hand.colours.graphite,
        )


def _flipped(line: tuple[ink.Spot, ink.Spot], *, rips: bool) -> tuple[ink.Spot, ...]:
    return line if rips else tuple((y, x) for x, y in line)

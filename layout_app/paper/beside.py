"""What stands beside a sheet on a diagram: the names of its strips, and the scale.

In the frame of the sheet, in mm.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout_app.paper import ink
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import NARROW, PaperHand
from shared.drawing import NamedPiece, RunningMark, SheetDrawing, Space, spread
from shared.lengths import MM, Length
from shared.shop import Axis

LINE, TICK, WORDS = 0.6, 0.3, 1.0
"""From the sheet to the line of the scale, half a tick, from the line to the figures; all in
text sizes."""
APART = 1.3
"""Least distance of two figures, in text sizes."""


NAME = 0.4
"""From the sheet to the names of its strips, in text sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """The names of the strips and the scale, and how far they reach, in mm."""

    strips: tuple[ink.Item, ...]
    scale: tuple[ink.Item, ...]
    right: float
    bottom: float


def beside_sheet(drawing: SheetDrawing, hand: PaperHand, tags: Sequence[Space] = ()) -> Beside:
    """Draw both at the right edge where the sheet is ripped first, else below the sheet.

    One scale from the trimmed reference edge, as ISO 129-1 has running dimensions: a common zero,
    a tick at each position, its figure beside it. All stands clear of tags that found no room
    on the sheet.
    """
    marks, rect = drawing.marks, drawing.rect
    if not marks:
        return Beside(strips=(), scale=(), right=to_mm(rect.length), bottom=to_mm(rect.width))
    rips = marks[0].axis is Axis.RIP
    ends = [tag.x + tag.length if rips else tag.y + tag.width for tag in tags]
    edge = max([to_mm(rect.length if rips else rect.width), *ends])
    strips = [piece for piece in drawing.pieces if piece.strip]
    middles = _places([_middle(piece, rips=rips) for piece in strips], hand)
    named = tuple(_names(strips, middles, edge, hand, rips=rips))
    if strips:
        edge += (NAME + max(width_of(piece.name) for piece in strips)) * hand.size
    places = _places([mark.at for mark in marks], hand)
    reach = edge + (LINE + WORDS + max(width_of(mark.text) for mark in marks)) * hand.size
    far = max(*places, *middles) + hand.size
    return Beside(
        strips=named,
        scale=tuple(_items(marks, places, edge, hand, rips=rips)),
        right=reach if rips else max(to_mm(rect.length), far),
        bottom=max(to_mm(rect.width), far) if rips else reach,
    )


def _places(positions: Sequence[Length], hand: PaperHand) -> list[float]:
    """Return where words at those positions stand, in mm: none in the way of another."""
    ordered = sorted(range(len(positions)), key=positions.__getitem__)
    apart = spread([positions[at] for at in ordered], int(APART * hand.size * MM))
    placed = dict(zip(ordered, apart, strict=True))
    return [to_mm(placed[at]) for at in range(len(positions))]


def _middle(piece: NamedPiece, *, rips: bool) -> Length:
    rect = piece.rect
    return (rect.y + rect.bottom) // 2 if rips else (rect.x + rect.right) // 2


def _names(
    strips: Sequence[NamedPiece],
    places: Sequence[float],
    edge: float,
    hand: PaperHand,
    *,
    rips: bool,
) -> Iterator[ink.Item]:
    """Yield the name of each strip, quieter than those of parts."""
    start = edge + NAME * hand.size
    for piece, place in zip(strips, places, strict=True):
        yield ink.Words(
            text=piece.name,
            x=start if rips else place,
            y=place if rips else start,
            size=hand.size,
            anchor=ink.Anchor.START if rips else ink.Anchor.END,
            turned=not rips,
            colour=hand.colours.pencil,
        )


def _items(
    marks: Sequence[RunningMark],
    places: Sequence[float],
    edge: float,
    hand: PaperHand,
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
    flipped = [((y, x), (v, u)) for (x, y), (u, v) in lines]
    yield ink.Strokes(lines=tuple(lines if rips else flipped), pen=pen)
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

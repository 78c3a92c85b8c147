"""What stands beside a sheet on a diagram: the names of its strips, and the scale.

In the frame of the sheet, in mm.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from itertools import pairwise

from layout_app.paper import ink
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import NARROW, PaperHand
from shared.drawing import NamedPiece, SheetDrawing, Space, spread
from shared.lengths import MM, Length
from shared.shop import Axis

LINE, TICK, WORDS = 0.6, 0.3, 1.0
"""From the sheet to the line of the scale, half a tick, from the line to the figures; all in
text sizes."""
APART = 1.3
"""Least distance of two figures below each other, in text sizes."""
FREE = 0.5
"""Free between two figures beside each other, in text sizes."""
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
    middles = [_middle(piece, rips=rips) for piece in strips]
    names = _Row([piece.name for piece in strips], middles, hand, rips=rips)
    named = tuple(names.words(edge + NAME * hand.size, hand.colours.pencil))
    if strips:
        edge += NAME * hand.size + names.depth
    figures = _Row([mark.text for mark in marks], [mark.at for mark in marks], hand, rips=rips)
    start = edge + (LINE + WORDS - TICK) * hand.size
    far, reach = max(names.far, figures.far), start + figures.depth + TICK * hand.size
    written = figures.words(start, hand.colours.graphite)
    return Beside(
        strips=named,
        scale=(_line([mark.at for mark in marks], figures.places, edge, hand, rips=rips), *written),
        right=reach if rips else max(to_mm(rect.length), far),
        bottom=max(to_mm(rect.width), far) if rips else reach,
    )


def _middle(piece: NamedPiece, *, rips: bool) -> Length:
    rect = piece.rect
    return (rect.y + rect.bottom) // 2 if rips else (rect.x + rect.right) // 2


class _Way(Enum):
    """How words stand: below each other, beside each other, or turned beside each other."""

    BELOW = auto()
    BESIDE = auto()
    TURNED = auto()


class _Row:
    """Words along an edge of the sheet, none in the way of another; turned if they must be."""

    def __init__(
        self, texts: Sequence[str], positions: Sequence[Length], hand: PaperHand, *, rips: bool
    ) -> None:
        self._texts, self._size = texts, hand.size
        self._widest = max(map(width_of, texts), default=0.0)
        beside = int((self._widest + FREE) * hand.size * MM)
        gaps = [after - before for before, after in pairwise(sorted(positions))]
        flat = _Way.BESIDE if all(gap >= beside for gap in gaps) else _Way.TURNED
        self._way = _Way.BELOW if rips else flat
        apart = beside if self._way is _Way.BESIDE else int(APART * hand.size * MM)
        ordered = sorted(range(len(positions)), key=positions.__getitem__)
        found = spread([positions[at] for at in ordered], apart)
        placed = dict(zip(ordered, found, strict=True))
        self.places = [to_mm(placed[at]) for at in range(len(positions))]

    @property
    def depth(self) -> float:
        """What the words take at right angles to the edge, in mm."""
        return (1.0 if self._way is _Way.BESIDE else self._widest) * self._size

    @property
    def far(self) -> float:
        """How far they reach along the edge, in mm."""
        half = self._widest / 2 if self._way is _Way.BESIDE else 1.0
        return max(self.places, default=0.0) + half * self._size

    def words(self, start: float, colour: str) -> Iterator[ink.Words]:
        """Yield them, beginning so many mm from the reference edge or end of the sheet."""
        middle = self._way is _Way.BESIDE
        anchors = {_Way.BELOW: ink.Anchor.START, _Way.BESIDE: ink.Anchor.MIDDLE}
        for text, place in zip(self._texts, self.places, strict=True):
            off = start + self._size / 2 if middle else start
            yield ink.Words(
                text=text,
                x=off if self._way is _Way.BELOW else place,
                y=place if self._way is _Way.BELOW else off,
                size=self._size,
                anchor=anchors.get(self._way, ink.Anchor.END),
                turned=self._way is _Way.TURNED,
                colour=colour,
            )


def _line(
    positions: Sequence[Length],
    places: Sequence[float],
    edge: float,
    hand: PaperHand,
    *,
    rips: bool,
) -> ink.Item:
    """Draw the line of the scale, with a tick at each position that leads to its figure."""
    size, line = hand.size, edge + LINE * hand.size
    ends = to_mm(min(positions)), to_mm(max(positions))
    lines = [((line, ends[0]), (line, ends[1]))]
    for position, place in zip(positions, places, strict=True):
        at = to_mm(position)
        lines.append(((line - TICK * size, at), (line + TICK * size, at)))
        lines.append(((line + TICK * size, at), (line + 2 * TICK * size, place)))
    pen = hand.pen(NARROW, hand.colours.pencil)
    flipped = [((y, x), (v, u)) for (x, y), (u, v) in lines]
    return ink.Strokes(lines=tuple(lines if rips else flipped), pen=pen)

"""The picture of a cut: the piece as it lies, what is sawn off, the slot, the rail, the V.

It is drawn once for all who show it; their `CutLook` says how, in the units of their frame:
millimetres on paper, pixels on a screen.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from layout_app.paper import ink
from shared.drawing.grain import figure, grain_in
from shared.drawing.hatch import hatch
from shared.geometry import Rect
from shared.making.outcome import PieceFate
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import Instruction

GRAIN_EVERY = 3
"""Of so many lines of the grain one is drawn: the picture is small."""
HALF_CLEAR = 170 / 255
"""How much of the wood a bad place hides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLook:
    """Colours, pens and measures of a picture.

    Attributes
    ----------
    stays, off, waste
        Fills of the far side, and of what is sawn off: to be used, or not.
    hatching, apart
        Pen of the hatching of waste, and how far its lines are apart along x.
    kerf, narrowest
        Fill of the slot, and the width at which it is seen.
    outline
        Pen round the piece.
    rail, rail_beside
        Pen of the rail's edge, and how far beside the slot it is drawn.
    dashes
        Of the same line at the table saw, which has no rail.
    beyond
        How far that line reaches over the piece at both ends.
    mark
        Pen of the V.
    mark_at
        How far it stands from the corner, on an edge along x and on one along y.
    mark_half, mark_tall
        Half its width, and its height.
    mark_strays
        Whether it stands so far down even where a piece is narrower.
    grain
        Pen of the grain, if that is drawn.
    bad, bad_fill
        Pen and half-clear fill of bad places, if these are drawn.
    """

    stays: str
    off: str
    waste: str
    hatching: ink.Pen
    apart: float
    kerf: str
    narrowest: float = 0.0
    outline: ink.Pen
    rail: ink.Pen
    rail_beside: float = 0.0
    dashes: tuple[float, ...]
    beyond: float
    mark: ink.Pen
    mark_at: tuple[float, float]
    mark_half: float
    mark_tall: float
    mark_strays: bool = False
    grain: ink.Pen | None = None
    bad: ink.Pen | None = None
    bad_fill: str = ""


class CutPicture:
    """One cut to scale in the middle of a frame."""

    def __init__(self, told: Instruction, frame: ink.Spread, look: CutLook) -> None:
        self._told, self._look = told, look
        piece = told.stroke.piece
        self._scale = min(frame.length / max(1, piece.length), frame.width / max(1, piece.width))
        self._x = frame.x + (frame.length - piece.length * self._scale) / 2
        self._y = frame.y + (frame.width - piece.width * self._scale) / 2

    def box(self, rect: Rect) -> ink.Spread:
        """Return where a rectangle of the sheet, in ticks, lies in the picture."""
        x, y = self._spot(rect.x, rect.y)
        return ink.Spread(
            x=x, y=y, length=rect.length * self._scale, width=rect.width * self._scale
        )

    def wood(self) -> Iterator[ink.Item]:
        """Yield the piece and its slot."""
        told, look, stroke = self._told, self._look, self._told.stroke
        yield self.box(stroke.far).plate(fill=look.stays)
        waste = told.near.end in {PieceFate.WASTE, PieceFate.KEEPER}
        yield self.box(stroke.near).plate(fill=look.waste if waste else look.off)
        if waste:
            strokes = hatch(stroke.near, max(1, int(look.apart / self._scale)), crossed=True)
            yield self._strokes(strokes, look.hatching)
        if look.grain is not None:
            lines = grain_in("", stroke.piece, figure(told.sheet, stroke.piece, stroke.sheet.grain))
            shown = [line.points for line in lines[::GRAIN_EVERY]]
            yield self._strokes(shown, look.grain)
        if look.bad is not None:
            yield from self._bad_places(look.bad)
        yield self._slot().plate(fill=look.kerf)
        yield self.box(stroke.piece).plate(pen=look.outline)

    def marks(self) -> Iterator[ink.Item]:
        """Yield what is laid and pencilled on it: the line of the rail, and the V."""
        yield self._rail()
        yield self._face_mark()

    def _bad_places(self, pen: ink.Pen) -> Iterator[ink.Item]:
        """Strike out what parts keep clear of, as on the bench."""
        stroke = self._told.stroke
        for bad in stroke.sheet.no_go:
            if (rect := bad.rect.common(stroke.piece)) is not None:
                box = self.box(rect)
                yield box.plate(fill=self._look.bad_fill, opacity=HALF_CLEAR, pen=pen)
                falling = (box.x, box.y), (box.right, box.bottom)
                rising = (box.x, box.bottom), (box.right, box.y)
                yield ink.Strokes(lines=(falling, rising), pen=pen)

    def _rail(self) -> ink.Item:
        """Draw the line the rail's edge lies on, from edge to edge; dashed at the table saw."""
        slot, look, told = self._slot(), self._look, self._told
        near = (told.rail_side or told.stroke.cut.keep) is Keep.NEAR
        by = -look.rail_beside if near else look.rail_beside
        if told.stroke.axis is Axis.RIP:
            y = (slot.y if near else slot.bottom) + by
            line = (slot.x - look.beyond, y), (slot.right + look.beyond, y)
        else:
            x = (slot.x if near else slot.right) + by
            line = (x, slot.y - look.beyond), (x, slot.bottom + look.beyond)
        pen = look.rail if told.rail_side else replace(look.rail, dashes=look.dashes)
        return ink.Strokes(lines=(line,), pen=pen)

    def _face_mark(self) -> ink.Item:
        """Pencil the V of the face edge, its tip on the edge the size is measured from."""
        look, box = self._look, self.box(self._told.stroke.piece)
        half, tall = look.mark_half, look.mark_tall
        along, down = look.mark_at
        if self._told.stroke.axis is Axis.RIP:
            x, y = box.x + along, box.y
            line = (x - half, y - tall), (x, y), (x + half, y - tall)
        else:
            x, y = box.x, box.y + (down if look.mark_strays else min(down, box.width / 2))
            line = (x - tall, y - half), (x, y), (x - tall, y + half)
        return ink.Strokes(lines=(line,), pen=look.mark)

    def _slot(self) -> ink.Spread:
        """Return the slot, wide enough to be seen."""
        box, least = self.box(self._told.stroke.cut.rect), self._look.narrowest
        if self._told.stroke.axis is Axis.RIP:
            more = max(0.0, least - box.width)
            return replace(box, y=box.y - more / 2, width=box.width + more)
        more = max(0.0, least - box.length)
        return replace(box, x=box.x - more / 2, length=box.length + more)

    def _strokes(self, lines: Iterable[Sequence[ink.Spot]], pen: ink.Pen) -> ink.Strokes:
        """Draw lines of the sheet, in ticks."""
        there = tuple(tuple(self._spot(*spot) for spot in line) for line in lines)
        return ink.Strokes(lines=there, pen=pen)

    def _spot(self, x: float, y: float) -> ink.Spot:
        piece = self._told.stroke.piece
        return self._x + (x - piece.x) * self._scale, self._y + (y - piece.y) * self._scale

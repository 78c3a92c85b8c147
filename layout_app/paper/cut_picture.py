"""The picture of a cut: the piece as it lies, what is sawn off, the slot, what leads the saw.

A rail or straightedge is a band of its true width over the piece, where it lies and as far as it
stands free at both ends; an arrow says where the saw enters, a V which edge sizes are measured
from. With its back up a piece is mirrored: left and right ends change places, and the reference
edge stays at the top.

It is drawn once for all who show it; their `CutLook` says how, in the units of their frame:
millimetres on paper, pixels on a screen.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from layout_app.paper import ink
from shared.drawing.grain import figure, grain_in
from shared.drawing.hatch import hatch
from shared.geometry import Rect
from shared.lengths import Length
from shared.making.entry import led_on
from shared.making.outcome import PieceFate, Side
from shared.making.record import CutRecord, Edge, Way
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import Instruction

GRAIN_EVERY = 3
"""Of so many lines of the grain one is drawn: the picture is small."""
HALF_CLEAR = 170 / 255
"""How much of the wood a bad place hides."""
BAND_CLEAR = 0.22
"""How much of it the rail hides."""
BAND_LINE = 0.35
"""Lines round the rail are so much of the pen of its edge."""
FREE = 0.2
"""A rail is shown so far beyond the piece, in lengths of the cut, and as far as the line at the
table saw; then it is broken off."""
OVER = 0.5
"""The same at right angles, in extents of the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLook:
    """Colours, pens and measures of a picture.

    Attributes
    ----------
    stays, off, waste
        Fills of the far side, of what is sawn off, and of waste and offcuts on either.
    hatching, apart
        Pen of the hatching of waste, and how far its lines are apart along x.
    kerf, narrowest
        Fill of the slot, and the width at which it is seen.
    sliver
        Width at which a side of the cut is seen; a narrower one is drawn so, out from the slot.
    outline
        Pen round the piece.
    rail, rail_beside
        Pen of the edge that leads the saw, and how far beside it that is drawn.
    dashes
        Of the line at the table saw, which has no rail.
    beyond
        How far that line reaches over the piece at both ends, and how long the arrow is.
    mark
        Pen of the V.
    mark_at
        How far it stands from the corner, on an edge along x and on one along y.
    mark_half, mark_tall
        Half its width, and its height.
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
    sliver: float = 0.0
    outline: ink.Pen
    rail: ink.Pen
    rail_beside: float = 0.0
    dashes: tuple[float, ...]
    beyond: float
    mark: ink.Pen
    mark_at: tuple[float, float]
    mark_half: float
    mark_tall: float
    grain: ink.Pen | None = None
    bad: ink.Pen | None = None
    bad_fill: str = ""


class CutPicture:
    """One cut to scale in the middle of a frame."""

    def __init__(self, told: Instruction, frame: ink.Spread, look: CutLook) -> None:
        self._told, self._look = told, look
        piece = told.stroke.piece
        bare = min(frame.length / max(1, piece.length), frame.width / max(1, piece.width))
        self._band = band_of(told.record, int(look.beyond / bare))
        shown = self._shown()
        self._scale = min(frame.length / max(1, shown.length), frame.width / max(1, shown.width))
        self._start = shown.x, shown.y
        self._x = frame.x + (frame.length - shown.length * self._scale) / 2
        self._y = frame.y + (frame.width - shown.width * self._scale) / 2

    def _shown(self) -> ink.Spread:
        """Return what is to be seen of piece and band as they lie, in ticks."""
        piece, band = self._told.stroke.piece, self._band
        x, y, right, bottom = piece.x, piece.y, piece.right, piece.bottom
        if band is not None:
            x, y = min(x, band.rect.x), min(y, band.rect.y)
            right, bottom = max(right, band.rect.right), max(bottom, band.rect.bottom)
        if self._told.record.mirrored:
            x, right = piece.x + piece.right - right, piece.x + piece.right - x
        return ink.Spread(x=x, y=y, length=right - x, width=bottom - y)

    def box(self, rect: Rect) -> ink.Spread:
        """Return where a rectangle of the sheet, in ticks, lies in the picture."""
        one, other = self._spot(rect.x, rect.y), self._spot(rect.right, rect.bottom)
        x = min(one[0], other[0])
        return ink.Spread(x=x, y=one[1], length=abs(other[0] - one[0]), width=other[1] - one[1])

    def wood(self) -> Iterator[ink.Item]:
        """Yield the piece and its slot."""
        told, look, stroke = self._told, self._look, self._told.stroke
        yield from self._side(stroke.far, told.far, look.stays)
        yield from self._side(stroke.near, told.near, look.off)
        if look.grain is not None:
            lines = grain_in("", stroke.piece, figure(told.sheet, stroke.piece, stroke.sheet.grain))
            shown = [line.points for line in lines[::GRAIN_EVERY]]
            yield self._strokes(shown, look.grain)
        if look.bad is not None:
            yield from self._bad_places(look.bad)
        yield self._slot().plate(fill=look.kerf)
        yield self._whole().plate(pen=look.outline)

    def _side(self, rect: Rect, side: Side | None, fill: str) -> Iterator[ink.Item]:
        """Draw one side, hatched as on the bench: an offcut one way, waste crossed."""
        look, end = self._look, None if side is None else side.end
        falls = end in {PieceFate.WASTE, PieceFate.KEEPER}
        yield self._seen(rect).plate(fill=look.waste if falls else fill)
        if falls and rect.area:
            crossed = end is PieceFate.WASTE
            lines = hatch(rect, max(1, int(look.apart / self._scale)), crossed=crossed)
            yield self._strokes(lines, look.hatching)

    def _seen(self, rect: Rect) -> ink.Spread:
        """Return where a side of the cut is drawn, wide enough to be seen."""
        box, slot, rip = self.box(rect), self._slot(), self._told.stroke.axis is Axis.RIP
        more = max(0.0, self._look.sliver - (box.width if rip else box.length))
        if not rect.area or not more:
            return box
        if rip:
            y = box.y - more if box.y < slot.y else box.y
            return replace(box, y=y, width=box.width + more)
        x = box.x - more if box.x < slot.x else box.x
        return replace(box, x=x, length=box.length + more)

    def _whole(self) -> ink.Spread:
        """Return where the piece is drawn, with a sliver as wide as it is seen."""
        stroke = self._told.stroke
        sides = [self._seen(rect) for rect in (stroke.near, stroke.far) if rect.area]
        boxes = [self.box(stroke.piece), *sides]
        x, y = min(box.x for box in boxes), min(box.y for box in boxes)
        right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
        return ink.Spread(x=x, y=y, length=right - x, width=bottom - y)

    def marks(self) -> Iterator[ink.Item]:
        """Yield what is laid and pencilled on it: what leads the saw, where it enters, the V."""
        yield from self._leader() if self._band is None else self._laid(self._band)
        if self._told.record.way in {Way.STRAIGHTEDGE, Way.EDGE_GUIDE}:
            yield self._cut_line()
        yield self._arrow()
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

    def _laid(self, band: "Band") -> Iterator[ink.Item]:
        """Draw a rail or straightedge over the piece; broken off where it stands free further."""
        look, box = self._look, self.box(band.rect)
        thin = replace(look.rail, width=BAND_LINE * look.rail.width)
        yield box.plate(fill=look.rail.colour, opacity=BAND_CLEAR)
        rip = self._told.stroke.axis is Axis.RIP
        sides = (box.y, box.bottom) if rip else (box.x, box.right)
        ends = (box.x, box.right) if rip else (box.y, box.bottom)
        low = self._low(band)
        edge = sides[1] - look.rail_beside if low else sides[0] + look.rail_beside
        yield self._line([(end, edge) for end in ends], look.rail)
        yield self._line([(end, sides[0] if low else sides[1]) for end in ends], thin)
        broken = band.broken[::-1] if self._told.record.mirrored and rip else band.broken
        for end, torn in zip(ends, broken, strict=True):
            yield self._line(_torn(end, sides) if torn else [(end, one) for one in sides], thin)

    def _low(self, band: "Band") -> bool:
        """Whether it lies to the left of its edge in the picture, or above it."""
        turned = self._told.record.mirrored and self._told.stroke.axis is Axis.CROSSCUT
        return band.near is not turned

    def _line(self, spots: Sequence[tuple[float, float]], pen: ink.Pen) -> ink.Strokes:
        """Draw a line through spots, each given along the cut and across it."""
        rip = self._told.stroke.axis is Axis.RIP
        return ink.Strokes(lines=(tuple(spot if rip else spot[::-1] for spot in spots),), pen=pen)

    def _leader(self) -> Iterator[ink.Item]:
        """Draw the line the saw keeps to where nothing is laid, dashed at the table saw.

        An edge guide is drawn along the edge it rides on.
        """
        look, told = self._look, self._told
        slot, box = self._slot(), self.box(told.stroke.piece)
        rip, riding = told.stroke.axis is Axis.RIP, told.record.way is Way.EDGE_GUIDE
        around = box if riding else slot
        start, end = (around.y, around.bottom) if rip else (around.x, around.right)
        turned = told.record.mirrored and not rip
        low = riding or (told.rail_side or told.stroke.cut.keep) is Keep.NEAR
        low = low is not turned
        across = start - look.rail_beside if low else end + look.rail_beside
        first, last = (box.x, box.right) if rip else (box.y, box.bottom)
        more = 0.0 if riding else look.beyond
        dashed = told.record.way is Way.FENCE
        pen = replace(look.rail, dashes=look.dashes) if dashed else look.rail
        yield self._line([(first - more, across), (last + more, across)], pen)

    def _cut_line(self) -> ink.Item:
        """Draw the line itself, from which what leads the saw lies away."""
        slot, record = self._slot(), self._told.record
        rip = record.stroke.axis is Axis.RIP
        near = record.stroke.cut.keep is Keep.NEAR
        low = near is not (record.mirrored and not rip)
        start, end = (slot.y, slot.bottom) if rip else (slot.x, slot.right)
        ends = (slot.x, slot.right) if rip else (slot.y, slot.bottom)
        pen = replace(self._look.rail, width=BAND_LINE * self._look.rail.width)
        return self._line([(one, start if low else end) for one in ends], pen)

    def _arrow(self) -> ink.Item:
        """Point where the saw enters, at the end of the slot."""
        slot, long = self._slot(), self._look.beyond
        half, enters = 0.45 * long, self._told.record.enters
        x, y = slot.x + slot.length / 2, slot.y + slot.width / 2
        tip, back = {
            Edge.LEFT: ((slot.x, y), (-long, 0.0)),
            Edge.RIGHT: ((slot.right, y), (long, 0.0)),
            Edge.REFERENCE: ((x, slot.y), (0.0, -long)),
            Edge.FAR: ((x, slot.bottom), (0.0, long)),
        }[enters]
        across = half * bool(back[1]), half * bool(back[0])
        tail = tip[0] + back[0], tip[1] + back[1]
        corners = [(tail[0] + sign * across[0], tail[1] + sign * across[1]) for sign in (1, -1)]
        return ink.Patch(outlines=((tip, *corners),), fill=self._look.rail.colour)

    def _face_mark(self) -> ink.Item:
        """Pencil the V of the face edge, its tip on the edge the size is measured from."""
        look, box = self._look, self._whole()
        half, tall = look.mark_half, look.mark_tall
        along, down = look.mark_at
        if self._told.stroke.axis is Axis.RIP:
            x, y = box.x + along, box.y
            line = (x - half, y - tall), (x, y), (x + half, y - tall)
            return ink.Strokes(lines=(line,), pen=look.mark)
        mirrored = self._told.record.mirrored
        x, out = (box.right, tall) if mirrored else (box.x, -tall)
        y = box.y + min(down, box.width / 2)
        line = (x + out, y - half), (x, y), (x + out, y + half)
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
        piece, start = self._told.stroke.piece, self._start
        lies = piece.x + piece.right - x if self._told.record.mirrored else x
        return self._x + (lies - start[0]) * self._scale, self._y + (y - start[1]) * self._scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A rail or straightedge as far as it is shown, in ticks in the frame of its sheet.

    ``near`` says that it lies on the side of its edge towards the reference edge or end,
    ``broken`` at which of its ends, the first towards the origin, more of it stands free.
    """

    rect: Rect
    near: bool
    broken: tuple[bool, bool]


def band_of(record: CutRecord, seen: Length = 0) -> Band | None:
    """Return the band of a rail or straightedge; ``None`` where none is laid, or of no width.

    At least ``seen`` ticks of what stands free are shown, where so much does.
    """
    laid, stroke = record.rail, record.stroke
    if laid is None or not laid.width:
        return None
    piece, rip = stroke.piece, stroke.axis is Axis.RIP
    near = led_on(stroke, record.bed) is Keep.NEAR
    first = record.entry in {Edge.LEFT, Edge.REFERENCE}
    runs = (laid.run_up, laid.run_out) if first else (laid.run_out, laid.run_up)
    most = max(int(FREE * stroke.long), seen)
    start, end = (piece.x, piece.right) if rip else (piece.y, piece.bottom)
    start, end = start - min(runs[0], most), end + min(runs[1], most)
    low, high = (piece.y, piece.bottom) if rip else (piece.x, piece.right)
    over = int(OVER * (high - low))
    edge = low + laid.edge_at
    side = max(edge - laid.width, low - over) if near else min(edge + laid.width, high + over)
    low, high = sorted((edge, side))
    rect = (
        Rect(x=start, y=low, length=end - start, width=high - low)
        if rip
        else Rect(x=low, y=start, length=high - low, width=end - start)
    )
    return Band(rect=rect, near=near, broken=(runs[0] > most, runs[1] > most))


def _torn(end: float, sides: tuple[float, float]) -> list[tuple[float, float]]:
    """Return a line across the end of a band that is broken off."""
    low, high = sides
    depth = (high - low) / 8
    steps = [(0.0, 0.0), (0.35, 0.0), (0.45, -1.0), (0.55, 1.0), (0.65, 0.0), (1.0, 0.0)]
    return [(end + by * depth, low + at * (high - low)) for at, by in steps]

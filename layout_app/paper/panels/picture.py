"""The picture of a panel: the piece as it lies, all its cuts, what leads the saw, what comes of it.

A tag stands at the end of each cut where the saw enters. With its back up a piece is mirrored:
left and right ends change places, and the reference edge stays at the top.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import Final

from layout_app.paper import ink
from layout_app.paper.letters import SNUG, width_of
from layout_app.paper.pack.book import TEXT
from layout_app.paper.pack.setting import words
from layout_app.paper.panels.numbering import Entry, SideTags, Spotter, room_for
from layout_app.paper.panels.plotting import Least, Plot, plot
from layout_app.paper.panels.rail_ribbon import Line, depth_of, led_by, led_side
from layout_app.paper.pens import HATCH, OUTLINE
from shared.drawing.hatch import hatch
from shared.drawing.lettering import Fitted, Space, fit
from shared.geometry import Rect
from shared.lengths import LengthStyle
from shared.making.outcome import PieceFate, Side
from shared.making.record import Edge
from shared.shop import Axis
from shared.telling import Instruction
from shared.telling.words import side_name, written

NAMED: Final = 6.0
"""What has a name is drawn at least so wide, in mm, beside what lies on it."""
SEEN: Final = 1.4
"""Waste is drawn at least so wide, in mm."""
WHOLE: Final = 12.0
"""So are pieces, in both directions; what is crosscut has room for names that are turned."""
CROSSED: Final = 15.0
V_HALF, V_TALL = 1.6, 2.6
BESIDE: Final = 3.4
"""Free beside a piece where there are no tags, in mm: room for the V."""
BARE: Final = 1.2
"""Names keep so far from leaders, in mm."""
APART: Final = 2200
"""Lines of hatching are so far apart, in thousandths of a millimetre."""
AXES: Final = (Axis.CROSSCUT, Axis.RIP)
"""The cuts that part a piece along x and along y."""
FALLS: Final = {PieceFate.WASTE, PieceFate.KEEPER}
PARTS: Final = {PieceFate.PART, PieceFate.BLANK, PieceFate.WAITS}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fragment:
    """What comes of the piece: a side of a cut that the panel saws no further, as it lies."""

    told: Instruction
    side: Side
    rect: Rect

    @property
    def named(self) -> bool:
        """Whether it has a name."""
        return self.side.end is not PieceFate.WASTE

    def touches(self, slot: Rect, axis: Axis, side: int) -> bool:
        """Say whether it lies beside a slot, above or left of it with -1, else the other side."""
        if axis is Axis.RIP:
            return self.rect.bottom == slot.y if side < 0 else self.rect.y == slot.bottom
        return self.rect.right == slot.x if side < 0 else self.rect.x == slot.right


class PanelPicture:
    """The piece of a panel with its cuts, in a frame of so many mm across and at most so high.

    ``made`` are the numbers of cuts that are made before, or were told on a page before.
    """

    def __init__(
        self,
        rows: Sequence[Sequence[Instruction]],
        style: LengthStyle,
        room: tuple[float, float],
        made: frozenset[int] = frozenset(),
    ) -> None:
        self._rows, self._style, self._made = rows, style, made
        self._cuts = [one for row in rows for one in row]
        first = self._cuts[0]
        self._piece = first.stroke.piece
        self._mirrored = first.record.mirrored
        self._fragments = list(self._found())
        self._leasts = self._at_least()
        bare = dict.fromkeys(Edge, BESIDE)
        self._plot = self._plotted(bare, room)
        for _ in range(2):  # how deep tags reach depends on the plot, and the plot on that
            self._tags = {edge: self._along(edge, room[0], bare) for edge in Edge}
            bare = {edge: max(BESIDE, self._tags[edge].depth) for edge in Edge}
            self._plot = self._plotted(bare, room)
        self._tags = {edge: self._along(edge, room[0], bare) for edge in Edge}
        self._beside = {edge: max(BESIDE, self._tags[edge].depth) for edge in Edge}
        reach = [self._tags[edge].reach for edge in (Edge.LEFT, Edge.RIGHT)]
        over = -min(low for low, _ in reach), max(high for _, high in reach) - self._plot.y.length
        self._above = max(self._beside[Edge.REFERENCE], over[0])
        below = max(self._beside[Edge.FAR] if self._tags[Edge.FAR].depth else 1.0, over[1])
        self.height = self._above + self._plot.y.length + below
        ends = [self._tags[edge].reach[1] for edge in (Edge.REFERENCE, Edge.FAR)]
        right = max(self._plot.x.length + self._beside[Edge.RIGHT], *ends)
        self.length = self._beside[Edge.LEFT] + right

    # --- what is drawn -----------------------------------------------------------------

    def _lying(self, rect: Rect) -> Rect:
        """Return a rectangle as it lies, from the first corner of the piece."""
        x = self._piece.right - rect.right if self._mirrored else rect.x - self._piece.x
        return replace(rect, x=x, y=rect.y - self._piece.y)

    def _found(self) -> Iterator[_Fragment]:
        sawn = {one.stroke.piece for one in self._cuts[1:]}
        for one in self._cuts:
            for side in (one.record.makes, one.record.left):
                if side is not None and side.rect.area and side.rect not in sawn:
                    yield _Fragment(told=one, side=side, rect=self._lying(side.rect))

    def _at_least(self) -> tuple[list[Least], list[Least]]:
        """Return how wide the piece and its fragments have to be drawn, along x and along y."""
        whole = self._lying(self._piece)
        crossed = any(one.stroke.axis is Axis.CROSSCUT for one in self._cuts)
        leasts = (
            [Least(low=whole.x, high=whole.right, mm=WHOLE)],
            [Least(low=whole.y, high=whole.bottom, mm=CROSSED if crossed else WHOLE)],
        )
        for one in self._fragments:
            sides = (one.rect.x, one.rect.right), (one.rect.y, one.rect.bottom)
            for axis, along, (low, high) in zip(AXES, leasts, sides, strict=True):
                mm = NAMED + self._covered(one, axis) if one.named else SEEN
                along.append(Least(low=low, high=high, mm=mm))
        return leasts

    def _plotted(self, beside: dict[Edge, float], room: tuple[float, float]) -> Plot:
        whole = self._lying(self._piece)
        free = (
            room[0] - beside[Edge.LEFT] - beside[Edge.RIGHT],
            room[1] - beside[Edge.REFERENCE] - beside[Edge.FAR],
        )
        return plot([whole, *(one.rect for one in self._fragments)], self._leasts, free)

    def _covered(self, fragment: _Fragment, axis: Axis) -> float:
        """Return how much of a fragment is below what leads the saw along its edges, in mm."""
        return sum(
            depth_of(one)
            for one in self._cuts
            if one.stroke.axis is axis
            and fragment.touches(self._lying(one.stroke.cut.rect), axis, led_side(one))
        )

    def _along(self, edge: Edge, across: float, beside: dict[Edge, float]) -> SideTags:
        """Place the tags along a side of the piece."""
        entries = [
            self._entry(one, row)
            for row, cuts in enumerate(self._rows)
            for one in cuts
            if one.record.enters is edge
        ]
        if edge in {Edge.LEFT, Edge.RIGHT}:
            high = self._plot.y.length
            over = max(4.0, (room_for(entries) - high) / 2)
            return SideTags(entries, (-over, high + over))
        left = beside[Edge.LEFT]
        return SideTags(entries, (-left, across - left))

    def _crossing(self) -> Iterator[Space]:
        """Yield the room of leaders to cuts that begin inside the outline of the piece."""
        for one in self._cuts:
            entry, spot = self._entry(one, 0), self._spotter(one.record.enters)
            if entry.inside:
                corners = [spot(entry.along - BARE, 0.0), spot(entry.along + BARE, -entry.inside)]
                (x, right), (y, bottom) = (sorted(side) for side in zip(*corners, strict=True))
                yield Space(x=x, y=y, length=right - x, width=bottom - y)

    def _entry(self, one: Instruction, row: int) -> Entry:
        piece, line = self._spread(one.stroke.piece), self._line_at(one)
        inside = {
            Edge.LEFT: piece.x,
            Edge.RIGHT: self._plot.x.length - piece.right,
            Edge.REFERENCE: piece.y,
            Edge.FAR: self._plot.y.length - piece.bottom,
        }[one.record.enters]
        return Entry(
            number=one.number,
            along=line,
            inside=max(0.0, inside),
            bold=one.number not in self._made,
            row=row,
        )

    def _spread(self, rect: Rect) -> ink.Spread:
        """Return where a rectangle of the sheet is drawn, from the first corner of the piece."""
        lying, (x, y) = self._lying(rect), (self._plot.x, self._plot.y)
        left, top = x.at(lying.x), y.at(lying.y)
        return ink.Spread(
            x=left, y=top, length=x.at(lying.right) - left, width=y.at(lying.bottom) - top
        )

    def _line_at(self, one: Instruction) -> float:
        """Return where the line of a cut is drawn: the middle of its slot, across it."""
        slot = self._spread(one.stroke.cut.rect)
        if one.stroke.axis is Axis.RIP:
            return slot.y + slot.width / 2
        return slot.x + slot.length / 2

    # --- drawn -------------------------------------------------------------------------

    def draw(self, x: float, y: float, length: float) -> list[ink.Item]:
        """Draw it with its top left corner there, in the middle of what it has across."""
        del length
        left = x + self._beside[Edge.LEFT]
        return [ink.Group(x=left, y=y + self._above, items=tuple(self._items()))]

    def _items(self) -> Iterator[ink.Item]:
        lines = [self._line(one) for one in self._cuts]
        ribbons = [ribbon for line in lines for ribbon in line.ribbon()]
        for one in self._fragments:
            yield from self._hatched(one)
        yield from (item for item, _ in ribbons)
        frame = self._spread(self._piece)
        yield frame.plate(pen=ink.Pen(width=OUTLINE))
        for line in lines:
            yield from line.drawn()
        taken = [room for _, room in ribbons] + list(self._crossing())
        for one in self._fragments:
            yield from self._name(one, taken)
        for edge in Edge:
            yield from self._tags[edge].items(self._spotter(edge))
        yield from self._marks()

    def _line(self, one: Instruction) -> Line:
        rip = one.stroke.axis is Axis.RIP
        piece = self._spread(one.stroke.piece)
        ends = (piece.x, piece.right) if rip else (piece.y, piece.bottom)
        return led_by(
            one,
            at=self._line_at(one),
            ends=ends,
            ruler=self._plot.y if rip else self._plot.x,
            start=self._lying(one.stroke.piece),
            alone=len(self._cuts) == 1,
            free=self._free_beside(one),
        )

    def _free_beside(self, one: Instruction) -> float:
        """Return how far from a line what leads the saw may reach and leave room for a name."""
        axis, found = one.stroke.axis, 0.0
        for fragment in self._fragments:
            if fragment.touches(self._lying(one.stroke.cut.rect), axis, led_side(one)):
                box = self._spread(fragment.side.rect)
                others = self._covered(fragment, axis) - depth_of(one)
                wide = box.width if axis is Axis.RIP else box.length
                found = max(found, wide - NAMED - others)
        return found

    def _hatched(self, one: _Fragment) -> Iterator[ink.Item]:
        """Hatch as on the bench: an offcut one way, waste crossed."""
        if one.side.end not in FALLS:
            return
        box = self._spread(one.side.rect)
        fine = [int(1000 * of) for of in (box.x, box.y, box.length, box.width)]
        rect = Rect(x=fine[0], y=fine[1], length=fine[2], width=fine[3])
        lines = hatch(rect, APART, crossed=one.side.end is PieceFate.WASTE)
        there = tuple(tuple((x / 1000, y / 1000) for x, y in line) for line in lines)
        yield ink.Strokes(lines=there, pen=ink.Pen(width=HATCH))

    def _name(self, one: _Fragment, taken: Sequence[Space]) -> Iterator[ink.Item]:
        if not one.named:
            return
        found = self._fitted(one, taken)
        if found is None:
            return
        block = found.block
        if one.side.end in FALLS:
            yield ink.Plate(
                x=block.x, y=block.y, length=block.length, width=block.width, fill="#ffffff"
            )
        yield from set_inside(found)

    def _fitted(self, one: _Fragment, taken: Sequence[Space]) -> Fitted | None:
        """Find room for name and size, or for the name; over a ribbon if it must be."""
        box = self._spread(one.side.rect)
        space = Space(x=box.x, y=box.y, length=box.length, width=box.width)
        said = list(self._said(one))
        tries = [*product((taken,), said), ((), said[-1])]
        for obstacles, lines in tries:
            widths = [SNUG[not at] * width_of(text, bold=not at) for at, text in enumerate(lines)]
            found = fit(lines, widths, space, (TEXT,), obstacles, tight=True)
            if found is not None and (len(lines) == 1 or _whole(found, lines)):
                return found
        return None

    def _said(self, one: _Fragment) -> Iterator[tuple[str, ...]]:
        """Yield what may stand in it, the most first."""
        name, rect = side_name(one.told.stroke, one.side), one.side.rect
        size = f"{written(rect.length, self._style)} × {written(rect.width, self._style)}"
        part = one.side.part if one.side.end in PARTS else ""
        if part:
            yield f"{name} {part}", size
            yield name, part, size
            yield (f"{name} {part}",)
            yield name, part
        else:
            yield name, size
        yield (name,)
        if one.side.end is PieceFate.KEEPER:
            yield ("offcut",)

    # --- marks -------------------------------------------------------------------------

    def _spotter(self, edge: Edge) -> Spotter:
        right, bottom = self._plot.x.length, self._plot.y.length
        return {
            Edge.LEFT: Spotter((0.0, 0.0), (0.0, 1.0), (-1.0, 0.0)),
            Edge.RIGHT: Spotter((right, 0.0), (0.0, 1.0), (1.0, 0.0)),
            Edge.REFERENCE: Spotter((0.0, 0.0), (1.0, 0.0), (0.0, -1.0)),
            Edge.FAR: Spotter((0.0, bottom), (1.0, 0.0), (0.0, 1.0)),
        }[edge]

    def _marks(self) -> Iterator[ink.Item]:
        """Pencil the V, its tip on each edge that a size is measured from."""
        for edge in dict.fromkeys(one.record.first_edge for one in self._cuts):
            spot = self._spotter(edge)
            at = self._free(edge)
            line = (spot(at - V_HALF, V_TALL), spot(at, 0.0), spot(at + V_HALF, V_TALL))
            yield ink.Strokes(lines=(line,), pen=ink.Pen(width=OUTLINE))

    def _free(self, edge: Edge) -> float:
        """Return where along a side the V is farthest from arrows, near its first end."""
        rip = edge in {Edge.LEFT, Edge.RIGHT}
        long = (self._plot.y if rip else self._plot.x).length
        lines = [self._line_at(one) for one in self._cuts if one.record.enters is edge]
        ends = sorted((0.0, *lines, long))
        for low, high in pairwise(ends):
            if high - low >= 4 * V_HALF:
                return min((low + high) / 2, low + 3 * V_HALF)
        low, high = max(pairwise(ends), key=lambda gap: gap[1] - gap[0])
        return (low + high) / 2


def _whole(found: Fitted, lines: Sequence[str]) -> bool:
    """Say whether all lines stand there."""
    return all(line in "  ".join(found.lines) for line in lines)


def set_inside(found: Fitted) -> Iterator[ink.Item]:
    """Write what found room, its first line bold, every line in the middle of its block."""
    block, many = found.block, len(found.lines)
    for place, text in enumerate(found.lines):
        share = (place + 0.5) / many
        if found.turned:
            x, y = block.x + share * block.length, block.y + block.width / 2
        else:
            x, y = block.x + block.length / 2, block.y + share * block.width
        line = words(text, x, y, found.size, bold=not place, anchor=ink.Anchor.MIDDLE)
        yield replace(line, turned=found.turned)

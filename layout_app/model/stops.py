"""Where a dragged part can stop: what draws lines on a sheet, and which gaps the saw can use.

Also how far it lies then from its neighbours, and from the trimmed reference corner.

Works in whole ticks in the sheet's frame, so a part that stops lies exactly.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import NamedTuple

from shared.geometry import Rect
from shared.lengths import Length


class Way(StrEnum):
    """Direction along which a position is measured."""

    X = "x"
    Y = "y"

    @property
    def other(self) -> "Way":
        """The direction at right angles."""
        return Way.Y if self is Way.X else Way.X


class LineKind(StrEnum):
    """What a part stops at; ``{}`` stands for the name of another part."""

    HOME = "back in its place"
    SET = "beside {} in its matched set"
    KERF = "a kerf from {}"
    EDGE = "edge of the sheet"
    BAD = "clear of a defect"
    ROOM = "corner of an offcut"
    LINE = "in line with {}"
    EQUAL = "as wide as {}"
    RUNNING = "in line with a cut"
    AWAY = "in line with a cut of another sheet"


class Stop(NamedTuple):
    """A position of the edge nearer the origin, and what is there.

    Attributes
    ----------
    at
        The position in ticks.
    kind
        What stops there.
    by
        The part, defect or offcut that does; ``None`` for edges and cuts.
    line
        Where its line is drawn.
    """

    at: Length
    kind: LineKind
    by: Rect | None
    line: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class SnapGround:
    """What there is to snap to on a sheet.

    Attributes
    ----------
    usable
        The sheet less its trims.
    others
        Where all other parts lie.
    kerf
        Width of the slot in ticks.
    step
        Positions that snap to nothing are rounded to this from the usable corner.
    bad
        Bad places that the part keeps clear of; it may touch them.
    rooms
        Pieces that the cuts of the sheet leave free.
    running_x, running_y
        Where first cuts of this sheet run across and along: their keep sides, in ticks.
    away_x, away_y
        Where first cuts of other sheets run, as seen from this sheet's corner.
    table_kerf, before, behind
        The slot of the table saw, and the parts before and behind which it lies along y.
    """

    usable: Rect
    others: tuple[Rect, ...]
    kerf: Length
    step: Length = 1
    bad: tuple[Rect, ...] = ()
    rooms: tuple[Rect, ...] = ()
    running_x: tuple[Length, ...] = ()
    running_y: tuple[Length, ...] = ()
    away_x: tuple[Length, ...] = ()
    away_y: tuple[Length, ...] = ()
    table_kerf: Length = 0
    before: frozenset[Rect] = frozenset()
    behind: frozenset[Rect] = frozenset()

    def kerf_before(self, other: Rect, way: Way) -> Length:
        """Return the width of the slot before another part, in ticks."""
        return self.table_kerf if way is Way.Y and other in self.before else self.kerf

    def kerf_behind(self, other: Rect, way: Way) -> Length:
        """Return the width of the slot behind another part, in ticks."""
        return self.table_kerf if way is Way.Y and other in self.behind else self.kerf

    def running(self, way: Way) -> tuple[Length, ...]:
        """Return the running positions of this sheet in a direction."""
        return self.running_x if way is Way.X else self.running_y

    def away(self, way: Way) -> tuple[Length, ...]:
        """Return the running positions of other sheets in a direction."""
        return self.away_x if way is Way.X else self.away_y


def low(rect: Rect, way: Way) -> Length:
    """Return the edge nearer the origin."""
    return rect.x if way is Way.X else rect.y


def high(rect: Rect, way: Way) -> Length:
    """Return the edge away from the origin."""
    return rect.right if way is Way.X else rect.bottom


def size(rect: Rect, way: Way) -> Length:
    """Return the extent in a direction."""
    return rect.length if way is Way.X else rect.width


def moved(rect: Rect, way: Way, position: Length) -> Rect:
    """Return the rectangle at another position in one direction."""
    return replace(rect, x=position) if way is Way.X else replace(rect, y=position)


def stretched(rect: Rect, way: Way, start: Length, end: Length) -> Rect:
    """Return the rectangle with other edges in one direction."""
    if way is Way.X:
        return replace(rect, x=start, length=end - start)
    return replace(rect, y=start, width=end - start)


def stops(rect: Rect, ground: SnapGround, way: Way) -> Iterator[Stop]:
    """Yield all positions there are to stop at in one direction, some of them more than once."""
    extent, kerf, kinds = size(rect, way), ground.kerf, LineKind
    near, far = low(ground.usable, way), high(ground.usable, way)
    yield Stop(near, kinds.EDGE, None, near)
    yield Stop(far - extent, kinds.EDGE, None, far)
    for other in ground.others:
        start, end = low(other, way), high(other, way)
        after, until = end + ground.kerf_behind(other, way), start - ground.kerf_before(other, way)
        yield Stop(after, kinds.KERF, other, after)
        yield Stop(until - extent, kinds.KERF, other, until)
        yield Stop(start, kinds.LINE, other, start)
        yield Stop(end - extent, kinds.LINE, other, end)
    for places, kind in ((ground.bad, kinds.BAD), (ground.rooms, kinds.ROOM)):
        for one in places:
            first, last = low(one, way), high(one, way)
            begins, ends_at = (last, first) if kind is kinds.BAD else (first, last)
            yield Stop(begins, kind, one, begins)
            yield Stop(ends_at - extent, kind, one, ends_at)
    for cuts, kind in ((ground.running(way), kinds.RUNNING), (ground.away(way), kinds.AWAY)):
        for at in cuts:
            yield Stop(at - extent, kind, None, at)
            yield Stop(at + kerf, kind, None, at + kerf)


def equal_stops(rect: Rect, ground: SnapGround, way: Way) -> Iterator[Stop]:
    """Yield positions at which the far edge makes a strip as wide as another part.

    The strip begins at the edge of the sheet, or a kerf behind what lies beside the part.
    """
    start, extent = _start(rect, ground, way), size(rect, way)
    room = high(ground.usable, way) - start
    for other in ground.others:
        if extent < size(other, way) <= room:
            end = start + size(other, way)
            yield Stop(end - extent, LineKind.EQUAL, other, end)


def _start(rect: Rect, ground: SnapGround, way: Way) -> Length:
    """Return where the strip begins that the part lies in."""
    middle = low(rect, way) + size(rect, way) // 2
    ends = [
        high(other, way) + ground.kerf_behind(other, way)
        for other in beside(rect, ground.others, way)
        if high(other, way) <= middle
    ]
    return max(ends, default=low(ground.usable, way))


def ends(rect: Rect, ground: SnapGround, way: Way, *, far: bool) -> Iterator[Length]:
    """Yield where an edge can stop: sheet, bad places, a kerf off or in line with others, equal.

    ``far``: the edge away from the origin; the other edge stays.
    """
    start, end = low(rect, way), high(rect, way)
    yield from lines(ground, way, far=far)
    for other in ground.others:
        yield start + size(other, way) if far else end - size(other, way)


def lines(ground: SnapGround, way: Way, *, far: bool) -> Iterator[Length]:
    """Yield where a far or near edge can stop, wherever the edge across is."""
    yield high(ground.usable, way) if far else low(ground.usable, way)
    for other in ground.others:
        yield (
            low(other, way) - ground.kerf_before(other, way)
            if far
            else high(other, way) + ground.kerf_behind(other, way)
        )
        yield high(other, way) if far else low(other, way)
    for bad in ground.bad:
        yield low(bad, way) if far else high(bad, way)
    for at in (*ground.running(way), *ground.away(way)):
        yield at if far else at + ground.kerf


def is_good(rect: Rect, ground: SnapGround, way: Way) -> bool:
    """Say whether every gap is none at all, one kerf, or two and more."""
    edge, kerf = ground.usable, ground.kerf
    at_edges = (low(rect, way) - low(edge, way), high(edge, way) - high(rect, way))
    if any(0 < gap < 2 * kerf for gap in at_edges):
        return False
    return all(gap < 0 or gap == slot or gap >= 2 * slot for gap, slot in _gaps(rect, ground, way))


def beside(rect: Rect, others: tuple[Rect, ...], way: Way) -> Iterator[Rect]:
    """Yield what lies beside a rectangle: on the same height, if the direction is x."""
    across = way.other
    start, end = low(rect, across), high(rect, across)
    for other in others:
        if low(other, across) < end and start < high(other, across):
            yield other


def _gaps(rect: Rect, ground: SnapGround, way: Way) -> Iterator[tuple[Length, Length]]:
    """Yield the gaps to what lies beside the rectangle, each with the slot that runs there.

    A gap is negative where the two overlap.
    """
    for other in beside(rect, ground.others, way):
        ahead, after = low(other, way) - high(rect, way), low(rect, way) - high(other, way)
        if ahead > after:
            yield ahead, ground.kerf_before(other, way)
        else:
            yield after, ground.kerf_behind(other, way)


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance:
    """A distance in one direction, in ticks of the sheet's frame.

    Attributes
    ----------
    way
        The direction that it is measured in.
    start, end
        From where to where.
    across
        Where it is measured in the other direction.
    running
        Whether it is a running position, measured from the trimmed edge.
    """

    way: Way
    start: Length
    end: Length
    across: Length
    running: bool = False

    @property
    def length(self) -> Length:
        """How long it is."""
        return self.end - self.start


def gaps(rect: Rect, ground: SnapGround) -> tuple[Distance, ...]:
    """Return the gaps to the nearest neighbour or edge each way; none where nothing is left."""
    found = (gap for way in Way for gap in _both(rect, ground, way))
    return tuple(gap for gap in found if gap.length > 0)


def running(rect: Rect, ground: SnapGround) -> tuple[Distance, ...]:
    """Return x and y of the corner as running positions; none of a corner off the sheet."""
    found = tuple(
        Distance(
            way=way,
            start=low(ground.usable, way),
            end=low(rect, way),
            across=low(rect, way.other),
            running=True,
        )
        for way in Way
    )
    return found if all(one.length >= 0 for one in found) else ()


def _both(rect: Rect, ground: SnapGround, way: Way) -> Iterator[Distance]:
    """Yield the gap before and the gap behind, in one direction."""
    near = tuple(beside(rect, ground.others, way))
    start, end = low(rect, way), high(rect, way)
    if all(high(one, way) <= start or low(one, way) >= end for one in near):
        before = max(
            (o for o in near if high(o, way) <= start), key=lambda o: high(o, way), default=None
        )
        behind = min(
            (o for o in near if low(o, way) >= end), key=lambda o: low(o, way), default=None
        )
        edges = low(ground.usable, way), high(ground.usable, way)
        yield _gap(rect, before, way, edges[0] if before is None else high(before, way), start)
        yield _gap(rect, behind, way, end, edges[1] if behind is None else low(behind, way))


def _gap(rect: Rect, other: Rect | None, way: Way, start: Length, end: Length) -> Distance:
    """Return a gap, measured in the middle of what the two share."""
    across, other = way.other, other or rect
    first = max(low(rect, across), low(other, across))
    last = min(low(rect, across) + size(rect, across), high(other, across))
    return Distance(way=way, start=start, end=end, across=(first + last) // 2)

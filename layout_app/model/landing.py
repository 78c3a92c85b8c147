"""Where parts in the hand could come to lie on a sheet: free places, the best first.

A place is a stop along x together with one along y, or the nearest whole step where nothing
stops. What a stop is worth depends on both: a kerf counts beside the part that it is kept to.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heapreplace
from typing import NamedTuple

from layout_app.model.stops import (
    LineKind,
    SnapGround,
    Stop,
    Way,
    equal_stops,
    high,
    is_good,
    low,
    moved,
    size,
    stops,
)
from shared.geometry import Rect
from shared.lengths import Length

PARTS = 12
"""Of how many parts the reach is made; a stop gives up so many of them before another."""
BEHIND = {
    LineKind.KERF: 0,
    LineKind.ROOM: 0,
    LineKind.EDGE: 1,
    LineKind.BAD: 1,
    LineKind.LINE: 4,
    LineKind.EQUAL: 4,
    LineKind.RUNNING: 4,
    LineKind.AWAY: 8,
}
"""How much nearer a kind of stop has to be to go before a kerf to a neighbour."""
FAR_LINE, FREE, WASTEFUL = 2, 18, 6
"""The same for a line with a part that is not next to it, for no stop, for a gap that is dust."""
FAR_SIDE = 2
"""The same for what stops the edge away from the reference corner, from where makers measure."""
AWAY_REACH = 8
"""How far cuts of other sheets are felt: of the `PARTS` of the reach."""
TIGHT, LOOSE = 3, 24
"""Up to where a stop keeps a part to what is there; the same for a place not kept so both ways."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """A line that parts stopped at: x or y is ``at``; what draws it, and which part if one does."""

    way: Way
    at: Length
    kind: LineKind = LineKind.LINE
    by: Rect | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapped:
    """Where parts come to lie, the lines they stopped at, and whether they are back in place."""

    rect: Rect
    guides: tuple[Guide, ...] = ()
    home: bool = False


def frame_of(rects: Iterable[Rect]) -> Rect:
    """Return the smallest rectangle around some; ValueError if there are none."""
    some = tuple(rects)
    x, y = min(one.x for one in some), min(one.y for one in some)
    right, bottom = max(one.right for one in some), max(one.bottom for one in some)
    return Rect(x=x, y=y, length=right - x, width=bottom - y)


def kept_inside(frame: Rect, usable: Rect) -> Rect:
    """Return a rectangle moved onto the sheet, unless more than half of it is pulled off."""
    for way in Way:
        before, behind = low(usable, way) - low(frame, way), high(frame, way) - high(usable, way)
        if size(frame, way) <= size(usable, way) and 0 < 2 * max(before, behind) <= size(
            frame, way
        ):
            by = before if before > 0 else -behind
            frame = moved(frame, way, low(frame, way) + by)
    return frame


def rounded(frame: Rect, ground: SnapGround) -> Rect:
    """Return a rectangle on whole steps from the usable corner."""
    for way in Way:
        frame = moved(frame, way, _rounded(frame, ground, way))
    return frame


class _Spot(NamedTuple):
    """A position in one direction, how far it is away, what stops there, and at least behind."""

    at: Length
    away: Length
    stops: tuple[Stop, ...]
    behind: int


class _Bar(NamedTuple):
    """Between these positions, themselves free, the corner of the frame may not lie."""

    left: Length
    right: Length
    top: Length
    bottom: Length

    def is_about(self, frame: Rect, within: Length) -> bool:
        """Say whether it bars any corner so near that of a frame."""
        return (
            self.left < frame.x + within
            and frame.x - within < self.right
            and self.top < frame.y + within
            and frame.y - within < self.bottom
        )

    def is_all_about(self, frame: Rect, within: Length) -> bool:
        """Say whether it bars every corner so near."""
        return (
            self.left < frame.x - within
            and frame.x + within < self.right
            and self.top < frame.y - within
            and frame.y + within < self.bottom
        )


class Field:
    """Where a block of parts could lie on a sheet: its stops, and what bars it from where.

    Parameters
    ----------
    frame
        The rectangle round all parts, wherever they are held.
    ground
        What there is to stop at.
    pieces
        The parts in the frame, if it is not one part itself.
    """

    def __init__(self, frame: Rect, ground: SnapGround, pieces: Sequence[Rect] = ()) -> None:
        self._ground, self._length, self._width = ground, frame.length, frame.width
        self._pieces = [(one.x - frame.x, one.y - frame.y, one) for one in pieces or (frame,)]
        self._stops = {way: sorted(stops(frame, ground, way), key=_at) for way in Way}
        kerf = ground.kerf
        self._bars = [
            *(bar for other in ground.others for bar in self._barred(other, kerf)),
            *(bar for bad in ground.bad for bar in self._barred(bad, 0)),
        ]

    def landings(self, frame: Rect, reach: Length, home: Rect | None = None) -> Iterator[Snapped]:
        """Yield the places within ``reach`` ticks of a frame that are free, the best first.

        Each way the distance counts, and `BEHIND` for what stops there. Where parts were taken
        from, ``home``, goes before all else. Without reach only gaps that are dust are left.
        """
        frame = kept_inside(frame, self._ground.usable)
        if home is not None and is_within(home, frame, reach) and self.is_free(home):
            yield Snapped(rect=home, home=True)
        yield from self._best_first(frame, reach)

    def corners(self) -> Iterator[Snapped]:
        """Yield the free places of the whole sheet that touch something both ways."""
        xs, ys = (self._touching(way) for way in Way)
        for x, y in self._free_pairs(xs, ys, self._bars):
            found = self._landed(x, y)
            if len(found.guides) == 2 and {one.kind for one in found.guides} <= _TOUCHING:
                yield found

    def is_free(self, frame: Rect) -> bool:
        """Say whether all lie on the sheet, a kerf from others and clear of bad places there."""
        x, y = frame.x, frame.y
        on_sheet = all(self._may_be(way, low(frame, way)) for way in Way)
        return on_sheet and not any(
            bar.left < x < bar.right and bar.top < y < bar.bottom for bar in self._bars
        )

    def is_good(self, frame: Rect, way: Way) -> bool:
        """Say whether no gap in one direction is dust with the frame there."""
        pieces = (
            Rect(x=frame.x + dx, y=frame.y + dy, length=one.length, width=one.width)
            for dx, dy, one in self._pieces
        )
        return all(is_good(one, self._ground, way) for one in pieces)

    def _barred(self, other: Rect, kerf: Length) -> Iterator[_Bar]:
        """Yield between what corners of the frame a part would lie on another or too near it."""
        for dx, dy, one in self._pieces:
            yield _Bar(
                other.x - kerf - one.length - dx,
                other.right + kerf - dx,
                other.y - kerf - one.width - dy,
                other.bottom + kerf - dy,
            )

    def _may_be(self, way: Way, at: Length) -> bool:
        """Say whether the frame is on the sheet there, and not too near its edge for the kerf."""
        start = low(self._ground.usable, way)
        last = high(self._ground.usable, way) - self._extent(way)
        return start <= at <= last and not 0 < at - start < self._ground.kerf

    def _extent(self, way: Way) -> Length:
        return self._length if way is Way.X else self._width

    def _best_first(self, frame: Rect, reach: Length) -> Iterator[Snapped]:
        """Yield free places about a frame: what one is worth is found out as it comes up."""
        within = reach or 2 * self._ground.kerf
        near = [bar for bar in self._bars if bar.is_about(frame, within)]
        if any(bar.is_all_about(frame, within) for bar in near):
            return
        xs, ys = (self._spots(frame, way, reach) for way in Way)
        heap = [
            (x.away + y.away + within * (x.behind + y.behind) // PARTS, False, number, x, y)
            for number, (x, y) in enumerate(self._free_pairs(xs, ys, near))
        ]
        heapify(heap)
        while heap:
            _, exact, number, x, y = heap[0]
            worth = None if exact else self._worth(x, y, reach)
            if worth is not None:
                heapreplace(heap, (worth, True, number, x, y))
                continue
            heappop(heap)
            if exact:
                yield self._landed(x, y)

    def _free_pairs(
        self, xs: Sequence[_Spot], ys: Sequence[_Spot], bars: Sequence[_Bar]
    ) -> Iterator[tuple[_Spot, _Spot]]:
        """Yield the pairs of positions that no bar is in the way of."""
        xs = sorted(xs, key=lambda one: one.at)
        places = [x.at for x in xs]
        for y in ys:
            barred = bytearray(len(xs))
            for bar in bars:
                if bar.top < y.at < bar.bottom:
                    first, last = bisect_right(places, bar.left), bisect_left(places, bar.right)
                    barred[first:last] = b"\1" * (last - first)
            yield from ((x, y) for x, bad in zip(xs, barred, strict=True) if not bad)

    def _spots(self, frame: Rect, way: Way, reach: Length) -> list[_Spot]:
        """Return the positions within reach in one direction, and the nearest whole step."""
        here, ground, some = low(frame, way), self._ground, self._stops[way]
        within = reach or 2 * ground.kerf
        first = bisect_left(some, here - within, key=_at)
        last = bisect_right(some, here + within, key=_at)
        near = (
            one
            for one in some[first:last]
            if one.kind is not LineKind.AWAY or PARTS * abs(one.at - here) <= AWAY_REACH * within
        )
        equal = (one for one in equal_stops(frame, ground, way) if abs(one.at - here) <= within)
        spots = self._grouped(way, here, (*near, *equal))
        if not reach:
            spots = [one for one in spots if any(stop.kind in _TIGHT for stop in one.stops)]
        free = _rounded(frame, ground, way)
        if self._may_be(way, free) and all(one.at != free for one in spots):
            spots.append(_Spot(free, abs(free - here), (), FREE if reach else 0))
        return spots

    def _touching(self, way: Way) -> list[_Spot]:
        return self._grouped(way, 0, (one for one in self._stops[way] if one.kind in _TOUCHING))

    def _grouped(self, way: Way, here: Length, some: Iterable[Stop]) -> list[_Spot]:
        found: dict[Length, list[Stop]] = {}
        for stop in some:
            found.setdefault(stop.at, []).append(stop)
        return [
            _Spot(at, abs(at - here), tuple(at_it), min(BEHIND[one.kind] for one in at_it))
            for at, at_it in found.items()
            if self._may_be(way, at)
        ]

    def _at(self, x: _Spot, y: _Spot) -> Rect:
        return Rect(x=x.at, y=y.at, length=self._length, width=self._width)

    def _worth(self, x: _Spot, y: _Spot, reach: Length) -> Length | None:
        """Return how far a free place is behind the best; ``None`` if nothing stops it there."""
        frame, behinds = self._at(x, y), []
        for way, spot in zip(Way, (x, y), strict=True):
            behind = min((one for one, _ in self._holding(frame, way, spot)), default=None)
            if spot.stops and behind is None:
                return None
            behinds.append(spot.behind if behind is None else behind)
        dusty = sum(not self.is_good(frame, way) for way in Way)
        behind = sum(behinds) + dusty * (WASTEFUL if reach else 2 * PARTS)
        if reach and max(behinds) > TIGHT:
            behind += LOOSE
        return x.away + y.away + (reach or 2 * self._ground.kerf) * behind // PARTS

    def _holding(self, frame: Rect, way: Way, spot: _Spot) -> Iterator[tuple[int, Stop]]:
        """Yield the stops that hold the frame there, each with how far it is behind."""
        for stop in spot.stops:
            held = _held(frame, way, stop, self._ground.kerf)
            if held is not None:
                yield held

    def _landed(self, x: _Spot, y: _Spot) -> Snapped:
        frame, guides = self._at(x, y), []
        for way, spot in zip(Way, (x, y), strict=True):
            some = self._holding(frame, way, spot)
            stop = min((one for _, one in some), key=_telling, default=None)
            if stop is not None:
                guides.append(Guide(way=way, at=stop.line, kind=stop.kind, by=stop.by))
        return Snapped(rect=frame, guides=tuple(guides))


_TIGHT = {LineKind.KERF, LineKind.EDGE}
"""What a part goes to when it is held free of snapping and would leave dust."""
_TOUCHING = {LineKind.KERF, LineKind.EDGE, LineKind.ROOM, LineKind.BAD}
_TOLD = tuple(LineKind)


def _at(stop: Stop) -> Length:
    return stop.at


def _telling(stop: Stop) -> int:
    """Return how early what stops there is told: as the kinds stand in their list."""
    return _TOLD.index(stop.kind)


def _held(frame: Rect, way: Way, stop: Stop, kerf: Length) -> tuple[int, Stop] | None:
    """Return how far a stop is behind with the frame there, and as what it counts."""
    across, by = way.other, stop.by
    behind = BEHIND[stop.kind] + (FAR_SIDE if stop.at != stop.line else 0)
    if by is None or stop.kind is LineKind.EQUAL:
        return behind, stop
    if stop.kind is LineKind.ROOM:
        return (behind, stop) if by.contains(frame) else None
    gap = max(low(by, across) - high(frame, across), low(frame, across) - high(by, across))
    if stop.kind is LineKind.LINE:
        return (behind if gap <= kerf else behind + FAR_LINE), stop
    if gap < 0:
        return behind, stop
    if stop.kind is LineKind.BAD:
        return None
    return behind + BEHIND[LineKind.RUNNING], stop._replace(kind=LineKind.RUNNING, by=None)


def _rounded(frame: Rect, ground: SnapGround, way: Way) -> Length:
    """Return the nearest position on a whole step; not off the sheet if the frame is not."""
    start, here = low(ground.usable, way), low(frame, way)
    at = start + round((here - start) / ground.step) * ground.step
    last = high(ground.usable, way) - size(frame, way)
    return last if here <= last < at else at


def is_within(one: Rect, other: Rect, reach: Length) -> bool:
    """Say whether one rectangle lies so near another, each way by itself."""
    return abs(one.x - other.x) <= reach and abs(one.y - other.y) <= reach

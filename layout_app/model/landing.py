"""Where parts in the hand could come to lie on a sheet: free places, the best first.

A place is a stop along x together with one along y, or the nearest whole step where nothing
stops. What a stop is worth depends on both: a kerf counts beside the part that it is kept to.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heapreplace
from itertools import product
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
    LineKind.LINE: 2,
    LineKind.EQUAL: 3,
    LineKind.RUNNING: 4,
    LineKind.AWAY: 8,
}
"""How much nearer a kind of stop has to be to go before a kerf to a neighbour."""
FAR_LINE, FREE, WASTEFUL = 4, 16, 6
"""The same for a line with a part that is not next to it, for no stop, for a gap that is dust."""
TIGHT, LOOSE = 1, 24
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


class Block:
    """What moves as one: a frame, and the rectangles in it; the frame itself if there are none."""

    def __init__(self, frame: Rect, pieces: Sequence[Rect] = ()) -> None:
        self.frame = frame
        self._pieces = [(one.x - frame.x, one.y - frame.y, one) for one in pieces or (frame,)]

    def at(self, x: Length, y: Length) -> Iterator[Rect]:
        """Yield the rectangles with the corner of the frame at a place."""
        for dx, dy, one in self._pieces:
            yield Rect(x=x + dx, y=y + dy, length=one.length, width=one.width)

    def is_good_at(self, ground: SnapGround, way: Way, frame: Rect) -> bool:
        """Say whether no gap in one direction is dust with the frame there."""
        return all(is_good(one, ground, way) for one in self.at(frame.x, frame.y))

    def is_clear(self, ground: SnapGround, frame: Rect, near: Iterable[Rect]) -> bool:
        """Say whether it lies on the sheet, a kerf from others and clear of bad places."""
        if not ground.usable.contains(frame) or _in_kerf(frame, ground):
            return False
        pieces = tuple(self.at(frame.x, frame.y))
        kerf = ground.kerf
        return not any(
            one.x < other.right + kerf
            and other.x < one.right + kerf
            and one.y < other.bottom + kerf
            and other.y < one.bottom + kerf
            for one, other in product(pieces, near)
        ) and not any(one.overlaps(bad) for one, bad in product(pieces, ground.bad))


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


def landings(
    block: Block, ground: SnapGround, reach: Length, home: Rect | None = None
) -> Iterator[Snapped]:
    """Yield the places within ``reach`` ticks that are free, the best first.

    Each way the distance counts, and `BEHIND` for what stops there. Where parts were taken
    from, ``home``, goes before all else. Without reach only gaps that are dust are left.
    """
    frame = kept_inside(block.frame, ground.usable)
    if (
        home is not None
        and _within(home, frame, reach)
        and block.is_clear(ground, home, ground.others)
    ):
        yield Snapped(rect=home, home=True)
    yield from _Nearby(block, frame, ground, reach).best_first()


def corners(block: Block, ground: SnapGround) -> Iterator[Snapped]:
    """Yield the free places of a whole sheet that touch something both ways, in no order."""
    everywhere = max(ground.usable.length, ground.usable.width)
    found = _Nearby(block, block.frame, ground, everywhere)
    return found.corners()


class _Spot(NamedTuple):
    """A position in one direction, how far it is away, what stops there, and at least behind."""

    at: Length
    away: Length
    stops: tuple[Stop, ...]
    behind: int


class _Nearby:
    """What there is to stop at about a frame."""

    def __init__(self, block: Block, frame: Rect, ground: SnapGround, reach: Length) -> None:
        self._block, self._frame, self._ground, self._reach = block, frame, ground, reach
        self._within = reach or 2 * ground.kerf
        self._others = tuple(
            other for other in ground.others if _about(frame, other, self._within + ground.kerf)
        )

    def best_first(self) -> Iterator[Snapped]:
        """Yield free places, the best first: what a place is worth is found out as it comes up."""
        pairs = product(self._spots(Way.X), self._spots(Way.Y))
        heap = [
            (self._least(x) + self._least(y), x.away + y.away, False, number, x, y)
            for number, (x, y) in enumerate(pairs)
        ]
        heapify(heap)
        while heap:
            _, away, exact, number, x, y = heap[0]
            worth = None if exact else self._worth(x, y)
            if worth is not None:
                heapreplace(heap, (worth, away, True, number, x, y))
                continue
            heappop(heap)
            if exact:
                yield self._landed(x, y)

    def corners(self) -> Iterator[Snapped]:
        """Yield the free places that touch something both ways."""
        touching = {LineKind.KERF, LineKind.EDGE, LineKind.ROOM, LineKind.BAD}
        xs, ys = (
            [spot for spot in self._spots(way) if any(one.kind in touching for one in spot.stops)]
            for way in Way
        )
        for y, x in product(ys, xs):
            frame = self._at(x, y)
            if self._block.is_clear(self._ground, frame, self._others):
                found = self._landed(x, y)
                if len(found.guides) == 2 and {one.kind for one in found.guides} <= touching:
                    yield found

    def _spots(self, way: Way) -> list[_Spot]:
        here, frame, ground = low(self._frame, way), self._frame, self._ground
        found: dict[Length, list[Stop]] = {}
        for stop in (*stops(frame, ground, way), *equal_stops(frame, ground, way)):
            if abs(stop.at - here) <= self._within and (self._reach or stop.kind in _TIGHT):
                found.setdefault(stop.at, []).append(stop)
        spots = [
            _Spot(at, abs(at - here), tuple(some), min(BEHIND[one.kind] for one in some))
            for at, some in found.items()
        ]
        free = _rounded(frame, ground, way)
        return [*spots, _Spot(free, abs(free - here), (), FREE if self._reach else 0)]

    def _least(self, spot: _Spot) -> Length:
        return spot.away + self._within * spot.behind // PARTS

    def _at(self, x: _Spot, y: _Spot) -> Rect:
        frame = self._frame
        return Rect(x=x.at, y=y.at, length=frame.length, width=frame.width)

    def _worth(self, x: _Spot, y: _Spot) -> Length | None:
        """Return how far a place is behind the best; ``None`` if it is taken, or no stop at all."""
        frame = self._at(x, y)
        if not self._block.is_clear(self._ground, frame, self._others):
            return None
        behinds = []
        for way, spot in zip(Way, (x, y), strict=True):
            behind = min((one for one, _ in self._holding(frame, way, spot)), default=None)
            if spot.stops and behind is None:
                return None
            behinds.append(spot.behind if behind is None else behind)
        dusty = sum(not self._block.is_good_at(self._ground, way, frame) for way in Way)
        behind = sum(behinds) + dusty * (WASTEFUL if self._reach else 2 * PARTS)
        if self._reach and max(behinds) > TIGHT:
            behind += LOOSE
        return x.away + y.away + self._within * behind // PARTS

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
_TOLD = tuple(LineKind)


def _telling(stop: Stop) -> int:
    """Return how early what stops there is told: as the kinds stand in their list."""
    return _TOLD.index(stop.kind)


def _held(frame: Rect, way: Way, stop: Stop, kerf: Length) -> tuple[int, Stop] | None:
    """Return how far a stop is behind with the frame there, and as what it counts."""
    across, by = way.other, stop.by
    behind = BEHIND[stop.kind]
    if by is None or stop.kind is LineKind.EQUAL:
        return behind, stop
    if stop.kind is LineKind.ROOM:
        return (behind, stop) if by.contains(frame) else None
    gap = max(low(by, across) - high(frame, across), low(frame, across) - high(by, across))
    if stop.kind is LineKind.LINE:
        return (behind if gap <= kerf else FAR_LINE), stop
    if gap < 0:
        return behind, stop
    if stop.kind is LineKind.BAD:
        return None
    return BEHIND[LineKind.RUNNING], stop._replace(kind=LineKind.RUNNING, by=None)


def _rounded(frame: Rect, ground: SnapGround, way: Way) -> Length:
    """Return the nearest position on a whole step; not off the sheet if the frame is not."""
    start, here = low(ground.usable, way), low(frame, way)
    at = start + round((here - start) / ground.step) * ground.step
    last = high(ground.usable, way) - size(frame, way)
    return here if here <= last < at else at


def _in_kerf(frame: Rect, ground: SnapGround) -> bool:
    """Say whether it is nearer to the reference corner than a cut can be."""
    return any(0 < low(frame, way) - low(ground.usable, way) < ground.kerf for way in Way)


def _within(one: Rect, other: Rect, reach: Length) -> bool:
    return abs(one.x - other.x) <= reach and abs(one.y - other.y) <= reach


def _about(frame: Rect, other: Rect, margin: Length) -> bool:
    """Say whether two rectangles are no farther from each other than that, each way."""
    return (
        frame.x - margin < other.right
        and other.x < frame.right + margin
        and frame.y - margin < other.bottom
        and other.y < frame.bottom + margin
    )

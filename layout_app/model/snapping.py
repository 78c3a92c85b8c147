"""Parts in the hand go to the nearest good stop: sheet edges, kerf distance, lines, equal widths.

What snaps is never left with a gap that is too near for the kerf, or between one and two
kerfs, where a second pass would turn what stays between the parts to dust.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from layout_app.model.stops import (
    LineKind,
    SnapGround,
    Way,
    ends,
    equal_stops,
    high,
    is_good,
    low,
    moved,
    size,
    stops,
    stretched,
)
from shared.geometry import Rect
from shared.lengths import Length

__all__ = [
    "Guide",
    "SnapGround",
    "Snapped",
    "Way",
    "frame_of",
    "high",
    "low",
    "moved",
    "next_stop",
    "snap",
    "snap_end",
    "snap_size",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """A line that a part snapped to: x or y is ``at``; and what draws it."""

    way: Way
    at: Length
    kind: LineKind = LineKind.LINE


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapped:
    """Where a part comes to lie, and the lines it snapped to."""

    rect: Rect
    guides: tuple[Guide, ...] = ()


def frame_of(rects: Iterable[Rect]) -> Rect:
    """Return the smallest rectangle around some; ValueError if there are none."""
    some = tuple(rects)
    x, y = min(one.x for one in some), min(one.y for one in some)
    right, bottom = max(one.right for one in some), max(one.bottom for one in some)
    return Rect(x=x, y=y, length=right - x, width=bottom - y)


class _Block:
    """What moves as one: a frame, and the rectangles in it."""

    def __init__(self, frame: Rect, pieces: tuple[Rect, ...]) -> None:
        self.frame = frame
        self._pieces = [(one.x - frame.x, one.y - frame.y, one) for one in pieces]

    def is_good_at(self, ground: SnapGround, way: Way, stop: Length) -> bool:
        """Say whether all gaps are good with the frame at a position in one direction."""
        frame = moved(self.frame, way, stop)
        if not self._pieces:
            return is_good(frame, ground, way)
        return all(is_good(one, ground, way) for one in self._at(frame))

    def go(self, way: Way, position: Length) -> None:
        """Move to a position in one direction."""
        self.frame = moved(self.frame, way, position)

    def overlaps(self, others: Iterable[Rect]) -> bool:
        """Say whether any of it lies on one of some rectangles."""
        mine = tuple(self._at(self.frame)) or (self.frame,)
        return any(one.overlaps(other) for other in others for one in mine)

    def _at(self, frame: Rect) -> Iterator[Rect]:
        for dx, dy, one in self._pieces:
            yield Rect(x=frame.x + dx, y=frame.y + dy, length=one.length, width=one.width)


def snap(rect: Rect, ground: SnapGround, reach: Length, pieces: tuple[Rect, ...] = ()) -> Snapped:
    """Move a rectangle to the nearest good place within ``reach`` ticks, each way by itself.

    A free corner of the sheet within reach goes before anything else there is to stop at.
    ``pieces`` lie in the rectangle and move with it, if it is no part itself.
    """
    block = _Block(rect, pieces)
    if not _go_to_corner(block, ground, reach):
        for way in (Way.X, Way.Y, Way.X):
            block.go(way, _settled(block, ground, way, reach))
    guides = tuple(guide for way in Way for guide in _guides(block.frame, ground, way))
    return Snapped(rect=block.frame, guides=guides)


def next_stop(
    rect: Rect, ground: SnapGround, way: Way, *, onward: bool, pieces: tuple[Rect, ...] = ()
) -> Length | None:
    """Return the next good position in a direction, or ``None`` at the end of the sheet."""
    here, block = low(rect, way), _Block(rect, pieces)
    first, last = low(ground.usable, way), high(ground.usable, way) - size(rect, way)
    ahead = [
        stop
        for stop, _ in stops(rect, ground, way)
        if first <= stop <= last and (stop > here if onward else stop < here)
    ]
    ahead = [stop for stop in ahead if block.is_good_at(ground, way, stop)] or ahead
    return min(ahead, key=lambda stop: abs(stop - here), default=None)


def snap_size(rect: Rect, ground: SnapGround, way: Way, reach: Length) -> Rect:
    """Return the rectangle with its far edge, in one direction, at the nearest good place."""
    return snap_end(rect, ground, way, reach, far=True)


def snap_end(rect: Rect, ground: SnapGround, way: Way, reach: Length, *, far: bool) -> Rect:
    """Return the rectangle with its far or near edge at the nearest good place."""
    here = high(rect, way) if far else low(rect, way)
    near = [end for end in ends(rect, ground, way, far=far) if abs(end - here) <= reach]
    goods = [one for end in near if (one := _ended(rect, way, end, far=far)) is not None]
    fine = [one for one in goods if is_good(one, ground, way)] or goods
    if fine:
        return min(fine, key=lambda one: abs((high if far else low)(one, way) - here))
    rounded = max(ground.step, round(size(rect, way) / ground.step) * ground.step)
    end = low(rect, way) + rounded if far else high(rect, way) - rounded
    return _ended(rect, way, end, far=far) or rect


def _ended(rect: Rect, way: Way, end: Length, *, far: bool) -> Rect | None:
    """Return the rectangle with one edge elsewhere; ``None`` if nothing would be left of it."""
    start, stop = (low(rect, way), end) if far else (end, high(rect, way))
    return stretched(rect, way, start, stop) if stop > start else None


def _go_to_corner(block: _Block, ground: SnapGround, reach: Length) -> bool:
    """Move into the corner of the sheet that is within reach, if it is free; say whether it is."""
    frame = block.frame
    x, y = (_nearer_edge(frame, ground.usable, way) for way in (Way.X, Way.Y))
    if max(abs(x - frame.x), abs(y - frame.y)) > reach:
        return False
    block.go(Way.X, x)
    block.go(Way.Y, y)
    good = block.is_good_at(ground, Way.X, x) and block.is_good_at(ground, Way.Y, y)
    if good and not block.overlaps((*ground.others, *ground.bad)):
        return True
    block.frame = frame
    return False


def _nearer_edge(frame: Rect, usable: Rect, way: Way) -> Length:
    """Return the position at the nearer of two edges of the sheet."""
    near, far = low(usable, way), high(usable, way) - size(frame, way)
    here = low(frame, way)
    return near if abs(near - here) <= abs(far - here) else far


def _settled(block: _Block, ground: SnapGround, way: Way, reach: Length) -> Length:
    """Return the best position in one direction."""
    here = low(block.frame, way)

    def distance(stop: Length) -> Length:
        return abs(stop - here)

    def good(stop: Length) -> bool:
        return block.is_good_at(ground, way, stop)

    start = low(ground.usable, way)
    free = start + round((here - start) / ground.step) * ground.step
    found = (*stops(block.frame, ground, way), *equal_stops(block.frame, ground, way))
    near = {stop for stop, _ in found if distance(stop) <= reach}
    best = next((stop for stop in sorted(near, key=distance) if good(stop)), None)
    if best is not None:
        return best
    return free if good(free) else _nearest(block, ground, way, good)


def _nearest(block: _Block, ground: SnapGround, way: Way, good: Callable[[Length], bool]) -> Length:
    """Leave a bad gap: to a good stop if there is one near, else to any stop."""
    here = low(block.frame, way)
    near = [s for s, _ in stops(block.frame, ground, way) if abs(s - here) <= 2 * ground.kerf]
    return min([s for s in near if good(s)] or near, key=lambda s: abs(s - here), default=here)


def _guides(rect: Rect, ground: SnapGround, way: Way) -> Iterator[Guide]:
    """Yield the edges of the rectangle that are in line with something, and with what."""
    lines = _lines(rect, ground, way)
    for at in (low(rect, way), high(rect, way)):
        if at in lines:
            yield Guide(way=way, at=at, kind=lines[at])


def _lines(rect: Rect, ground: SnapGround, way: Way) -> dict[Length, LineKind]:
    """Return where lines run in one direction; what is named last is said of a place first."""
    end = size(rect, way)
    lines = {stop + end: LineKind.EQUAL for stop, _ in equal_stops(rect, ground, way)}
    for at in ground.running(way):
        lines |= {at: LineKind.RUNNING, at + ground.kerf: LineKind.RUNNING}
    lines |= {e: LineKind.BAD for bad in ground.bad for e in (low(bad, way), high(bad, way))}
    for other in ground.others:
        lines |= {low(other, way): LineKind.LINE, high(other, way): LineKind.LINE}
    for other in ground.others:
        lines[low(other, way) - ground.kerf] = lines[high(other, way) + ground.kerf] = LineKind.KERF
    edges = low(ground.usable, way), high(ground.usable, way)
    return lines | dict.fromkeys(edges, LineKind.EDGE)

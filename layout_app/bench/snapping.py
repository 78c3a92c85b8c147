"""Where a dragged part snaps to: sheet edges, one kerf from a neighbour, equal alignment.

Works in whole ticks in the sheet's frame, so a snapped part lies exactly. What snaps is
never left with a gap that is too near for the kerf, or between one and two kerfs, where
a second pass would turn what stays between the parts to dust.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
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
    """

    usable: Rect
    others: tuple[Rect, ...]
    kerf: Length
    step: Length = 1
    bad: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """A line that a part snapped to: x or y is ``at``."""

    way: Way
    at: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapped:
    """Where a part comes to lie, and the lines it snapped to."""

    rect: Rect
    guides: tuple[Guide, ...] = ()


def snap(rect: Rect, ground: Ground, reach: Length) -> Snapped:
    """Move a rectangle to the nearest good place within ``reach`` ticks, each way by itself."""
    for way in (Way.X, Way.Y, Way.X):
        rect = moved(rect, way, _settled(rect, ground, way, reach))
    guides = tuple(guide for way in Way for guide in _guides(rect, ground, way))
    return Snapped(rect=rect, guides=guides)


def next_stop(rect: Rect, ground: Ground, way: Way, *, onward: bool) -> Length | None:
    """Return the next good position in a direction, or ``None`` at the end of the sheet."""
    here, size = low(rect, way), _size(rect, way)
    first, last = low(ground.usable, way), high(ground.usable, way) - size
    ahead = [
        stop
        for stop in _stops(rect, ground, way)
        if first <= stop <= last and (stop > here if onward else stop < here)
    ]
    ahead = [stop for stop in ahead if _is_good(moved(rect, way, stop), ground, way)] or ahead
    return min(ahead, key=lambda stop: abs(stop - here), default=None)


def snap_size(rect: Rect, ground: Ground, way: Way, reach: Length) -> Rect:
    """Return the rectangle with its far edge, in one direction, at the nearest good place."""
    goods = [_grown(rect, way, size) for size in _sizes(rect, ground, way) if size > 0]
    near = [one for one in goods if abs(high(one, way) - high(rect, way)) <= reach]
    fine = [one for one in near if _is_good(one, ground, way)] or near
    if fine:
        return min(fine, key=lambda one: abs(high(one, way) - high(rect, way)))
    rounded = round(_size(rect, way) / ground.step) * ground.step
    return _grown(rect, way, max(ground.step, rounded))


def low(rect: Rect, way: Way) -> Length:
    """Return the edge nearer the origin."""
    return rect.x if way is Way.X else rect.y


def high(rect: Rect, way: Way) -> Length:
    """Return the edge away from the origin."""
    return rect.right if way is Way.X else rect.bottom


def moved(rect: Rect, way: Way, position: Length) -> Rect:
    """Return the rectangle at another position in one direction."""
    return replace(rect, x=position) if way is Way.X else replace(rect, y=position)


def _grown(rect: Rect, way: Way, size: Length) -> Rect:
    return replace(rect, length=size) if way is Way.X else replace(rect, width=size)


def _size(rect: Rect, way: Way) -> Length:
    return rect.length if way is Way.X else rect.width


def _settled(rect: Rect, ground: Ground, way: Way, reach: Length) -> Length:
    """Return the best position in one direction."""
    here = low(rect, way)

    def distance(stop: Length) -> Length:
        return abs(stop - here)

    def good(stop: Length) -> bool:
        return _is_good(moved(rect, way, stop), ground, way)

    free = _rounded(here, low(ground.usable, way), ground.step)
    stops = [stop for stop in _stops(rect, ground, way) if distance(stop) <= reach and good(stop)]
    if stops:
        return min(stops, key=distance)
    return free if good(free) else _nearest(rect, ground, way, good)


def _nearest(rect: Rect, ground: Ground, way: Way, good: Callable[[Length], bool]) -> Length:
    """Leave a bad gap: to a good stop if there is one near, else to any stop."""
    here = low(rect, way)
    near = [s for s in _stops(rect, ground, way) if abs(s - here) <= 2 * ground.kerf]
    return min([s for s in near if good(s)] or near, key=lambda s: abs(s - here), default=here)


def _rounded(position: Length, start: Length, step: Length) -> Length:
    return start + round((position - start) / step) * step


def _stops(rect: Rect, ground: Ground, way: Way) -> Iterator[Length]:
    """Yield positions: sheet edges, then kerf distance, then alignment with other parts."""
    size, kerf = _size(rect, way), ground.kerf
    yield low(ground.usable, way)
    yield high(ground.usable, way) - size
    for other in ground.others:
        yield high(other, way) + kerf
        yield low(other, way) - kerf - size
    for bad in ground.bad:
        yield high(bad, way)
        yield low(bad, way) - size
    for other in ground.others:
        yield low(other, way)
        yield high(other, way) - size


def _sizes(rect: Rect, ground: Ground, way: Way) -> Iterator[Length]:
    """Yield sizes: up to the sheet's edge, a kerf before or in line with others, equal to them."""
    start = low(rect, way)
    yield high(ground.usable, way) - start
    for other in ground.others:
        yield low(other, way) - ground.kerf - start
        yield high(other, way) - start
        yield _size(other, way)
    for bad in ground.bad:
        yield low(bad, way) - start


def _is_good(rect: Rect, ground: Ground, way: Way) -> bool:
    """Say whether every gap is none at all, one kerf, or two and more."""
    edge = ground.usable
    at_edges = (low(rect, way) - low(edge, way), high(edge, way) - high(rect, way))
    if any(0 < gap < 2 * ground.kerf for gap in at_edges):
        return False
    kerf = ground.kerf
    return all(gap < 0 or gap == kerf or gap >= 2 * kerf for gap in _gaps(rect, ground, way))


def _gaps(rect: Rect, ground: Ground, way: Way) -> Iterator[Length]:
    """Yield the gaps to what lies beside the rectangle; negative where the two overlap."""
    across = way.other
    for other in ground.others:
        if low(other, across) < high(rect, across) and low(rect, across) < high(other, across):
            yield max(low(other, way) - high(rect, way), low(rect, way) - high(other, way))


def _guides(rect: Rect, ground: Ground, way: Way) -> Iterator[Guide]:
    """Yield the edges of the rectangle that are in line with something."""
    lines = {low(ground.usable, way), high(ground.usable, way)}
    lines |= {edge for bad in ground.bad for edge in (low(bad, way), high(bad, way))}
    for other in ground.others:
        near, far = low(other, way), high(other, way)
        lines |= {near, far, near - ground.kerf, far + ground.kerf}
    yield from (Guide(way=way, at=at) for at in (low(rect, way), high(rect, way)) if at in lines)

"""Keys go from stop to stop, and edges in the hand to the best end within reach.

Both prefer what can be cut, then what lies on nothing, then what leaves no gap that is too near
for the kerf, or between one and two kerfs, where a second pass would turn what stays to dust.
"""

from collections.abc import Callable

from layout_app.model.landing import Field, frame_of
from layout_app.model.stops import (
    SnapGround,
    Way,
    ends,
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
    "ASKED",
    "SnapGround",
    "Way",
    "frame_of",
    "high",
    "low",
    "moved",
    "next_stop",
    "snap_end",
    "snap_size",
]

ASKED = 3
"""Of how many places within reach of an edge it is asked whether they can be cut."""
Judge = Callable[[Rect], bool]
"""Says whether what is in the hand could be cut with its rectangle there."""


def next_stop(
    rect: Rect,
    ground: SnapGround,
    way: Way,
    *,
    onward: bool,
    pieces: tuple[Rect, ...] = (),
    can_be_cut: Judge = lambda frame: True,
    over: bool = False,
) -> Length | None:
    """Return the next position in a direction, or ``None`` at the end of the sheet.

    That is the next free one that can be cut, if one is ahead; else the next that leaves no
    gap of dust, else the next of all. With ``over`` it is that at once, whatever lies there.
    """
    here, field = low(rect, way), Field(rect, ground, pieces)
    first, last = low(ground.usable, way), high(ground.usable, way) - size(rect, way)
    found = {stop.at for stop in stops(rect, ground, way) if first <= stop.at <= last}
    ahead = sorted(at for at in found if (at > here if onward else at < here))
    frames = [moved(rect, way, at) for at in (ahead if onward else reversed(ahead))]
    if over:
        return low(frames[0], way) if frames else None
    good = [one for one in frames if field.is_good(one, way)]
    free = filter(field.is_free, good)
    best = next(filter(can_be_cut, free), None) or next(iter(good or frames), None)
    return None if best is None else low(best, way)


def snap_size(
    rect: Rect,
    ground: SnapGround,
    way: Way,
    reach: Length,
    can_be_cut: Judge = lambda rect: True,
) -> Rect:
    """Return the rectangle with its far edge, in one direction, at the best place within reach."""
    return snap_end(rect, ground, way, reach, far=True, can_be_cut=can_be_cut)


def snap_end(
    rect: Rect,
    ground: SnapGround,
    way: Way,
    reach: Length,
    *,
    far: bool,
    can_be_cut: Judge = lambda rect: True,
) -> Rect:
    """Return the rectangle with its far or near edge at the nearest place that can be cut.

    Else at the nearest where it lies on nothing, else where it leaves no gap of dust, else on a
    whole step of its size. So many places are asked about: `ASKED`.
    """
    here = high(rect, way) if far else low(rect, way)
    near = sorted(
        {end for end in ends(rect, ground, way, far=far) if abs(end - here) <= reach},
        key=lambda end: abs(end - here),
    )
    some = [one for end in near if (one := _ended(rect, way, end, far=far)) is not None]
    good = [one for one in some if is_good(one, ground, way)]
    free = [one for one in good if Field(one, ground).is_free(one)]
    best = next(filter(can_be_cut, free[:ASKED]), None) or next(iter(free or good or some), None)
    if best is not None:
        return best
    size_there = max(ground.step, round(size(rect, way) / ground.step) * ground.step)
    end = low(rect, way) + size_there if far else high(rect, way) - size_there
    return _ended(rect, way, end, far=far) or rect


def _ended(rect: Rect, way: Way, end: Length, *, far: bool) -> Rect | None:
    """Return the rectangle with one edge elsewhere; ``None`` if nothing would be left of it."""
    start, stop = (low(rect, way), end) if far else (end, high(rect, way))
    return stretched(rect, way, start, stop) if stop > start else None

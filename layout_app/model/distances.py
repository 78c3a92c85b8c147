"""How far what is in the hand lies from its neighbours, and from the trimmed reference corner."""

from collections.abc import Iterator
from dataclasses import dataclass

from layout_app.model.stops import Ground, Way, beside, high, low, size
from shared.geometry import Rect
from shared.lengths import Length


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


def gaps(rect: Rect, ground: Ground) -> tuple[Distance, ...]:
    """Return the gaps to the nearest neighbour or edge each way; none where nothing is left."""
    found = (gap for way in Way for gap in _both(rect, ground, way))
    return tuple(gap for gap in found if gap.length > 0)


def running(rect: Rect, ground: Ground) -> tuple[Distance, ...]:
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


def _both(rect: Rect, ground: Ground, way: Way) -> Iterator[Distance]:
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

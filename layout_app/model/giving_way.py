"""How blocks of parts give way to one that is laid among them, as a saw could part them.

Groups between which a cut runs from edge to edge stay such groups: what is laid goes into one
of them, or between two, and the groups beside it move along as whole groups, no farther than
they have to. So what could be parted before can be parted after it.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

from layout_app.model.snapping import frame_of
from layout_app.model.stops import Way, high, low, moved, size
from shared.geometry import Rect
from shared.lengths import Length

ENTERED = 2
"""How many groups it is laid into at most, of those that it lies over."""


class Kind(IntEnum):
    """What gives way."""

    ALONG = 0
    """What lies behind it in its strip."""
    BETWEEN = 1
    """Strips as a whole."""
    INSIDE = 2
    """Something inside of a block of the strip."""


class Gone(NamedTuple):
    """A group that moves, and how far it goes."""

    group: "Group"
    way: Way
    by: Length


class Made(NamedTuple):
    """Room that is made: where it is laid, and what gives way."""

    laid: Rect
    gone: list[Gone]


class Stuck(NamedTuple):
    """A group that would have to move and cannot: something in it is fixed, or the sheet ends."""

    group: "Group"
    fixed: int | None


class Group:
    """Blocks that move as one: their numbers, the frame round them, and one that is fixed."""

    def __init__(self, blocks: dict[int, Rect], fixed: Collection[int]) -> None:
        self.frame = frame_of(blocks.values())
        self.blocks = blocks
        self._fixed = fixed
        self.fixed = next((index for index in blocks if index in fixed), None)
        self._parted: dict[tuple[Way, Length], list[Group]] = {}

    def parted(self, way: Way, kerf: Length) -> "list[Group]":
        """Return the groups that follow each other in a direction, a kerf or more between them."""
        if (way, kerf) not in self._parted:
            groups = parted(self.blocks, way, kerf)
            whole = len(groups) == 1
            self._parted[way, kerf] = (
                [self] if whole else [Group(one, self._fixed) for one in groups]
            )
        return self._parted[way, kerf]


def parted(blocks: dict[int, Rect], way: Way, kerf: Length) -> list[dict[int, Rect]]:
    """Part rectangles, by their numbers, where a kerf runs between them from edge to edge."""
    groups: list[dict[int, Rect]] = []
    end: Length | None = None
    for index, one in sorted(blocks.items(), key=lambda item: low(item[1], way)):
        if end is None or low(one, way) - end >= kerf:
            groups.append({})
            end = high(one, way)
        end = max(end, high(one, way))
        groups[-1][index] = one
    return groups


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Makes room for a rectangle that is laid among groups.

    Attributes
    ----------
    laid
        Where it is laid, in ticks.
    kerf
        What has to stay beside it.
    usable
        What nothing may be moved off.
    first
        The direction in which the strips of the sheet follow each other.
    free
        Whether it stays just there; else it may go before or behind what it lies over, and
        into line with it.
    far
        Whether it may go farther across the strips than half its width.
    """

    laid: Rect
    kerf: Length
    usable: Rect
    first: Way
    free: bool = False
    far: bool = False

    def made(self, whole: Group, kind: Kind, stuck: list[Stuck]) -> list[Made]:
        """Return ways of a kind in which a group makes room, those nearest to it first.

        What could not move is added to ``stuck``.
        """
        way = self.first
        if kind is Kind.BETWEEN:
            asked = [(way, 0)]
        elif kind is Kind.ALONG:
            asked = [(way, 1)]
        else:
            asked = [(way, 2), (way.other, 0)]
        found = [
            one
            for axis, depth in asked
            for one in self._laid_into(whole, self.laid, axis, depth, stuck)
        ]
        return sorted(filter(self._is_near, found), key=self.effort)

    def _is_near(self, made: Made) -> bool:
        """Say whether it is still laid in the strip, or between the strips, that were meant."""
        across = abs(low(made.laid, self.first) - low(self.laid, self.first))
        return self.far or 2 * across <= size(self.laid, self.first)

    def effort(self, made: Made) -> tuple[Length, Length]:
        """Return how far from its place it is laid, then how far all goes together."""
        aside = abs(made.laid.x - self.laid.x) + abs(made.laid.y - self.laid.y)
        return aside, sum(abs(one.by) * len(one.group.blocks) for one in made.gone)

    def _laid_into(
        self, whole: Group, laid: Rect, way: Way, depth: int, stuck: list[Stuck]
    ) -> Iterator[Made]:
        """Yield how it is laid between groups, so deep in groups of groups."""
        groups = whole.parted(way, self.kerf)
        if depth == 0:
            yield from self._laid_between(groups, laid, way, stuck)
            return
        for line in self._lines(groups, laid, way):
            near = self._beside(groups, line, way)
            near.sort(key=lambda index: -_shared(groups[index], line, way))
            for index in near[:ENTERED]:
                for made in self._laid_into(groups[index], line, way.other, depth - 1, stuck):
                    start, end = _span_with(groups[index], made, way)
                    before = self._back(groups[:index], start, way, stuck)
                    behind = self._on(groups[index + 1 :], end, way, stuck)
                    if before is not None and behind is not None:
                        yield Made(made.laid, [*before, *made.gone, *behind])

    def _lines(self, groups: Sequence[Group], laid: Rect, way: Way) -> list[Rect]:
        """Return where it can lie across groups: as it is, in line with their starts or ends.

        Not as it is if it lies mostly in a group that is wide enough for it: that grows no wider.
        """
        if self.free:
            return [laid]
        near = [groups[index] for index in self._beside(groups, laid, way)]
        frames = [group.frame for group in near]
        here, extent = low(laid, way), size(laid, way)
        stops = {low(one, way) for one in frames}
        stops |= {high(one, way) - extent for one in frames if size(one, way) > extent}
        nearest = sorted(stops - {here}, key=lambda at: abs(at - here))[:ENTERED]
        aligned = [moved(laid, way, at) for at in nearest]
        return aligned if any(_is_meant(group, laid, way) for group in near) else [laid, *aligned]

    def _laid_between(
        self, groups: Sequence[Group], laid: Rect, way: Way, stuck: list[Stuck]
    ) -> Iterator[Made]:
        """Yield how it is laid before or behind the groups that it lies over."""
        near = self._beside(groups, laid, way)
        if not near:
            yield Made(laid, [])
            return
        for at in range(near[0], near[-1] + 2):
            start = self._start(groups, at, laid, way, stuck)
            if start is None:
                continue
            there = moved(laid, way, start)
            before = self._back(groups[:at], start, way, stuck)
            behind = self._on(groups[at:], start + size(laid, way), way, stuck)
            if before is not None and behind is not None:
                yield Made(there, [*before, *behind])

    def _start(
        self, groups: Sequence[Group], at: int, laid: Rect, way: Way, stuck: list[Stuck]
    ) -> Length | None:
        """Return where it begins before a group: as near to where it is as there is room.

        It goes no farther than to the start of what goes on, or to the end of what goes back.
        """
        here, extent = low(laid, way), size(laid, way)
        if self.free:
            return here
        least, most = low(self.usable, way), high(self.usable, way)
        for group in groups[:at]:
            fixed = group.fixed is not None
            least = (
                high(group.frame, way) if fixed else least + size(group.frame, way)
            ) + self.kerf
        for group in reversed(groups[at:]):
            fixed = group.fixed is not None
            most = (low(group.frame, way) if fixed else most - size(group.frame, way)) - self.kerf
        if most - extent < least:
            group = groups[min(at, len(groups) - 1)]
            stuck.append(Stuck(group, group.fixed))
            return None
        if at > 0:
            here = max(here, high(groups[at - 1].frame, way) - extent)
        if at < len(groups):
            here = min(here, low(groups[at].frame, way))
        return min(max(here, least), most - extent)

    def _beside(self, groups: Sequence[Group], laid: Rect, way: Way) -> list[int]:
        """Return which groups lie beside it, or nearer than a kerf."""
        start, end = low(laid, way) - self.kerf, high(laid, way) + self.kerf
        return [
            index
            for index, group in enumerate(groups)
            if low(group.frame, way) < end and start < high(group.frame, way)
        ]

    def _on(
        self, groups: Iterable[Group], end: Length, way: Way, stuck: list[Stuck]
    ) -> list[Gone] | None:
        """Move groups onward as far as they have to go; ``None`` if one cannot."""
        found: list[Gone] = []
        for group in groups:
            by = end + self.kerf - low(group.frame, way)
            if by <= 0:
                break
            end = high(group.frame, way) + by
            if group.fixed is not None or end > high(self.usable, way):
                stuck.append(Stuck(group, group.fixed))
                return None
            found.append(Gone(group, way, by))
        return found

    def _back(
        self, groups: Sequence[Group], start: Length, way: Way, stuck: list[Stuck]
    ) -> list[Gone] | None:
        """Move groups toward the reference end as far as they have to go."""
        found: list[Gone] = []
        for group in reversed(groups):
            by = start - self.kerf - high(group.frame, way)
            if by >= 0:
                break
            start = low(group.frame, way) + by
            if group.fixed is not None or start < low(self.usable, way):
                stuck.append(Stuck(group, group.fixed))
                return None
            found.append(Gone(group, way, by))
        return found


def _span_with(group: Group, made: Made, way: Way) -> tuple[Length, Length]:
    """Return where a group begins and ends with something laid into it, and some of it gone."""
    start = min(low(made.laid, way), low(group.frame, way))
    end = max(high(made.laid, way), high(group.frame, way))
    for one in made.gone:
        if one.way is way:
            start = min(start, low(one.group.frame, way) + one.by)
            end = max(end, high(one.group.frame, way) + one.by)
    return start, end


def is_between(whole: Group, laid: Rect, first: Way, kerf: Length) -> bool:
    """Say whether a rectangle is held over the line between two strips, or beside one.

    So it is with more than a third of it on either side; but not if it lies in line with the
    first of them, or nearly so: then it is too wide for it.
    """
    strips, extent = whole.parted(first, kerf), size(laid, first)
    for index, group in enumerate(strips):
        start, end = low(group.frame, first), high(group.frame, first)
        if start <= low(laid, first) < end < high(laid, first):
            if 4 * (low(laid, first) - start) <= size(group.frame, first):
                return False
            before = 3 * _shared(group, laid, first)
            if any(_shared(other, laid, first) > 0 for other in strips[index + 1 :]):
                return extent < before < 2 * extent
            return before < extent
    return not any(
        2 * _shared(group, laid, first) >= min(size(group.frame, first), extent) for group in strips
    )


def _is_meant(group: Group, laid: Rect, way: Way) -> bool:
    """Say whether a group has room for a rectangle across, most of which lies in it, not all."""
    shared, extent = _shared(group, laid, way), size(laid, way)
    return extent <= size(group.frame, way) and extent < 2 * shared < 2 * extent


def _shared(group: Group, laid: Rect, way: Way) -> Length:
    """Return how far a rectangle lies beside a group; 0 or less if it does not."""
    end = min(high(group.frame, way), high(laid, way))
    return end - max(low(group.frame, way), low(laid, way))


def inside(laid: Rect, usable: Rect) -> Rect:
    """Return a rectangle moved so far that it lies inside another one, if it fits in there."""
    for way in Way:
        most = high(usable, way) - size(laid, way)
        laid = moved(laid, way, max(low(usable, way), min(low(laid, way), most)))
    return laid

"""Rectangles as plain tuples, and where a cut can run between them from edge to edge.

A gap between two groups of parts lets a cut through if it is at least one kerf wide.
"""

from collections.abc import Iterable, Sequence
from operator import itemgetter
from typing import NamedTuple, TypeAlias

from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.recognise.allowed import Allowed
from shared.shop import Axis
from shared.stock import Trims

Area: TypeAlias = tuple[Length, Length, Length, Length]
"""Left, top, right, bottom in the sheet's frame, in ticks."""

Box: TypeAlias = tuple[Length, Length, Length, Length, int]
"""The area of a part, and its index among the placements."""

ENDS = {Axis.RIP: (1, 3), Axis.CROSSCUT: (0, 2)}
"""Where an area begins and ends at right angles to cuts of an axis."""


class BoxGroup(NamedTuple):
    """Parts between which no cut of an axis runs through: begin, end, and their boxes."""

    start: Length
    end: Length
    boxes: list[Box]


class SheetGround(NamedTuple):
    """The sheet a layout lies on: its area, kerf, trims, and how it may be cut."""

    area: Area
    kerf: Length
    trims: Trims = Trims()
    allowed: Allowed = Allowed()

    @classmethod
    def of(
        cls,
        sheet: Rect,
        kerf: Length,
        trims: Trims | None = None,
        allowed: Allowed | None = None,
    ) -> "SheetGround":
        """Return the ground of an untrimmed sheet; without trims and limits by default."""
        area = (sheet.x, sheet.y, sheet.right, sheet.bottom)
        return cls(area, kerf, trims or Trims(), allowed or Allowed())

    @property
    def rect(self) -> Rect:
        """The untrimmed sheet."""
        left, top, right, bottom = self.area
        return Rect(x=left, y=top, length=right - left, width=bottom - top)

    @property
    def usable(self) -> Area:
        """The area parts may lie in."""
        left, top, right, bottom = self.area
        trims = self.trims
        return left + trims.start, top + trims.near, right - trims.end, bottom - trims.far

    def trim(self, area: Area, axis: Axis) -> Length:
        """Return what the first run of an axis over a piece takes off its factory edge."""
        begin = ENDS[axis][0]
        if area[begin] != self.area[begin]:
            return 0
        return self.trims.near if axis is Axis.RIP else self.trims.start


def sliced(area: Area, axis: Axis, start: Length, end: Length) -> Area:
    """Return what of an area lies between two places at right angles to cuts of an axis."""
    left, top, right, bottom = area
    return (left, start, right, end) if axis is Axis.RIP else (start, top, end, bottom)


def gap(one: Box, other: Box) -> Length:
    """Return how far apart two boxes lie along x or y, whichever is more; below 0: they overlap."""
    return max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])


def boxes_of(placements: Iterable[Placement]) -> list[Box]:
    """Return the boxes of placements, each with its index."""
    return [
        (lies.x, lies.y, lies.x + lies.length, lies.y + lies.width, index)
        for index, lies in enumerate(placements)
    ]


def groups(boxes: Sequence[Box], axis: Axis, kerf: Length) -> list[BoxGroup]:
    """Split boxes wherever a cut of the axis can run through, in order."""
    begin, end = ENDS[axis]
    found: list[BoxGroup] = []
    members: list[Box] = []
    start = reach = 0
    for box in sorted(boxes, key=_SORT[axis]):
        if members and box[begin] < reach + kerf:
            members.append(box)
            reach = max(reach, box[end])
        else:
            if members:
                found.append(BoxGroup(start, reach, members))
            members, start, reach = [box], box[begin], box[end]
    if members:
        found.append(BoxGroup(start, reach, members))
    return found


_SORT = {Axis.RIP: itemgetter(1), Axis.CROSSCUT: itemgetter(0)}


def stuck(boxes: Sequence[Box], kerf: Length) -> list[Box]:
    """Return parts between which no cut of either axis runs through; none if all can be parted.

    A cut never stands in the way of another one, so any order of cutting shows it.
    """
    waiting = [list(boxes)]
    while waiting:
        piece = waiting.pop()
        if len(piece) < 2:
            continue
        parted = groups(piece, Axis.RIP, kerf)
        if len(parted) < 2:
            parted = groups(piece, Axis.CROSSCUT, kerf)
        if len(parted) < 2:
            return piece
        waiting.extend(group.boxes for group in parted)
    return []

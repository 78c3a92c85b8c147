"""A sheet as it lies with its show face down: left and right ends change places.

The reference edge stays where it is, so y is the same; what was written still reads from left
to right.
"""

from dataclasses import replace

from shared.drawing.records import CutTag, Point, RunningMark, SheetDrawing
from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis


def turned_over(drawing: SheetDrawing) -> SheetDrawing:
    """Return the drawing of the same sheet turned over about its middle; twice is as before."""
    over = _Over(drawing.rect.x + drawing.rect.right)
    marks = tuple(over.mark(one) for one in drawing.marks)
    return replace(
        drawing,
        mirrored=not drawing.mirrored,
        boxes=tuple(replace(one, rect=over.rect(one.rect)) for one in drawing.boxes),
        grain=tuple(replace(one, points=over.points(one.points)) for one in drawing.grain),
        tags=tuple(over.tag(one) for one in drawing.tags),
        marks=marks if _rips(drawing) else marks[::-1],
        labels=tuple(replace(one, rect=over.rect(one.rect)) for one in drawing.labels),
        face_mark=over.point(drawing.face_mark),
        ties=tuple(
            replace(
                one,
                start=(over.x(one.end[0]), one.start[1]),
                end=(over.x(one.start[0]), one.end[1]),
            )
            for one in drawing.ties
        ),
        signs=tuple(replace(one, rect=over.rect(one.rect)) for one in drawing.signs),
        pieces=tuple(replace(one, rect=over.rect(one.rect)) for one in drawing.pieces),
        saw_in=None if drawing.saw_in is None else over.way(*drawing.saw_in),
    )


class _Over:
    """Takes places to the other end; ``ends`` is the sum of the x of both ends, in ticks."""

    def __init__(self, ends: Length) -> None:
        self._ends = ends

    def x(self, x: Length) -> Length:
        return self._ends - x

    def point(self, point: Point) -> Point:
        return self.x(point[0]), point[1]

    def points(self, points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple(self.point(one) for one in points)

    def way(self, start: Point, end: Point) -> tuple[Point, Point]:
        return self.point(start), self.point(end)

    def rect(self, rect: Rect) -> Rect:
        return replace(rect, x=self.x(rect.right))

    def tag(self, tag: CutTag) -> CutTag:
        """A rip's tag stands at the left end of its cut, whichever end that is now."""
        along = tag.reach if tag.axis is Axis.RIP else 0
        return replace(tag, x=self.x(tag.x + along))

    def mark(self, mark: RunningMark) -> RunningMark:
        return mark if mark.axis is Axis.RIP else replace(mark, at=self.x(mark.at))


def _rips(drawing: SheetDrawing) -> bool:
    """Whether the scale beside the sheet is of rips; one of crosscuts runs the other way then."""
    return all(mark.axis is Axis.RIP for mark in drawing.marks)

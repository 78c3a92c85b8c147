"""Resize a part by its edges: this edits the part, all its copies."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt

from layout_app import hands
from layout_app.bench import ink
from layout_app.bench.frame import to_rectf
from layout_app.bench.interaction import Interaction
from layout_app.bench.judge import judge_sheet, resized_on
from layout_app.bench.overlays import Bubble, Ghost
from layout_app.bench.snapping import Way, snap_size
from layout_app.bench.spots import Edge
from shared.geometry import Rect
from shared.lengths import Length, format_pair
from shared.parts import Part
from shared.plan import Placement
from shared.stock import SheetGrain

if TYPE_CHECKING:
    from layout_app.bench.hand import Hand

CURSORS = {
    Edge.RIGHT: Qt.CursorShape.SizeHorCursor,
    Edge.BOTTOM: Qt.CursorShape.SizeVerCursor,
    Edge.RIGHT | Edge.BOTTOM: Qt.CursorShape.SizeFDiagCursor,
}


class Resizing(Interaction):
    """An edge away from the reference corner in the hand; that corner stays where it is."""

    def __init__(self, hand: "Hand", placement: Placement, edge: Edge) -> None:
        super().__init__(hand)
        self.cursor = CURSORS[edge]
        self._placement, self._edge = placement, edge
        self.rect = placement.rect
        theme, scene = hand.scene.theme, hand.scene
        fill = ink.tint(theme, scene.tint_of((placement.part, placement.copy)))
        self._ghost, self._bubble = Ghost(theme, (self._part.name,), fill), Bubble(theme)
        self.show(self._ghost, self._bubble)

    @property
    def _part(self) -> Part:
        return self.hand.document.job.part(self._placement.part)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer with the edge."""
        one = self._placement
        x, y = self.hand.sheets.stand(one.sheet).point(point)
        ground = self.hand.sheets.ground(one.sheet, (one.part, one.copy))
        reach = 0 if free else self.hand.reach
        rect = one.rect
        if Edge.RIGHT in self._edge:
            wanted = _sized(rect, max(1, x - rect.x), rect.width)
            rect = snap_size(wanted, ground, Way.X, reach)
        if Edge.BOTTOM in self._edge:
            wanted = _sized(rect, rect.length, max(1, y - rect.y))
            rect = snap_size(wanted, ground, Way.Y, reach)
        self._show(rect, point)

    def finish(self) -> None:
        """Give the part its new finished size: bands and allowance stay as they are."""
        length, width = finished(self._part, self._cut_size())
        one = self._placement
        hands.resize_part(self.hand.document, one.part, length, width, copy=one.copy)

    def _cut_size(self) -> tuple[Length, Length]:
        sides = self.rect.length, self.rect.width
        return (sides[1], sides[0]) if self._placement.turned else sides

    def _show(self, rect: Rect, point: QPointF) -> None:
        if rect != self.rect or not self._bubble.words:
            self.rect = rect
            self._say()
        self.hand.put_bubble(self._bubble, point)

    def _say(self) -> None:
        job, one = self.hand.document.job, self._placement
        size = self._cut_size()
        sheet = resized_on(self.hand.sheets.layout(one.sheet), one.part, size)
        held = next(p for p in sheet.placements if (p.part, p.copy) == (one.part, one.copy))
        verdict = judge_sheet(job, sheet, held)
        copies = f", all {self._part.copies}" if self._part.copies > 1 else ""
        words = (format_pair(*size, job.style) + copies, *verdict.lines)
        self._bubble.say(words, good=verdict.good)
        grain = self.hand.sheets.stock(one.sheet).grain
        stand = self.hand.sheets.stand(one.sheet)
        self._ghost.lie(
            to_rectf(self.rect).translated(stand.x, stand.y),
            good=verdict.good,
            grain_along_x=None if grain is SheetGrain.NONE else grain is SheetGrain.ALONG_L,
        )


def finished(part: Part, cut: tuple[Length, Length]) -> tuple[Length, Length]:
    """Return the finished size of a part that is sawn to a size."""
    return part.length + cut[0] - part.cut_length, part.width + cut[1] - part.cut_width


def _sized(rect: Rect, length: Length, width: Length) -> Rect:
    return Rect(x=rect.x, y=rect.y, length=length, width=width)

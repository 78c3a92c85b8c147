"""Resize a part by its edges: this edits the part, all its copies."""

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QPointF, Qt

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import to_rectf
from layout_app.bench.giving_way import AsideShown, pushed_words
from layout_app.bench.interaction import GestureHand, Interaction
from layout_app.bench.measures import Board, Measures, written
from layout_app.bench.overlays import Ghost
from layout_app.bench.spots import Edge
from layout_app.bench.telling_cost import CostTold
from layout_app.document import edit_parts
from layout_app.document.judging_many import judge_here
from layout_app.document.push_aside import part_overlaps
from layout_app.document.resized_words import elsewhere_words, refusal
from layout_app.look import pens
from layout_app.model.feasibility import UNKNOWN, Verdict, resized_on
from layout_app.model.project import Project
from layout_app.model.snapping import snap_end
from layout_app.model.stops import Way, high, low, stretched
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.lengths import Length, format_pair
from shared.parts import Part
from shared.plan import Placement

CURSORS = {
    Edge.RIGHT: Qt.CursorShape.SizeHorCursor,
    Edge.BOTTOM: Qt.CursorShape.SizeVerCursor,
    Edge.RIGHT | Edge.BOTTOM: Qt.CursorShape.SizeFDiagCursor,
    Edge.LEFT: Qt.CursorShape.SizeHorCursor,
    Edge.TOP: Qt.CursorShape.SizeVerCursor,
    Edge.LEFT | Edge.TOP: Qt.CursorShape.SizeFDiagCursor,
    Edge.RIGHT | Edge.TOP: Qt.CursorShape.SizeBDiagCursor,
    Edge.LEFT | Edge.BOTTOM: Qt.CursorShape.SizeBDiagCursor,
}
SIDES = (
    (Edge.RIGHT, Way.X, True),
    (Edge.LEFT, Way.X, False),
    (Edge.BOTTOM, Way.Y, True),
    (Edge.TOP, Way.Y, False),
)
"""Each edge with the direction it moves in, and whether it is the far one."""


class Resizing(Interaction):
    """An edge or corner of a part in the hand; the edge across stays where it is.

    Of other copies the corner near the reference corner stays.
    """

    def __init__(self, hand: GestureHand, placement: Placement, edge: Edge) -> None:
        super().__init__(hand)
        self.cursor = CURSORS[edge]
        self._placement, self._edge = placement, edge
        self.rect = placement.rect
        theme, scene = hand.scene.theme, hand.scene
        fill = pens.tint(theme, scene.tint_of(placement.key))
        self._ghost, self._bubble = Ghost(theme, (self._part.name,), fill), Bubble(theme)
        self.measures = Measures(theme)
        self.cost = CostTold(scene, hand.document, self._after, self._tell_cost)
        self._point = QPointF()
        self._verdict = UNKNOWN
        self.aside = AsideShown(hand)
        self._why, self._lies = "", placement.rect
        self._means: tuple[str, ...] = ()
        """What letting go means for the sheets, as far as it is not plain to see."""
        self._cuttable: dict[Rect, bool] = {}
        self.show(self.aside, self._ghost, self.measures, self._bubble)

    @property
    def _part(self) -> Part:
        return self.hand.document.job.part(self._placement.part)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer with the edge."""
        one = self._placement
        at = dict(zip(Way, self.hand.sheets.stand(one.sheet).point(point), strict=True))
        ground = self.hand.sheets.ground(one.sheet, one.key)
        reach, rect = 0 if free else self.hand.reach, one.rect
        for edge, way, far in SIDES:
            if edge in self._edge:
                wanted = _ended(rect, way, at[way], far=far)
                rect = snap_end(wanted, ground, way, reach, far=far, can_be_cut=self._can_be_cut)
        self._show(rect, point)

    def finish(self) -> None:
        """Give the part its new finished size: bands and allowance stay as they are."""
        length, width = self.size
        one, doc = self._placement, self.hand.document
        edit_parts.resize_part(
            doc,
            one.part,
            length,
            width,
            copy=one.copy,
            corner=self._corner,
            push=self.pushes,
        )

    @property
    def pushes(self) -> bool:
        """Whether what lies behind the edge gives way to it."""
        return self.hand.pushes

    def heed(self) -> None:
        """Look again: what lies behind gives way now, or no longer."""
        if self._bubble.words:
            self._judge()
            self._put()

    def clear(self) -> None:
        """Take everything off the bench, and say no more."""
        self.cost.end()
        super().clear()

    def _after(self) -> Project | None:
        """Return what the project would become, if it could be cut; say what leaves which sheet."""
        one, doc, size = self._placement, self.hand.document, self.size
        if size == (self._part.length, self._part.width):
            return None
        push = self.pushes
        after = edit_parts.with_size(doc, one.part, size, one.copy, self._corner, push=push)
        elsewhere = elsewhere_words(doc.layout, after, one.part)
        if elsewhere:
            self._means += elsewhere
            self._tell_cost()
        return after if self._verdict.good else None

    @property
    def _corner(self) -> tuple[Length, Length]:
        return self.rect.x, self.rect.y

    @property
    def size(self) -> tuple[Length, Length]:
        """The finished size of the part as it is held."""
        return finished(self._part, self._cut_size(self.rect))

    def _cut_size(self, rect: Rect) -> tuple[Length, Length]:
        sides = rect.length, rect.width
        return (sides[1], sides[0]) if self._placement.turned else sides

    def _show(self, rect: Rect, point: QPointF) -> None:
        if rect != self.rect or not self._bubble.words:
            self.rect = rect
            self._judge()
            self._measure()
        self._point = point
        self._put()

    def _tell_cost(self) -> None:
        self._say()
        self._put()

    def _put(self) -> None:
        """Put the words beside the pointer, and distances beside the words."""
        said = self.hand.put_bubble(self._bubble, self._point, self.measures.places)
        self.measures.give_way(said)
        self._ghost.keep_off((said, *self.measures.plates))

    def _measure(self) -> None:
        """Show how far it is to what lies beside, as while a part is dragged."""
        one, screen = self._placement, self.hand.screen
        ground = self.hand.sheets.ground(one.sheet, one.key)
        board = Board(screen.sight, screen.scale_px, self.hand.document.job.style)
        stand = self.hand.sheets.stand(one.sheet)
        self.measures.show_written(written(stand, self.rect, ground, (), board))

    def _sized(self, rect: Rect) -> tuple[LayoutSheet, Placement]:
        """Return the sheet with the part as large as that, its copies there too, and the part."""
        one, size = self._placement, self._cut_size(rect)
        sheet = resized_on(self.hand.document.layout.sheet(one.sheet), one.part, size)
        held = next(p for p in sheet.placements if p.key == one.key)
        return sheet, replace(held, x=rect.x, y=rect.y)

    def _can_be_cut(self, rect: Rect) -> bool:
        """Say whether the sheet can be cut with the part so large and nothing pushed."""
        if rect not in self._cuttable:
            self._cuttable[rect] = judge_here(self.hand.document, *self._sized(rect)).good
        return self._cuttable[rect]

    def _judge(self) -> None:
        one = self._placement
        self._verdict = verdict = self._pushing(*self._sized(self.rect))
        self._means = () if verdict.good else (self._if_let_go(),)
        self.cost.follow((self._lies, self.aside.shown, verdict.good))
        self._say()
        stand = self.hand.sheets.stand(one.sheet)
        self._ghost.lie(
            to_rectf(self._lies).translated(stand.x, stand.y),
            good=verdict.good,
            grain_along_x=self.hand.sheets.grain_along_x(one.sheet),
        )

    def _pushing(self, sheet: LayoutSheet, held: Placement) -> Verdict:
        """Judge the sheet with the part so large; what lies behind gives way, if that is wished."""
        doc = self.hand.document
        verdict, self._why, self._lies = judge_here(doc, sheet, held), "", held.rect
        moved: tuple[Placement, ...] = ()
        if not verdict.good and self.pushes:
            lying = tuple(held if one.key == held.key else one for one in sheet.placements)
            found = part_overlaps(doc, replace(sheet, placements=lying))
            if found is not None and not found.why:
                pushed = judge_here(doc, sheet, *_all_of(lying, found.lying))
                if pushed.good:
                    verdict = pushed
                    gone = [one for one in found.lying if one not in lying]
                    moved = tuple(one for one in gone if one.key != held.key)
                    self._lies = next((one.rect for one in gone if one not in moved), held.rect)
            elif found is not None:
                self._why = f"cannot push: {found.why}"
        self.aside.show_placements(moved)
        return verdict

    def _if_let_go(self) -> str:
        """Say what becomes of a sheet that cannot be cut then."""
        job, sheet = self.hand.document.job, self._placement.sheet
        length, width = self.size
        if refusal(job, replace(self._part, length=length, width=width)):
            return "no sheet is so large: it stays as it was"
        if sheet in self.hand.document.progress.sheets:
            return f"sheet {sheet} is begun: it stays as it was"
        return f"all of sheet {sheet} stay where they lie: it can't be cut yet"

    def _say(self) -> None:
        """Say the size, whether it may be, and what it costs as soon as that is known."""
        size = format_pair(*self._cut_size(self.rect), self.hand.document.job.style)
        copies = f", all {self._part.copies}" if self._part.copies > 1 else ""
        job, moved = self.hand.document.job, self.aside.shown
        said = pushed_words(job, moved) if moved else self._why
        more = (*filter(None, (said,)), *self._means, *self.cost.lines)
        words = (size + copies, *self._verdict.lines, *more)
        self._bubble.say(words, good=self._verdict.good)


def _all_of(lying: Iterable[Placement], now: Iterable[Placement]) -> list[Placement]:
    """Return all parts of a sheet, some of them where they have gone."""
    gone = {one.key: one for one in now}
    return [gone.get(one.key, one) for one in lying]


def finished(part: Part, cut: tuple[Length, Length]) -> tuple[Length, Length]:
    """Return the finished size of a part that is sawn to a size."""
    return part.length + cut[0] - part.cut_length, part.width + cut[1] - part.cut_width


def _ended(rect: Rect, way: Way, end: Length, *, far: bool) -> Rect:
    """Return a rectangle with one edge elsewhere, at least a tick from the edge across."""
    start, stop = low(rect, way), high(rect, way)
    if far:
        return stretched(rect, way, start, max(end, start + 1))
    return stretched(rect, way, min(end, stop - 1), stop)

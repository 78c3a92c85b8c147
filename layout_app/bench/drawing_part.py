"""Draw a part as a rectangle on a sheet: it becomes a row of the take-off, and lies there."""

from dataclasses import replace
from itertools import product

from PySide6.QtCore import QPointF, Qt

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.interaction import ARROWS, GestureHand, Interaction
from layout_app.bench.overlays import Ghost
from layout_app.bench.telling_cost import CostTold
from layout_app.document import edit_parts
from layout_app.document.judging_many import judge_here
from layout_app.look import pens
from layout_app.model.feasibility import Verdict
from layout_app.model.project import Project
from layout_app.model.snapping import (
    ASKED,
    Way,
    low,
    moved,
    next_stop,
    snap_end,
    snap_size,
)
from layout_app.model.stops import ends, high, lines, stretched
from shared.geometry import Rect
from shared.lengths import MM, Length, format_pair, step

LEAST = 10 * MM
"""A smaller rectangle is taken for a slip of the hand."""
BEGIN = 100 * MM
"""How long and wide a part begins that is drawn with keys."""
TOO_SMALL = "drag a rectangle"


class DrawingPart(Interaction):
    """A rectangle from where the pointer was pressed to where it is."""

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, hand: GestureHand, stand: Stand, point: QPointF) -> None:
        super().__init__(hand)
        theme = hand.scene.theme
        self._stand = stand
        self._stock = hand.sheets.stock(stand.sheet)
        self._ground = hand.sheets.ground(stand.sheet)
        self._anchor, self._is_laid = stand.point(point), False
        x, y = (self._begin(way, at, far=False) for way, at in zip(Way, self._anchor, strict=True))
        self.rect = Rect(x=x, y=y, length=1, width=1)
        self.good = self._sizes = False
        self._ghost, self._bubble = Ghost(theme, ("", ""), pens.tint(theme, 0)), Bubble(theme)
        self.cost = CostTold(hand.scene, hand.document, self._after, self._tell_cost)
        self._lines: tuple[str, ...] = ()
        self.show(self._ghost, self._bubble)
        self._say()
        self._put(point)

    @property
    def is_large_enough(self) -> bool:
        """Whether it is meant as a part."""
        return min(self.rect.length, self.rect.width) >= LEAST

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer with the corner across."""
        reach = 0 if free else self.hand.reach
        at = self._stand.point(point)
        rect = self.rect
        for way, begin, end in zip(Way, self._anchor, at, strict=True):
            rect = self._stretched(rect, way, begin, end, reach)
        if rect != self.rect:
            self.rect = rect
            self._say()
        self._put(point)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Move the rectangle by the finest step, or with Shift to the next stop.

        After E its far edges move, and after E again the rectangle.
        """
        if key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            return self._to_sheet(1 if key == Qt.Key.Key_PageDown else -1)
        if key == Qt.Key.Key_E:
            self._sizes = not self._sizes
            return True
        if key not in ARROWS:
            return False
        way, onward = ARROWS[key]
        fine = not modifiers & Qt.KeyboardModifier.ShiftModifier
        step_to = self._sized if self._sizes else self._moved
        self.lay(step_to(way, onward=onward, fine=fine))
        return True

    def lay(self, rect: Rect) -> None:
        """Show the rectangle elsewhere; keys have put it there."""
        self.rect, self._anchor, self._is_laid = rect, (rect.x, rect.y), True
        self._say()
        seen = to_rectf(rect).translated(self._stand.x, self._stand.y)
        self.hand.screen.reveal(seen)
        self._put(seen.bottomRight())

    def _moved(self, way: Way, *, onward: bool, fine: bool) -> Rect:
        by = self._ground.step if onward else -self._ground.step
        stop: Length | None = low(self.rect, way) + by
        if not fine:
            judge = self._can_be_cut
            stop = next_stop(self.rect, self._ground, way, onward=onward, can_be_cut=judge)
        return self.rect if stop is None else moved(self.rect, way, stop)

    def _sized(self, way: Way, *, onward: bool, fine: bool) -> Rect:
        """Return it longer or wider, or shorter or narrower; never less than a part can be.

        Of the next few ends the first that can be cut, if one of them can.
        """
        here, start = high(self.rect, way), low(self.rect, way)
        by = self._ground.step if onward else -self._ground.step
        least = _rounded_up(LEAST, self._ground.step)
        if fine:
            return stretched(self.rect, way, start, max(here + by, start + least))
        found = set(ends(self.rect, self._ground, way, far=True))
        ahead = sorted(end for end in found if (end > here if onward else start < end < here))
        rects = [
            stretched(self.rect, way, start, max(end, start + least))
            for end in (ahead if onward else reversed(ahead))
        ]
        best = next(filter(self._can_be_cut, rects[:ASKED]), None)
        return best or next(iter(rects), self.rect)

    def _to_sheet(self, by: int) -> bool:
        """Draw on the next sheet or the one before."""
        ids = [stand.sheet for stand in self.hand.scene.floor.stands]
        at = ids.index(self._stand.sheet) + by
        if 0 <= at < len(ids):
            self._stand = self.hand.sheets.stand(ids[at])
            self._stock = self.hand.sheets.stock(ids[at])
            self._ground = self.hand.sheets.ground(ids[at])
            self.lay(free_place(self.hand, ids[at]))
        return True

    def finish(self) -> None:
        """Add the part, and say which it is so that it can be named."""
        if self.is_large_enough:
            new = edit_parts.draw_part(self.hand.document, self._stand.sheet, self.rect)
            if new:
                self.hand.document.selection.select_parts([(new, 1)])
                self.hand.drew.emit(new)

    def clear(self) -> None:
        """Take everything off the bench, and say no more."""
        self.cost.end()
        super().clear()

    def _after(self) -> Project:
        """Return what the project would become with the part drawn so."""
        return edit_parts.with_drawn(self.hand.document, self._stand.sheet, self.rect)

    def _said(self) -> None:
        """Say all there is to say, what it costs as soon as that is known."""
        self._bubble.say((*self._lines, *self.cost.lines), good=self.good)

    def _tell_cost(self) -> None:
        self._said()
        self._put(self._point)

    def _put(self, point: QPointF) -> None:
        """Put the words beside a point of the scene."""
        self._point = point
        self.hand.put_bubble(self._bubble, point)

    def _stretched(self, rect: Rect, way: Way, begin: Length, end: Length, reach: Length) -> Rect:
        """Return the rectangle from one position to another in one direction."""
        if end >= begin:
            begin = self._begin(way, begin, far=False)
            there = _between(rect, way, begin, max(end, begin + 1))
            return snap_size(there, self._ground, way, reach, self._can_be_cut)
        begin = self._begin(way, begin, far=True)
        there = _between(rect, way, min(end, begin - 1), begin)
        return snap_end(there, self._ground, way, reach, far=False, can_be_cut=self._can_be_cut)

    def _begin(self, way: Way, at: Length, *, far: bool) -> Length:
        """Return where the edge lies that stays: at the nearest stop, or on a whole step."""
        if self._is_laid:
            return at
        stops = lines(self._ground, way, far=far)
        near = [stop for stop in stops if abs(stop - at) <= self.hand.reach]
        start, by = low(self._ground.usable, way), self._ground.step
        whole = start + round((at - start) / by) * by
        return min(near, key=lambda stop: abs(stop - at), default=whole)

    def _verdict(self, rect: Rect) -> Verdict:
        """Judge the sheet with the part drawn there."""
        doc = self.hand.document
        part = edit_parts.drawn_part(doc.job, self._stock, rect)
        sheet = doc.layout.sheet(self._stand.sheet)
        with_it = replace(doc.job, parts=(*doc.job.parts, part))
        return judge_here(doc, sheet, edit_parts.lying(part, sheet.id, rect), job=with_it)

    def _can_be_cut(self, rect: Rect) -> bool:
        return self._verdict(rect).good

    def _say(self) -> None:
        job, sheet = self.hand.document.job, self.hand.document.layout.sheet(self._stand.sheet)
        part = edit_parts.drawn_part(job, self._stock, self.rect)
        words, self.good = TOO_SMALL, False
        if self.is_large_enough:
            verdict = self._verdict(self.rect)
            words, self.good = verdict.words, verdict.good
        self.cost.follow((sheet.id, self.rect) if self.good else None)
        size = format_pair(self.rect.length, self.rect.width, job.style)
        self._lines = f"{part.name}: {size}", words
        self._said()
        self._ghost.lie(
            to_rectf(self.rect).translated(self._stand.x, self._stand.y),
            good=self.good,
            grain_along_x=self.hand.sheets.grain_along_x(sheet.id),
        )


def drawn_by_keys(hand: GestureHand, stand: Stand) -> DrawingPart:
    """Begin a part in the first free place of a sheet, to be moved and sized with keys."""
    rect = free_place(hand, stand.sheet)
    drawing = DrawingPart(hand, stand, to_rectf(rect).topLeft() + QPointF(stand.x, stand.y))
    drawing.lay(rect)
    return drawing


def free_place(hand: GestureHand, sheet: str) -> Rect:
    """Return a rectangle to begin with: `BEGIN` both ways, or smaller where there is less room."""
    usable, kerf = hand.sheets.stock(sheet).usable, hand.document.job.shop.kerf
    others = [one.rect for one in hand.document.layout.sheet(sheet).placements]
    fine = step(hand.document.job.style)
    for side in (_rounded_up(BEGIN, fine), _rounded_up(LEAST, fine)):
        rect = Rect(x=0, y=0, length=min(side, usable.length), width=min(side, usable.width))
        xs = sorted({usable.x, *(one.right + kerf for one in others)})
        ys = sorted({usable.y, *(one.bottom + kerf for one in others)})
        for y, x in product(ys, xs):
            there = replace(rect, x=x, y=y)
            if usable.contains(there) and not any(there.overlaps(one) for one in others):
                return there
    return replace(rect, x=usable.x, y=usable.y)


def _rounded_up(length: Length, fine: Length) -> Length:
    """Return the next length that the maker's units can say."""
    return -(-length // fine) * fine


def _between(rect: Rect, way: Way, begin: Length, end: Length) -> Rect:
    if way is Way.X:
        return replace(rect, x=begin, length=end - begin)
    return replace(rect, y=begin, width=end - begin)

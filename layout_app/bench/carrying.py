"""Carry a part: within a sheet, between sheets, to the waiting place and back."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt, QTimer

from layout_app import hands
from layout_app.bench import ink
from layout_app.bench.frame import Stand, to_mm, to_rectf, to_ticks
from layout_app.bench.interaction import Interaction
from layout_app.bench.judge import Verdict, explain, judge, named
from layout_app.bench.keys import ARROWS
from layout_app.bench.overlays import Bubble, Ghost, Lifted, Lines, Troubled
from layout_app.bench.snapping import Guide, Way, moved, next_stop, snap
from layout_app.selection import Copy
from shared.geometry import Rect
from shared.lengths import Length, format_pair
from shared.plan import Placement
from shared.stock import SheetGrain, orientations

if TYPE_CHECKING:
    from layout_app.bench.hand import Hand

WAITS = Verdict(good=True, words="will wait")
REST_MS = 80
"""How long a part has to be held still until more is said than yes or no."""
NOWHERE = Verdict(good=False, words="off the sheet")


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Where the part in the hand would lie if it were let go."""

    sheet: str = ""
    rect: Rect
    turned: bool
    waits: bool = False


class Carrying(Interaction):
    """A part in the hand, by pointer or by arrow keys.

    Parameters
    ----------
    copy
        Which part is carried.
    origin
        Where it lies; ``None`` when it waits.
    grab
        Where on the part the pointer holds it, in ticks from its corner.
    """

    def __init__(
        self,
        hand: "Hand",
        copy: Copy,
        origin: Placement | None,
        grab: tuple[Length, Length] = (0, 0),
    ) -> None:
        super().__init__(hand)
        self.copy, self._origin, self._grab = copy, origin, grab
        self._turned = None if origin is None else origin.turned
        self._by_hand = False
        self._pointer: QPointF | None = None
        self.held = self._start()
        self.verdict = NOWHERE
        self._guides: tuple[Guide, ...] = ()
        self._rest = QTimer(hand, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._explain)
        self._prepare()
        self._judge()

    def _start(self) -> Held:
        if self._origin is not None:
            one = self._origin
            return Held(sheet=one.sheet, rect=one.rect, turned=one.turned)
        return Held(rect=self._extents(False, 0, 0), turned=False, waits=True)

    def _prepare(self) -> None:
        theme, job = self.hand.scene.theme, self.hand.document.job
        part = job.part(self.copy[0])
        size = format_pair(part.cut_length, part.cut_width, job.style)
        tint = self.hand.scene.tint_of(self.copy)
        self._ghost = Ghost(theme, (part.name, size), ink.tint(theme, tint))
        self._bubble, self._lines, self._others = Bubble(theme), Lines(theme), Troubled(theme)
        if self._origin is not None:
            stand = self.hand.sheets.stand(self._origin.sheet)
            self.show(Lifted(theme, _in_scene(stand, self._origin.rect)))
        self.show(self._others, self._ghost, self._lines, self._bubble)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer and say at once whether the part may lie there."""
        self._pointer = point
        stand = self.hand.scene.floor.at(point)
        if self.hand.screen.over_shelf(point):
            self._hold(replace(self._loose(point), waits=True))
        elif stand is None:
            self._hold(self._loose(point))
        else:
            self._hold_on(stand, point, free=free)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Turn, let wait, go on to the next stop or sheet."""
        if key == Qt.Key.Key_T:
            self._turn()
        elif key == Qt.Key.Key_W:
            self._hold(replace(self.held, waits=True))
        elif key in ARROWS:
            self._step(*ARROWS[key], fine=bool(modifiers & Qt.KeyboardModifier.ShiftModifier))
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._to_sheet(1 if key == Qt.Key.Key_PageDown else -1)
        else:
            return False
        return True

    def finish(self) -> None:
        """Lay the part down, or let it wait."""
        held, doc = self.held, self.hand.document
        if held.waits:
            if self._origin is not None:
                hands.wait_parts(doc, [self.copy])
        elif held.sheet:
            at = held.rect
            hands.move_part(doc, *self.copy, held.sheet, at.x, at.y, held.turned)
        else:
            doc.said.emit(f"{named(doc.job, self.copy)} stays: it was let go beside the sheets.")

    def _loose(self, point: QPointF) -> Held:
        """Return the part at the pointer, on no sheet: ticks of the scene."""
        x, y = (to_ticks(value) for value in (point.x(), point.y()))
        turned = bool(self._turned)
        return Held(rect=self._extents(turned, x - self._grab[0], y - self._grab[1]), turned=turned)

    def _hold_on(self, stand: Stand, point: QPointF, *, free: bool) -> None:
        turned = self._turned_on(stand.sheet)
        x, y = stand.point(point)
        raw = self._extents(turned, x - self._grab[0], y - self._grab[1])
        ground = self.hand.sheets.ground(stand.sheet, self.copy)
        snapped = snap(raw, ground, 0 if free else self.hand.reach)
        self._hold(Held(sheet=stand.sheet, rect=snapped.rect, turned=turned), snapped.guides)

    def _turned_on(self, sheet: str) -> bool:
        """Return how the part lies on a sheet: as it lay, or as the maker turned it.

        A sheet whose grain runs the other way turns a part that nobody turned by hand.
        """
        rule = self.hand.document.job.part(self.copy[0]).grain_rule
        allowed = orientations(rule, self.hand.sheets.stock(sheet).grain)
        if self._turned is None or (self._turned not in allowed and not self._by_hand):
            return allowed[0]
        return self._turned

    def _turn(self) -> None:
        self._turned, self._by_hand = not self.held.turned, True
        self._grab = self._grab[1], self._grab[0]
        if self._pointer is not None:
            self.move(self._pointer)
        else:
            rect = self._extents(self._turned, self.held.rect.x, self.held.rect.y)
            self._hold(replace(self.held, rect=rect, turned=self._turned))

    def _step(self, way: Way, onward: bool, *, fine: bool) -> None:
        """Go to the next stop, or by the finest step of the maker's units."""
        if not self.held.sheet:
            self._to_sheet(1)
            return
        ground, rect = self.hand.sheets.ground(self.held.sheet, self.copy), self.held.rect
        here = rect.x if way is Way.X else rect.y
        stop = next_stop(rect, ground, way, onward=onward)
        if fine:
            stop = here + (ground.step if onward else -ground.step)
        if stop is not None:
            self._pointer = None
            self._hold(replace(self.held, rect=moved(rect, way, stop), waits=False))

    def _to_sheet(self, by: int) -> None:
        """Carry the part to the next sheet or the one before."""
        stands = self.hand.scene.floor.stands
        ids = [stand.sheet for stand in stands]
        if not ids:
            return
        here = ids.index(self.held.sheet) if self.held.sheet in ids else -1
        sheet = ids[max(0, min(len(ids) - 1, here + by))]
        turned = self._turned_on(sheet)
        corner = self.hand.sheets.first_place(sheet, self.copy, turned)
        self._pointer = None
        self._hold(Held(sheet=sheet, rect=self._extents(turned, *corner), turned=turned))

    def clear(self) -> None:
        """Take everything off the bench, and say no more."""
        self._rest.stop()
        self._rest.deleteLater()
        super().clear()

    def _hold(self, held: Held, guides: tuple[Guide, ...] = ()) -> None:
        self._guides = guides
        if held != self.held:
            self.held = held
            self._judge()
            self._rest.stop()
        if self.verdict.rough and not self._rest.isActive():
            self._rest.start()
        self._draw(guides)

    def _explain(self) -> None:
        """Say in full what was said roughly, now that the part is held still."""
        sheet = self.hand.sheets.layout(self.held.sheet)
        self.verdict = explain(self.hand.document.job, sheet, self._placement())
        self._draw(self._guides)

    def _judge(self) -> None:
        held, job = self.held, self.hand.document.job
        if held.waits or not held.sheet:
            self.verdict = WAITS if held.waits else NOWHERE
            return
        barred = self.hand.document.held.bars_place(self._placement())
        if barred:
            self.verdict = Verdict(good=False, words=barred)
            return
        self.verdict = judge(job, self.hand.sheets.layout(held.sheet), self._placement())

    def _placement(self) -> Placement:
        at = self.held.rect
        return Placement(
            part=self.copy[0],
            copy=self.copy[1],
            sheet=self.held.sheet,
            x=at.x,
            y=at.y,
            length=at.length,
            width=at.width,
            turned=self.held.turned,
        )

    def _draw(self, guides: tuple[Guide, ...]) -> None:
        stand = self.hand.scene.floor.of(self.held.sheet)
        rect = _in_scene(stand, self.held.rect)
        self._ghost.lie(rect, good=self.verdict.good, grain_along_x=self._grain())
        self._others.show_rects(self.hand.scene.rects_of(self.verdict.troubled - {self.copy}))
        self._lines.show_lines([_line(stand, guide) for guide in guides] if stand else [])
        self._bubble.say((*self.verdict.lines, self._name()), good=self.verdict.good)
        self.hand.put_bubble(self._bubble, self._pointer or rect.topRight())
        if self._pointer is None:
            self.hand.screen.reveal(rect)

    def _name(self) -> str:
        return named(self.hand.document.job, self.copy)

    def _grain(self) -> bool | None:
        """Say whether the grain runs along x where the part is held."""
        if not self.held.sheet:
            return None
        grain = self.hand.sheets.stock(self.held.sheet).grain
        return None if grain is SheetGrain.NONE else grain is SheetGrain.ALONG_L

    def _extents(self, turned: bool, x: Length, y: Length) -> Rect:
        part = self.hand.document.job.part(self.copy[0])
        length, width = part.cut_length, part.cut_width
        if turned:
            length, width = width, length
        return Rect(x=x, y=y, length=length, width=width)


def _in_scene(stand: Stand | None, rect: Rect) -> QRectF:
    local = to_rectf(rect)
    return local.translated(stand.x, stand.y) if stand is not None else local


def _line(stand: Stand, guide: Guide) -> QLineF:
    """Return a guide over the whole sheet."""
    at, over = to_mm(guide.at), stand.length / 60
    if guide.way is Way.X:
        x = stand.x + at
        return QLineF(x, stand.y - over, x, stand.y + stand.width + over)
    y = stand.y + at
    return QLineF(stand.x - over, y, stand.x + stand.length + over, y)

"""Carry parts: within a sheet, between sheets, to those set aside and back."""

from dataclasses import replace

from PySide6.QtCore import QPointF, Qt, QTimer

from layout_app.bench.aiming import Aim, Aims, Patience
from layout_app.bench.beside import OFF_BENCH, Beside, Opening
from layout_app.bench.frame import Stand, to_ticks
from layout_app.bench.giving_way import GivingWay
from layout_app.bench.interaction import ARROWS, GestureHand, Interaction
from layout_app.bench.showing_cargo import CargoShown, HeldAt, InHand
from layout_app.bench.telling_cost import CostTold
from layout_app.document import edit_layout
from layout_app.document.judging_many import explain_all
from layout_app.model.carried import Cargo
from layout_app.model.landing import Snapped
from layout_app.model.project import Project
from layout_app.model.snapping import Way, low, moved
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.stock import orientations

REST_MS = 80
"""How long a part has to be held still until more is said than yes or no."""
PULLED_PX = 20
"""How far beyond the edge of a sheet the pointer still holds parts on it."""
AT_ONCE, ASKS, ASKED_AT_REST = 100, 4, 16
"""How many pieces of a sheet are looked at in a frame, for how many places, and at rest."""


class Carrying(Interaction):
    """Parts in the hand, by pointer or by arrow keys.

    Parameters
    ----------
    cargo
        Which parts are carried, as they lie.
    at
        Where the corner of the first of them lies on its sheet, in ticks.
    grab
        Where on that part the pointer holds it, in ticks from its corner.
    """

    def __init__(
        self,
        hand: GestureHand,
        cargo: Cargo,
        at: tuple[Length, Length] = (0, 0),
        grab: tuple[Length, Length] = (0, 0),
    ) -> None:
        super().__init__(hand)
        self.taken, self._grab = cargo, grab
        lead = cargo.lead
        self._turned, self._by_hand = lead.turned if lead.home else None, False
        self._pointer: QPointF | None = None
        self._aims = Aims(hand.document, hand.sheets, cargo)
        self._beside = Beside(hand, cargo)
        self._wanted: tuple[Rect, Length] | None = None
        """The frame round them where the pointer holds it, and how far it reaches for a stop."""
        self._kept: QPointF | None = None
        """Where the pointer was when they went to the nearest place and let go of it."""
        self.held = HeldAt(
            sheet=lead.home, rect=lead.rect(*at), turned=lead.turned, waits=not lead.home
        )
        self.verdict = OFF_BENCH
        self._rest = QTimer(hand.scene, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._say_more)
        self._soon = QTimer(hand.scene, singleShot=True, interval=0)
        self._soon.timeout.connect(self._go_on)
        self._more, self._said_of, self._sure = 1, "", True
        self._place: Snapped | None = None
        self._offer: Snapped | None = None
        """The nearest place that can be cut, while they are held where nothing can."""
        self.cost = CostTold(hand.scene, hand.document, self._after, self._draw)
        self.giving_way = GivingWay(hand, cargo.keys)
        self._shows = CargoShown(hand, cargo)
        self.show(*self._shows.overlays)
        self._settle()

    @property
    def cargo(self) -> Cargo:
        """What is carried, as it is held now."""
        return self._as(self.held.turned)

    def appear(self) -> None:
        """Show the parts in the hand where keys took them up."""
        self._draw()

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer and say at once whether the parts may lie there."""
        self._pointer, stand = point, self._stand_at(point)
        if self._is_kept(point):
            self._draw()
        elif self.hand.screen.over_shelf(point):
            self._hold(replace(self._loose(point), waits=True))
        elif stand is None:
            self._hold(self._loose(point))
        else:
            self._hold_on(stand, point, free=free)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Turn, set aside, push, go by the finest step, with Shift to a stop, or to a sheet."""
        if key == Qt.Key.Key_T:
            self._turn()
        elif key == Qt.Key.Key_P:
            self.giving_way.on = not self.giving_way.on
            self.heed()
        elif key == Qt.Key.Key_W:
            self._hold(replace(self.held, waits=True))
        elif key == Qt.Key.Key_N:
            self._go_where_it_fits()
        elif key in ARROWS:
            self._step(*ARROWS[key], fine=not modifiers & Qt.KeyboardModifier.ShiftModifier)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._to_sheet(1 if key == Qt.Key.Key_PageDown else -1)
        else:
            return False
        return True

    def finish(self) -> None:
        """Lay the parts down, or set them aside."""
        while not self._sure:  # Let go sooner than it was known where they come to lie.
            self._more *= 2
            self._look()
        held, doc = self.held, self.hand.document
        if held.waits:
            if self.taken.lead.home:
                edit_layout.set_aside(doc, self.taken.keys)
        elif held.sheet:
            edit_layout.move_parts(doc, self.placements(), self.giving_way.moved)
        else:
            self._beside.let_go(self._opening, self.name)

    @property
    def name(self) -> str:
        """What is carried, in words."""
        return self.taken.name(self.hand.document.job)

    def placements(self) -> tuple[Placement, ...]:
        """Return how all would lie if they were let go."""
        held, pushed = self.held, self.giving_way.pushed
        if pushed is not None:
            return pushed.held
        return self.cargo.placements(held.sheet, held.rect.x, held.rect.y)

    @property
    def lying(self) -> tuple[Placement, ...]:
        """How all would lie that lies elsewhere then, with what gives way."""
        if (opening := self._opening) is not None:
            return opening.placements
        return (*self.placements(), *self.giving_way.moved)

    def _after(self) -> Project | None:
        """Return what the project becomes if they are let go; ``None`` if nothing changes."""
        doc, keys = self.hand.document, self.taken.keys
        if self.held.waits:
            return edit_layout.without(doc, keys) if self.taken.lead.home else None
        new, opening = edit_layout.moving(doc, self.lying), self._opening
        return edit_layout.laid(doc, new, opening.row if opening else "") if new else None

    @property
    def _opening(self) -> Opening | None:
        return self._beside.opening(self.held, self._turned, by_hand=self._by_hand)

    @property
    def _aim(self) -> Aim:
        """Who finds places on the sheet that they are held on, as they are held."""
        return self._aims.on(self.held.sheet, turned=self.held.turned)

    def clear(self) -> None:
        """Take everything off the bench, and say no more."""
        for timer in (self._rest, self._soon):
            timer.stop()
            timer.deleteLater()
        self.cost.end()
        self.hand.screen.clear_tray()
        super().clear()

    def _as(self, turned: bool) -> Cargo:
        """Return the parts with the first of them lying one way or the other."""
        return self.taken if turned == self.taken.lead.turned else self.taken.flipped()

    def _stand_at(self, point: QPointF) -> Stand | None:
        """Return the sheet at a point of the scene, or one that they are not pulled off yet."""
        floor, room = self.hand.scene.floor, PULLED_PX / self.hand.screen.scale_px
        near = floor.at(point) or floor.nearest(point)
        holds = near is not None and near.rect.adjusted(-room, -room, room, room).contains(point)
        return near if holds else floor.at(point)

    def _loose(self, point: QPointF) -> HeldAt:
        """Return the part at the pointer, on no sheet: ticks of the scene."""
        x, y = (to_ticks(value) for value in (point.x(), point.y()))
        turned = bool(self._turned)
        rect = self._rect(turned, x - self._grab[0], y - self._grab[1])
        return HeldAt(rect=rect, turned=turned, beside=self.hand.screen.sight.contains(point))

    def _hold_on(self, stand: Stand, point: QPointF, *, free: bool) -> None:
        """Hold them over a sheet: they go to the best place within reach."""
        turned = self._turned_on(stand.sheet)
        x, y = stand.point(point)
        rect = self._rect(turned, x - self._grab[0], y - self._grab[1])
        reach = 0 if free else self.hand.reach
        self._hold(HeldAt(sheet=stand.sheet, rect=rect, turned=turned), reach)
        if self._shows.is_over_offer(point):
            self._take_offer()

    def _turned_on(self, sheet: str) -> bool:
        """Return how the first part lies on a sheet: as it lay, or as the maker turned it.

        A sheet whose grain runs the other way turns parts that nobody turned by hand.
        """
        rule = self.hand.document.job.part(self.taken.lead.part).grain_rule
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
            rect = self._rect(self._turned, self.held.rect.x, self.held.rect.y)
            self._hold(replace(self.held, rect=rect, turned=self._turned))

    def _step(self, way: Way, onward: bool, *, fine: bool) -> None:
        """Go to the next stop, or by the finest step of the maker's units."""
        if not self.held.sheet:
            self._to_sheet(1)
            return
        aim = self._aim
        frame, by = aim.frame(self.held.rect), self._aims.ground(self.held.sheet).step
        stop = (
            low(frame, way) + (by if onward else -by)
            if fine
            else aim.next_stop(frame, way, onward=onward, over=self.giving_way.on)
        )
        if stop is not None:
            self._pointer = None
            self._hold(replace(self._at(moved(frame, way, stop)), waits=False))

    def _at(self, frame: Rect) -> HeldAt:
        """Return what is held with the frame round it elsewhere on the sheet."""
        x, y = self._aim.corner(frame)
        return replace(self.held, rect=replace(self.held.rect, x=x, y=y))

    def _is_kept(self, point: QPointF) -> bool:
        """Say whether they stay at the nearest place, as the pointer has not really moved since."""
        if self._kept is not None:
            way = point - self._kept
            if to_ticks(max(abs(way.x()), abs(way.y()))) > self.hand.reach:
                self._kept = None
        return self._kept is not None

    def _go_where_it_fits(self) -> None:
        """Go to the nearest place that can be cut, and stay there till the pointer really moves."""
        if self._place is not None and not self.verdict.good:
            self._look_round()
            self._kept = self._pointer if self._take_offer() else None

    def _take_offer(self) -> bool:
        """Go to the nearest place that can be cut, if it is known; say whether it is."""
        if (offer := self._offer) is not None:
            self._hold(self._at(offer.rect))
        return offer is not None

    def _to_sheet(self, by: int) -> None:
        """Carry the parts to the next sheet or the one before."""
        ids = [stand.sheet for stand in self.hand.scene.floor.stands]
        there = len(ids) if self.held.beside and not self.held.waits else -1
        to = (ids.index(self.held.sheet) if self.held.sheet in ids else there) + by
        self._pointer = None
        if to >= len(ids):
            self._hold(HeldAt(rect=self.held.rect, turned=self.held.turned, beside=True))
            return
        sheet = ids[max(0, to)]
        turned = self._turned_on(sheet)
        cargo = self._as(turned)
        corner = self.hand.sheets.first_place(sheet, cargo)
        self._hold(HeldAt(sheet=sheet, rect=cargo.lead.rect(*corner), turned=turned))

    def _hold(self, held: HeldAt, reach: Length | None = None) -> None:
        """Hold them elsewhere: just there, or at the best place within reach."""
        before, self.held = self.held, held
        on_sheet = bool(held.sheet) and not held.waits
        wanted = (self._aim.frame(held.rect), reach) if on_sheet and reach is not None else None
        if wanted is None or wanted != self._wanted or before.sheet != held.sheet:
            self._wanted, self._more = wanted, 1
        self._settle()
        nowhere, shapes = not (held.sheet or self.verdict.good), Qt.CursorShape
        self.cursor = shapes.ForbiddenCursor if nowhere else shapes.ClosedHandCursor
        if self.held != before:
            self._rest.stop()
        self._wait_for_rest()
        self._draw()

    def _settle(self) -> None:
        """Find where they lie, and say what is known of it; the rest is found a frame later."""
        held = self.held
        if held.waits or not held.sheet:
            self.verdict, self._said_of = self._beside.verdict(held, self._opening), ""
            self._place, self._offer, self._sure = None, None, True
            self.giving_way.forget()
            return
        known = self._look()
        while not known and self._said_of != held.sheet:  # There are no words of this sheet yet.
            self._more *= 2
            known = self._look()
        self._more = 1 if known else 2 * self._more
        if not known:  # What was said of the place before stands a frame longer.
            self._soon.start()

    def heed(self) -> None:
        """Look again where they are held: what lies in the way is pushed now, or no longer."""
        if self.held.sheet and not self.held.waits:
            self._more = 1
            self._settle()
            self._draw()

    def _look(self) -> bool:
        """Look at so many places and pieces of the sheet; say whether all is known now."""
        aim, patience = self._aim, Patience(ASKS * self._more, AT_ONCE * self._more)
        if self._wanted is None:
            aimed = aim.just_there(aim.frame(self.held.rect), patience)
        else:
            aimed = aim.find(*self._wanted, patience)
        free = self._wanted is None or self._wanted[1] == 0
        by_pointer = self._pointer is not None
        aimed = self.giving_way.aimed(aim, aimed, by_pointer=by_pointer, free=free)
        self._place, self.held = aimed.place, self._at(aimed.place.rect)
        self._sure = aimed.verdict.known
        if not self._sure:
            return False
        if self._said_of != self.held.sheet or aimed.verdict.good:
            self._offer = None
        self.verdict, self._said_of = aimed.verdict, self.held.sheet
        return True

    def _look_round(self) -> None:
        """Find the nearest place that can be cut, where the parts are held at none."""
        aim, patience = self._aim, Patience(ASKED_AT_REST, AT_ONCE)
        nearest = aim.nearest(aim.frame(self.held.rect), patience)
        if nearest.known:
            self._offer = nearest.place
        else:
            self._rest.start()

    def _draw(self) -> None:
        held, place = self.held, self._place
        self.cost.follow((held.waits, self.lying) if self.verdict.good and self._sure else None)
        if held.waits:
            words = ", ".join((self.verdict.words, *self.cost.lines))
            self.hand.screen.show_on_tray(self.name, words, self._pointer)
        else:
            self.hand.screen.clear_tray()
        self._shows.draw(
            InHand(
                sheet=held.sheet,
                placements=self.placements(),
                name=self.name,
                verdict=self.verdict,
                pointer=self._pointer,
                place=place,
                offer=self._offer,
                ground=None if place is None else self._aims.ground(held.sheet),
                on_tray=held.waits,
                cost=self.cost.lines,
                aside=self.giving_way.moved,
                pushing=self.giving_way.words,
            )
        )

    def _wait_for_rest(self) -> None:
        """Say more once the parts are held still, where there is more to say."""
        more = self.verdict.rough or (not self.verdict.good and self._place is not None)
        if more and not self._rest.isActive():
            self._rest.start()

    def _say_more(self) -> None:
        """Say in full what was said roughly, and where they fit, now that they are held still."""
        if self.verdict.rough:
            self.verdict = replace(explain_all(self.hand.document, self.lying), rough=False)
            if self._place is not None and self.giving_way.pushed is None:
                self._aim.learn(self._place.rect, self.verdict)
        if self._place is not None and not self.verdict.good:
            self._look_round()
        self._draw()

    def _go_on(self) -> None:
        """Look at more of the sheet, now that the frame is painted."""
        self._settle()
        self._wait_for_rest()
        self._draw()

    def _rect(self, turned: bool, x: Length, y: Length) -> Rect:
        return self._as(turned).lead.rect(x, y)

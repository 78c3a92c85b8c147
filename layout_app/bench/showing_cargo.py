"""What is seen of parts in the hand: where they would lie, the verdict, and distances."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.giving_way import AsideShown
from layout_app.bench.interaction import GestureHand
from layout_app.bench.measures import Board, Measures, line_of, written
from layout_app.bench.offered import Offered
from layout_app.bench.overlays import Ghost, Lifted, Lines, Overlay, Troubled
from layout_app.look import pens
from layout_app.model.carried import Cargo, CarriedPart
from layout_app.model.feasibility import Verdict
from layout_app.model.landing import Guide, Snapped
from layout_app.model.stops import LineKind, SnapGround
from shared.geometry import Rect
from shared.lengths import format_pair
from shared.plan import Placement

FITS_HERE = "fits here"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldAt:
    """Where the part in the hand would lie if it were let go; others keep their places to it."""

    sheet: str = ""
    rect: Rect
    turned: bool
    waits: bool = False
    beside: bool = False
    """Whether it is held over the ground beside the sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InHand:
    """What is said and shown of parts in the hand.

    Attributes
    ----------
    sheet
        The sheet they are held on; ``""`` for none.
    placements
        How all would lie if they were let go.
    name
        What they are called together.
    pointer
        Where the pointer is in the scene; ``None`` while keys carry.
    place
        The frame round them on the sheet, and what it stopped at; ``None`` off the sheets.
    offer
        The nearest place on the sheet that can be cut, if the one they are held at cannot.
    ground
        What lies about them; ``None`` off the sheets.
    on_tray
        Whether they would be set aside: with the pointer over the tray they are shown there.
    cost
        What letting go there costs, in lines; nothing while it is not known.
    aside, pushing
        How those would lie that give way to them, and what is said of that.
    """

    sheet: str
    placements: tuple[Placement, ...]
    name: str
    verdict: Verdict
    pointer: QPointF | None
    place: Snapped | None
    offer: Snapped | None
    ground: SnapGround | None
    on_tray: bool = False
    cost: tuple[str, ...] = ()
    aside: tuple[Placement, ...] = ()
    pushing: tuple[str, ...] = ()


class CargoShown:
    """The overlays of parts that are carried."""

    def __init__(self, hand: GestureHand, cargo: Cargo) -> None:
        self._hand, self._keys = hand, cargo.keys
        theme = hand.scene.theme
        self._ghosts = {piece.key: self._ghost(piece) for piece in cargo.pieces}
        self._bubble, self._lines = Bubble(theme), Lines(theme)
        self._others, self._measures = Troubled(theme), Measures(theme)
        lifted = (Lifted(theme, rect) for rect in hand.scene.rects_of(cargo.keys))
        self._offer, self.aside = Offered(theme), AsideShown(hand)
        words = self._lines, self._offer, self._measures, self._bubble
        self.overlays: tuple[Overlay, ...] = (
            *lifted,
            self.aside,
            self._others,
            *self._ghosts.values(),
            *words,
        )
        """All that is shown, what lies lowest first."""

    def draw(self, held: InHand) -> None:
        """Draw everything where it is held now; words alone while keys hold it on no sheet."""
        hand, verdict = self._hand, held.verdict
        there = held.on_tray and held.pointer is not None
        for shown in (*self._ghosts.values(), self._bubble):
            shown.setVisible(not there)
        aloft = held.pointer is None and not held.sheet
        rects = [] if aloft else [self._lay(one, verdict) for one in held.placements]
        self.aside.show_placements(held.aside)
        self._others.show_rects(hand.scene.rects_of(verdict.troubled - set(self._keys)))
        stand = hand.scene.floor.of(held.sheet)
        guides = held.place.guides if held.place is not None else ()
        self._lines.show_lines([line_of(stand, guide) for guide in guides] if stand else [])
        self._outline(stand, held)
        if held.pointer is None and rects:
            hand.screen.reveal(rects[0])
        self._measure(stand, held)
        lines = (*verdict.lines, *held.pushing, *held.cost, *self._told(held), held.name)
        self._bubble.say(lines, good=verdict.good)
        corner = rects[0].topRight() if rects else hand.screen.sight.topRight()
        at = held.pointer or corner
        said = hand.put_bubble(self._bubble, at, self._measures.places)
        self._measures.give_way(said)
        for ghost in self._ghosts.values():
            ghost.keep_off((said, *self._measures.plates))
        self.aside.keep_off((said, *self._measures.plates))

    def _measure(self, stand: Stand | None, held: InHand) -> None:
        screen = self._hand.screen
        if stand is None or held.place is None or held.ground is None:
            self._measures.show_written([])
            return
        board = Board(screen.sight, screen.scale_px, self._hand.document.job.style)
        told = [(guide, self._words(held.sheet, guide)) for guide in held.place.guides]
        self._measures.show_written(written(stand, held.place.rect, held.ground, told, board))

    def is_over_offer(self, point: QPointF) -> bool:
        """Say whether a point of the scene lies on the words of the place that is offered."""
        return self._offer.plate.contains(point)

    def _outline(self, stand: Stand | None, held: InHand) -> None:
        """Outline the place that is offered."""
        if stand is None or held.offer is None:
            self._offer.show_place(QRectF(), "")
            return
        rect = to_rectf(held.offer.rect).translated(stand.x, stand.y)
        self._offer.show_place(rect, FITS_HERE)

    def _told(self, held: InHand) -> tuple[str, ...]:
        """Say that they are back in their place, or where they could lie."""
        if held.offer is not None:
            words = [self._words(held.sheet, one) for one in held.offer.guides]
            where = [LineKind.HOME.value] if held.offer.home else dict.fromkeys(words)
            return (f"N lays it where it fits: {', '.join(where)}",)
        return (LineKind.HOME.value,) if held.place is not None and held.place.home else ()

    def _words(self, sheet: str, guide: Guide) -> str:
        """Say what a guide is drawn by."""
        by = self._hand.sheets.name_at(sheet, guide.by) if guide.by is not None else ""
        return guide.kind.value.format(by)

    def _lay(self, one: Placement, verdict: Verdict) -> QRectF:
        stand = self._hand.scene.floor.of(one.sheet)
        rect = to_rectf(one.rect)
        if stand is not None:
            rect = rect.translated(stand.x, stand.y)
        key = one.key
        # All are to blame where none is named.
        blameless = key not in verdict.troubled and not verdict.troubled.isdisjoint(self._keys)
        good = verdict.good or blameless
        grain = self._hand.sheets.grain_along_x(one.sheet) if one.sheet else None
        self._ghosts[key].lie(rect, good=good, grain_along_x=grain)
        return rect

    def _ghost(self, piece: CarriedPart) -> Ghost:
        scene, job = self._hand.scene, self._hand.document.job
        part = job.part(piece.part)
        lines = part.name, format_pair(part.cut_length, part.cut_width, job.style)
        return Ghost(scene.theme, lines, pens.tint(scene.theme, scene.tint_of(piece.key)))

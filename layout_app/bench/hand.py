"""The maker's hand on the bench: one gesture at a time, by mouse or by keys."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial

from PySide6.QtCore import QObject, QPointF, QRectF, Qt, Signal

from layout_app.bench.band import Band, Press
from layout_app.bench.bubble import Bubble
from layout_app.bench.carrying import Carrying
from layout_app.bench.drawing_part import DrawingPart, drawn_by_keys
from layout_app.bench.frame import Stand, to_ticks
from layout_app.bench.interaction import ARROWS, HeldFast, Interaction, Screen, Sheets
from layout_app.bench.moving_rips import MovingRip
from layout_app.bench.repairing import Repairing
from layout_app.bench.resizing import CURSORS, Resizing
from layout_app.bench.scene import BenchScene
from layout_app.bench.spots import Spot, spot_at
from layout_app.bench.words_place import Trail
from layout_app.document.document import Document
from layout_app.model.carried import called, lifted
from shared.cuts.moves import rip_index
from shared.lengths import Length
from shared.parts import Copy

SNAP_PX = 12.0
"""How near a part has to be to a stop, each way; and half a step of the pointer more."""
DRAWING = (
    "Drag a rectangle on a sheet, or begin with Return and add it with Return; Esc leaves. Arrows"
    " move it, with Shift to the next stop; after E they size it."
)
DRAG_PX = 4.0
"""The pointer has to move this far before a press becomes a drag."""


class Hand(QObject):
    """Turns presses, moves and keys into gestures; each is one undo step at its end."""

    asked = Signal(str, int)
    """Name and sizes of a copy are to be typed where it lies: its part and its number."""
    drew = Signal(str)
    """A part was drawn: its id."""
    showed = Signal(object)
    """Words are shown beside the pointer: their lines."""
    tidied = Signal(str)
    """A sheet is to be tidied: its id."""

    def __init__(self, document: Document, scene: BenchScene, screen: Screen) -> None:
        super().__init__(scene)
        self.document, self.scene, self.screen = document, scene, screen
        self.sheets = Sheets(document, scene)
        self.interaction: Interaction | None = None
        self.draws = False
        """Whether the next drag on a sheet draws a part."""
        self._draws_on: str | None = None
        self._pushes = False
        self._trail = Trail()
        self._pressed: QPointF | None = None
        self._laid = False
        """Whether the latest press ended a gesture."""
        self._start: Callable[[], Interaction] | None = None
        self._clicked: Callable[[], object] | None = None
        """What a press does if it becomes no drag."""
        document.leaving.connect(self.cancel)
        document.layout_changed.connect(self.cancel)
        document.job_changed.connect(self.cancel)

    @property
    def reach(self) -> Length:
        """How near a part snaps, in ticks."""
        return to_ticks((SNAP_PX + 0.5) / self.screen.scale_px)

    @property
    def pushes(self) -> bool:
        """Whether what lies in the way of the pointer is pushed aside, as a held key wishes."""
        return self._pushes

    def push_aside(self, wished: bool) -> None:
        """Push what lies in the way aside from now on, or no longer."""
        if wished != self._pushes:
            self._pushes = wished
            if self.interaction is not None:
                self.interaction.heed()

    @property
    def busy(self) -> bool:
        """Whether a gesture is under way."""
        return self.interaction is not None

    @property
    def pressed(self) -> bool:
        """Whether a button is held that may become a drag."""
        return self._pressed is not None

    def spot(self, point: QPointF) -> Spot:
        """Return what lies at a point of the scene."""
        selected = self.document.selection.parts
        return spot_at(self.scene, selected, point, self.screen.scale_px)

    def cursor_at(self, point: QPointF) -> Qt.CursorShape:
        """Return the cursor that says what a press would do."""
        if self.interaction is not None:
            return self.interaction.cursor
        if self.draws:
            return DrawingPart.cursor
        spot = self.spot(point)
        locked = spot.part is not None and bool(self.document.held.bars(spot.part))
        if spot.edge is not None:
            return Qt.CursorShape.ForbiddenCursor if locked else CURSORS[spot.edge]
        if spot.tag is not None:
            return Qt.CursorShape.PointingHandCursor
        movable = spot.part is not None and not locked
        return Qt.CursorShape.OpenHandCursor if movable else Qt.CursorShape.ArrowCursor

    def press(self, point: QPointF, how: Press = Press.ONE, *, twice: bool = False) -> None:
        """Select what lies there, and be ready to drag it.

        ``twice``: this is the second press of a double click, which asks for the name and sizes
        of a part, unless the first one ended a gesture.
        """
        twice, self._laid = twice and not self._laid, self.interaction is not None
        if self.interaction is not None:
            self.finish() if self.interaction.takes(point) else self.cancel()
            return
        self._pressed, self._start, self._clicked = point, None, None
        self.document.gestures.pressed = True
        spot = self.spot(point)
        if self.draws and spot.stand is not None:
            self._start = partial(DrawingPart, self, spot.stand, point)
        elif spot.edge is not None and spot.part is not None:
            self._start = self._resizing(spot)
            self._clicked = partial(self._click_part, spot.part, how)
        elif spot.tag is not None:
            self._press_tag(spot)
        elif spot.part is not None:
            self._press_part(spot.part, point, how)
        else:
            self._start = partial(Band, self, point, how)
            if how is Press.ONE:
                self.document.selection.clear()
        if twice and spot.part is not None and how is Press.ONE:
            self._clicked = partial(self.asked.emit, *spot.part)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer; begin a drag once it has gone far enough."""
        if self.interaction is None and self._start is not None and self._pressed is not None:
            way = point - self._pressed
            if way.manhattanLength() * self.screen.scale_px >= DRAG_PX:
                self.begin(self._start())
        if self.interaction is not None:
            self.interaction.move(point, free=free)

    def release(self) -> None:
        """End a drag; where it became none, do what a click there does."""
        clicked = self._clicked if self.interaction is None else None
        self._pressed = self._start = self._clicked = None
        self.finish()
        self.document.gestures.pressed = False
        if clicked is not None:
            clicked()

    def begin(self, interaction: Interaction) -> None:
        """Let a gesture take mouse and keys."""
        self._trail = Trail()
        self._start, self.draws = None, False
        self.document.gestures.under_way = True
        self.interaction = interaction
        self.scene.show_selection(False)

    def carry(self, copies: Iterable[Copy]) -> None:
        """Take copies up, to be moved by keys or by the pointer: those that lie, or all wait."""
        taken = self.taken(copies)
        if taken is not None:
            interaction = taken()
            self.begin(interaction)
            interaction.appear()

    def taken(
        self, copies: Iterable[Copy], lead: Copy | None = None, point: QPointF | None = None
    ) -> Callable[[], Interaction] | None:
        """Return how a gesture with copies in the hand begins; ``None`` if there are none.

        ``lead`` is the one the pointer holds, at a point of the scene.
        """
        keys = sorted(copies, key=lambda key: (key != lead, key))
        lying = [one for key in keys if (one := self.document.layout.find(key)) is not None]
        if reason := next(filter(None, map(self.document.held.bars, keys)), ""):
            return partial(HeldFast, self, reason)
        if not lying:
            return partial(Carrying, self, called(self.document.job, keys)) if keys else None
        first = lying[0]
        at = first.x, first.y
        if point is None:
            return partial(Carrying, self, lifted(first, lying[1:]), at)
        x, y = self.sheets.stand(first.sheet).point(point)
        return partial(Carrying, self, lifted(first, lying[1:]), at, (x - at[0], y - at[1]))

    def repair(self, sheet: str | None = None) -> bool:
        """Show the least repair of a sheet that can't be cut, or the next one if one is shown.

        Without a sheet it is the first that can't be cut; say whether there is one.
        """
        if isinstance(self.interaction, Repairing):
            self.interaction.step()
            return True
        sheet = sheet or next(iter(self.broken), None)
        if sheet is None:
            self.document.said.emit("Every sheet can be cut: there is nothing to repair.")
            return False
        repairing = Repairing(self, sheet)
        self.begin(repairing)
        repairing.appear()
        return True

    @property
    def broken(self) -> tuple[str, ...]:
        """The sheets that can't be cut, those of the selected parts first."""
        layout, chosen = self.document.layout, self.document.selection.parts
        found = [one for one in layout.sheets if one.id in self.document.problems]
        found.sort(key=lambda one: chosen.isdisjoint(each.key for each in one.placements))
        return tuple(one.id for one in found)

    def draw_on(self, sheet: str | None = None) -> None:
        """Let the next drag draw a part; with keys, on a sheet, else on the first."""
        self.draws, self._draws_on = True, sheet
        self.document.said.emit(DRAWING)

    def draw_by_keys(self) -> bool:
        """Begin a part with keys, in the first free place of the sheet; say whether it began."""
        ids = [stand.sheet for stand in self.scene.floor.stands]
        if not ids:
            return False
        sheet = self._draws_on if self._draws_on in ids else ids[0]
        self.begin(drawn_by_keys(self, self.sheets.stand(sheet)))
        return True

    def draw(self, stand: Stand, point: QPointF) -> None:
        """Draw a part from a point on; the next press ends it."""
        self.begin(DrawingPart(self, stand, point))

    def finish(self) -> None:
        """End the gesture and do what it was about."""
        ended = self._ended()
        if ended is not None:
            ended.finish()

    def cancel(self) -> None:
        """End the gesture as if it had never begun."""
        self._pressed = self._start = self._clicked = None
        self.draws = False
        self._ended()
        self.document.gestures.pressed = False

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Give a key to the gesture that is under way."""
        if self.interaction is None:
            return self.draws and self._key_before_drawing(key)
        if key == Qt.Key.Key_Escape:
            self.cancel()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.finish()
        else:
            self.interaction.key(key, modifiers)
        return True

    def _key_before_drawing(self, key: Qt.Key) -> bool:
        """Leave drawing, or begin it with keys."""
        if key == Qt.Key.Key_Escape:
            self.draws = False
            return True
        by_keys = key in ARROWS or key in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        return by_keys and not self.pressed and self.draw_by_keys()

    def put_bubble(self, bubble: Bubble, point: QPointF, taken: Sequence[QRectF] = ()) -> QRectF:
        """Put words beside a point of the scene, behind the drag, off what is written there.

        Returns the place of the scene that they cover.
        """
        self.showed.emit(bubble.lines)
        screen = self.screen
        way = self._trail.way(point * screen.scale_px)
        bubble.suit(screen.room)
        bubble.setPos(screen.words_at(point, bubble.bounds, way, taken))
        return bubble.covers(screen.scale_px)

    def _ended(self) -> Interaction | None:
        ended, self.interaction = self.interaction, None
        if ended is not None:
            ended.clear()
            self.scene.show_selection(True)
            self.document.gestures.under_way = False
        return ended

    def _press_tag(self, spot: Spot) -> None:
        if spot.tag is None or spot.stand is None:
            return
        sheet, number = spot.stand.sheet, spot.tag.number
        self.document.selection.select_cut(number)
        plan = self.document.plan
        index = rip_index(plan, number) if plan is not None else None
        if index is not None:
            self._start = partial(MovingRip, self, sheet, index)

    def _press_part(self, part: Copy, point: QPointF, how: Press) -> None:
        selection = self.document.selection
        if how is not Press.TOGGLE:
            self._select_pressed(part, how)
        self._clicked = partial(self._click_part, part, how)
        lying = [key for key in selection.parts if self.document.layout.find(key) is not None]
        self._start = self.taken(lying, part, point)
        if part not in selection.parts:
            self._start = partial(self._take_alone, part, point)

    def _select_pressed(self, part: Copy, how: Press) -> None:
        """Select a part that is pressed on, alone or besides others; a selected one stays so."""
        selection = self.document.selection
        if part not in selection.parts:
            before = selection.parts if how is Press.ADD else frozenset[Copy]()
            selection.select_parts(before | {part})

    def _take_alone(self, part: Copy, point: QPointF) -> Interaction:
        """Drag a part that a held key kept from being selected until it was clear what is meant."""
        self.document.selection.select_parts([part])
        taken = self.taken([part], part, point)
        assert taken is not None, "there is a part to take"
        return taken()

    def _click_part(self, part: Copy, how: Press) -> None:
        """Select a part that was clicked on: alone, besides others, or no longer."""
        selection = self.document.selection
        if how is Press.TOGGLE:
            selection.select_parts(selection.parts ^ {part})
        elif how is Press.ONE:
            selection.select_parts([part])

    def _resizing(self, spot: Spot) -> Callable[[], Interaction] | None:
        one = self.document.layout.find(spot.part) if spot.part is not None else None
        if one is None or spot.edge is None or spot.part is None:
            return None
        if reason := self.document.held.bars(spot.part):
            return partial(HeldFast, self, reason)
        return partial(Resizing, self, one, spot.edge)

"""What all gestures share, and what they know of the hand that makes them."""

from collections.abc import Sequence
from typing import Protocol

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, SignalInstance

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import Stand
from layout_app.bench.overlays import Overlay
from layout_app.bench.scene import BenchScene
from layout_app.document.document import Document
from layout_app.document.places import Places
from layout_app.model.snapping import Way
from shared.lengths import Length
from shared.stock import SheetGrain

ARROWS = {
    Qt.Key.Key_Left: (Way.X, False),
    Qt.Key.Key_Right: (Way.X, True),
    Qt.Key.Key_Up: (Way.Y, False),
    Qt.Key.Key_Down: (Way.Y, True),
}
"""The direction of each arrow key, and whether it goes onward, off the reference corner."""


class Screen(Protocol):
    """What gestures need to know of the view they are made in."""

    @property
    def scale_px(self) -> float:
        """Pixels a millimetre."""

    def over_shelf(self, point: QPointF) -> bool:
        """Say whether a point of the scene lies over the tray."""

    def show_on_tray(self, name: str, words: str, point: QPointF | None) -> None:
        """Show what is in the hand over the tray, at a point of the scene, and what becomes of it.

        Without a point, where keys carry it, it is shown at the top of the tray.
        """

    def clear_tray(self) -> None:
        """Show that nothing is in the hand over the tray."""

    @property
    def sight(self) -> QRectF:
        """What is seen of the scene."""

    @property
    def room(self) -> QSizeF:
        """How large the view is, in pixels."""

    def words_at(
        self, point: QPointF, size: QRectF, way: QPointF, taken: Sequence[QRectF] = ()
    ) -> QPointF:
        """Return where words of a size in pixels stand beside a point, all in sight.

        Behind the way of a drag, in pixels, and off the places of the scene that are taken.
        """

    def reveal(self, rect: QRectF) -> None:
        """Scroll so that a rectangle of the scene is in sight."""


class Sheets(Places):
    """Knows of each sheet what the document does, and besides where it stands on the bench."""

    def __init__(self, document: Document, scene: BenchScene) -> None:
        super().__init__(document)
        self._scene = scene

    def stand(self, sheet: str) -> Stand:
        """Return where a sheet stands in the scene; KeyError if there is none."""
        return {stand.sheet: stand for stand in self._scene.floor.stands}[sheet]

    def grain_along_x(self, sheet: str) -> bool | None:
        """Say whether the grain of a sheet runs along x; ``None`` where it has none."""
        grain = self.stock(sheet).grain
        return None if grain is SheetGrain.NONE else grain is SheetGrain.ALONG_L


class GestureHand(Protocol):
    """The hand as a gesture knows it: what it works on, and where its words go."""

    document: Document
    scene: BenchScene
    screen: Screen
    sheets: Sheets

    @property
    def reach(self) -> Length:
        """How near a part snaps, in ticks."""

    @property
    def pushes(self) -> bool:
        """Whether what lies in the way of the pointer is pushed aside."""

    @property
    def drew(self) -> SignalInstance:
        """Says that a part was drawn: its id."""

    def put_bubble(self, bubble: Bubble, point: QPointF, taken: Sequence[QRectF] = ()) -> QRectF:
        """Put words beside a point of the scene, behind the drag, off what is written there.

        Returns the place of the scene that they cover.
        """


class Interaction:
    """One gesture: it takes mouse and keys until it is done or cancelled.

    Nothing in the document changes before `finish`.
    """

    cursor = Qt.CursorShape.ClosedHandCursor

    def __init__(self, hand: GestureHand) -> None:
        self.hand = hand
        self._shown: list[Overlay] = []

    def show(self, *overlays: Overlay) -> None:
        """Show overlays for the time of the gesture."""
        for overlay in overlays:
            self._shown.append(overlay)
            self.hand.scene.addItem(overlay)

    def appear(self) -> None:
        """Show what is in the hand before anything moves it."""

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer at a point of the scene; ``free`` does without snapping."""

    def heed(self) -> None:
        """Look again: what lies in the way is pushed now, or no longer."""

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Take a key; say whether it meant something to this gesture."""
        return False

    def takes(self, point: QPointF) -> bool:
        """Say whether a press at a point of the scene ends it well; else it is left."""
        return True

    def finish(self) -> None:
        """Do what the gesture was about, as one step."""

    def clear(self) -> None:
        """Take everything off the bench that the gesture showed."""
        for overlay in self._shown:
            self.hand.scene.removeItem(overlay)
        self._shown = []


class HeldFast(Interaction):
    """A drag that moves nothing; a sentence stands at the pointer, and then in the status line."""

    cursor = Qt.CursorShape.ForbiddenCursor

    def __init__(self, hand: GestureHand, reason: str) -> None:
        super().__init__(hand)
        self._reason = reason
        self._bubble = Bubble(hand.scene.theme)
        self._bubble.say((reason,), good=False)
        self.show(self._bubble)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer with the sentence."""
        self.hand.put_bubble(self._bubble, point)

    def finish(self) -> None:
        """Say it where it can be read after the pointer has gone on."""
        self.hand.document.said.emit(self._reason)

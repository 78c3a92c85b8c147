"""What all gestures share: one at a time takes mouse and keys until it is done or cancelled."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt

from layout_app.bench.overlays import Overlay

if TYPE_CHECKING:
    from layout_app.bench.hand import Hand


class Interaction:
    """One gesture; nothing in the document changes before `finish`."""

    cursor = Qt.CursorShape.ClosedHandCursor

    def __init__(self, hand: "Hand") -> None:
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

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Take a key; say whether it meant something to this gesture."""
        return False

    def finish(self) -> None:
        """Do what the gesture was about, as one step."""

    def clear(self) -> None:
        """Take everything off the bench that the gesture showed."""
        for overlay in self._shown:
            self.hand.scene.removeItem(overlay)
        self._shown = []

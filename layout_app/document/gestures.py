"""Whether the maker's hand is at a gesture: nothing that planning finds is shown meanwhile."""

from PySide6.QtCore import QObject, Signal


class Gestures(QObject):
    """Notes when a drag or the like begins and ends, and when a button is held."""

    changed = Signal()
    """A drag or the like began or ended."""
    let_go = Signal()
    """A button that was held on the bench is up again."""
    ended = Signal()
    """Either is over, and whoever wanted to know has heard of it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._under_way = self._pressed = False

    @property
    def under_way(self) -> bool:
        """Whether a drag or the like is under way."""
        return self._under_way

    @under_way.setter
    def under_way(self, now: bool) -> None:
        if now == self._under_way:
            return
        self._under_way = now
        self.changed.emit()
        if not now:
            self.ended.emit()

    @property
    def pressed(self) -> bool:
        """Whether a button is held that may become a drag."""
        return self._pressed

    @pressed.setter
    def pressed(self, held: bool) -> None:
        if held != self._pressed:
            self._pressed = held
            if not held:
                self.let_go.emit()
                self.ended.emit()

    @property
    def in_hand(self) -> bool:
        """Whether a gesture is under way or a button held."""
        return self._under_way or self._pressed

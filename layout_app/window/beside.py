"""Windows that stand beside the main one, and who holds them.

A parent alone is no owner. PySide books a child with its parent, but `setFocusProxy` and
`setBuddy` book the widget they are given with the one that calls: given an ancestor, they tie
both into a ring that hangs on nothing, and the next collection of garbage destroys it on screen.
"""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

WALK: Final = "walk"
"""Name under which the walk is held."""


class Beside(QObject):
    """Holds each window from its opening until Qt has destroyed it; one of a name is open."""

    changed = Signal()
    """A window was opened, or one is gone."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._held: dict[str, QWidget] = {}

    def is_open(self, name: str) -> bool:
        """Say whether a window of this name is on the screen."""
        return name in self._held and self._held[name].isVisible()

    def show(
        self, name: str, make: Callable[[], QWidget], show: Callable[[QWidget], None] = QWidget.show
    ) -> None:
        """Bring the window of a name to the front, or make, hold and show it."""
        if self.is_open(name):
            self._held[name].raise_()
            self._held[name].activateWindow()
            return
        made = make()
        made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        made.destroyed.connect(self._forget)
        self._held[name] = made
        show(made)
        self.changed.emit()

    def close_all(self) -> None:
        """Close what is open; it goes with the main window."""
        for window in tuple(self._held.values()):
            window.close()

    @Slot()
    def _forget(self) -> None:
        self._held = {name: held for name, held in self._held.items() if isValid(held)}
        self.changed.emit()

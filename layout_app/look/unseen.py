"""No key answers what nobody can have read yet.

A question takes the keys when it shows. A foot pedal trodden twice, a key held down, or one on
its way while somebody types would answer it unseen; the mouse has to find its button first.
"""

import time
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton

UNSEEN_S: Final = 0.7
"""Longer than a tread repeated by mistake takes (0.2 to 0.5 s), shorter than a sentence to read."""
ANSWERING: Final = frozenset({Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter})


class Unseen(QObject):
    """Keeps keys from the buttons of a question from `shown` on, until it can have been read."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._since = 0.0

    def shown(self) -> None:
        """Count from now."""
        self._since = time.monotonic()

    def watch(self, button: QPushButton) -> None:
        """Keep keys from a button, too."""
        button.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Swallow an answering key that comes too soon, or by itself."""
        if isinstance(event, QKeyEvent) and event.key() in ANSWERING:
            is_press = event.type() == QEvent.Type.KeyPress
            too_soon = time.monotonic() - self._since < UNSEEN_S
            if is_press and (too_soon or event.isAutoRepeat()):
                return True
        return super().eventFilter(watched, event)

"""A list to choose from that shows, in the theme's ink, that it opens."""

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QComboBox, QWidget

_TAB: Final = (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class Chooser(QComboBox):
    """The usual list, with a small angle at its right end; letters choose in it, and only that."""

    def __init__(self, words: Iterable[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.addItems(list(words))
        for place in (self, self.view()):
            place.installEventFilter(self)

    def open_if_seen(self) -> None:
        """Open the list, unless keys that were faster have closed the field already."""
        if self.isVisible():
            self.showPopup()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep letters from the actions of what is around the list; leave it open with Tab."""
        if watched is self.view() and isinstance(event, QKeyEvent) and self._leaves(event):
            return True
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            bare = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
            if bare and event.text().isprintable() and event.text():
                event.accept()
                return True
        return super().eventFilter(watched, event)

    def _leaves(self, event: QKeyEvent) -> bool:
        """Take the word that is marked in the open list, and let Tab go on from the field."""
        if event.type() != QEvent.Type.KeyPress or event.key() not in _TAB:
            return False
        self.setCurrentIndex(self.view().currentIndex().row())
        self.hidePopup()
        QApplication.sendEvent(self, QKeyEvent(event.type(), event.key(), event.modifiers()))
        return True

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field, and the angle that the style sheet cannot."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText().color(), 1.4, Qt.PenStyle.SolidLine))
        tip = QPointF(self.width() - 11.0, self.height() / 2 + 2)
        painter.drawPolyline([tip + QPointF(-4, -4), tip, tip + QPointF(4, -4)])
        painter.end()

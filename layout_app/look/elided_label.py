"""Lines of words that give way where there is no room."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from layout_app.look.as_typed import Label


class Cutting(Label):
    """A label that ends in an ellipsis where there is no room, and tells all in its tip."""

    def setText(self, text: str) -> None:
        """Show text on one line, and keep all of it at hand."""
        super().setText(" ".join(text.split()))
        self.setToolTip(text)
        self.setAccessibleName(text)

    def words_for(self, room: int) -> str:
        """Return what is painted in so many pixels, if it has room."""
        del room
        return self.text()

    def minimumSizeHint(self) -> QSize:
        """Take as little as a few words."""
        full = super().sizeHint()
        return QSize(min(full.width(), 60), full.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what there is room for."""
        del event
        painter = QPainter(self)
        room = self.contentsRect()
        words = self.fontMetrics().elidedText(
            self.words_for(room.width()), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.setPen(self.palette().windowText().color())
        painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), words)


class Shortened(Cutting):
    """Such a label that says it shorter first: the longest of what it is given that has room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._shorter: tuple[str, ...] = ()

    def say(self, text: str, shorter: Sequence[str]) -> None:
        """Show a text, or the first of some that say less where it has no room."""
        self._shorter = tuple(shorter)
        self.setText(text)
        self.update()

    def words_for(self, room: int) -> str:
        """Return the first that has room, or else the last."""
        wide = self.fontMetrics().horizontalAdvance
        found = (self.text(), *self._shorter)
        return next((words for words in found if wide(words) <= room), found[-1])

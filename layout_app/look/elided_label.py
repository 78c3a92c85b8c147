"""A line of words that gives way where there is no room."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent

from layout_app.look.as_typed import Label


class Cutting(Label):
    """A label that ends in an ellipsis where there is no room, and tells all in its tip."""

    def setText(self, text: str) -> None:
        """Show text on one line, and keep all of it at hand."""
        super().setText(" ".join(text.split()))
        self.setToolTip(text)
        self.setAccessibleName(text)

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
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.setPen(self.palette().windowText().color())
        painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), words)

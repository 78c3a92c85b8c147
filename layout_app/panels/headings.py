"""The headings of a table: what does not fit in view ends in an ellipsis."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QHeaderView, QWidget


class Headings(QHeaderView):
    """Headings of columns; the last one in view is shortened to the room it has."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N802, N803 - named by Qt
        """Paint a heading within what is in view."""
        super().paintSection(painter, in_view(rect, self.viewport().rect()), logicalIndex)


def in_view(rect: QRect, view: QRect) -> QRect:
    """Return a rectangle without what lies right of the view."""
    return rect.adjusted(0, 0, min(0, view.right() - rect.right()), 0)

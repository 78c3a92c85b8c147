"""A box to tick that can be seen in both themes."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QCheckBox, QStyle, QStyleOptionButton


class TickBox(QCheckBox):
    """The usual box, with its tick drawn in the theme's ink."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint box and words, and the tick that the style sheet cannot."""
        super().paintEvent(event)
        if not self.isChecked():
            return
        option = QStyleOptionButton()
        self.initStyleOption(option)
        part = QStyle.SubElement.SE_CheckBoxIndicator
        middle = self.style().subElementRect(part, option, self).toRectF().center()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText().color(), 1.8, Qt.PenStyle.SolidLine))
        strokes = (QPointF(-3.5, 0), QPointF(-1, 3), QPointF(4, -3.5))
        painter.drawPolyline([middle + stroke for stroke in strokes])
        painter.end()

"""A small drawing of what is measured at the base of a circular saw."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

SAID: Final = (
    "The base of the saw from above, pushed upwards: a and b from its left edge to the nearer and"
    " the farther face of the blade, c and d from its right edge."
)
WIDE: Final = 250
TALL: Final = 132
BASE: Final = QRectF(26, 8, 190, 62)
"""Not to scale, so that the blade can be seen."""
BLADE: Final = QRectF(74, 8, 10, 62)
_ROWS: Final = (
    ("a", BASE.left(), BLADE.left(), 84),
    ("c", BLADE.right(), BASE.right(), 84),
    ("b", BASE.left(), BLADE.right(), 106),
    ("d", BLADE.left(), BASE.right(), 124),
)
"""Letter, from where to where, and how far down each is drawn, in pixels."""


class BasePicture(QWidget):
    """Draws base and blade from above, with the letters of the four distances."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("What is measured at the base")
        self.setAccessibleDescription(SAID)
        self.setToolTip(SAID)

    def sizeHint(self) -> QSize:
        """As large as it is drawn."""
        return QSize(WIDE, TALL)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it in the ink of the theme."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self.palette().windowText().color()
        line, thin = QPen(ink, 1.4, Qt.PenStyle.SolidLine), QPen(ink, 1.0, Qt.PenStyle.SolidLine)
        painter.setPen(line)
        painter.drawRect(BASE)
        painter.fillRect(BLADE, ink)
        painter.setPen(thin)
        self._arrow(painter, QPointF(232, 66), QPointF(232, 12))
        for letter, left, right, down in _ROWS:
            self._distance(painter, letter, left, right, float(down))
        painter.end()

    def _distance(
        self, painter: QPainter, letter: str, left: float, right: float, down: float
    ) -> None:
        """Draw a distance between two edges, its letter in a gap of its line."""
        middle = (left + right) / 2
        for end in (left, right):
            painter.drawLine(QPointF(end, BASE.bottom() + 3), QPointF(end, down + 4))
        for end, way in ((left, 1), (right, -1)):
            self._arrow(painter, QPointF(middle - 7 * way, down), QPointF(end, down))
        room = QRectF(middle - 7, down - 9, 14, 18)
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, letter)

    def _arrow(self, painter: QPainter, start: QPointF, tip: QPointF) -> None:
        """Draw a line with a small head at its tip; level or upright."""
        painter.drawLine(start, tip)
        run = tip - start
        long = abs(run.x()) + abs(run.y())
        back = run * (-5 / long)
        aside = QPointF(back.y(), -back.x()) * 0.5
        painter.drawLine(tip, tip + back + aside)
        painter.drawLine(tip, tip + back - aside)

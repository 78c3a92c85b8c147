"""The two signs of a cut: danger, a triangle, and handling, a quiet box with an H."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from layout_app.look import pens

_CENTRE = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip)


def paint_danger(painter: QPainter, box: QRectF, ink: str, ground: str) -> None:
    """Paint the danger sign into a square: a triangle, its tip up, with an exclamation mark."""
    line = max(1.3, box.height() / 12)
    inside = box.adjusted(line / 2, line / 2, -line / 2, -line / 2)
    tip = QPointF(inside.center().x(), inside.top())
    painter.setPen(QPen(pens.colour(ink), line, j=Qt.PenJoinStyle.RoundJoin))
    painter.setBrush(pens.brush(ground))
    painter.drawPolygon(QPolygonF([tip, inside.bottomRight(), inside.bottomLeft()]))
    painter.setFont(pens.font(max(8, round(box.height() * 0.66)), bold=True))
    painter.drawText(box.translated(0, box.height() * 0.12), _CENTRE, "!")


def paint_handling(painter: QPainter, box: QRectF, ink: str) -> None:
    """Paint the handling mark into a square: a box with round corners and an H."""
    inside = box.adjusted(1.5, 1.5, -0.5, -0.5)
    painter.setPen(QPen(pens.colour(ink), 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(inside, 3, 3)
    painter.setFont(pens.font(max(8, round(box.height() * 0.62))))
    painter.drawText(inside, _CENTRE, "H")

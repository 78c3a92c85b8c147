"""The piece under the saw, as large as its box: what is sawn off, what stays, the rail."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from layout_app.look import pens
from layout_app.panels.cards import Card
from layout_app.walk.colours import Colours
from layout_app.walk.lettering import CENTRE, LEAST_PX, pen, write
from shared.drawing.hatch import hatch
from shared.geometry import Rect
from shared.plan import Keep
from shared.shop import Axis

RAIL_PX = 7.0


class Picture:
    """Paints one piece to scale into a box."""

    def __init__(self, painter: QPainter, box: QRectF, card: Card, colours: Colours) -> None:
        self._painter, self._card, self._colours = painter, card, colours
        piece = card.piece
        self._scale = min(box.width() / max(1, piece.length), box.height() / max(1, piece.width))
        length, width = piece.length * self._scale, piece.width * self._scale
        self._corner = box.center() - QPointF(length / 2, width / 2)

    def paint(self) -> None:
        """Paint it."""
        painter, card, colours = self._painter, self._card, self._colours
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self._rect(card.far), pens.brush(colours.wood))
        self._sawn_off()
        painter.fillRect(self._slot(), pens.brush(colours.kerf))
        painter.setPen(pen(colours.ink, 3.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self._rect(card.piece))
        self._rail()
        self._face_mark()
        self._names()
        painter.restore()

    def _sawn_off(self) -> None:
        painter, card, colours = self._painter, self._card, self._colours
        box = self._rect(card.near)
        painter.fillRect(box, pens.brush(colours.waste if card.waste else colours.off))
        if card.waste:
            painter.setPen(pen(colours.quiet, 1.4))
            painter.setClipRect(box)
            for start, end in hatch(card.near, max(1, int(16 / self._scale)), crossed=True):
                painter.drawLine(self._point(*start), self._point(*end))
            painter.setClipping(False)

    def _rail(self) -> None:
        """Draw the rail's edge from beyond one end of the slot to beyond the other."""
        slot, card = self._slot(), self._card
        side = card.rail_side or card.keep
        style = Qt.PenStyle.SolidLine if card.rail_side else Qt.PenStyle.DashLine
        self._painter.setPen(pen(self._colours.rail, RAIL_PX, style))
        by = RAIL_PX / 2 if side is Keep.FAR else -RAIL_PX / 2
        if card.axis is Axis.RIP:
            y = (slot.bottom() if side is Keep.FAR else slot.top()) + by
            self._painter.drawLine(QPointF(slot.left() - 22, y), QPointF(slot.right() + 22, y))
        else:
            x = (slot.right() if side is Keep.FAR else slot.left()) + by
            self._painter.drawLine(QPointF(x, slot.top() - 22), QPointF(x, slot.bottom() + 22))

    def _face_mark(self) -> None:
        """Draw the V on the edge that the size is measured from."""
        box, rip = self._rect(self._card.piece), self._card.axis is Axis.RIP
        tip = box.topLeft() + (QPointF(26, 0) if rip else QPointF(0, min(26, box.height() / 2)))
        ends = (QPointF(-9, -17), QPointF(9, -17)) if rip else (QPointF(-17, -9), QPointF(-17, 9))
        self._painter.setPen(pen(self._colours.rail, 3.5))
        self._painter.drawPolyline(QPolygonF([tip + ends[0], tip, tip + ends[1]]))

    def _names(self) -> None:
        """Write on each side what it is, where there is room for type that can be read."""
        told = self._card.told
        near, far = told.near, told.far
        self._name(self._card.near, _said(near.name, near.part))
        if far is not None:
            self._name(self._card.far, _said(far.name, far.part))

    def _name(self, side: Rect, words: str) -> None:
        box = self._rect(side).adjusted(8, 3, -8, -3)
        if not words or box.width() < 30 or box.height() < LEAST_PX * 1.3:
            return
        painter, flat = self._painter, box.width() >= box.height() or box.width() > 150
        painter.save()
        if not flat:
            painter.translate(box.center())
            painter.rotate(-90)
            box = QRectF(-box.height() / 2, -box.width() / 2, box.height(), box.width())
        write(painter, box, words, self._colours.ink, align=CENTRE, bold=True, most_px=44)
        painter.restore()

    # --- where things are --------------------------------------------------------------

    def _point(self, x: float, y: float) -> QPointF:
        piece = self._card.piece
        return self._corner + QPointF((x - piece.x) * self._scale, (y - piece.y) * self._scale)

    def _rect(self, rect: Rect) -> QRectF:
        return QRectF(self._point(rect.x, rect.y), self._point(rect.right, rect.bottom))

    def _slot(self) -> QRectF:
        """Return the slot, at least four pixels wide so that it is seen."""
        box = self._rect(self._card.dust)
        if self._card.axis is Axis.RIP and box.height() < 4:
            return QRectF(box.left(), box.center().y() - 2, box.width(), 4)
        if self._card.axis is Axis.CROSSCUT and box.width() < 4:
            return QRectF(box.center().x() - 2, box.top(), 4, box.height())
        return box


def _said(name: str, part: str) -> str:
    return f"{name}: {part}" if name and part else name or part

"""Paints cut cards: number, picture of the piece with the rail on it, sizes, what falls away."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.panels.cards import Bracket, Card
from shared.drawing.grain import figure, grain_in
from shared.drawing.hatch import hatch
from shared.geometry import Rect
from shared.plan import Keep
from shared.shop import Axis

CARD_WIDTH: Final = 156
CORNER: Final = 34
"""Pixels at the top right of a card where other signs may stand."""
CARD_HEIGHT: Final = 218
BRACKET_HEIGHT: Final = 26
PICTURE: Final = QRectF(18, 42, CARD_WIDTH - 36, 66)
"""Where the piece is drawn on a card, in pixels."""

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_CENTRE = Qt.AlignmentFlag.AlignCenter


class CardPainter:
    """Paints with the colours of a theme; sizes in pixels."""

    def __init__(self, theme: Theme) -> None:
        self._theme = theme

    def bracket(
        self,
        painter: QPainter,
        bracket: Bracket,
        left: float,
        right: float,
        seen: tuple[float, float],
    ) -> None:
        """Paint the line that holds cards of one set-up together, and its label.

        The label stands over the part of the line that is seen, as far as there is room.
        """
        theme, y = self._theme, BRACKET_HEIGHT - 7.0
        painter.setPen(pens.pen(theme.pencil, 1.2))
        painter.drawLine(QPointF(left, y), QPointF(right, y))
        painter.drawLine(QPointF(left, y), QPointF(left, y + 5))
        painter.drawLine(QPointF(right, y), QPointF(right, y + 5))
        half = CARD_WIDTH / 2 + 20
        words = QRectF(label_middle(left, right, seen) - half, 0, 2 * half, y - 1)
        self._write(
            painter, words, bracket.label, size=12, align=_CENTRE, ink_of=theme.graphite, bold=True
        )

    def card(self, painter: QPainter, card: Card, *, selected: bool) -> None:
        """Paint a card whose corner is the painter's origin."""
        theme = self._theme
        frame = QRectF(0.5, 0.5, CARD_WIDTH - 1, CARD_HEIGHT - 1)
        painter.setPen(pens.pen(theme.accent if selected else theme.rule, 2.4 if selected else 1.0))
        painter.setBrush(pens.brush(theme.card))
        painter.drawRoundedRect(frame, 6, 6)
        self._head(painter, card, selected=selected)
        self._picture(painter, card)
        self._words(painter, card)

    def _head(self, painter: QPainter, card: Card, *, selected: bool) -> None:
        theme = self._theme
        tag = QRectF(8, 9, 24, 24)
        painter.setPen(pens.pen(theme.accent if selected else theme.tag_line, 1.3))
        painter.setBrush(pens.brush(theme.accent if selected else theme.tag))
        painter.drawEllipse(tag)
        dark, size = theme.graphite, 12 if card.number < 100 else 10
        number = theme.on_accent if selected else theme.on_tag
        self._write(
            painter, tag, str(card.number), size=size, align=_CENTRE, ink_of=number, bold=True
        )
        title = QRectF(39, 9, CARD_WIDTH - 39 - CORNER, 24)
        self._write(painter, title, card.title, size=13, least=9, ink_of=dark, bold=True)

    def _words(self, painter: QPainter, card: Card) -> None:
        theme, left, width = self._theme, 14.0, CARD_WIDTH - 28.0
        self._write(painter, QRectF(left, 113, width, 15), card.set_words)
        if card.minds:
            self._sign(painter, QPointF(CARD_WIDTH - 14, 121), card.minds)
        number = QRectF(left, 127, width, 23)
        self._write(painter, number, card.size, size=18, ink_of=theme.graphite, bold=True)
        said = filter(None, (card.running, card.long, card.keep_words, card.off))
        for place, text in enumerate(said):
            self._write(painter, QRectF(left, 150 + 16 * place, width, 16), text, least=9)

    def _sign(self, painter: QPainter, right: QPointF, count: int) -> None:
        """Paint the sign that cautions apply, its tip up, and their number if more than one."""
        theme = self._theme
        tip = right + QPointF(-8 if count == 1 else -18, -8)
        triangle = QPolygonF([tip, tip + QPointF(8, 14), tip + QPointF(-8, 14)])
        painter.setPen(pens.pen(theme.warning, 1.3))
        painter.setBrush(pens.brush(theme.warning_wash))
        painter.drawPolygon(triangle)
        inside = QRectF(tip.x() - 6, tip.y() + 3, 12, 11)
        self._write(painter, inside, "!", align=_CENTRE, ink_of=theme.warning, bold=True)
        if count > 1:
            beside = QRectF(right.x() - 8, tip.y() + 1, 9, 14)
            self._write(painter, beside, str(count), align=_RIGHT, ink_of=theme.warning)

    def _write(
        self,
        painter: QPainter,
        box: QRectF,
        words: str,
        *,
        size: int = 11,
        least: int = 10,
        align: Qt.AlignmentFlag = _LEFT,
        ink_of: str = "",
        bold: bool = False,
    ) -> None:
        """Write words into a box, smaller where they are too long, at last with an ellipsis."""
        room = int(box.width()) + 1
        for pixels in range(size, least - 1, -1):
            painter.setFont(pens.font(pixels, bold=bold))
            if painter.fontMetrics().horizontalAdvance(words) < room:
                break
        painter.setPen(pens.colour(ink_of or self._theme.pencil))
        cut = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room)
        painter.drawText(box, int(align), cut)

    # --- the picture -----------------------------------------------------------------

    def _picture(self, painter: QPainter, card: Card) -> None:
        """Draw the piece to scale, as it lies, with the rail on its keep side."""
        scale = min(
            PICTURE.width() / max(1, card.piece.length), PICTURE.height() / max(1, card.piece.width)
        )
        view = _View(card.piece, scale)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(view.rect(card.far), pens.brush(self._theme.wood))
        self._sawn_off(painter, card, view)
        self._grain(painter, card, view)
        self._bad_places(painter, card, view)
        painter.fillRect(view.slot(card.dust), pens.brush(self._theme.kerf))
        painter.setPen(pens.pen(self._theme.graphite, 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(view.rect(card.piece))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._rail(painter, card, view)
        self._face_mark(painter, card, view)
        painter.restore()

    def _sawn_off(self, painter: QPainter, card: Card, view: "_View") -> None:
        theme, box = self._theme, view.rect(card.near)
        painter.fillRect(
            box, pens.brush(theme.waste if card.waste else pens.tint(theme, card.tint))
        )
        if not card.waste:
            return
        painter.setPen(pens.pen(theme.waste_hatch, 1.0))
        painter.setClipRect(box)
        for start, end in hatch(card.near, max(1, int(5 / view.scale)), crossed=True):
            painter.drawLine(view.point(*start), view.point(*end))
        painter.setClipping(False)

    def _grain(self, painter: QPainter, card: Card, view: "_View") -> None:
        painter.setPen(pens.pen(self._theme.grain, 1.0, alpha=130))
        lines = figure(card.sheet, card.piece, card.grain)
        for index, line in enumerate(grain_in("", card.piece, lines)):
            if index % 3 == 0:
                painter.drawPolyline([view.point(*point) for point in line.points])

    def _bad_places(self, painter: QPainter, card: Card, view: "_View") -> None:
        """Strike out what parts keep clear of, as on the bench."""
        painter.setPen(pens.pen(self._theme.graphite, 1.0))
        painter.setBrush(pens.brush(self._theme.card, 170))
        for box in map(view.rect, card.bad):
            painter.drawRect(box)
            painter.drawLine(box.topLeft(), box.bottomRight())
            painter.drawLine(box.bottomLeft(), box.topRight())
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _rail(self, painter: QPainter, card: Card, view: "_View") -> None:
        """Draw the line the rail's edge lies on, from edge to edge; dashed at the table saw."""
        slot = view.slot(card.dust)
        side = card.rail_side or card.keep
        style = Qt.PenStyle.SolidLine if card.rail_side else Qt.PenStyle.DashLine
        painter.setPen(pens.pen(self._theme.accent, 2.2, style))
        if card.axis is Axis.RIP:
            y = slot.top() if side is Keep.NEAR else slot.bottom()
            painter.drawLine(QPointF(slot.left() - 6, y), QPointF(slot.right() + 6, y))
        else:
            x = slot.left() if side is Keep.NEAR else slot.right()
            painter.drawLine(QPointF(x, slot.top() - 6), QPointF(x, slot.bottom() + 6))

    def _face_mark(self, painter: QPainter, card: Card, view: "_View") -> None:
        """Pencil the V of the face edge, its point on the edge the size is measured from."""
        box = view.rect(card.piece)
        painter.setPen(pens.pen(self._theme.accent, 1.3))
        if card.axis is Axis.RIP:
            tip = QPointF(box.left() + 12, box.top())
            ends = (tip + QPointF(-4, -7), tip + QPointF(4, -7))
        else:
            tip = QPointF(box.left(), box.top() + min(12.0, box.height() / 2))
            ends = (tip + QPointF(-7, -4), tip + QPointF(-7, 4))
        painter.drawPolyline([ends[0], tip, ends[1]])


def label_middle(left: float, right: float, seen: tuple[float, float]) -> float:
    """Return where the label of a bracket has its middle: in what is seen of it, but over it.

    All in pixels along the strip of cards; ``seen`` is the part in view.
    """
    middle = (max(left, seen[0]) + min(right, seen[1])) / 2
    return min(max(middle, left + CARD_WIDTH / 2), right - CARD_WIDTH / 2)


class _View:
    """Maps a piece's ticks to the picture's pixels."""

    def __init__(self, piece: Rect, scale: float) -> None:
        self.scale = scale
        self._piece = piece
        length, width = piece.length * scale, piece.width * scale
        self._corner = QPointF(
            PICTURE.left() + (PICTURE.width() - length) / 2,
            PICTURE.top() + (PICTURE.height() - width) / 2,
        )

    def point(self, x: float, y: float) -> QPointF:
        """Map a point."""
        return self._corner + QPointF(
            (x - self._piece.x) * self.scale, (y - self._piece.y) * self.scale
        )

    def rect(self, rect: Rect) -> QRectF:
        """Map a rectangle."""
        return QRectF(self.point(rect.x, rect.y), self.point(rect.right, rect.bottom))

    def slot(self, dust: Rect) -> QRectF:
        """Map a slot, at least two pixels wide so that it is seen."""
        box = self.rect(dust)
        box.setWidth(max(2.0, box.width()))
        box.setHeight(max(2.0, box.height()))
        return box

"""Where what is in the hand would fit: a quiet outline, and words that can be dropped on."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_app.bench.overlays import IN_HAND, PLATE_PX, Overlay, paint_plate, scale_of
from layout_app.look import pens
from layout_app.look.theme import Theme

PAD_PX = 5


class Offered(Overlay):
    """An outline with a plate of words in its middle, over what is in the hand."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, IN_HAND + 1)
        self._rect, self._words = QRectF(), ""

    @property
    def words(self) -> str:
        """What is said."""
        return self._words

    @property
    def plate(self) -> QRectF:
        """Where the words stand in the scene; empty if there are none."""
        if not self._words:
            return QRectF()
        scale = scale_of(self)
        length = pens.em_width(self._words, bold=True) * PLATE_PX + 2 * PAD_PX
        plate = QRectF(QPointF(), QPointF(length, PLATE_PX + 2 * PAD_PX) / scale)
        plate.setWidth(length / scale)
        plate.moveCenter(self._rect.center())
        return plate

    def show_place(self, rect: QRectF, words: str) -> None:
        """Outline a rectangle of the scene, and no other; without words nothing."""
        if (rect, words) != (self._rect, self._words):
            self._rect, self._words = rect, words
            self.bound(rect.united(self.plate), 4.0 if words else 0.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint a dotted outline and the words on their plate."""
        if not self._words:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(pens.pen(self.theme.accent, 1.5, Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self._rect)
        paint_plate(painter, self.theme, self.plate, self._words, self.theme.accent)

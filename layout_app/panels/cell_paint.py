"""How cells look: headings, rows, the row to type in, and what is wrong."""

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractItemView, QStyleOptionViewItem, QWidget

from layout_app.look.theme import Theme
from layout_app.panels.cell_editor import CellDelegate, Index
from layout_app.panels.headings import in_view
from layout_app.panels.rows_model import ISSUE_ROLE, KIND_ROLE, WRONG_ROLE, RowsModel


class PaperDelegate(CellDelegate):
    """Paints like a list on paper: no grid, a rule under headings, waves under mistakes."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours from now on."""
        self._theme = theme

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Choose weight and colour."""
        super().initStyleOption(option, index)
        kind, model = index.data(KIND_ROLE), index.model()
        if kind == "heading":
            option.font.setBold(True)
        elif kind == "draft":
            faint = isinstance(model, RowsModel) and not model.has_draft
            self._ink(option, self._theme.faint if faint else self._theme.pencil)
            option.font.setItalic(not faint)
        elif not index.flags() & Qt.ItemFlag.ItemIsEditable:
            self._ink(option, self._theme.pencil)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the cell as far as it is in view, and a wave under what is wrong."""
        if isinstance(option.widget, QAbstractItemView):
            option.rect = in_view(option.rect, option.widget.viewport().rect())
        super().paint(painter, option, index)
        if index.data(KIND_ROLE) == "heading":
            painter.setPen(QColor(self._theme.rule))
            painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        elif index.data(ISSUE_ROLE):
            # Red says that it is not planned; what is planned all the same is only a question.
            wrong = index.data(WRONG_ROLE)
            self._wave(painter, option.rect, self._theme.warning if wrong else self._theme.pencil)

    def _ink(self, option: QStyleOptionViewItem, colour: str) -> None:
        option.palette.setColor(QPalette.ColorRole.Text, QColor(colour))
        option.palette.setColor(QPalette.ColorRole.HighlightedText, QColor(colour))

    def _wave(self, painter: QPainter, rect: QRect, colour: str) -> None:
        y, step = rect.bottom() - 2, 3
        xs = range(rect.left() + 4, rect.right() - 4, step)
        points = [QPointF(x, y - (place % 2) * 2.0) for place, x in enumerate(xs)]
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(colour), 1.2, Qt.PenStyle.SolidLine))
        painter.drawPolyline(QPolygonF(points))
        painter.restore()

"""Cells of tables: how they look, how they are typed in, and how the keys go through them."""

from collections.abc import Sequence
from functools import partial
from typing import Protocol, runtime_checkable

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRect,
    Qt,
    QTimer,
)
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCompleter,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from layout_app.look.theme import Theme
from layout_app.panels.entry import Entry
from layout_app.panels.rows_model import ISSUE_ROLE, KIND_ROLE, WRONG_ROLE, RowsModel
from layout_app.panels.widgets import Chooser

Index = QModelIndex | QPersistentModelIndex
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_TAB = (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


@runtime_checkable
class Cells(Protocol):
    """A model whose cells are typed or chosen in."""

    def heading(self, index: Index) -> str:
        """Return the words above a cell."""

    def choices(self, index: Index) -> Sequence[str]:
        """Return all that may be chosen in a cell, when nothing else may be written."""

    def suggestions(self, index: Index) -> Sequence[str]:
        """Return words to complete what is typed in a cell with."""

    def change(self, index: Index, text: str) -> None:
        """Put text into a cell; ValueError with a sentence if it cannot be read."""


class CellDelegate(QStyledItemDelegate):
    """Opens an entry, or a list where only certain words may be written."""

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Open a cell."""
        del option
        model = index.model()
        assert isinstance(model, Cells)
        place = QPersistentModelIndex(index)
        editor: QWidget
        if choices := model.choices(index):
            box = Chooser(choices, parent)
            box.activated.connect(lambda _place: self._take_and_close(box))
            QTimer.singleShot(0, box, box.open_if_seen)
            editor = box
        else:
            entry = Entry(partial(_change, place), parent)
            entry.setFrame(False)
            entry.when_chosen(partial(self._close, entry))
            if words := model.suggestions(index):
                _complete(entry, words)
            editor = entry
        editor.setAccessibleName(model.heading(index))
        return editor

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show what is in the cell, once: what is being typed is never written over."""
        if editor.property("filled"):
            return
        editor.setProperty("filled", True)
        text = str(index.data(Qt.ItemDataRole.EditRole) or "")
        if isinstance(editor, Chooser):
            editor.setCurrentText(text)
        elif isinstance(editor, Entry):
            editor.setText(text)
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Take a choice; an entry hands its text over itself, before it closes."""
        if isinstance(editor, Chooser) and isinstance(model, Cells):
            model.change(index, editor.currentText())

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        """Let a cell close only when its text was taken, or with Esc.

        Enter closes it at once: what is typed next, however fast, is not for this cell.
        """
        if not isinstance(editor, Entry) or not _would_close(editor, event):
            return super().eventFilter(editor, event)
        if not editor.commit():
            return event.type() == QEvent.Type.KeyPress
        if isinstance(event, QKeyEvent) and event.key() in _ENTER:
            self._take_and_close(editor)
            return True
        return super().eventFilter(editor, event)

    def _take_and_close(self, editor: QWidget) -> None:
        self.commitData.emit(editor)
        self._close(editor)

    def _close(self, editor: QWidget) -> None:
        self.closeEditor.emit(editor, QStyledItemDelegate.EndEditHint.SubmitModelCache)


def _complete(entry: Entry, words: Sequence[str]) -> None:
    """Complete what is typed within the field; a list that drops down would take the focus."""
    completer = QCompleter(list(words), entry)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
    entry.setCompleter(completer)


def _change(place: QPersistentModelIndex, text: str) -> None:
    model = place.model()
    if place.isValid() and isinstance(model, Cells):
        model.change(place, text)


def _would_close(editor: Entry, event: QEvent) -> bool:
    """Say whether an event is about to end editing with what is written."""
    if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
        return event.key() in (*_ENTER, *_TAB)
    leaving = event.type() == QEvent.Type.FocusOut
    return leaving and editor.isVisible()


class PaperDelegate(CellDelegate):
    """Paints like a list on paper: no grid, a rule under headings, waves under mistakes."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours from now on."""
        self.theme = theme

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Choose weight and colour."""
        super().initStyleOption(option, index)
        kind, model = index.data(KIND_ROLE), index.model()
        if kind == "heading":
            option.font.setBold(True)
        elif kind == "draft":
            faint = isinstance(model, RowsModel) and not model.has_draft
            self._ink(option, self.theme.faint if faint else self.theme.pencil)
            option.font.setItalic(not faint)
        elif not index.flags() & Qt.ItemFlag.ItemIsEditable:
            self._ink(option, self.theme.pencil)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the cell as far as it is in view, and a wave under what is wrong."""
        if isinstance(option.widget, QAbstractItemView):
            option.rect = in_view(option.rect, option.widget.viewport().rect())
        super().paint(painter, option, index)
        if index.data(KIND_ROLE) == "heading":
            painter.setPen(QColor(self.theme.rule))
            painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        elif index.data(ISSUE_ROLE):
            # Red says that it is not planned; what is planned all the same is only a question.
            wrong = index.data(WRONG_ROLE)
            self._wave(painter, option.rect, self.theme.warning if wrong else self.theme.pencil)

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


class Headings(QHeaderView):
    """Headings of columns; the last one in view is shortened to the room it has."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        """Paint a heading within what is in view."""
        super().paintSection(painter, in_view(rect, self.viewport().rect()), logicalIndex)


def in_view(rect: QRect, view: QRect) -> QRect:
    """Return a rectangle without what lies right of the view."""
    return rect.adjusted(0, 0, min(0, view.right() - rect.right()), 0)


class AlongRow(QTableView):
    """Tab and Shift+Tab go from cell to cell and leave at the ends of the row; arrows go on.

    Where it has grown or shrunk, what is painted stays, and only what is new is painted: cells
    take a tenth of a millisecond each, and what is said below a table comes and goes with a drop.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_StaticContents)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ground, which nobody else does for what keeps what is painted."""
        delegate = self.itemDelegate()
        if isinstance(delegate, PaperDelegate):
            painter = QPainter(self.viewport())
            painter.fillRect(event.rect(), QColor(delegate.theme.panel))
            painter.end()
        super().paintEvent(event)

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Go to the cell beside, or leave."""
        now = self.currentIndex()
        last = self.model().columnCount() - 1 if onward else 0
        heading = self.columnSpan(now.row(), now.column()) > 1
        if now.isValid() and now.column() != last and not heading:
            return super().focusNextPrevChild(onward)
        return self.leave(onward)

    def leave(self, onward: bool) -> bool:
        """Give the keys to what stands behind the table, or before it."""
        self.setTabKeyNavigation(False)
        left = super().focusNextPrevChild(onward)
        self.setTabKeyNavigation(True)
        return left

"""The table view that all lists of rows share: typing, pasting and removing rows."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QItemSelectionModel, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QApplication,
    QWidget,
)

from layout_app.look.theme import Theme
from layout_app.panels.cells import AlongRow, Headings, PaperDelegate
from layout_app.panels.entry import Entry
from layout_app.panels.rows_model import KIND_ROLE, Index, RowsModel

Hint = QAbstractItemDelegate.EndEditHint


class RowTable(AlongRow):
    """A table of rows; the last line takes new ones."""

    rows_chosen = Signal(list)
    """Ids of the selected rows, after the maker selected."""
    paste_asked = Signal()
    """The maker wants the rows that the clipboard holds."""

    def __init__(self, model: RowsModel[Any], theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = model
        self._showing = False
        self.setModel(model)
        self._delegate = PaperDelegate(theme, self)
        self.setItemDelegate(self._delegate)
        self._set_up()
        self._span()
        for changed in (model.modelReset, model.rearranged):
            changed.connect(self._span)
        for changed in (model.modelReset, model.rearranged, model.dataChanged):
            changed.connect(self._widen)
        self.selectionModel().selectionChanged.connect(self._tell_chosen)

    def _set_up(self) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(True)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        line = self.fontMetrics().height() + 8
        self.verticalHeader().setDefaultSectionSize(line)
        self.verticalHeader().setMinimumSectionSize(line)
        self.setHorizontalHeader(Headings(self))
        self.horizontalScrollBar().valueChanged.connect(self._shorten_anew)
        self._given = [0] * len(self.rows.columns)
        for place, column in enumerate(self.rows.columns):
            self._give(place, max(column.wide, column.heading, key=len))
        self._widen()

    def _give(self, place: int, sample: str) -> None:
        """Make a column as wide as a text."""
        self.setColumnWidth(place, self.fontMetrics().horizontalAdvance(sample) + 18)
        self._given[place] = self.columnWidth(place)

    def _widen(self) -> None:
        """Let columns that grow have room for their longest text, unless the maker has set them.

        A table in which nothing stands has no bar.
        """
        policy, empty = Qt.ScrollBarPolicy, not self.rows.draft_line and not self.rows.has_draft
        self.setHorizontalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if empty else policy.ScrollBarAsNeeded
        )
        for place, column in enumerate(self.rows.columns):
            if column.grows and self.columnWidth(place) == self._given[place]:
                self._give(
                    place, max(column.wide, column.heading, *self.rows.texts(place), key=len)
                )

    def _shorten_anew(self) -> None:
        """Paint all: other cells reach over the edge now, and end in an ellipsis there."""
        self.viewport().update()
        self.horizontalHeader().viewport().update()

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        self._delegate.set_theme(theme)
        self.viewport().update()

    def chosen(self) -> list[str]:
        """Return the ids of the selected rows."""
        lines = sorted(index.row() for index in self.selectionModel().selectedRows())
        entries = [self.rows.entry(line) for line in lines]
        return [entry.id for entry in entries if entry is not None and hasattr(entry, "id")]

    def show_chosen(self, ids: set[str]) -> None:
        """Select rows because something else did."""
        if set(self.chosen()) == ids or self.state() == QAbstractItemView.State.EditingState:
            return
        self._showing = True
        selection = self.selectionModel()
        selection.clearSelection()
        flags = QItemSelectionModel.SelectionFlag.Select | QItemSelectionModel.SelectionFlag.Rows
        lines = [line for row_id in ids if (line := self.rows.line_of(row_id)) >= 0]
        for line in lines:
            selection.select(self.rows.index(line, 0), flags)
        if lines:
            self.scrollTo(self.rows.index(min(lines), 0))
        self._showing = False

    def go_to(self, row_id: str, field: str = "") -> None:
        """Make a cell the current one."""
        line = self.rows.line_of(row_id)
        fields = [column.field for column in self.rows.columns]
        if line >= 0:
            self.setCurrentIndex(
                self.rows.index(line, fields.index(field) if field in fields else 0)
            )
            self.setFocus()

    def type_new(self) -> None:
        """Open the first cell of the row to type in; what is being typed there stays."""
        index = self.rows.index(self.rows.draft_line, 0)
        if self.state() is QAbstractItemView.State.EditingState and self.currentIndex() == index:
            return
        self.setCurrentIndex(index)
        self.scrollTo(index)
        self.edit(index)

    def show_last(self, count: int) -> None:
        """Bring the rows that came last into view, the first of them above all."""
        for line in (self.rows.draft_line - 1, self.rows.draft_line - count):
            self.scrollTo(self.rows.index(max(line, 0), 0))

    def take_typed(self) -> None:
        """Take what is typed but not left yet, as before saving; what cannot be read stays."""
        focus = QApplication.focusWidget()
        if isinstance(focus, Entry) and self.isAncestorOf(focus):
            if not focus.commit():
                return
            self.closeEditor(focus, Hint.NoHint)
            self.setFocus()
        self.rows.finish_draft()

    def remove_chosen(self) -> None:
        """Remove the selected rows, as one step."""
        if self.currentIndex().row() == self.rows.draft_line:
            self.rows.drop_draft()
        ids = self.chosen()
        if ids:
            self.rows.remove(ids)

    def paste(self) -> None:
        """Ask for rows from the clipboard."""
        self.paste_asked.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete empties a cell or takes off rows, Enter opens a cell, paste reads rows."""
        if self.state() is QAbstractItemView.State.EditingState:
            super().keyPressEvent(event)  # the open cell has dealt with the key already
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._take_away(rows=bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open_current()
        else:
            super().keyPressEvent(event)

    def _take_away(self, *, rows: bool) -> None:
        """Empty the current cell; several rows that are selected go as rows."""
        if rows or len(self.chosen()) > 1:
            self.remove_chosen()
        else:
            self.rows.empty(self.currentIndex())

    def _open_current(self) -> None:
        index = self.currentIndex()
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.edit(index)

    def closeEditor(self, editor: QWidget, hint: Hint) -> None:
        """Go on to the next cell with Tab, and with Enter while a row is being typed."""
        drafting = self.currentIndex().data(KIND_ROLE) == "draft"
        way = {Hint.EditNextItem: 1, Hint.EditPreviousItem: -1}.get(hint, 0)
        if drafting and hint is Hint.SubmitModelCache and self.rows.has_draft:
            way = 1
        super().closeEditor(editor, Hint.NoHint)
        if hint is not Hint.NoHint:
            self.setFocus()
        if way:
            self._go_on(way)
        else:
            QTimer.singleShot(0, self, self._finish_if_left)

    def currentChanged(self, now: Index, before: Index) -> None:
        """Add a whole typed row when the maker goes elsewhere in the table."""
        super().currentChanged(now, before)
        QTimer.singleShot(0, self, self._finish_if_left)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Add a whole typed row when the maker leaves the table."""
        super().focusOutEvent(event)
        QTimer.singleShot(0, self, self._finish_if_left)

    def _go_on(self, way: int) -> None:
        """Open the cell that is typed next; behind the last row that is a new one."""
        place = next_cell(self.rows, self.currentIndex(), way)
        if place is None and self.rows.finish_draft():
            place = self.rows.draft_line, self.rows.column_of(self.rows.needed[0])
        if place is not None:
            index = self.rows.index(*place)
            self.setCurrentIndex(index)
            self.scrollTo(index)
            self.edit(index)
        else:
            self.leave(way > 0)

    def _finish_if_left(self) -> None:
        focus = QApplication.focusWidget()
        inside = focus is not None and (focus is self or self.isAncestorOf(focus))
        on_draft = self.currentIndex().row() == self.rows.draft_line
        if not (inside and on_draft):
            self.rows.finish_draft()

    def _tell_chosen(self) -> None:
        if not self._showing:
            self.rows_chosen.emit(self.chosen())

    def _span(self) -> None:
        """Let headings run over all columns."""
        self.clearSpans()
        for line in range(self.rows.rowCount()):
            if self.rows.index(line, 0).data(KIND_ROLE) == "heading":
                self.setSpan(line, 0, 1, self.rows.columnCount())


Place = tuple[int, int]
"""Line and column."""


def next_cell(model: RowsModel[Any], index: Index, way: int) -> Place | None:
    """Return the cell that is typed after another one, or before it where ``way`` is -1.

    After what is needed of a row comes the next row; columns beside that follow each other.
    ``None`` where there is nothing further that way.
    """
    needed = [model.column_of(field) for field in model.needed]
    every = [place for place, column in enumerate(model.columns) if column.change is not None]
    path = needed if index.column() in needed else every
    at = path.index(index.column()) + way
    if 0 <= at < len(path):
        return index.row(), path[at]
    line = _line_beside(model, index.row(), way)
    return None if line is None else (line, needed[0 if way > 0 else -1])


def _line_beside(model: RowsModel[Any], line: int, way: int) -> int | None:
    """Return the next line that is no heading."""
    lines: Sequence[int] = range(line + way, model.rowCount() if way > 0 else -1, way)
    return next((one for one in lines if model.index(one, 0).data(KIND_ROLE) != "heading"), None)

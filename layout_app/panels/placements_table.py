"""The bench as a table: where each copy lies, to be read and changed without a pointer."""

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.cells import AlongRow, PaperDelegate
from layout_app.panels.placements_model import FIELDS, PlacementsModel

Trigger = QAbstractItemView.EditTrigger
OPENS = Trigger.DoubleClicked | Trigger.EditKeyPressed
Flag = QItemSelectionModel.SelectionFlag


class PlacementsTable(AlongRow):
    """Selects the copies that the bench selects, and the other way round.

    Enter opens a cell, a digit begins to type a place. The keys of the bench work here too:
    the window gives the table the same actions.
    """

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._showing = False
        self.placements = PlacementsModel(document, self)
        self.setModel(self.placements)
        self._delegate = PaperDelegate(theme, self)
        self.setItemDelegate(self._delegate)
        self._set_up()
        self.selectionModel().selectionChanged.connect(self._tell)
        document.selection.changed.connect(self._show_if_seen)
        document.layout_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)

    def _set_up(self) -> None:
        self.setAccessibleName("Bench as a table")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(OPENS)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        for place, field in enumerate(FIELDS):
            sample = max(field.wide, field.heading, key=len)
            self.setColumnWidth(place, self.fontMetrics().horizontalAdvance(sample) + 18)

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        self._delegate.set_theme(theme)
        self.viewport().update()

    def refresh(self) -> None:
        """Show the layout as it is now; a table that nobody sees waits until it is seen."""
        if not self.isVisible():
            return
        self._showing = True
        self.placements.refresh()
        self._showing = False
        self._show()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with the layout."""
        super().showEvent(event)
        self.refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open a cell with Enter, or with the first digit of a place."""
        index = self.currentIndex()
        editable = bool(index.flags() & Qt.ItemFlag.ItemIsEditable)
        if self.state() is QAbstractItemView.State.EditingState or not editable:
            super().keyPressEvent(event)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.edit(index)
        elif FIELDS[index.column()].number and event.text().isdecimal():
            self._type_on(event)
        else:
            super().keyPressEvent(event)

    def _type_on(self, event: QKeyEvent) -> None:
        """Open the current cell, and let the key be the first that is typed in it."""
        self.setEditTriggers(OPENS | Trigger.AnyKeyPressed)
        self.edit(self.currentIndex(), Trigger.AnyKeyPressed, event)
        self.setEditTriggers(OPENS)

    def _tell(self) -> None:
        if not self._showing:
            lines = {index.row() for index in self.selectionModel().selectedRows()}
            self._document.selection.select_parts(map(self.placements.key_at, lines))

    def _show_if_seen(self) -> None:
        if self.isVisible():
            self._show()

    def _show(self) -> None:
        """Select the rows of the selected copies."""
        found = map(self.placements.line_of, self._document.selection.parts)
        lines = sorted(line for line in found if line is not None)
        now = sorted(index.row() for index in self.selectionModel().selectedRows())
        if lines == now:
            return
        self._showing = True
        chosen, last = QItemSelection(), len(FIELDS) - 1
        for line in lines:
            chosen.select(self.placements.index(line, 0), self.placements.index(line, last))
        self.selectionModel().select(chosen, Flag.ClearAndSelect)
        if lines and self.currentIndex().row() not in lines:
            column = max(self.currentIndex().column(), 0)
            index = self.placements.index(lines[0], column)
            self.selectionModel().setCurrentIndex(index, Flag.NoUpdate)
            self.scrollTo(index)
        self._showing = False

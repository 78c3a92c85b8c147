"""The cut sequence as a table, for the keyboard and for screen readers."""

from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from layout_app.document.document import Document
from layout_app.look.as_typed import tip
from layout_app.panels.cards import Card
from layout_app.panels.cut_columns import HEADINGS, WIDE, fields
from layout_app.panels.rows_model import Index
from layout_app.panels.ticks import all_cards, next_number, spoken, state_words
from shared.job import Job
from shared.plan import Plan


class CutsModel(QAbstractTableModel):
    """One row for each cut of the document's plan."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._cards: tuple[Card, ...] = ()
        self._shown: tuple[Plan | None, Job, tuple[Plan, ...]] | None = None

    def refresh(self) -> None:
        """Show the plan as it is now."""
        document = self._document
        shown = (document.plan, document.job, document.progress.past)
        if self._shown == shown:
            self._show_ticks()
            return
        self.beginResetModel()
        self._shown = shown
        self._cards = all_cards(document)
        self.endResetModel()

    def _show_ticks(self) -> None:
        if self._cards:
            last = len(self._cards) - 1
            self.dataChanged.emit(self.index(0, 0), self.index(last, 0))

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cuts, in sawing order, as cards tell of them."""
        return self._cards

    def number_at(self, row: int) -> int:
        """Return the number of the cut in a row."""
        return self._cards[row].number

    def row_of(self, number: int | None) -> int | None:
        """Return the row of a cut, if there is one."""
        rows = (row for row, card in enumerate(self._cards) if card.number == number)
        return next(rows, None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        """Count cuts."""
        return 0 if parent.isValid() else len(self._cards)

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        """Count columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a card says, field by field."""
        card = self._cards[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            said = ("", *fields(card))[index.column()]
            return tip(said) if role == Qt.ItemDataRole.ToolTipRole else said
        if role == Qt.ItemDataRole.CheckStateRole and index.column() == 0:
            made = state_words(self._document, card.number) == "made"
            return Qt.CheckState.Checked if made else Qt.CheckState.Unchecked
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return spoken(card, self._document)
        return None

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the words above a column."""
        if way is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[section]
        return None


class CutsTable(QTableView):
    """Selects the cut that the cards and the bench select, and the other way round.

    Space, or a click on its box, ticks a cut.
    """

    tick_asked = Signal(int)
    """The maker wants a cut ticked, or its tick taken away."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._showing = False
        self._cuts = CutsModel(document, self)
        self.setModel(self._cuts)
        self.setAccessibleName("Cut sequence as a table")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setStretchLastSection(True)
        for place, sample in enumerate(WIDE):
            self.setColumnWidth(place, self.fontMetrics().horizontalAdvance(sample) + 22)
        self.selectionModel().selectionChanged.connect(self._tell)
        self.clicked.connect(self._take_click)
        document.selection.changed.connect(self._show)
        document.progress_changed.connect(self._show_progress)
        document.layout_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Show the plan as it is now; a table that nobody sees waits until it is seen."""
        if self.isVisible():
            self._cuts.refresh()
            self._show()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with the plan."""
        super().showEvent(event)
        self._show_progress()
        QTimer.singleShot(0, self, self._bring_selected)  # where rows lie is known then

    def _bring_selected(self) -> None:
        row = self._cuts.row_of(self._document.selection.cut)
        if row is not None:
            self.scrollTo(self._cuts.index(row, 1))

    def _show_progress(self) -> None:
        """Show which cuts are made, and bring the next one into view."""
        self.refresh()
        row = self._cuts.row_of(next_number(self._cuts.cards, self._document))
        if row is not None and self.isVisible():
            self.scrollTo(self._cuts.index(row, 1))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tick the selected cut with Space; a key that is held ticks once."""
        number = self._document.selection.cut
        if event.key() == Qt.Key.Key_Space:
            if number is not None and not event.isAutoRepeat():
                self.tick_asked.emit(number)
        else:
            super().keyPressEvent(event)

    def _take_click(self, index: QModelIndex) -> None:
        if index.column() == 0:
            self.tick_asked.emit(self._cuts.number_at(index.row()))

    def _tell(self) -> None:
        rows = self.selectionModel().selectedRows()
        if rows and not self._showing:
            self._document.selection.select_cut(self._cuts.number_at(rows[0].row()))

    def _show(self) -> None:
        self._showing = True
        row = self._cuts.row_of(self._document.selection.cut)
        flags = QItemSelectionModel.SelectionFlag
        if row is None:
            self.clearSelection()
        else:
            index = self.model().index(row, 1)
            choose = flags.ClearAndSelect | flags.Rows
            self.selectionModel().setCurrentIndex(index, choose)
        self._showing = False

"""The cut sequence as a table, for the keyboard and for screen readers."""

from typing import Any, Final

from PySide6.QtCore import QAbstractTableModel, QItemSelectionModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from layout_app.document import Document
from layout_app.panels.cards import Card, cards_of
from layout_app.panels.rows_model import Index
from shared.lengths import LengthStyle
from shared.plan import Plan

HEADINGS: Final = ("no.", "cut", "sheet", "set", "running", "length of cut", "off", "mind")
WIDE: Final = (
    "000",
    "Last trim 1a1a1",
    "sheet",
    "34 19/32",
    "34 19/32",
    "34 19/32 in long",
    "1a1a1: Case top, bottom 12",
    "",
)
"""Samples of the widest usual text, for the columns' widths."""


class CutsModel(QAbstractTableModel):
    """One row for each cut of the document's plan."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._cards: tuple[Card, ...] = ()
        self._shown: tuple[Plan | None, LengthStyle] | None = None

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan, style = self._document.plan, self._document.job.style
        if self._shown == (plan, style):
            return
        self.beginResetModel()
        self._shown = (plan, style)
        self._cards = cards_of(plan, style) if plan is not None else ()
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        """Count cuts."""
        return 0 if parent.isValid() else len(self._cards)

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        """Count columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a card says, field by field."""
        card = self._cards[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return _fields(card)[index.column()]
        return card.spoken if role == Qt.ItemDataRole.AccessibleTextRole else None

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the words above a column."""
        if way is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[section]
        return None


def _fields(card: Card) -> tuple[str, ...]:
    number, sheet = str(card.number), card.sheet
    return number, card.title, sheet, card.size, card.running, card.long, card.off, card.caution


class CutsTable(QTableView):
    """Selects the cut that the cards and the bench select, and the other way round."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._showing = False
        self._cuts = CutsModel(document, self)
        self.setModel(self._cuts)
        self.setAccessibleName("Cut sequence as a table")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setStretchLastSection(True)
        for place, sample in enumerate(WIDE):
            self.setColumnWidth(place, self.fontMetrics().horizontalAdvance(sample) + 22)
        self.selectionModel().selectionChanged.connect(self._tell)
        document.selection.changed.connect(self._show)
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
        self.refresh()

    def _tell(self) -> None:
        rows = self.selectionModel().selectedRows()
        if rows and not self._showing:
            self._document.selection.select_cut(rows[0].row() + 1)

    def _show(self) -> None:
        self._showing = True
        number = self._document.selection.cut
        flags = QItemSelectionModel.SelectionFlag
        if number is None:
            self.clearSelection()
        elif number <= self.model().rowCount():
            index = self.model().index(number - 1, 0)
            choose = flags.ClearAndSelect | flags.Rows
            self.selectionModel().setCurrentIndex(index, choose)
        self._showing = False

"""The table of what lies there; what came out wrong is marked in it."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QFont, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QBoxLayout, QHBoxLayout, QTableView, QWidget

from layout_app.look.as_typed import tip
from layout_app.model.pieces_on_hand import Thing
from layout_app.model.replan import Wrong
from layout_app.model.words.lying_words import HEADINGS, ThingWords, words_of
from layout_app.panels.rows_model import Index
from layout_app.panels.widgets import across
from shared.job import Job
from shared.lengths import format_with_remainder

NUMBERS = (2, 3)
"""Columns of L and W."""
WHAT, WHAT_SHARE, WHAT_LEAST_PX = 1, 0.4, 100
"""The column that says what a thing is: its most share of the width, and what it keeps anyhow."""


class LyingModel(QAbstractTableModel):
    """One row for each thing."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job = Job()
        self.things: tuple[Thing, ...] = ()
        self.wrong: dict[str, Wrong] = {}

    def show(self, job: Job, found: tuple[Thing, ...]) -> None:
        """Show other things; what was said to be wrong of those that are gone is forgotten."""
        if (job, found) == (self._job, self.things):
            return
        self.beginResetModel()
        self._job, self.things = job, found
        there = {thing.name for thing in found}
        self.wrong = {name: one for name, one in self.wrong.items() if name in there}
        self.endResetModel()

    def mark(self, name: str, wrong: Wrong | None) -> None:
        """Say how a thing really is, or that it is as it should be."""
        self.wrong.pop(name, None)
        if wrong is not None:
            self.wrong[name] = wrong
        self.dataChanged.emit(self.index(0, 0), self.index(len(self.things) - 1, len(HEADINGS) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        """Count things."""
        return 0 if parent.isValid() else len(self.things)

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        """Count columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a field in words; what is wrong in place of what it becomes."""
        thing = self.things[index.row()]
        wrong = self.wrong.get(thing.name)
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole}:
            said = self._words(thing, wrong)[index.column()]
            return tip(said) if role == Qt.ItemDataRole.ToolTipRole else said
        if role == Qt.ItemDataRole.FontRole and wrong is not None:
            font = QFont()
            font.setBold(True)
            return font
        if role == Qt.ItemDataRole.TextAlignmentRole and index.column() in NUMBERS:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        return None

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the words above a column."""
        if way is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[section]
        if role == Qt.ItemDataRole.TextAlignmentRole and section in NUMBERS:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        return None

    def _words(self, thing: Thing, wrong: Wrong | None) -> ThingWords:
        """Say what a thing is; of what came out wrong its real size."""
        said = words_of(self._job, thing)
        if wrong is None:
            return said
        if wrong.size is None:
            return said._replace(becomes="ruined")
        length, width = (format_with_remainder(side, self._job.style) for side in wrong.size)
        return said._replace(length=length, width=width, becomes="came out wrong: real size")


class LyingTable(QTableView):
    """Shows the things; one is selected at a time."""

    def __init__(self, model: LyingModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setModel(model)
        self.setAccessibleName("What lies there")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setStretchLastSection(True)

    def fit(self) -> None:
        """Make the columns as wide as what is in them; the last one takes the rest.

        What a thing is is cut short where it would push the sizes out of sight; its tip says all.
        """
        for column in range(len(HEADINGS) - 1):
            self.resizeColumnToContents(column)
            self.setColumnWidth(column, self.columnWidth(column) + 14)
        most = max(WHAT_LEAST_PX, round(WHAT_SHARE * self.width()))
        self.setColumnWidth(WHAT, min(self.columnWidth(WHAT), most))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the columns their share again."""
        super().resizeEvent(event)
        self.fit()


Direction = QBoxLayout.Direction


class TwoParts(QBoxLayout):
    """Two rows of widgets, side by side or one below the other.

    Parameters
    ----------
    first, second
        The widgets of each part from left to right; ``None`` is free room.
    filling
        The widget of the first part that takes what room is left, and may be cut short.
    """

    def __init__(
        self,
        first: Sequence[QWidget | None],
        second: Sequence[QWidget | None],
        filling: QWidget | None = None,
    ) -> None:
        super().__init__(Direction.LeftToRight)
        self._widgets, self._filling = (*first, *second), filling
        for part in (first, second):
            self.addLayout(_row(part, filling), 1 if {None, filling} & set(part) else 0)

    def suit(self, width: int) -> None:
        """Stand side by side if there is room in so many pixels."""
        there = [one for one in self._widgets if one is not None and not one.isHidden()]
        need = sum(one.sizeHint().width() for one in there if one is not self._filling)
        fits = need + self.spacing() * (len(there) + 1) <= width
        self.setDirection(Direction.LeftToRight if fits else Direction.TopToBottom)


def _row(widgets: Sequence[QWidget | None], filling: QWidget | None) -> QHBoxLayout:
    row = across(*((widget, int(widget is filling)) for widget in widgets))
    if filling not in widgets and None not in widgets:
        row.addStretch(1)
    return row

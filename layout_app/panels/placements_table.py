"""The bench as a table: where each copy lies, to be read and changed without a pointer."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    Qt,
)
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from layout_app.document.document import Document
from layout_app.look.as_typed import tip
from layout_app.look.theme import Theme
from layout_app.panels import placement_rows as lying
from layout_app.panels.cells import AlongRow, Index, PaperDelegate
from layout_app.panels.columns import size_text
from layout_app.panels.placement_rows import PlacementRow
from shared.parts import Copy
from shared.plan import ASIDE

Role = Qt.ItemDataRole


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacementColumn:
    """One column: what stands above it, what it says of a row, and what writing in it does.

    ``whole`` says it to the tick, where what is shown is rounded.
    """

    heading: str
    tip: str
    wide: str
    show: Callable[[Document, PlacementRow], str]
    whole: Callable[[Document, PlacementRow], str] | None = None
    change: Callable[[Document, PlacementRow, str], bool] | None = None
    choices: Callable[[Document, PlacementRow], Sequence[str]] | None = None
    of_waiting: bool = False
    number: bool = False


def _sheets(document: Document, row: PlacementRow) -> Sequence[str]:
    del row
    return (*(sheet.id for sheet in document.layout.sheets), ASIDE)


def _holds(document: Document, row: PlacementRow) -> Sequence[str]:
    del document
    return (lying.NOT_HELD,) if row.lies is None else (lying.NOT_HELD, *lying.SCOPES)


FIELDS: Final = (
    PlacementColumn(
        heading="part",
        tip="What it is called in the take-off",
        wide="Table apron, long",
        show=lambda _, row: row.name,
    ),
    PlacementColumn(
        heading="copy",
        tip="Which of the copies",
        wide="00",
        show=lambda _, row: str(row.copy),
        number=True,
    ),
    PlacementColumn(
        heading="sheet",
        tip="The sheet it lies on; another sheet lays it there, at the first place that is free",
        wide="set aside",
        show=lambda _, row: lying.sheet_words(row),
        change=lying.to_sheet,
        choices=_sheets,
        of_waiting=True,
    ),
    PlacementColumn(
        heading="x",
        tip="Running position along the sheet's length, from its trimmed short edge",
        wide="94 19/32",
        show=lambda document, row: lying.place_words(row, row.x, document.job.style),
        whole=lambda document, row: lying.whole_place(row, row.x, document.job.style),
        change=lambda doc, row, text: lying.to_place(doc, row, text, across=False),
        number=True,
    ),
    PlacementColumn(
        heading="y",
        tip="Running position away from the trimmed reference edge",
        wide="94 19/32",
        show=lambda document, row: lying.place_words(row, row.y, document.job.style),
        whole=lambda document, row: lying.whole_place(row, row.y, document.job.style),
        change=lambda doc, row, text: lying.to_place(doc, row, text, across=True),
        number=True,
    ),
    PlacementColumn(
        heading="turned",
        tip="Whether the part's length lies across the sheet's length",
        wide="yes",
        show=lambda _, row: lying.turned_words(row),
        change=lying.turn,
        choices=lambda _doc, _row: ("no", "yes"),
    ),
    PlacementColumn(
        heading="locked",
        tip="What planning has to leave: the part, its strip or its sheet; “no” unlocks it",
        wide="part, sheet",
        show=lambda _, row: lying.held_words(row),
        change=lying.hold,
        choices=_holds,
    ),
    PlacementColumn(
        heading="L",
        tip="Finished length of the part: another one is that of all its copies",
        wide="94 19/32",
        show=lambda document, row: size_text(row.length, document.job.style),
        change=lambda doc, row, text: lying.resize(doc, row, text, across=False),
        number=True,
    ),
    PlacementColumn(
        heading="W",
        tip="Finished width of the part: another one is that of all its copies",
        wide="94 19/32",
        show=lambda document, row: size_text(row.width, document.job.style),
        change=lambda doc, row, text: lying.resize(doc, row, text, across=True),
        number=True,
    ),
    PlacementColumn(
        heading="state",
        tip="How it stands with the part where it lies",
        wide="too near Drawer front 8 for the kerf",
        show=lying.state_words,
    ),
)


class PlacementsModel(QAbstractTableModel):
    """One row for each copy; tells only of rows that changed."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._rows: tuple[PlacementRow, ...] = ()
        self._line: dict[Copy, int] = {}
        self._style = document.job.style

    def refresh(self) -> None:
        """Show the layout as it is now."""
        new, style = lying.rows(self._document), self._document.job.style
        if [row.key for row in new] != [row.key for row in self._rows] or style != self._style:
            self.beginResetModel()
            self._rows, self._style = new, style
            self._line = {row.key: line for line, row in enumerate(new)}
            self.endResetModel()
            return
        before, self._rows = self._rows, new
        for first, last in _spans(
            [line for line, row in enumerate(new) if row != before[line]],
        ):
            self.dataChanged.emit(self.index(first, 0), self.index(last, len(FIELDS) - 1))

    def key_at(self, line: int) -> Copy:
        """Return which copy a line is about."""
        return self._rows[line].key

    def line_of(self, key: Copy) -> int | None:
        """Return the line of a copy, if there is such a copy."""
        return self._line.get(key)

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        """Count copies."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        """Count columns."""
        return 0 if parent.isValid() else len(FIELDS)

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        """Return a field in words."""
        field, row = FIELDS[index.column()], self._rows[index.row()]
        if role in {Role.EditRole, Role.ToolTipRole}:
            whole = (field.whole or field.show)(self._document, row)
            return tip(whole) if role == Role.ToolTipRole else whole
        if role == Role.DisplayRole:
            return field.show(self._document, row)
        if role == Role.AccessibleTextRole:
            return f"{field.heading}: {field.show(self._document, row)}"
        return _side(field) if role == Role.TextAlignmentRole else None

    def headerData(self, section: int, way: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        """Return the words above a column."""
        if way is not Qt.Orientation.Horizontal:
            return None
        said = {Role.DisplayRole: FIELDS[section].heading, Role.ToolTipRole: FIELDS[section].tip}
        if role == Role.TextAlignmentRole:
            return _side(FIELDS[section])
        return said.get(Role(role))

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Say what can be selected and changed."""
        usual = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return usual | Qt.ItemFlag.ItemIsEditable if self._changes(index) else usual

    def _changes(self, index: Index) -> bool:
        field, row = FIELDS[index.column()], self._rows[index.row()]
        if field.change is None or row.sawn:
            return False
        held = field.change is lying.hold and bool(row.held)
        return row.lies is not None or field.of_waiting or held

    # --- changing ----------------------------------------------------------------

    def heading(self, index: Index) -> str:
        """Return the words above a cell."""
        return FIELDS[index.column()].heading

    def choices(self, index: Index) -> Sequence[str]:
        """Return all that may be chosen in a cell, when nothing else may be written."""
        choices = FIELDS[index.column()].choices
        return () if choices is None else choices(self._document, self._rows[index.row()])

    def suggestions(self, index: Index) -> Sequence[str]:
        """Return nothing: lengths are not guessed."""
        del index
        return ()

    def change(self, index: Index, text: str) -> None:
        """Do to the copy what a cell says now; ValueError with a sentence if it is no length."""
        field, row = FIELDS[index.column()], self._rows[index.row()]
        if field.change is not None and text != (field.whole or field.show)(self._document, row):
            field.change(self._document, row, text)


def _side(field: PlacementColumn) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if field.number else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter


def _spans(lines: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Yield first and last of lines that follow each other."""
    first = last = None
    for line in lines:
        if first is None or last is None or line != last + 1:
            if first is not None and last is not None:
                yield first, last
            first = line
        last = line
    if first is not None and last is not None:
        yield first, last


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

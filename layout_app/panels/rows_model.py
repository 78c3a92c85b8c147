"""Rows of a job as a table: headings, the maker's rows, and a row to type a new one in."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from layout_app.document.document import Document
from layout_app.look.as_typed import tip
from layout_app.panels.columns import Column
from shared.check import check_job
from shared.issues import Issue, Severity
from shared.parts import Part
from shared.stock import Stock


@dataclass(frozen=True, slots=True)
class Gone:
    """The lines from first to last are taken away."""

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Moved:
    """A line goes up to another place."""

    line: int
    to: int


@dataclass(frozen=True, slots=True)
class Come:
    """New lines stand from first to last."""

    first: int
    last: int


RowStep = Gone | Moved | Come


def row_steps(before: Sequence[str], after: Sequence[str]) -> Iterator[RowStep]:
    """Yield the steps from one order of names to another; no name stands twice in either."""
    wanted, known = set(after), set(before)
    kept = list(before)
    for step in _gone(before, wanted):
        yield step
        del kept[step.first : step.last + 1]
    place = 0
    while place < len(after):
        new = len(list(takewhile(lambda name: name not in known, after[place:])))
        if new:
            yield Come(place, place + new - 1)
            kept[place:place] = after[place : place + new]
        elif kept[place] != after[place]:
            line = kept.index(after[place], place)
            yield Moved(line, place)
            kept.insert(place, kept.pop(line))
        place += max(new, 1)


def _gone(before: Sequence[str], wanted: set[str]) -> Iterator[Gone]:
    """Yield runs of lines that nobody wants, the last run first."""
    last = -1
    for line in range(len(before) - 1, -2, -1):
        if line >= 0 and before[line] not in wanted:
            last = line if last < 0 else last
        elif last >= 0:
            yield Gone(line + 1, last)
            last = -1


Row = TypeVar("Row", Part, Stock)
Index = QModelIndex | QPersistentModelIndex

ISSUE_ROLE = Qt.ItemDataRole.UserRole + 1
"""Sentence about a cell's row, or ``""``."""
WRONG_ROLE = Qt.ItemDataRole.UserRole + 3
"""Whether such a sentence says that the row is not planned as it is."""
KIND_ROLE = Qt.ItemDataRole.UserRole + 2
"""``"heading"``, ``"row"`` or ``"draft"``."""

ANSWERED = frozenset(
    (
        Qt.ItemDataRole.DisplayRole,
        Qt.ItemDataRole.EditRole,
        Qt.ItemDataRole.TextAlignmentRole,
        Qt.ItemDataRole.ToolTipRole,
        Qt.ItemDataRole.AccessibleTextRole,
        ISSUE_ROLE,
        WRONG_ROLE,
        KIND_ROLE,
    )
)
"""What a cell says anything for; a view asks for much else with each cell it paints."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A line between groups of rows."""

    text: str


class RowsModel(QAbstractTableModel, Generic[Row]):
    """Shows rows of the document's job and changes them through hands.

    Subclasses say which rows there are and what a change does.
    """

    rearranged = Signal()
    """Lines have come, gone or changed places."""
    invitation = "type a new row"
    needed: Sequence[str] = ()
    """Fields that are typed of every row, in the order in which Enter and Tab go through them."""

    counted = ""
    """Field that says how many."""

    def __init__(
        self, document: Document, columns: Sequence[Column[Row]], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.document = document
        self.columns: tuple[Column[Row], ...] = tuple(columns)
        self._draft: Row | None = None
        self._entries: tuple[Heading | Row, ...] = ()
        self._issues: dict[str, list[Issue]] = {}
        self._read()
        document.job_changed.connect(self.refresh)
        document.leaving.connect(self._leave)

    def arranged(self) -> Iterable[Heading | Row]:
        """Yield headings and rows in the order they are shown."""
        raise NotImplementedError

    def blank(self) -> Row:
        """Return a new row with nothing in it but what can be taken for granted."""
        raise NotImplementedError

    def bare(self) -> Row:
        """Return a row with nothing in it at all."""
        raise NotImplementedError

    def edit(self, row: Row) -> None:
        """Change a row of the job."""
        raise NotImplementedError

    def add(self, rows: Sequence[Row]) -> None:
        """Add rows to the job; their ids are still to be given."""
        raise NotImplementedError

    def remove(self, ids: Sequence[str]) -> None:
        """Take rows off the job."""
        raise NotImplementedError

    # --- reading -----------------------------------------------------------------

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        """Count headings, rows and the row to type in."""
        return 0 if parent.isValid() else len(self._entries) + 1

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        """Count columns."""
        return 0 if parent.isValid() else len(self.columns)

    def entry(self, line: int) -> Heading | Row | None:
        """Return what a line shows; ``None`` for the row to type in."""
        return self._entries[line] if line < len(self._entries) else None

    def line_of(self, row_id: str) -> int:
        """Return the line of a row, or -1."""
        for line, entry in enumerate(self._entries):
            if not isinstance(entry, Heading) and entry.id == row_id:
                return line
        return -1

    def texts(self, place: int) -> list[str]:
        """Return what all rows show in a column."""
        column = self.columns[place]
        rows = (entry for entry in self._entries if not isinstance(entry, Heading))
        return [column.show(row, self.document.job.style) for row in rows]

    @property
    def draft_line(self) -> int:
        """The line of the row to type in."""
        return len(self._entries)

    @property
    def has_draft(self) -> bool:
        """Whether something is written there that is no row yet."""
        return self._draft is not None

    def column_of(self, field: str) -> int:
        """Return the place of a field's column."""
        return next(at for at, column in enumerate(self.columns) if column.field == field)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return text, alignment, issue or kind of a cell."""
        if role not in ANSWERED:
            return None
        entry = self.entry(index.row())
        if role == KIND_ROLE:
            return _kind(entry)
        if isinstance(entry, Heading):
            shown = role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
            return entry.text if shown and index.column() == 0 else None
        column = self.columns[index.column()]
        if role == WRONG_ROLE:
            return any(one.severity is Severity.ERROR for one in self._found(entry, column))
        return self._cell(entry, column, role)

    def _cell(self, row: Row | None, column: Column[Row], role: int) -> Any:
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self._text(row, column, role)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.number else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == ISSUE_ROLE:
            return self._issue(row, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return tip(self._issue(row, column) or column.tip)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{column.heading}: {self._text(row, column, Qt.ItemDataRole.DisplayRole)}"
        return None

    def _text(self, row: Row | None, column: Column[Row], role: int) -> str:
        row = row if row is not None else self._draft
        if row is not None:
            return column.show(row, self.document.job.style)
        invites = column is self.columns[0] and role == Qt.ItemDataRole.DisplayRole
        return self.invitation if invites else ""

    def _issue(self, row: Row | None, column: Column[Row]) -> str:
        return " ".join(one.sentence for one in self._found(row, column))

    def _found(self, row: Row | None, column: Column[Row]) -> list[Issue]:
        """Return what is said of a cell, at the first one what has no column of its own."""
        found = self._issues.get(row.id, []) if row is not None else []
        if not found:
            return []
        mine = [one for one in found if one.field == column.field]
        known = {column.field for column in self.columns}
        rest = [one for one in found if one.field not in known]
        return mine + (rest if column is self.columns[0] else [])

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the words above a column."""
        if way is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.ToolTipRole:
            return self.columns[section].tip
        return self.columns[section].heading if role == Qt.ItemDataRole.DisplayRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Say what can be edited and selected."""
        if isinstance(self.entry(index.row()), Heading):
            return Qt.ItemFlag.ItemIsEnabled
        usual = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        editable = self.columns[index.column()].change is not None
        return usual | Qt.ItemFlag.ItemIsEditable if editable else usual

    # --- changing ----------------------------------------------------------------

    def heading(self, index: Index) -> str:
        """Return the words above a cell."""
        return self.columns[index.column()].heading

    def choices(self, index: Index) -> Sequence[str]:
        """Return all that may be chosen in a cell, when nothing else may be written."""
        return self.columns[index.column()].choices

    def suggestions(self, index: Index) -> Sequence[str]:
        """Return words to complete what is typed in a cell with."""
        suggests = self.columns[index.column()].suggests
        return () if suggests is None else suggests(self.document.job)

    def change(self, index: Index, text: str) -> None:
        """Put text into a cell; ValueError with a sentence if it cannot be read."""
        column = self.columns[index.column()]
        entry = self.entry(index.row())
        if column.change is None or isinstance(entry, Heading):
            return
        style = self.document.job.style
        if entry is not None:
            if text != column.show(entry, style):
                self.edit(column.change(entry, text, style))
        elif text.strip():
            self._draft = column.change(self._draft or self.blank(), text, style)
            self._show_draft()

    def empty(self, index: Index) -> None:
        """Take away what is in a cell; what cannot be empty is as in a new row."""
        column, entry = self.columns[index.column()], self.entry(index.row())
        row = self._draft if entry is None else entry
        if column.change is None or row is None or isinstance(row, Heading):
            return
        try:
            bare = column.change(row, "", self.document.job.style)
        except ValueError:
            nothing = getattr(self.bare(), column.field)
            bare = replace(row, **{column.field: nothing})
        if entry is None:
            self._draft = bare
            self._show_draft()
        else:
            self.edit(bare)

    def finish_draft(self) -> bool:
        """Make what is typed a row of the job, whole or not; say whether there was anything."""
        draft, self._draft = self._draft, None
        if draft is None:
            return False
        self.add([draft])
        return True

    def drop_draft(self) -> None:
        """Forget what was typed."""
        self._draft = None
        self._show_draft()

    def _leave(self) -> None:
        """Forget what was typed for the project that is left."""
        self._draft = None

    def refresh(self) -> None:
        """Show the job as it is now; the cursor stays on its row wherever that goes."""
        entries: tuple[Heading | Row, ...] = tuple(self.arranged())
        before: list[str] = [_name(entry) for entry in self._entries]
        after: list[str] = [_name(entry) for entry in entries]
        twice = len({*before}) < len(before) or len({*after}) < len(after)
        if twice or not {*before} & {*after}:
            self.beginResetModel()
            self._read()
            self.endResetModel()
            return
        for step in row_steps(before, after):
            self._take(step, entries)
        self._read()
        last = self.index(self.rowCount() - 1, self.columnCount() - 1)
        self.dataChanged.emit(self.index(0, 0), last)
        if before != after:
            self.rearranged.emit()

    def _take(self, step: RowStep, after: tuple[Heading | Row, ...]) -> None:
        """Take one step toward the lines that are to be shown."""
        shown, top = self._entries, QModelIndex()
        if isinstance(step, Gone):
            self.beginRemoveRows(top, step.first, step.last)
            self._entries = shown[: step.first] + shown[step.last + 1 :]
            self.endRemoveRows()
        elif isinstance(step, Come):
            self.beginInsertRows(top, step.first, step.last)
            come = after[step.first : step.last + 1]
            self._entries = shown[: step.first] + come + shown[step.first :]
            self.endInsertRows()
        else:
            self.beginMoveRows(top, step.line, step.line, top, step.to)
            moved = shown[step.line : step.line + 1]
            above = shown[: step.to] + moved + shown[step.to : step.line]
            self._entries = above + shown[step.line + 1 :]
            self.endMoveRows()

    def _read(self) -> None:
        self._entries = tuple(self.arranged())
        self._issues = {}
        for issue in check_job(self.document.job):
            self._issues.setdefault(issue.subject, []).append(issue)

    def _show_draft(self) -> None:
        line = self.draft_line
        self.dataChanged.emit(self.index(line, 0), self.index(line, self.columnCount() - 1))


def _kind(entry: Heading | Part | Stock | None) -> str:
    if entry is None:
        return "draft"
    return "heading" if isinstance(entry, Heading) else "row"


def _name(entry: Heading | Part | Stock) -> str:
    return f"= {entry.text}" if isinstance(entry, Heading) else entry.id

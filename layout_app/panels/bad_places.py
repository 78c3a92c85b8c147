"""The bad places of a sheet as a small table: where, how large, and what keeps clear of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import Any, Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QPushButton, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.panels.columns import not_negative, positive
from layout_app.panels.entry import Entry, Field
from layout_app.panels.widgets import BARE, Chooser, across, button, down, label, quiet
from shared.lengths import Length, LengthStyle, format_with_remainder
from shared.no_go import Corner, at_corner, place_name
from shared.stock import NoGo, Stock

HEADINGS: Final = (
    ("from left", "x", "Along the reference edge, from the reference corner (top left)"),
    ("from top", "y", "Across the sheet, from the reference edge"),
    ("L", "length", "How long it is, along the reference edge"),
    ("W", "width", "How wide it is, across the sheet"),
)
KEPT_OUT: Final = ("no parts", "no show faces")
CHARS: Final = 7

Read = Callable[[str, LengthStyle], Length]


@dataclass(frozen=True, slots=True)
class _BadPlaceLine:
    """The widgets of one bad place."""

    name: Label
    fields: tuple[Field, ...]
    kept_out: Chooser
    remove: QPushButton
    foot: QWidget


class BadPlaces(QWidget):
    """One line a bad place of the row that is shown; every change is one step."""

    def __init__(self, document: Document, before: QWidget, parent: QWidget) -> None:
        """Make the table; Tab comes to it from ``before``."""
        super().__init__(parent)
        self._document, self._before = document, before
        self._row: Stock | None = None
        self._lines: list[_BadPlaceLine] = []
        self.setAccessibleName("Bad places")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(len(HEADINGS), 1)
        self._headings = [quiet(words, self) for words, _, _ in HEADINGS]
        for column, heading in enumerate(self._headings):
            self._grid.addWidget(heading, 0, column)

    @property
    def lines(self) -> tuple[_BadPlaceLine, ...]:
        """The lines from top to bottom."""
        return tuple(self._lines)

    def show_row(self, row: Stock, style: LengthStyle) -> None:
        """Show the bad places of a row as they are now."""
        self._row = row
        while len(self._lines) > len(row.no_go):
            self._drop_line()
        while len(self._lines) < len(row.no_go):
            self._add_line()
        for line, bad in zip(self._lines, row.no_go, strict=True):
            _show(line, bad, row, style)
        for heading in self._headings:
            heading.setVisible(bool(row.no_go))

    def mark(self, bad: NoGo) -> None:
        """Add a bad place to the row."""
        if self._row is not None:
            name = place_name(bad, self._row.whole)
            self._set((*self._row.no_go, bad), f"mark a {name} of {self._row.name}")

    def remove(self, place: int) -> None:
        """Take a bad place off the row."""
        if self._row is not None:
            self.focusNextChild()
            rest = (*self._row.no_go[:place], *self._row.no_go[place + 1 :])
            self._set(rest, f"remove a bad place of {self._row.name}")

    def focus(self) -> bool:
        """Take the keys if there is a bad place; say whether there is."""
        if self._lines:
            self._lines[0].fields[0].setFocus()
        return bool(self._lines)

    def _set(self, no_go: Sequence[NoGo], what: str) -> None:
        if self._row is not None:
            edit_job.edit_stock(self._document, replace(self._row, no_go=tuple(no_go)), what)

    def _change(self, place: int, **changes: Any) -> None:
        if self._row is not None:
            no_go = list(self._row.no_go)
            no_go[place] = replace(no_go[place], **changes)
            self._set(no_go, f"change a bad place of {self._row.name}")

    # --- lines -----------------------------------------------------------------------

    def _add_line(self) -> None:
        place = len(self._lines)
        foot = QWidget(self)
        line = _BadPlaceLine(
            label("", foot, "quiet"),
            tuple(self._field(place, *heading) for heading in HEADINGS),
            Chooser(KEPT_OUT, foot),
            button("remove", foot, lambda: self.remove(place), look="link"),
            foot,
        )
        line.kept_out.setAccessibleName(f"what is kept out of bad place {place + 1}")
        line.kept_out.activated.connect(lambda at: self._change(place, show_only=bool(at)))
        line.remove.setAccessibleName(f"remove bad place {place + 1}")
        self._lay(line, place)
        self._lines.append(line)

    def _field(self, place: int, words: str, name: str, tip: str) -> Field:
        read: Read = not_negative if name in ("x", "y") else positive

        def accept(text: str) -> None:
            self._change(place, **{name: read(text, self._document.job.style)})

        field = Field(accept, self)
        field.setAccessibleName(f"{words} of bad place {place + 1}")
        field.setToolTip(tip)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("0" * CHARS) + 10)
        return field

    def _lay(self, line: _BadPlaceLine, place: int) -> None:
        row = 1 + 2 * place
        for column, field in enumerate(line.fields):
            self._grid.addWidget(field, row, column)
        across(line.name, line.kept_out, line.remove, None, on=line.foot, edges=(0, 0, 0, 4))
        self._grid.addWidget(line.foot, row + 1, 0, 1, len(HEADINGS) + 1)
        last = self._lines[-1].remove if self._lines else self._before
        chain = (last, *line.fields, line.kept_out, line.remove)
        for before, after in pairwise(chain):
            QWidget.setTabOrder(before, after)
        for shown in (*line.fields, line.foot):
            shown.show()

    def _drop_line(self) -> None:
        line = self._lines.pop()
        for widget in (*line.fields, line.foot):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()


def _show(line: _BadPlaceLine, bad: NoGo, row: Stock, style: LengthStyle) -> None:
    write = partial(format_with_remainder, style=style)
    for field, (_, name, _) in zip(line.fields, HEADINGS, strict=True):
        field.show_text(write(getattr(bad, name)))
    line.kept_out.setCurrentIndex(int(bad.show_only))
    line.name.setText(place_name(bad, row.whole))


WHERE: Final = (
    *(f"damaged corner {corner}" for corner in Corner),
    "knot, flaw or damaged edge",
)
ELSEWHERE: Final = len(Corner)
FIELDS: Final = (("from left", "x"), ("from top", "y"), ("L", "length"), ("W", "width"))


class BadPlaceEntry(QWidget):
    """Hands over a bad place once all of it is typed."""

    def __init__(
        self, mark: Callable[[NoGo], None], style: Callable[[], LengthStyle], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._mark, self._style = mark, style
        self._row: Stock | None = None
        self.where = Chooser(WHERE, self)
        self.where.setAccessibleName("where the bad place is")
        self.where.currentIndexChanged.connect(self._ask)
        self.fields = {name: self._field(words, name) for words, name in FIELDS}
        self._labels = {name: quiet(words, self) for words, name in FIELDS}
        tip = "Keep parts clear of it on every sheet of this row"
        self.button = button("Mark", self, self.mark, tip)
        self._arrange()
        self._ask()

    def _arrange(self) -> None:
        column = down(on=self, edges=BARE, gap=3)
        column.addWidget(self.where, 0, Qt.AlignmentFlag.AlignLeft)
        line = across()
        for _, name in FIELDS:
            self._labels[name].setBuddy(self.fields[name])
            line.addLayout(down(self._labels[name], self.fields[name], gap=2))
        line.addWidget(self.button, 0, Qt.AlignmentFlag.AlignBottom)
        line.addStretch(1)
        column.addLayout(line)

    def _field(self, words: str, name: str) -> Entry:
        def check(text: str) -> None:
            self._read(name, text)

        entry = Entry(check, self)
        entry.setAccessibleName(f"{words} of a new bad place")
        entry.setAlignment(Qt.AlignmentFlag.AlignLeft)
        entry.setFixedWidth(entry.fontMetrics().horizontalAdvance("0" * CHARS) + 10)
        entry.returnPressed.connect(self.mark)
        return entry

    def show_row(self, row: Stock) -> None:
        """Be about a row; what was typed of another is forgotten."""
        if self._row is not None and self._row.id != row.id:
            for field in self.fields.values():
                field.clear()
        self._row = row

    def mark(self) -> bool:
        """Hand the bad place over; say whether all of it could be read."""
        asked = [name for name in self.fields if self.fields[name].isVisibleTo(self)]
        if self._row is None or not all(self._commit(name) for name in asked):
            return False
        sizes = {name: self._read(name, self.fields[name].text()) for name in asked}
        bad = self._made(self._row, sizes)
        for field in self.fields.values():
            field.clear()
        self._mark(bad)
        return True

    def _commit(self, name: str) -> bool:
        taken = self.fields[name].commit()
        if not taken:
            self.fields[name].setFocus()
        return taken

    def _made(self, row: Stock, sizes: dict[str, Length]) -> NoGo:
        place = self.where.currentIndex()
        if place == ELSEWHERE:
            x, y = sizes["x"], sizes["y"]
            return NoGo(x=x, y=y, length=sizes["length"], width=sizes["width"])
        return at_corner(row, list(Corner)[place], sizes["length"], sizes["width"])

    def _read(self, name: str, text: str) -> Length:
        read = not_negative if name in ("x", "y") else positive
        return read(text, self._style())

    def _ask(self) -> None:
        """Ask where it lies only where that is not a corner."""
        for name in ("x", "y"):
            for widget in (self.fields[name], self._labels[name]):
                widget.setVisible(self.where.currentIndex() == ELSEWHERE)

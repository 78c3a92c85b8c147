"""The line in which a damaged corner, or a knot, is marked: where, how large, and a button."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from layout_app.panels.bad_places import CHARS
from layout_app.panels.chooser import Chooser
from layout_app.panels.columns import not_negative, positive
from layout_app.panels.entry import Entry
from layout_app.panels.shop_rows import quiet
from shared.lengths import Length, LengthStyle
from shared.no_go import Corner, at_corner
from shared.stock import NoGo, Stock

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
        self.button = QPushButton("Mark", self)
        self.button.setToolTip("Keep parts clear of it on every sheet of this row")
        self.button.clicked.connect(lambda _checked: self.mark())
        self._arrange()
        self._ask()

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addWidget(self.where, 0, Qt.AlignmentFlag.AlignLeft)
        line = QHBoxLayout()
        for _, name in FIELDS:
            pair = QVBoxLayout()
            pair.setSpacing(2)
            self._labels[name].setBuddy(self.fields[name])
            pair.addWidget(self._labels[name])
            pair.addWidget(self.fields[name])
            line.addLayout(pair)
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

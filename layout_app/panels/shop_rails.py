"""The rails or straightedges of the shop: their lengths, how many, and how far they reach."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QPushButton, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.model.words.wording import unbroken
from layout_app.panels.columns import positive
from layout_app.panels.entry import Accept, Field
from layout_app.panels.shop_rows import fault
from layout_app.panels.widgets import BARE, across, button, quiet
from shared.amounts import parse_count
from shared.check_shop import leader
from shared.lengths import Length, LengthStyle, format_length, round_down
from shared.practice import practised
from shared.shop import Rail, RunsOn, Shop

STRAIGHTEDGE: Final = "Joined: check the joint with a straightedge."
NO_RAILS: Final = "No rails listed: cut length is unlimited."
NO_STRAIGHTEDGES: Final = "No straightedges listed: cut length is unlimited."
HEADINGS: Final = ("L", "have", "joined up to", "reach", "")
JOIN_TIP: Final = "How many may be joined end to end for a long cut; as many as there are at most"
LENGTH, HAVE, JOINED, REACH, REMOVE = range(5)


@dataclass(frozen=True, slots=True)
class _RailLine:
    """The widgets of rails of one length."""

    length: Field
    have: Field
    joined: Field
    reach: Label
    remove: QPushButton
    joint: Label

    @property
    def columns(self) -> tuple[QWidget, ...]:
        """What stands in the columns, from left to right."""
        return (self.length, self.have, self.joined, self.reach, self.remove)


class RailsTable(QWidget):
    """One line for the rails, or straightedges, of one length; every change is one step."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._lines: list[_RailLine] = []
        self.setAccessibleName("Rails")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(REACH, 1)
        self._headings = [quiet(text, self) for text in HEADINGS]
        for column, label in enumerate(self._headings):
            self._grid.addWidget(label, 0, column)
        self._headings[JOINED].setToolTip(JOIN_TIP)
        self._none = quiet(NO_RAILS, self)
        self._grid.addWidget(self._none, 1, 0, 1, len(HEADINGS))
        self._fault = fault(self)
        self.add = button("Add a rail", self, self.add_rail)
        self._below = QWidget(self)
        self._foot = across(self.add, on=self._below, edges=BARE)
        self._place_add()

    def add_mark(self, mark: QWidget) -> None:
        """Put a mark behind the button."""
        self._foot.addWidget(mark)
        self._foot.addStretch(1)

    def refresh(self, shop: Shop, style: LengthStyle) -> None:
        """Show the rails as they are now."""
        while len(self._lines) > len(shop.rails):
            self._drop_line()
        while len(self._lines) < len(shop.rails):
            self._add_line()
        joins = shop.runs_on is RunsOn.RAIL
        for place, (line, rail) in enumerate(zip(self._lines, shop.rails, strict=True)):
            self._name(line, f"{leader(shop)} {place + 1}")
            self._show(line, rail, shop.beyond, style)
            line.joined.setVisible(joins)
        self._none.setText(NO_RAILS if joins else NO_STRAIGHTEDGES)
        self._none.setVisible(not shop.rails)
        for column, heading in enumerate(self._headings):
            heading.setVisible(bool(shop.rails) and (joins or column != JOINED))
        self.add.setText(f"Add a {leader(shop)}")
        self.setAccessibleName(f"{leader(shop)}s".capitalize())

    def show_fault(self, sentence: str) -> None:
        """Show below what is wrong with them; nothing while nothing is."""
        self._fault.setText(unbroken(sentence))
        self._fault.setVisible(bool(sentence))

    def add_rail(self) -> None:
        """Add one more length, that of the last, and go to it."""
        rails = self._rails
        shop = self._document.job.shop
        first = practised(shop, self._document.job.style.unit).rails[0]
        new = Rail(length=rails[-1].length) if rails else first
        self._set((*rails, new), f"add a {leader(shop)}")
        self._lines[-1].length.setFocus()
        self._lines[-1].length.selectAll()

    def remove_rail(self, place: int) -> None:
        """Take a rail away."""
        rails = self._rails
        self.add.setFocus()
        self._set((*rails[:place], *rails[place + 1 :]), f"remove {self._called(place)}")

    def focus(self) -> None:
        """Take the keys."""
        (self._lines[0].length if self._lines else self.add).setFocus()

    @property
    def _rails(self) -> tuple[Rail, ...]:
        return self._document.job.shop.rails

    def _called(self, place: int) -> str:
        return f"{leader(self._document.job.shop)} {place + 1}"

    def _set(self, rails: Sequence[Rail], what: str) -> None:
        shop = replace(self._document.job.shop, rails=tuple(rails))
        edit_job.edit_shop(self._document, shop, what)

    def _change(self, place: int, rail: Rail) -> None:
        rails = self._rails
        changed = (*rails[:place], rail, *rails[place + 1 :])
        self._set(changed, f"change {self._called(place)}")

    # --- lines -----------------------------------------------------------------------

    def _add_line(self) -> None:
        place = len(self._lines)

        def set_length(text: str) -> None:
            length = positive(text, self._document.job.style)
            self._change(place, replace(self._rails[place], length=length))

        def set_joined(text: str) -> None:
            joined = parse_count(text)
            if joined == 0:
                raise ValueError("A rail is made of 1 rail or more.")
            self._change(place, replace(self._rails[place], joined=joined))

        def set_count(text: str) -> None:
            count = parse_count(text)
            if count == 0:
                raise ValueError("There is 1 or more: else remove the line.")
            rail = self._rails[place]
            self._change(place, replace(rail, count=count, joined=min(rail.joined, count)))

        line = _RailLine(
            self._field(9, set_length),
            self._field(3, set_count),
            self._field(3, set_joined),
            Label(parent=self),
            button("remove", self, lambda: self.remove_rail(place), look="link"),
            quiet(STRAIGHTEDGE, self),
        )
        self._lay(line, place)
        self._lines.append(line)
        self._place_add()

    def _field(self, chars: int, accept: Accept) -> Field:
        field = Field(accept, self)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("0" * chars) + 12)
        return field

    def _lay(self, line: _RailLine, place: int) -> None:
        row = 2 + 2 * place
        for column, widget in enumerate(line.columns):
            self._grid.addWidget(widget, row, column)
            widget.show()  # so that it can take the keys at once
        self._grid.addWidget(line.joint, row + 1, 0, 1, len(HEADINGS))
        for before, after in (
            (line.length, line.have),
            (line.have, line.joined),
            (line.joined, line.remove),
            (line.remove, self.add),
        ):
            QWidget.setTabOrder(before, after)
        if self._lines:
            QWidget.setTabOrder(self._lines[-1].remove, line.length)

    def _place_add(self) -> None:
        """Keep the button below the last line."""
        row = 2 + 2 * len(self._lines)
        self._grid.addWidget(self._fault, row, 0, 1, len(HEADINGS))
        self._grid.addWidget(self._below, row + 1, 0, 1, len(HEADINGS))

    def _drop_line(self) -> None:
        line = self._lines.pop()
        for widget in (*line.columns, line.joint):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()

    def _name(self, line: _RailLine, called: str) -> None:
        """Name what stands in a line of a rail or straightedge."""
        line.length.setAccessibleName(f"length of {called}")
        line.have.setAccessibleName(f"how many of {called} there are")
        line.joined.setAccessibleName(f"how many of {called} can be joined")
        line.joined.setToolTip(JOIN_TIP)
        line.reach.setAccessibleName(f"reach of {called}")
        line.remove.setAccessibleName(f"remove {called}")

    def _show(self, line: _RailLine, rail: Rail, beyond: Length, style: LengthStyle) -> None:
        line.length.show_text(format_length(rail.length, style))
        line.have.show_text(str(rail.count))
        line.joined.show_text(str(rail.joined))
        reach = rail.whole - beyond if rail.joined <= rail.count else 0
        line.reach.setText(format_length(round_down(reach, style), style) if reach > 0 else "none")
        line.joint.setVisible(rail.joined > 1)

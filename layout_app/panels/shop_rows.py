"""Rows of the shop's form: what is set, whether that is common practice, and why; the rails."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.panels.columns import positive
from layout_app.panels.entry import Accept, Field
from layout_app.panels.widgets import BARE, Chooser, TickBox, across, button, quiet
from shared.amounts import parse_count
from shared.lengths import Length, LengthStyle, format_length, round_down
from shared.practice import Reason, usual
from shared.shop import Rail, Shop

USUAL: Final = "common practice"
LABEL_CHARS: Final = 13
FIELD_CHARS: Final = 8
WIDEST_CHARS: Final = 14


def said(reason: Reason) -> str:
    """Write a reason, with its source where that is not practice alone."""
    return reason.why if reason.source == USUAL else f"{reason.why} ({reason.source})"


class Mark(QWidget):
    """Says that a value is common practice, or offers the way back to it."""

    def __init__(self, words: str, back: Callable[[], None], parent: QWidget) -> None:
        super().__init__(parent)
        self._words = words
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        self._is = quiet(USUAL, self)
        self._is.setWordWrap(False)
        self.back = button("", self, back, look="link")
        grid.addWidget(self._is, 0, 0)
        grid.addWidget(self.back, 0, 1)
        grid.setColumnStretch(2, 1)

    def show_usual(self, usual: str, *, holds: bool) -> None:
        """Show whether common practice holds, and what it is where it does not."""
        self._is.setVisible(holds)
        self.back.setVisible(not holds)
        self.back.setText(f"back to {usual}")
        self.back.setToolTip(f"{USUAL.capitalize()} is {usual}")
        self.back.setAccessibleName(f"{self._words}: back to {usual}, {USUAL}")


class FormRow(QWidget):
    """A label, a widget to set something with, a mark behind it and a reason below."""

    def __init__(self, words: str, setter: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self.setter = setter
        self.mark: Mark | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 2, 0, 2)
        self._grid.setVerticalSpacing(1)
        self._grid.setHorizontalSpacing(5)
        self._grid.setColumnStretch(2, 1)
        label = Label(words, self)
        label.setWordWrap(True)
        label.setBuddy(setter)
        label.setFixedWidth(label.fontMetrics().horizontalAdvance("0" * LABEL_CHARS))
        self._grid.addWidget(label, 0, 0)
        self._grid.addWidget(setter, 0, 1, 1, 2, Qt.AlignmentFlag.AlignLeft)
        setter.setAccessibleName(words)

    def add_mark(self, mark: Mark) -> None:
        """Put a mark behind the setter."""
        self.mark = mark
        self._grid.addWidget(self.setter, 0, 1)
        self._grid.addWidget(mark, 0, 2)

    def add_reason(self, reason: Reason) -> None:
        """Put a reason below, over the whole width."""
        words = said(reason)
        self._grid.addWidget(quiet(words, self), 1, 0, 1, 3)
        self.setter.setAccessibleDescription(words)


def field_row(
    words: str, tip: str, accept: Accept, parent: QWidget, chars: int = FIELD_CHARS
) -> tuple[FormRow, Field]:
    """Return a row in which a text of about so many letters is typed."""
    field = Field(accept, parent)
    field.setToolTip(tip)
    field.setAlignment(Qt.AlignmentFlag.AlignLeft)
    widen(field, chars)
    return FormRow(words, field, parent), field


def widen(field: Field, chars: int = FIELD_CHARS) -> None:
    """Make a field as wide as so many figures, or a little wider where its text needs it."""
    one, text = field.fontMetrics().horizontalAdvance("0"), field.text()
    wanted = max(one * chars, field.fontMetrics().horizontalAdvance(text))
    field.setFixedWidth(min(wanted, one * max(chars, WIDEST_CHARS)) + 12)


def choice_row(
    words: str, values: Iterable[str], take: Callable[[int], object], parent: QWidget
) -> tuple[FormRow, Chooser]:
    """Return a row in which one of several words is chosen, told by its place."""
    box = Chooser(values, parent)
    box.activated.connect(take)
    return FormRow(words, box, parent), box


class SwitchRow(QWidget):
    """Something that is in the shop or not, with its mark and its reason."""

    def __init__(
        self,
        words: str,
        reason: Reason,
        take: Callable[[bool], None],
        back: Callable[[], None],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.box = TickBox(words, self)
        self.box.clicked.connect(take)
        self.mark = Mark(words, back, self)
        self.box.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setVerticalSpacing(1)
        grid.setColumnStretch(1, 1)
        grid.addWidget(self.box, 0, 0)
        grid.addWidget(self.mark, 0, 1)
        grid.addWidget(quiet(said(reason), self), 1, 0, 1, 2)
        self.box.setAccessibleDescription(said(reason))

    def show_there(self, *, there: bool, usually: bool) -> None:
        """Show whether it is there, and whether that is common practice."""
        self.box.setChecked(there)
        self.mark.show_usual("one" if usually else "none", holds=there is usually)


STRAIGHTEDGE: Final = "Joined: check the joint with a straightedge."
NO_RAILS: Final = "Without a rail no length of cut is a limit."
HEADINGS: Final = ("rail L", "joined", "reach L", "")


@dataclass(frozen=True, slots=True)
class _RailLine:
    """The widgets of one rail."""

    length: Field
    joined: Field
    reach: Label
    remove: QPushButton
    joint: Label


class RailsTable(QWidget):
    """One line a rail; every change is one step."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._lines: list[_RailLine] = []
        self.setAccessibleName("Rails")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(2, 1)
        self._headings = [quiet(text, self) for text in HEADINGS]
        for column, label in enumerate(self._headings):
            self._grid.addWidget(label, 0, column)
        self._none = quiet(NO_RAILS, self)
        self._grid.addWidget(self._none, 1, 0, 1, 4)
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
        for line, rail in zip(self._lines, shop.rails, strict=True):
            self._show(line, rail, shop.beyond, style)
        self._none.setVisible(not shop.rails)
        for label in self._headings:
            label.setVisible(bool(shop.rails))

    def add_rail(self) -> None:
        """Add one more rail, as long as the last, and go to it."""
        rails = self._rails
        first = usual(self._document.job.style.unit).rails[0]
        new = Rail(length=rails[-1].length) if rails else first
        self._set((*rails, new), "add a rail")
        self._lines[-1].length.setFocus()
        self._lines[-1].length.selectAll()

    def remove_rail(self, place: int) -> None:
        """Take a rail away."""
        rails = self._rails
        self.add.setFocus()
        self._set((*rails[:place], *rails[place + 1 :]), f"remove rail {place + 1}")

    def focus(self) -> None:
        """Take the keys."""
        (self._lines[0].length if self._lines else self.add).setFocus()

    @property
    def _rails(self) -> tuple[Rail, ...]:
        return self._document.job.shop.rails

    def _set(self, rails: Sequence[Rail], what: str) -> None:
        shop = replace(self._document.job.shop, rails=tuple(rails))
        edit_job.edit_shop(self._document, shop, what)

    def _change(self, place: int, rail: Rail) -> None:
        rails = self._rails
        changed = (*rails[:place], rail, *rails[place + 1 :])
        self._set(changed, f"change rail {place + 1}")

    # --- lines -----------------------------------------------------------------------

    def _add_line(self) -> None:
        place = len(self._lines)
        number = place + 1

        def set_length(text: str) -> None:
            length = positive(text, self._document.job.style)
            self._change(place, replace(self._rails[place], length=length))

        def set_joined(text: str) -> None:
            joined = parse_count(text)
            if joined == 0:
                raise ValueError("A rail is made of 1 rail or more.")
            self._change(place, replace(self._rails[place], joined=joined))

        line = _RailLine(
            self._field(f"length of rail {number}", 9, set_length),
            self._field(f"how many make up rail {number}", 4, set_joined),
            Label(parent=self),
            button("remove", self, lambda: self.remove_rail(place), look="link"),
            quiet(STRAIGHTEDGE, self),
        )
        line.reach.setAccessibleName(f"reach of rail {number}")
        line.remove.setAccessibleName(f"remove rail {number}")
        self._lay(line, place)
        self._lines.append(line)
        self._place_add()

    def _field(self, words: str, chars: int, accept: Accept) -> Field:
        field = Field(accept, self)
        field.setAccessibleName(words)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("0" * chars) + 12)
        return field

    def _lay(self, line: _RailLine, place: int) -> None:
        row = 2 + 2 * place
        for column, widget in enumerate((line.length, line.joined, line.reach, line.remove)):
            self._grid.addWidget(widget, row, column)
            widget.show()  # so that it can take the keys at once
        self._grid.addWidget(line.joint, row + 1, 0, 1, 4)
        for before, after in (
            (line.length, line.joined),
            (line.joined, line.remove),
            (line.remove, self.add),
        ):
            QWidget.setTabOrder(before, after)
        if self._lines:
            QWidget.setTabOrder(self._lines[-1].remove, line.length)

    def _place_add(self) -> None:
        """Keep the button below the last line."""
        row = 2 + 2 * len(self._lines)
        self._grid.addWidget(self._below, row, 0, 1, 4)

    def _drop_line(self) -> None:
        line = self._lines.pop()
        for widget in (line.length, line.joined, line.reach, line.remove, line.joint):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()

    def _show(self, line: _RailLine, rail: Rail, overhang: Length, style: LengthStyle) -> None:
        line.length.show_text(format_length(rail.length, style))
        line.joined.show_text(str(rail.joined))
        reach = rail.whole - overhang
        line.reach.setText(format_length(round_down(reach, style), style) if reach > 0 else "none")
        line.joint.setVisible(rail.joined > 1)

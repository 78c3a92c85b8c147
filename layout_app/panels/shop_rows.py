"""Rows of the shop's form: what is set, whether that is common practice, why, and what is wrong."""

from collections.abc import Callable, Iterable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from layout_app.look.as_typed import Label
from layout_app.model.words.wording import unbroken
from layout_app.panels.entry import Accept, Field
from layout_app.panels.widgets import Chooser, TickBox, button, label, quiet
from shared.practice import Reason

USUAL: Final = "common practice"
LABEL_CHARS: Final = 13
FIELD_CHARS: Final = 8
WIDEST_CHARS: Final = 18


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
        self._fault: Label | None = None
        self._why: Label | None = None
        self._reason = ""
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 2, 0, 2)
        self._grid.setVerticalSpacing(1)
        self._grid.setHorizontalSpacing(5)
        self._grid.setColumnStretch(2, 1)
        called = Label(words, self)
        called.setWordWrap(True)
        called.setBuddy(setter)
        called.setFixedWidth(called.fontMetrics().horizontalAdvance("0" * LABEL_CHARS))
        self._grid.addWidget(called, 0, 0)
        self._grid.addWidget(setter, 0, 1, 1, 2, Qt.AlignmentFlag.AlignLeft)
        setter.setAccessibleName(words)

    def add_mark(self, mark: Mark) -> None:
        """Put a mark behind the setter."""
        self.mark = mark
        self._grid.addWidget(self.setter, 0, 1)
        self._grid.addWidget(mark, 0, 2)

    def add_mark_below(self, mark: Mark) -> None:
        """Put a mark below a setter that leaves no room behind it."""
        self.mark = mark
        self._grid.addWidget(mark, 1, 1, 1, 2)

    def add_reason(self, reason: Reason) -> None:
        """Put a reason below, over the whole width."""
        self._reason, self._why = said(reason), quiet("", self)
        self._grid.addWidget(self._why, 2, 0, 1, 3)
        self.show_reason()

    def show_reason(self, practice: str = "") -> None:
        """Show the reason; as that of common practice where the figure is another."""
        if self._why is None:
            return
        words = self._reason
        if practice:
            words = f"Common practice is {practice}: {words[0].lower()}{words[1:]}"
        self._why.setText(words)
        self.setter.setAccessibleDescription(words)

    def show_fault(self, sentence: str) -> None:
        """Show below what is wrong with it; nothing while nothing is."""
        if self._fault is None and sentence:
            self._fault = fault(self)
            self._grid.addWidget(self._fault, 3, 0, 1, 3)
        if self._fault is not None:
            self._fault.setText(unbroken(sentence))
            self._fault.setVisible(bool(sentence))


def fault(parent: QWidget) -> Label:
    """Return the place for a sentence about what is wrong."""
    made = label("", parent, "fault")
    made.setWordWrap(True)
    made.hide()
    return made


def field_row(
    words: str, tip: str, accept: Accept, parent: QWidget, chars: int = FIELD_CHARS
) -> tuple[FormRow, Field]:
    """Return a row in which a text of about so many letters is typed."""
    field = Field(accept, parent)
    field.setToolTip(tip)
    field.setAlignment(Qt.AlignmentFlag.AlignLeft)
    widen(field, chars)
    field.textChanged.connect(lambda: widen(field, chars))
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

"""Above the rows: what a pasted list was read as, with a choice for each column."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.panels.pasted import NOT_USED, ROW_NUMBER, Pasted, PasteError, read_text, uses_of
from layout_app.panels.pasted_rows import Answers, Outcome, chosen, read_pasted, summary
from layout_app.panels.table import RowTable
from layout_app.panels.widgets import Chooser, button

ABREAST = 4
"""So many columns at most side by side, each with its choice below."""
EDGE_PX, ARROW_PX = 8, 36
"""What the line takes at its left and right, and a choice in width beside its words."""


PUT_AWAY = "Put away"


class PasteLine(QFrame):
    """Pastes into a table, and stays until something else is done or it is put away.

    Rows that were pasted are one step with all that was chosen for them: another choice takes
    them back and reads the list anew. While a question is open there are none.
    """

    said = Signal(str)

    def __init__(self, table: RowTable, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("banner")
        self._table = table
        self._document = table.rows.document
        self._pasted: Pasted | None = None
        self._answers = Answers(uses=())
        self._has_rows = self._reading = False
        self._sentence = Label(parent=self)
        self._sentence.setWordWrap(True)
        self._buttons: list[QPushButton] = []
        self._choosers: list[Chooser] = []
        self._labels: list[Cutting] = []
        self._row, self._grid = QHBoxLayout(), QGridLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(EDGE_PX, 5, EDGE_PX, 5)
        column.addWidget(self._sentence)
        for layout in (self._row, self._grid):
            column.addLayout(layout)
        self._grid.setSpacing(3)
        table.paste_asked.connect(self.paste)
        self._document.undo_stack.indexChanged.connect(self._end_if_over)
        self._document.leaving.connect(self._put_away)
        self.hide()

    @property
    def sentence(self) -> str:
        """What is said or asked."""
        return self._sentence.text()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """The answers, and what puts the line away."""
        return tuple(self._buttons)

    @property
    def choosers(self) -> tuple[Chooser, ...]:
        """The choice of each column."""
        return tuple(self._choosers)

    def paste(self) -> None:
        """Read rows from the clipboard."""
        model = self._table.rows
        try:
            pasted = read_text(QGuiApplication.clipboard().text(), model.columns)
        except PasteError as error:
            self.said.emit(str(error))
            return
        if pasted is not None:
            self._pasted, self._has_rows = pasted, False
            self._read(Answers(uses=uses_of(pasted, model.columns, model.counted)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put the line away with Esc; the rows stay."""
        if event.key() == Qt.Key.Key_Escape:
            self._put_away()
        else:
            super().keyPressEvent(event)

    # --- reading -----------------------------------------------------------------------

    def _read(self, answers: Answers) -> None:
        """Read the list with these answers, in place of the rows it gave before."""
        assert self._pasted is not None
        before, self._reading = self._document.job, True
        if self._has_rows:
            self._document.undo()
        self._reading = False
        if self._has_rows and self._document.job is before:  # refused, and that was said
            self._put_away()
            return
        self._answers, self._reading = answers, True
        outcome = read_pasted(self._pasted, answers, self._table.rows)
        self._has_rows = bool(outcome.rows)
        if outcome.rows:
            self._table.rows.add(outcome.rows)
            self._table.show_last(len(outcome.rows))
        self._reading = False
        self._show(self._pasted, outcome)

    def _choose(self, place: int, use: str) -> None:
        self._read(replace(self._answers, uses=chosen(self._answers.uses, place, use)))
        if self._pasted is not None:
            self._choosers[place].setFocus()

    def _answer(self, answers: Answers) -> None:
        self._read(answers)
        if self.isHidden() or not self._buttons[0].hasFocus():
            self._table.setFocus()

    def _end_if_over(self) -> None:
        """Go once the rows are no longer the last thing that was done."""
        if not self._reading and self._pasted is not None:
            self._pasted = None
            self._leave()

    def _put_away(self) -> None:
        self._pasted = None
        self._leave()

    def _leave(self) -> None:
        had_keys = self.isAncestorOf(self.window().focusWidget() or self.window())
        self.hide()
        if had_keys:
            self._table.setFocus()

    # --- showing -----------------------------------------------------------------------

    def _show(self, pasted: Pasted, outcome: Outcome) -> None:
        told = summary(pasted, outcome, self._table.rows)
        count = len(outcome.rows)
        begun = f"{count} {'row' if count == 1 else 'rows'} pasted: {told}" if count else ""
        asked = outcome.asked.sentence if outcome.asked else ""
        self._sentence.setText(" ".join((asked, outcome.fault, begun, *outcome.said)).strip())
        answers = outcome.asked.answers if outcome.asked else ()
        self._offer([(words, self._answering(known)) for words, known in answers])
        self._lay_choices(pasted, outcome)
        self.show()
        self._put_in_order()
        if answers:
            self._buttons[0].setFocus()
        if outcome.fault:
            self.said.emit(outcome.fault)

    def _answering(self, answers: Answers) -> Callable[[], None]:
        return lambda: self._answer(answers)

    def _offer(self, choices: list[tuple[str, Callable[[], None]]]) -> None:
        """Show the answers, and what puts the line away."""
        while self._row.count():
            self._row.takeAt(0)
        for old in self._buttons:
            old.hide()
            old.deleteLater()
        self._buttons = []
        for words, act in (*choices, (PUT_AWAY, self._put_away)):
            made = button(words, self, act, look="link" if words == PUT_AWAY else "", enter=True)
            made.setAccessibleDescription(self.sentence)
            self._row.addWidget(made)
            made.show()  # so that it can have the keys at once
            self._buttons.append(made)
        self._row.addStretch(1)

    def _lay_choices(self, pasted: Pasted, outcome: Outcome) -> None:
        """Show a choice for each column; those of the same list stay, so that the keys stay."""
        columns = self._table.rows.columns
        words = {column.field: column.heading for column in columns}
        if len(self._choosers) != len(pasted.headings):
            shown = [words.get(use, use) for use in outcome.uses]
            self._make_choices(len(pasted.headings), self._abreast(shown))
        for place, use in enumerate(outcome.uses):
            heading = pasted.headings[place]
            self._labels[place].setText(heading)
            box = self._choosers[place]
            box.setAccessibleName(f"what “{heading}” is")
            box.setCurrentIndex(box.findText(words.get(use, use)))
            box.setToolTip(box.currentText())

    def _abreast(self, shown: list[str]) -> int:
        """Return how many choices have room side by side with none of these words cut off."""
        wide = max(map(self.fontMetrics().horizontalAdvance, shown)) + ARROW_PX
        return max(1, min(ABREAST, (self._table.width() - 2 * EDGE_PX) // wide))

    def _make_choices(self, count: int, abreast: int) -> None:
        for old in (*self._labels, *self._choosers):
            self._grid.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._labels, self._choosers = [], []
        for place in range(ABREAST):
            self._grid.setColumnStretch(place, 1 if place < abreast else 0)
        columns = [column for column in self._table.rows.columns if column.change is not None]
        fields: list[Any] = [NOT_USED, ROW_NUMBER, *(column.field for column in columns)]
        shown = [NOT_USED, ROW_NUMBER, *(column.heading for column in columns)]
        for place in range(count):
            label, box = Cutting(parent=self), Chooser(shown, self)
            label.setObjectName("quiet")
            box.setPlaceholderText("?")
            box.setMinimumContentsLength(6)
            box.setSizeAdjustPolicy(Chooser.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.activated.connect(lambda at, place=place: self._choose(place, fields[at]))
            row, beside = divmod(place, abreast)
            self._grid.addWidget(label, 2 * row, beside)
            self._grid.addWidget(box, 2 * row + 1, beside)
            self._labels.append(label)
            self._choosers.append(box)

    def _put_in_order(self) -> None:
        """Let Tab go from the answers to the choices, and on to the table."""
        mine = (self, *self._buttons, *self._choosers)
        before = self._table.previousInFocusChain() or self._table
        while before in mine or before.focusPolicy() is Qt.FocusPolicy.NoFocus:
            before = before.previousInFocusChain() or self._table
        for widget in (*self._buttons, *self._choosers):
            QWidget.setTabOrder(before, widget)
            before = widget

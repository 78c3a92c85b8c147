"""The drawer of what lies there: to stop for today, and to say what came out wrong.

It stands in place of the cut sequence while it is open.
"""

from collections.abc import Callable
from functools import partial
from itertools import pairwise

from PySide6.QtCore import QItemSelectionModel, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QPushButton, QWidget

from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import next_open
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.model.pieces_on_hand import Thing, things
from layout_app.model.replan import Wrong, fault_of
from layout_app.model.words.lying_words import last_made, text_of, words_of
from layout_app.model.words.wording import counted
from layout_app.panels.columns import size_text
from layout_app.panels.entry import Field
from layout_app.panels.lying_table import LyingModel, LyingTable, TwoParts
from layout_app.panels.widgets import Drawer, button, down, label
from shared.lengths import parse_length

TODAY = "Stop here for today"
TODAY_HINT = "label it; it is listed again next time"
GO_ON = "What lies there"
MISTAKE = "A piece came out wrong"
MISTAKE_HINT = "choose it and type its real size"
SIDE_PX = 14
LONGEST = "96 31/32 + 0.007"
"""A size as its field has to show it."""
"""Free room at the sides."""
NOTHING = "No cut is ticked yet, so nothing lies there but whole sheets."


class LyingDrawer(Drawer):
    """Lists what the ticked cuts have left, and takes corrections."""

    said = Signal(str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("lying")
        self._document = document
        self._model = LyingModel(self)
        self.table = LyingTable(self._model, self)
        self.heading, self.hint = label(TODAY, self, "strong"), Cutting(TODAY_HINT, self)
        self.length = Field(partial(self._take, 0), self)
        self.width_field = Field(partial(self._take, 1), self)
        self.about, self.empty = Label(parent=self), Label(NOTHING, self)
        tip = "It is no use any more"
        self.ruined = self._button("Ruined", tip, lambda: self._mark(Wrong()))
        tip = "It is as it should be after all"
        self.right = self._button("As planned", tip, lambda: self._mark(None))
        self.copy = self._button("Copy as text", "Copy the list to the clipboard", self.copy_text)
        self.rest = self._button(
            "Plan the rest from here",
            "What lies there becomes stock, finished parts are done, and the rest is planned anew",
            self.plan_rest,
        )
        self._typed: list[int] = [0, 0]
        self._arrange()
        for field in (self.length, self.width_field):
            field.returnPressed.connect(self._go_on)
        self.table.selectionModel().currentRowChanged.connect(self._show_chosen)
        for signal in (
            document.layout_changed,
            document.job_changed,
            document.progress_changed,
        ):
            signal.connect(self.refresh)
        document.leaving.connect(self._leave)
        self.hide()

    # --- opening -----------------------------------------------------------------------

    def open_for_today(self) -> None:
        """Show everything that lies there, with its names and sizes."""
        self._open(TODAY, TODAY_HINT)

    def open_to_go_on(self) -> None:
        """Show again what lies there when a project is opened that was left half sawn."""
        progress = self._document.progress
        if not progress.made and not progress.past:
            super().put_away()
            return
        self._open(GO_ON, self._last_made())

    def open_for_mistake(self) -> None:
        """Show it to say what came out wrong."""
        self._open(MISTAKE, MISTAKE_HINT)

    def put_away(self) -> None:
        """Close it; what was said to be wrong and not planned is forgotten."""
        self._leave()
        super().put_away()

    def _leave(self) -> None:
        """Forget what was said to be wrong."""
        self._model.wrong.clear()
        for field in (self.length, self.width_field):
            field.leave()

    def refresh(self) -> None:
        """Show what lies there now."""
        if self.isVisible():
            document, chosen = self._document, self.chosen
            if self.heading.text() == GO_ON:
                self.hint.setText(self._last_made())
            self._model.show(document.job, things(document.project, document.plan))
            self.table.fit()
            if chosen is not None and chosen.name in {thing.name for thing in self.things}:
                self.choose(chosen.name)
            self._show_chosen()

    def _last_made(self) -> str:
        return last_made(self._document.progress, goes_on=self._goes_on)

    @property
    def _goes_on(self) -> bool:
        """Whether there is more to be made: cuts, or parts that have no place yet."""
        document = self._document
        is_open = next_open(document.plan, document.progress) is not None
        return is_open or bool(document.project.unplaced) or bool(document.problems)

    @property
    def things(self) -> tuple[Thing, ...]:
        """What is listed."""
        return self._model.things

    def choose(self, name: str) -> None:
        """Select a thing by its name."""
        row = next(n for n, thing in enumerate(self.things) if thing.name == name)
        flags = QItemSelectionModel.SelectionFlag
        index = self._model.index(row, 0)
        choose = flags.ClearAndSelect | flags.Rows
        self.table.selectionModel().setCurrentIndex(index, choose)

    @property
    def chosen(self) -> Thing | None:
        """The selected thing."""
        row = self.table.currentIndex().row()
        return self.things[row] if 0 <= row < len(self.things) else None

    # --- the maker ---------------------------------------------------------------------

    def plan_rest(self) -> None:
        """Plan the rest from what lies there, with the corrections made."""
        if plan_the_rest(self._document, dict(self._model.wrong)):
            self.put_away()

    def _go_on(self) -> None:
        """Go from a size that is taken to the next, and on to the button that plans the rest.

        Planning replaces all that is not sawn: it takes an Enter of its own.
        """
        if self.length.question is not None or self.width_field.question is not None:
            return
        if self.length.hasFocus():
            self.width_field.setFocus()
        elif self._model.wrong and self.rest.isEnabled():
            self.rest.setFocus()

    def copy_text(self) -> None:
        """Copy the list as text."""
        QGuiApplication.clipboard().setText(text_of(self._document.job, self.things))
        self.said.emit(f"{counted(len(self.things), 'line')} copied.")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put it away with Esc; copy with the usual key."""
        if event.matches(QKeySequence.StandardKey.Cancel):
            self.put_away()
        elif event.matches(QKeySequence.StandardKey.Copy):
            self.copy_text()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut through no words in a narrow window."""
        super().resizeEvent(event)
        self._suit()

    def _take(self, side: int, text: str) -> None:
        """Take a measured side; ValueError with a sentence if it cannot be."""
        thing = self.chosen
        if thing is None:
            return
        typed = list(self._typed)
        typed[side] = parse_length(text, self._document.job.style.unit)
        size = typed[0], typed[1]
        if fault := fault_of(self._document.job, thing, size):
            raise ValueError(fault)
        self._model.mark(thing.name, None if size == thing.size else Wrong(size=size))
        self._show_chosen()

    def _mark(self, wrong: Wrong | None) -> None:
        """Say how the chosen thing really is, or that it is as it should be."""
        if self.chosen is not None:
            self._model.mark(self.chosen.name, wrong)
            self._show_chosen()

    # --- showing -----------------------------------------------------------------------

    def _open(self, heading: str, hint: str) -> None:
        self.heading.setText(heading)
        self.hint.setText(hint)
        self.show()
        self.opened.emit()
        self.refresh()
        if self.things and self.chosen is None:
            self.choose(self.things[0].name)
        self.table.setFocus()

    def _show_chosen(self) -> None:
        """Show the real size of the selected thing, as far as it is known."""
        thing, style = self.chosen, self._document.job.style
        fields = (self.length, self.width_field)
        for widget in (*fields, self.ruined, self.right):
            widget.setEnabled(thing is not None)
        self.empty.setVisible(not self.things)
        self.copy.setEnabled(bool(self.things))
        self.rest.setEnabled(bool(self.things) and self._document.plan is not None)
        self.rest.setVisible(self._goes_on or bool(self._model.wrong))
        if thing is None:
            self.about.clear()
            for field in fields:
                field.show_text("")
            return
        wrong = self._model.wrong.get(thing.name)
        gone = wrong is not None and wrong.size is None
        size = thing.size if wrong is None or wrong.size is None else wrong.size
        self._typed = list(size)
        self.right.setEnabled(wrong is not None)
        self.about.setText(f"{thing.name} is ruined" if gone else f"{thing.name} really is")
        told = words_of(self._document.job, thing)
        planned = zip((told.length, told.width), thing.size, strict=True)
        for field, ticks, (text, its) in zip(fields, size, planned, strict=True):
            field.show_text(text if ticks == its else size_text(ticks, style))
        self._suit()

    def _button(self, text: str, tip: str, act: Callable[[], None]) -> QPushButton:
        made = button(text, self, act, tip)
        made.setAccessibleDescription(tip)
        return made

    def _arrange(self) -> None:
        self.hint.setObjectName("quiet")
        self.hint.setMinimumWidth(1)
        self.rest.setObjectName("chiefButton")
        self.rest.setAutoDefault(True)
        self.length.setAccessibleName("Real L")
        self.width_field.setAccessibleName("Real W")
        back = self._button("back to the cuts", "Show the cut sequence again (Esc)", self.put_away)
        for link in (back, self.copy):
            link.setObjectName("link")
        real = [self.about, *self._labelled("L", self.length)]
        real += self._labelled("W", self.width_field)
        self._head = TwoParts([self.heading, self.hint], [self.copy, back], self.hint)
        self._foot = TwoParts(real, [self.ruined, self.right, None, self.rest])
        row = (self.table, self.length, self.width_field, self.ruined, self.right, self.rest)
        for before, after in pairwise((*row, self.copy, back)):
            QWidget.setTabOrder(before, after)
        below = (self._head, self.empty, (self.table, 1), self._foot)
        down(*below, on=self, edges=(SIDE_PX, 6, SIDE_PX, 8), gap=4)

    def _labelled(self, letter: str, field: Field) -> list[QWidget]:
        """Return a field behind its letter."""
        field.setFixedWidth(field.fontMetrics().horizontalAdvance(LONGEST) + 2 * SIDE_PX)
        before = Label(letter, self)
        before.setBuddy(field)
        return [before, field]

    def _suit(self) -> None:
        """Break what stands above and below the table where it has no room in one line."""
        for parts in (self._head, self._foot):
            parts.suit(self.width() - 2 * SIDE_PX)

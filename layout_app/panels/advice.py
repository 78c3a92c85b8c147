"""What would save a sheet: a drawer under the bench that fills while it is looked."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLineEdit,
    QWidget,
)

from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.model.lock_costs import LockCost
from layout_app.model.words.wording import counted
from layout_app.panels.columns import positive
from layout_app.panels.widgets import BARE, Drawer, across, button, down, label, quiet, scrolled
from layout_app.planner.advice import At, Looking
from layout_app.planner.aside import Offering
from layout_app.planner.heard import Subject
from layout_app.planner.lock_prices import LockPrices
from shared.amounts import format_price, percent_saved
from shared.changes import Change, most_shorter
from shared.finding import say
from shared.plan import Goal
from solver.outcome import Suggestion

TITLE = "What would save a sheet?"
STALE = "The job has changed since: look again."
LOWER_PX = 4
"""Words begin so much lower than a button, to stand beside its text."""
HEIGHTS = (96, 170)
"""Least and usual height of the drawer, in pixels."""
NARROW_PX = 660
"""A drawer that is narrower has its buttons on a line of their own."""


class AdvicePanel(Drawer):
    """Shows what was heard; each suggestion can be applied, none applies itself."""

    left = Signal()
    """It was closed; the keys go back to the bench."""
    said = Signal(str)

    def __init__(self, document: Document, looking: Looking, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._looking = document, looking
        self._rows: dict[Subject, _SuggestionRow] = {}
        self._offering: Offering | None = None
        self.setObjectName("advice")
        self.setAccessibleName(TITLE)
        self.doing = Cutting(parent=self)
        self.doing.setObjectName("quiet")
        self.limit = QLineEdit(self)
        self.limit.setAccessibleName("Shorten a part by at most")
        self.limit.setToolTip("How much shorter or narrower one part may get; Enter looks again")
        self.limit.setMaximumWidth(90)
        self.limit.returnPressed.connect(self._take_limit)
        tip = "Look for what would save a sheet"
        self.again = button("Look again", self, looking.look, tip, enter=True)
        tip = "End it and keep what was found"
        self.stop = button("Stop", self, looking.stop, tip, enter=True)
        self.close_button = button("Close", self, self.put_away, "Put this away (Esc)", enter=True)
        self.forcing, self.looked = quiet("", self), quiet("", self)
        self.offer = _SuggestionRow(self)
        self.offer.button.clicked.connect(self._take_offer)
        self.offer.hide()
        self._list, self._locks_list = down(), down()
        self._locks: LockPrices | None = None
        self._lock_rows: list[_SuggestionRow] = []
        self._head = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._arrange()
        looking.changed.connect(self.refresh)
        document.leaving.connect(self._leave)
        self.hide()

    @property
    def suggestions(self) -> list["_SuggestionRow"]:
        """The rows, in order."""
        return list(self._rows.values())

    def tell_offers(self, offering: Offering) -> None:
        """Show a better plan that is offered before all suggestions."""
        self._offering = offering
        offering.changed.connect(self.refresh)

    def tell_locks(self, locks: LockPrices) -> None:
        """Show what locks cost, with a button that unlocks, before all suggestions."""
        self._locks = locks
        locks.changed.connect(self.refresh)

    def open(self) -> None:
        """Show it, and look."""
        self.show()
        self._looking.look()
        self.stop.setFocus()

    def put_away(self) -> None:
        """Stop looking and hide."""
        self._looking.stop()
        self.hide()
        self.left.emit()

    def _leave(self) -> None:
        """Go with the project that the suggestions are for."""
        self.hide()
        for subject in list(self._rows):
            self._drop(subject)

    def refresh(self) -> None:
        """Show what is known now."""
        if self.isHidden():
            return
        looking = self._looking
        self._show_button(looking.at is At.NOTHING)
        self._show_offer()
        self._show_locks()
        looked = looking.heard.looked
        _show(self.forcing, "\n".join(one.sentence for one in looking.heard.forcing))
        beaten = not self.offer.isHidden() and looked is not None and not looked.found
        _show(self.looked, "" if looked is None or beaten else looked.sentence)
        if not self.limit.hasFocus():
            style = self._document.job.style
            self.limit.setText(say(most_shorter(style, looking.shorten_up_to), style))
        self._show_rows()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put what can be pressed below the title where both have no room on a line."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW_PX
        across, down = QBoxLayout.Direction.LeftToRight, QBoxLayout.Direction.TopToBottom
        self._head.setDirection(down if narrow else across)

    def _show_offer(self) -> None:
        offering, looking = self._offering, self._looking
        sentence = "" if offering is None else offering.sentence
        self.offer.setVisible(bool(sentence))
        self.offer.say("", sentence, "", "Use this plan; undo brings back the one before")
        idle = looking.at is At.NOTHING and not looking.is_stale
        waits = offering is not None and offering.pending and idle
        self.doing.setText(
            "looking …" if waits else _doing(looking, bool(sentence) + len(self._costs))
        )

    @property
    def _costs(self) -> tuple[LockCost, ...]:
        """What locks cost."""
        return self._locks.costs if self._locks is not None else ()

    def _show_locks(self) -> None:
        """Show a row for each lock that costs something."""
        costs = self._costs
        while len(self._lock_rows) > len(costs):
            self._put_off(self._lock_rows.pop())
        while len(self._lock_rows) < len(costs):
            self._lock_rows.append(row := _SuggestionRow(self))
            row.button.setText("Unlock")
            row.button.clicked.connect(partial(self._unlock, row))
            self._locks_list.addWidget(row)
        for row, cost in zip(self._lock_rows, costs, strict=True):
            sentence = self._locks.sentence(cost) if self._locks is not None else ""
            row.say("", sentence, "", "Unlock it; planning follows, and undo takes it back")
            row.button.setAccessibleName(f"Unlock: {sentence}")

    def _unlock(self, row: "_SuggestionRow") -> None:
        if self._locks is not None and row in self._lock_rows:
            self._locks.unlock(self._costs[self._lock_rows.index(row)])
        self.again.setFocus()

    def _put_off(self, row: "_SuggestionRow") -> None:
        """Take a row away; a click that comes late does nothing."""
        self._locks_list.removeWidget(row)
        row.hide()
        row.deleteLater()

    def _take_offer(self) -> None:
        if self._offering is not None and self._offering.take():
            self.said.emit("Applied; undo takes it back.")
        self.again.setFocus()

    def _show_button(self, ended: bool) -> None:
        """Offer to stop or to look again; the one that goes passes the keys to the other."""
        shown, hidden = (self.again, self.stop) if ended else (self.stop, self.again)
        shown.show()
        if hidden.hasFocus():
            shown.setFocus()
        hidden.hide()

    def _show_rows(self) -> None:
        """Keep one row for each suggestion, so that none loses the keys when another comes."""
        standing = self._looking.heard.by_subject
        for gone in [subject for subject in self._rows if subject not in standing]:
            self._drop(gone)
        for subject, suggestion in standing.items():
            if subject not in self._rows:
                self._rows[subject] = row = _SuggestionRow(self)
                row.applied.connect(self._apply)
                self._list.insertWidget(len(self._rows) - 1, row)
            self._rows[subject].tell(suggestion, can_apply=not self._looking.is_stale)

    def _drop(self, subject: Subject) -> None:
        """Take a suggestion away; a click that comes late applies nothing."""
        row = self._rows.pop(subject)
        row.applied.disconnect()
        self._list.removeWidget(row)
        row.hide()
        row.deleteLater()

    def _apply(self, change: Change) -> None:
        if self._looking.apply(change):
            self.said.emit("Applied; undo takes it back.")
        self.again.setFocus()

    def _take_limit(self) -> None:
        """Look again with another limit; what is no length is said."""
        try:
            limit = positive(self.limit.text(), self._document.job.style)
        except ValueError as wrong:
            self.said.emit(str(wrong))
            return
        self._looking.shorten_up_to = limit
        self.again.setFocus()
        self._looking.look()

    def _arrange(self) -> None:
        self._head.setSpacing(8)
        self._head.addLayout(across(label(TITLE, self, "strong"), (self.doing, 1)), 1)
        limit = Label("Shorten by at most", self), self.limit
        self._head.addLayout(across(*limit, self.again, self.stop, self.close_button))
        page = QWidget(self)
        below = (self.offer, self._locks_list, self._list, self.looked, self.forcing, None)
        down(*below, on=page, edges=(0, 0, 8, 0), gap=6)
        area = scrolled(page, self)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        down(self._head, (area, 1), on=self, edges=(12, 6, 8, 6))
        self.setMinimumHeight(HEIGHTS[0])


class _SuggestionRow(QFrame):
    """One suggestion: what is saved, what to change, what to mind, and a button."""

    applied = Signal(object)
    """The `Change` to be made."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._change: Change | None = None
        self.saving = label("", self, "strong")
        self.saving.setMinimumWidth(
            self.saving.fontMetrics().horizontalAdvance("saves 999.00 ") + 8
        )
        self.sentence, self.caution = label("", self, "plain"), quiet("", self)
        self.sentence.setWordWrap(True)
        self.button = button("Apply", self, self._apply, enter=True)
        lower = (0, LOWER_PX, 0, 0)
        first = down(self.saving, None, edges=lower)
        words = down(self.sentence, self.caution, None, edges=lower, gap=0)
        row = across(first, (words, 1), on=self, edges=BARE)
        row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)

    def tell(self, suggestion: Suggestion, *, can_apply: bool) -> None:
        """Show a suggestion."""
        self._change = suggestion.change
        tip = "Make this change; undo takes it back" if can_apply else STALE
        self.say(_saving(suggestion), suggestion.sentence, suggestion.caution, tip)
        self.button.setEnabled(can_apply)

    def say(self, saving: str, sentence: str, caution: str, tip: str) -> None:
        """Show what is saved, what to do, what to mind, and what the button does."""
        _show(self.saving, saving)
        self.sentence.setText(sentence)
        _show(self.caution, caution)
        self.button.setAccessibleName(f"Apply: {sentence}")
        self.button.setToolTip(tip)

    def _apply(self) -> None:
        if self._change is not None:
            self.applied.emit(self._change)


def _doing(looking: Looking, more: int = 0) -> str:
    """Say what it is at, or how it ended; ``more`` was found besides suggestions."""
    if looking.at is At.WAITING:
        return "begins when planning has ended"
    if looking.at is At.LOOKING:
        return "looking …"
    if looking.is_stale:
        return "changed since"
    found = len(looking.heard.suggestions) + more
    return looking.sentence or (f"{found} found" if found else "nothing found")


def _show(words: Label, text: str) -> None:
    words.setText(text)
    words.setVisible(bool(text))


def _saving(suggestion: Suggestion) -> str:
    if suggestion.goal is Goal.LEAST_PRICE:
        return f"saves {format_price(suggestion.price_before - suggestion.price)}"
    if suggestion.goal is not Goal.FEWEST_SHEETS:
        return f"saves {percent_saved(suggestion.price_before, suggestion.price)}"
    return f"saves {counted(suggestion.sheets_before - suggestion.sheets, 'sheet')}"

"""What would save a sheet: a drawer under the bench that fills while it is looked."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.model.words.wording import counted
from layout_app.panels.columns import positive
from layout_app.planner.advice import At, Looking
from layout_app.planner.aside import Offering
from layout_app.planner.heard import Subject
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


class AdvicePanel(QFrame):
    """Shows what was heard; each suggestion can be applied, none applies itself."""

    left = Signal()
    """It was closed; the keys go back to the bench."""
    said = Signal(str)

    def __init__(self, document: Document, looking: Looking, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._looking = document, looking
        self._rows: dict[Subject, _Row] = {}
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
        self.again = self._button("Look again", "Look for what would save a sheet", looking.look)
        self.stop = self._button("Stop", "End it and keep what was found", looking.stop)
        self.close_button = self._button("Close", "Put this away (Esc)", self.put_away)
        self.forcing = _wrapped(self, "quiet")
        self.looked = _wrapped(self, "quiet")
        self.offer = _Row(self)
        self.offer.button.clicked.connect(self._take_offer)
        self.offer.hide()
        self._list = QVBoxLayout()
        self._head = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._arrange()
        looking.changed.connect(self.refresh)
        document.leaving.connect(self._leave)
        self.hide()

    @property
    def suggestions(self) -> list["_Row"]:
        """The rows, in order."""
        return list(self._rows.values())

    def tell_offers(self, offering: Offering) -> None:
        """Show a better plan that is offered before all suggestions."""
        self._offering = offering
        offering.changed.connect(self.refresh)

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
        looked = looking.heard.looked
        _show(self.forcing, "\n".join(one.sentence for one in looking.heard.forcing))
        beaten = not self.offer.isHidden() and looked is not None and not looked.found
        _show(self.looked, "" if looked is None or beaten else looked.sentence)
        if not self.limit.hasFocus():
            style = self._document.job.style
            self.limit.setText(say(most_shorter(style, looking.shorten_up_to), style))
        self._show_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put it away with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)

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
        self.doing.setText("looking …" if waits else _doing(looking, offers=bool(sentence)))

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
                self._rows[subject] = row = _Row(self)
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

    def _button(self, text: str, tip: str, act: object) -> QPushButton:
        button = QPushButton(text, self)
        button.setAutoDefault(True)
        button.setToolTip(tip)
        button.clicked.connect(act)
        return button

    def _arrange(self) -> None:
        title = Label(TITLE, self)
        title.setObjectName("strong")
        self._head.setSpacing(8)
        words, tools = QHBoxLayout(), QHBoxLayout()
        words.addWidget(title)
        words.addWidget(self.doing, 1)
        tools.addWidget(Label("Shorten by at most", self))
        for widget in (self.limit, self.again, self.stop, self.close_button):
            tools.addWidget(widget)
        self._head.addLayout(words, 1)
        self._head.addLayout(tools)
        page = QWidget(self)
        body = QVBoxLayout(page)
        body.setContentsMargins(0, 0, 8, 0)
        body.setSpacing(6)
        body.addWidget(self.offer)
        body.addLayout(self._list)
        body.addWidget(self.looked)
        body.addWidget(self.forcing)
        body.addStretch(1)
        area = QScrollArea(self)
        area.setWidget(page)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 6, 8, 6)
        column.addLayout(self._head)
        column.addWidget(area, 1)
        self.setMinimumHeight(HEIGHTS[0])


class _Row(QFrame):
    """One suggestion: what is saved, what to change, what to mind, and a button."""

    applied = Signal(object)
    """The `Change` to be made."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._change: Change | None = None
        self.saving = Label(parent=self)
        self.saving.setObjectName("strong")
        self.saving.setMinimumWidth(
            self.saving.fontMetrics().horizontalAdvance("saves 999.00 ") + 8
        )
        self.sentence = _wrapped(self, "plain")
        self.caution = _wrapped(self, "quiet")
        self.button = QPushButton("Apply", self)
        self.button.setAutoDefault(True)
        self.button.clicked.connect(self._apply)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.setContentsMargins(0, LOWER_PX, 0, 0)
        words.addWidget(self.sentence)
        words.addWidget(self.caution)
        words.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        first = QVBoxLayout()
        first.setContentsMargins(0, LOWER_PX, 0, 0)
        first.addWidget(self.saving)
        first.addStretch(1)
        row.addLayout(first)
        row.addLayout(words, 1)
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


def _doing(looking: Looking, *, offers: bool = False) -> str:
    """Say what it is at, or how it ended."""
    if looking.at is At.WAITING:
        return "begins when planning has ended"
    if looking.at is At.LOOKING:
        return "looking …"
    if looking.is_stale:
        return "changed since"
    found = len(looking.heard.suggestions) + offers
    return looking.sentence or (f"{found} found" if found else "nothing found")


def _show(label: Label, text: str) -> None:
    label.setText(text)
    label.setVisible(bool(text))


def _saving(suggestion: Suggestion) -> str:
    if suggestion.goal is Goal.LEAST_PRICE:
        return f"saves {format_price(suggestion.price_before - suggestion.price)}"
    if suggestion.goal is not Goal.FEWEST_SHEETS:
        return f"saves {percent_saved(suggestion.price_before, suggestion.price)}"
    return f"saves {counted(suggestion.sheets_before - suggestion.sheets, 'sheet')}"


def _wrapped(parent: QWidget, name: str) -> Label:
    label = Label(parent=parent)
    label.setObjectName(name)
    label.setWordWrap(True)
    return label

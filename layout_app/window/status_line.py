"""The status line: proof, sawing, offcut, yield; and what is going on."""

import re
from collections.abc import Callable, Iterator
from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.model.words.minute_words import minutes_tip
from layout_app.model.words.order_words import to_go_s
from layout_app.model.words.wording import BEGUN, proof_note
from layout_app.planner.live import Planning
from layout_app.planner.status_words import (
    choices_words,
    offcut_sentence,
    planning_sentence,
    proof_sentence,
    saved_words,
    sawing_hint,
    sawing_sentence,
    yield_sentence,
)

GAP, EDGE = 18, 3
"""Pixels between the sentences, and above and below them."""
SAID_MS = 12_000
"""How long a sentence about what just happened stays."""
CLOCK_MS = 500
"""How often the seconds of a run are written anew."""


_RULE: Final = re.compile(r" \([^()]*\)$")
"""The rule for which something is proven, at the end of the sentence."""


class StatusLine(QWidget):
    """Says in words what the document and the planner know."""

    spoke = Signal(str)
    """A sentence about what just happened is shown, or a plan is offered."""
    changed = Signal()
    """What is known of the plan was written anew."""

    def __init__(
        self, document: Document, planning: Planning, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setObjectName("status")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName("What holds now")
        self._document = document
        self._planning = planning
        labels = (Cutting(parent=self) for _ in range(5))
        self.proof, self.sawing, self.offcut, self.used, self.doing = labels
        self.saved = Label(parent=self)
        self.stop = QPushButton("Stop", self)
        self.stop.setToolTip("End planning and keep what it has found")
        self.stop.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.stop.clicked.connect(planning.stop)
        self.again = QPushButton("Plan again", self)
        self.again.setObjectName("offer")
        self.again.setToolTip("Plan again; your sheets and the best plan so far stay (Ctrl+F5)")
        self.again.clicked.connect(planning.run_again)
        self.choices = QPushButton(self)
        self.choices.setToolTip("Compare plans: cost against minutes")
        self.offer = QPushButton(self)
        self.back = QPushButton("Take it back", self)
        self.back.setToolTip("Take the last tick back (Ctrl+U; again, the one before)")
        self.back.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # it hides once it is clicked
        self._said = self._ticked = self._proven = self._tip = ""
        self._tidies = False
        self._said_at: int | None = None
        self._quiet = self._timer(SAID_MS, self.forget, once=True)
        self._new = self._timer(0, self._note_step, once=True)
        self._clock = self._timer(CLOCK_MS, self._show_doing)
        self._soon = self._timer(0, self.refresh, once=True)
        self._arrange()
        self._follow()
        self.refresh()
        self._show_saved()
        self.show_offer("")

    def _timer(self, pause_ms: int, act: Callable[[], None], *, once: bool = False) -> QTimer:
        timer = QTimer(self)
        timer.setInterval(pause_ms)
        timer.setSingleShot(once)
        timer.timeout.connect(act)
        return timer

    def _follow(self) -> None:
        document = self._document
        for signal in (
            document.layout_changed,
            document.proof_changed,
            document.job_changed,
            document.progress_changed,
        ):
            signal.connect(self._refresh_soon)
        self._planning.changed.connect(self._refresh_soon)
        document.said.connect(self.say)
        document.saved_state.changed.connect(self._show_saved)

    def say(self, sentence: str) -> None:
        """Show a sentence for a while, or until a later step is taken."""
        self._said, self._said_at = sentence, None
        self.spoke.emit(sentence)
        self._quiet.start()
        self._new.start()
        self._show_doing()

    def say_ticked(self, sentence: str, ticked: bool) -> None:
        """Say what was ticked, and let it be taken back as long as that is said; or unticked."""
        self._ticked = sentence if ticked else ""
        self.say(sentence)

    def show_offer(self, sentence: str) -> None:
        """Show what plan of all sheets is offered; nothing where there is none."""
        if sentence != self.offer.text():
            self.spoke.emit(sentence)
        self.offer.setText(sentence)
        self.offer.setVisible(bool(sentence))
        self._fit()

    def show_tidying(self, tidies: bool) -> None:
        """Let it be ended as long as a sheet is tidied; what is found by then counts."""
        self._tidies = tidies
        self._refresh_soon()

    def _refresh_soon(self) -> None:
        """Refresh once, however many signals one change sends."""
        self._soon.start()

    def refresh(self) -> None:
        """Show what is known now; what was said before a later step is forgotten."""
        if self._said_at not in {None, self._document.undo_stack.index()}:
            self._said = ""
        plan, standing = self._document.plan, self._planning.standing
        said = proof_sentence(self._document.project, plan, standing)
        begun = BEGUN if plan is not None and self._document.progress.past else ""
        number = self._document.sawn.number
        named = f"Plan number {number}, as on its pages." if number else ""
        notes = (begun, proof_note(plan) if plan is not None else "", named)
        noted = " ".join(filter(None, notes))
        self._proven, self._tip = said, f"{said}. {noted}" if noted else said
        whole = not self._document.problems  # a sheet that can't be cut yet takes time as well
        self.sawing.setText(sawing_sentence(self._document.takes, whole=whole))
        shop = self._document.job.shop
        left_s = to_go_s(self._document.sawn)
        spent = minutes_tip(self._document.takes, shop, whole=whole, left_s=left_s)
        self.sawing.setToolTip("\n".join(filter(None, (sawing_hint(plan), spent))))
        self.offcut.setText(offcut_sentence(self._document.project, plan))
        self.used.setText(yield_sentence(self._document.takes if whole else None))
        self.stop.setVisible(standing.running or self._tidies)
        self.again.setVisible(standing.broken)
        words = choices_words(self._document, self._planning.choices)
        self.choices.setText(words)
        self.choices.setVisible(bool(words))
        if standing.running and not self._clock.isActive():
            self._clock.start()
        self._show_doing()
        self.changed.emit()

    @property
    def plan(self) -> str:
        """All that is known of the plan."""
        return _read(self._proven, *_texts(self.sawing, self.offcut, self.used))

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say what is written here to who cannot see it."""
        self.setAccessibleDescription(
            _read(
                self._proven, *_texts(self.sawing, self.offcut, self.used, self.doing, self.saved)
            )
        )
        super().focusInEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what there is no room for; buttons that come and go move nothing above."""
        super().resizeEvent(event)
        buttons = (self.stop, self.again, self.choices, self.offer, self.back)
        tallest = max(button.sizeHint().height() for button in buttons)
        self.setMinimumHeight(tallest + 2 * EDGE)
        self._fit()

    def _fit(self) -> None:
        """Hide the least important words until the rest has room; what was just said goes first."""
        self._show_proven(self._proven)
        if (
            not self._fits() and not self._said
        ):  # the rule that was solved goes first; it stands in the tip
            self._show_proven(_RULE.sub("", self._proven))
            self._fits()

    def _show_proven(self, words: str) -> None:
        if words != self.proof.text():
            self.proof.setText(words)
        self.proof.setToolTip(self._tip)

    def _fits(self) -> bool:
        """Hide words as `_fit` says; say whether all had room."""
        main = (self.doing, self.proof) if self._said else (self.proof, self.doing)
        labels = (*main, self.sawing, self.offcut, self.used)
        button = max(self.stop.sizeHint().width(), self.again.sizeHint().width())
        room = self.width() - button - self.saved.sizeHint().width() - 60
        for shown in (self.choices, self.offer):
            room -= shown.sizeHint().width() + GAP if shown.text() else 0
        room -= self.back.sizeHint().width() + GAP if self._can_take_back else 0
        for label in labels:
            room -= label.sizeHint().width() + GAP
            first = label is self.doing or (label is self.proof and not self._said)
            label.setVisible(bool(label.text()) and (first or room >= 0))
        return room >= 0

    def _show_doing(self) -> None:
        if not self._planning.running:
            self._clock.stop()
        self.doing.setText(self._said or planning_sentence(self._planning.standing))
        self.back.setVisible(self._can_take_back)
        self._fit()

    @property
    def _can_take_back(self) -> bool:
        return bool(self._said) and self._said == self._ticked

    def _show_saved(self) -> None:
        words, tip = saved_words(self._document)
        self.saved.setText(words)
        self.saved.setToolTip(tip)
        self._fit()

    def _note_step(self) -> None:
        """Note after which step a sentence stands, once the step that said it is taken."""
        self._said_at = self._document.undo_stack.index()

    def forget(self) -> None:
        """Say no more of what just happened."""
        self._said = ""
        self._show_doing()

    def _arrange(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(10, EDGE, 10, EDGE)
        row.setSpacing(GAP)
        self.proof.setObjectName("strong")
        for label in (self.proof, self.sawing, self.offcut, self.used):
            label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
            row.addWidget(label)
        row.addStretch(1)
        row.addWidget(self.offer)
        row.addWidget(self.choices)
        row.addWidget(self.doing)
        row.addWidget(self.back)
        row.addWidget(self.stop)
        row.addWidget(self.again)
        row.addWidget(self.saved)


def _texts(*labels: Label) -> Iterator[str]:
    """Yield what labels say."""
    yield from (one.text() for one in labels)


def _read(*said: str) -> str:
    """Return what is said, as sentences."""
    return ". ".join(filter(None, said))

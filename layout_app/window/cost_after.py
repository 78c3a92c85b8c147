"""What a step on the bench has cost, said once it is made: swaps and turns had no words before."""

import time

from PySide6.QtCore import QObject, QTimer

from layout_app.document.costing import was_told
from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Step
from layout_app.model.cost import Cost, Costing
from layout_app.model.sawing import Sawn
from layout_app.model.words.cost_words import cost_words

SOON_MS = 60
"""So long after the step, so that it is seen first."""
AT_ONCE_S = 0.1
"""What was said so shortly before a step was said of it."""


class CostAfter(QObject):
    """Says what the latest step has cost, unless something else was said of it."""

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._text, self._said_at = "", 0.0
        self._before: Sawn | None = None
        self._after: Sawn | None = None
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self._say)
        document.pushing.connect(self._note)
        document.edited.connect(self._follow)
        document.said.connect(self._hear)
        document.leaving.connect(self.forget)

    def forget(self) -> None:
        """Say nothing of the latest step."""
        self._text, self._before, self._after = "", None, None
        self._soon.stop()

    def _hear(self) -> None:
        self.forget()
        self._said_at = time.monotonic()

    def _note(self, step: Step) -> None:
        self.forget()
        if time.monotonic() - self._said_at > AT_ONCE_S:
            self._text, self._before = step.text(), self._document.sawn

    def _follow(self, consequence: Consequence) -> None:
        if self._text and self._after is None and consequence is Consequence.PLAN_ON:
            self._after = self._document.sawn
            self._soon.start()
        else:
            self.forget()

    def _say(self) -> None:
        text, before, after = self._text, self._before, self._after
        self.forget()
        if before is None or after is None or self._document.gestures.in_hand:
            return
        if was_told(after.project):
            return  # the totals that are shown now say more
        if before.project.job.shop != after.project.job.shop:
            return  # by another pace, minutes are no cost of the step
        cost = Costing(before).done(after)
        if cost is not None and cost != Cost():
            words = cost_words(cost, self._document.job.style)
            self._document.said.emit(f"{text[0].upper()}{text[1:]}: {words}.")
            self._said_at = 0.0

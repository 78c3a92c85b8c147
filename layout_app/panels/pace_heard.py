"""The maker's own pace, heard at the saw: offered beside the figures of the shop, never taken."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.model.pace_offers import PaceOffer, answered, pace_offer
from layout_app.model.words.pace_words import (
    all_made_words,
    answered_words,
    not_told_words,
    rests_on,
    told_words,
)
from layout_app.panels.widgets import BARE, TickBox, across, button, down, quiet
from shared.making.work_of_cut import FIGURES
from shared.shop import Shop

TAKE_OVER: Final = "Take over"
NOT_NOW: Final = "Not now"
SOON_MS: Final = 150
"""So long after a tick, or after the plan was changed, what is offered is worked out."""


class PaceStrip(QWidget):
    """Shows which figures differ at the saw, a box to tick for each, and takes over what is ticked.

    After an answer nothing is offered before some more cuts. It is worked out while it is in
    sight. The keys stay here when the offer goes, so that undo is that of the whole window.
    """

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._offer = PaceOffer()
        self._shown: tuple[PaceOffer, Shop] | None = None
        self._offered = QWidget(self)
        for named in (self, self._offered):
            named.setAccessibleName("Your pace at the saw")
        self._words = quiet("", self._offered)
        self._boxes = {figure: TickBox("", self._offered) for figure in FIGURES}
        boxes = down(*self._boxes.values(), edges=BARE, gap=2)
        tip = "Put the ticked seconds in place of the shop's, in one step that can be undone"
        self.take = button(TAKE_OVER, self._offered, self._take_over, tip)
        tip = "Leave the shop as it is; you are asked again after eight more cuts"
        self.leave = button(NOT_NOW, self._offered, self._decline, tip)
        row = across(self.take, self.leave, None)
        down(self._words, boxes, row, on=self._offered, edges=(0, 2, 0, 6), gap=3)
        for box in self._boxes.values():
            box.toggled.connect(self._may_take)
        self._offered.hide()
        self._not_told = quiet("", self)
        self._not_told.hide()
        down(self._offered, self._not_told, on=self, edges=BARE, gap=2)
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self.refresh)
        document.progress_changed.connect(self._soon.start)
        document.job_changed.connect(self.refresh)
        document.layout_changed.connect(self._soon.start)

    @property
    def boxes(self) -> tuple[TickBox, ...]:
        """One for each figure that is offered."""
        return tuple(self._boxes[one.figure] for one in self._offer.figures)

    @property
    def words(self) -> str:
        """What is said above the boxes; ``""`` while nothing is offered."""
        return self._words.text() if self._offer.figures else ""

    @property
    def not_told(self) -> str:
        """What is said of kinds of work that are not told yet."""
        return self._not_told.text()

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what is to be offered, now that it is in sight."""
        super().showEvent(event)
        self.refresh()

    def refresh(self) -> None:
        """Show what is to be offered now."""
        if not self.isVisible():
            return
        offer, shop = pace_offer(self._document.sawn), self._document.job.shop
        self._offered.setVisible(bool(offer.figures))
        if (offer, shop) == self._shown:
            return
        self._shown = offer, shop
        before = {one.figure for one in self._offer.figures}
        self._offer, offered = offer, {one.figure: one for one in offer.figures}
        self._words.setText(rests_on(offer))
        waits = not_told_words(offer) if offer.figures or offer.goes_on else ""
        self._not_told.setText(waits)
        self._not_told.setVisible(bool(waits))
        for said in (self._words, self._not_told):
            said.setToolTip(all_made_words(offer))
        for figure, box in self._boxes.items():
            box.setVisible(figure in offered)
            if figure in offered:
                box.setText(told_words(offered[figure], shop))
            box.setChecked(figure in offered and (figure not in before or box.isChecked()))
        self._may_take()

    def _may_take(self) -> None:
        self.take.setEnabled(any(box.isChecked() for box in self._boxes.values()))

    def _take_over(self) -> None:
        """Take what is ticked over, in one step; the rest is declined."""
        self._answer([figure for figure, box in self._boxes.items() if box.isChecked()])

    def _decline(self) -> None:
        self._answer([])

    def _answer(self, chosen: Sequence[str]) -> None:
        """Take figures over, none maybe, and note what of the offer was taken and what was not."""
        document, offer = self._document, self._offer
        taken = offer.pace(chosen)
        declined = [one.figure for one in offer.figures if one.figure not in taken]
        shop = offer.taken_over(document.job.shop, taken)
        self.setFocus()
        document.set_progress(answered(document.progress, taken, declined))
        if taken:
            edit_job.edit_shop(document, shop, "take over the pace")
        self.refresh()
        document.tell(answered_words(offer, taken))

"""Whose shop a project has: the one that is kept, or its own."""

from typing import Final

from PySide6.QtWidgets import QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.panels.widgets import BARE, across, button, down, quiet

SAME: Final = (
    "This is your shop: new projects begin with it, and with what you change here. Only the order"
    " of sawing stays this project's."
)
BUT_FOR_ORDER: Final = "This is your shop; only the order of sawing is this project's own."
OTHER: Final = (
    "This shop is this project's own. Once you change anything here but the order of sawing, it"
    " becomes yours, and new projects begin with it."
)


class KeptStrip(QWidget):
    """Says whose shop it is, and offers yours where it is another."""

    def __init__(self, document: Document, kept: KeptShop, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._kept = kept
        self._words = quiet(SAME, self)
        tip = "Put the shop you keep in place of this one"
        self.use = button("Use my shop", self, self._use, tip)
        tip = "Let new projects begin with this one, its order of sawing included"
        self.keep = button("Make this my shop", self, kept.keep_this, tip)
        down(self._words, across(self.use, self.keep, None), on=self, edges=BARE)
        document.job_changed.connect(self.refresh)
        kept.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show whether the project's shop is the one that is kept."""
        same = self._document.job.shop == self._kept.shop
        other = BUT_FOR_ORDER if self._kept.but_for_order else OTHER
        self._words.setText(SAME if same else other)
        self.use.setVisible(not same)
        self.keep.setVisible(not same and self._kept.can_keep)

    def _use(self) -> None:
        edit_job.edit_shop(self._document, self._kept.shop, "use my shop")

"""The region of the cut sequence: a heading, and cards or a table below it.

Beside them stands all there is to say of the selected cut.
"""

from dataclasses import replace
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QPushButton, QStackedWidget, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.edit_cut_order import restore_order
from layout_app.look.elided_label import Shortened
from layout_app.look.theme import Theme
from layout_app.model.words.minute_words import minutes_tip
from layout_app.model.words.order_words import MODES, WHAT_FOR, sequence_versions
from layout_app.panels.cuts_table import CutsTable
from layout_app.panels.sequence import SequenceView
from layout_app.panels.telling_pane import TellingPane
from layout_app.panels.ticking import Ticking
from layout_app.panels.widgets import BARE, across, button, down, label
from shared.shop import SawingOrder

AS_ON_PAPER: Final = "The plan's number: pages with another number are of another plan"
WALKING: Final = "The walk-through is open: tick the cut there (F8)."


class SequencePanel(QWidget):
    """Shows the sequence as cards, or as a table."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setObjectName("sequencePanel")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.cards = SequenceView(document, theme, self)
        self.table = CutsTable(document, self)
        self.telling = TellingPane(document, self.cards, theme, self)
        self._views = QStackedWidget(self)
        self._views.addWidget(self.cards)
        self._views.addWidget(self.table)
        self._words = Shortened(self)
        self._words.setObjectName("quiet")
        tip = "Show the sequence as a table, or as cards"
        self.number = label("", self, "quiet")
        self.number.setToolTip(AS_ON_PAPER)
        self.number.setAccessibleDescription(AS_ON_PAPER)
        self._switch = button("as a table", self, self.switch, tip, look="link")
        self._modes: dict[SawingOrder, QAction] = {}
        self._mode = self._order_button()
        restore = "Discard your changes to the cut order, and look for the best again"
        self._restore = button(
            "restore order", self, lambda: restore_order(document), restore, look="link"
        )
        self.ticking = Ticking(document, self)
        self.walking = False
        """Whether the walk is open."""
        self._arrange()
        self.cards.tick_asked.connect(self.toggle_tick)
        self.table.tick_asked.connect(self.toggle_tick)
        document.progress_changed.connect(self.refresh)
        document.layout_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)
        self.refresh()

    @property
    def is_table(self) -> bool:
        """Whether the table is shown."""
        return self._views.currentWidget() is self.table

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        self.cards.set_theme(theme)
        self.telling.set_theme(theme)

    def switch(self) -> None:
        """Show the other of cards and table."""
        view: QWidget = self.cards if self.is_table else self.table
        self._views.setCurrentWidget(view)
        self._switch.setText("as cards" if self.is_table else "as a table")
        view.setFocus()

    def toggle_tick(self, number: int) -> None:
        """Tick a cut, or take its tick away; what that takes is asked at the view that is shown.

        While the walk is open, ticks are set there alone.
        """
        if self.walking:
            self._document.said.emit(WALKING)
            return
        self.ticking.toggle(number, self.table if self.is_table else self.cards)

    def refresh(self) -> None:
        """Say what the sequence takes, and how much of it is made."""
        plan, number = self._document.plan, self._document.sawn.number
        self.number.setText(f"plan {number}" if number else "")
        self.number.setVisible(bool(number))
        self._mode.setVisible(plan is not None)
        self.telling.setVisible(plan is not None or bool(self._document.progress.past))
        if plan is None:
            self._words.clear()
            self._restore.hide()
            return
        document = self._document
        takes, whole = document.takes, not document.problems
        said, *shorter = sequence_versions(document.sawn, takes)
        spent = minutes_tip(takes, document.job.shop, whole=whole)
        self._words.say(said, shorter)
        self._words.setToolTip("\n".join(filter(None, (said, spent))))
        for mode, action in self._modes.items():
            action.setChecked(mode is document.job.shop.sawing)
        self._restore.setVisible(bool(document.layout.before))

    def set_order(self, mode: SawingOrder) -> None:
        """Put the cuts in order by another mode."""
        shop = replace(self._document.job.shop, sawing=mode)
        edit_job.edit_shop(self._document, shop, f"cut {MODES[mode]}")

    def _choose_order(self, action: QAction) -> None:
        self.set_order(SawingOrder(action.data()))
        self.refresh()  # Qt takes the tick of what held already away

    def _order_button(self) -> QPushButton:
        """Return a button that opens the choice of orders, the one that holds ticked."""
        made = QPushButton("order", self)
        made.setObjectName("link")
        made.setToolTip("By what the cuts are put in order")
        menu = QMenu(made)
        for mode, words in MODES.items():
            action = menu.addAction(f"{words.capitalize()}: {WHAT_FOR[mode]}")
            action.setCheckable(True)
            action.setData(mode)
            self._modes[mode] = action
        menu.triggered.connect(self._choose_order)
        made.setMenu(menu)
        return made

    def _arrange(self) -> None:
        title = label("Cut sequence", self, "strong")
        links = (self._restore, self._mode, self._switch)
        head = across(title, (self._words, 1), self.number, *links, edges=(14, 6, 14, 0), gap=10)
        side_by_side = across((self._views, 5), (self.telling, 3), gap=0)
        down(head, (side_by_side, 1), on=self, edges=BARE, gap=2)

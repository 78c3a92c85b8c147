"""The region of the cut sequence: a heading, and cards or a table below it.

Beside them stands all there is to say of the selected cut.
"""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from layout_app.document import Document
from layout_app.panels.cuts_table import CutsTable
from layout_app.panels.sequence import SequenceView
from layout_app.panels.telling_pane import TellingPane
from layout_app.theme import Theme
from layout_app.ticking import Ticking
from layout_app.wording import counted
from solver.sequencing.tally import tally


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
        self._words = QLabel(self)
        self._words.setObjectName("quiet")
        self._switch = QPushButton("as a table", self)
        self._switch.setObjectName("link")
        self._switch.setToolTip("Show the sequence as a table, or as cards")
        self._switch.clicked.connect(self.switch)
        self.ticking = Ticking(document, self)
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
        """Tick a cut, or take its tick away; what that takes is asked at the view that is shown."""
        self.ticking.toggle(number, self.table if self.is_table else self.cards)

    def refresh(self) -> None:
        """Say what the sequence takes, and how much of it is made."""
        plan = self._document.plan
        if plan is None:
            self._words.clear()
            return
        takes = tally(plan, self._document.job.shop)
        cuts, setups = counted(takes.cuts, "cut"), counted(takes.setups, "set-up")
        words = f"sheet by sheet, {cuts}, {setups}, about {takes.minutes} minutes"
        made = len(self._document.progress.made)
        self._words.setText(f"{words}; {made} made" if made else words)

    def _arrange(self) -> None:
        title = QLabel("Cut sequence", self)
        title.setObjectName("strong")
        head = QHBoxLayout()
        head.setContentsMargins(14, 6, 14, 0)
        head.setSpacing(10)
        head.addWidget(title)
        head.addWidget(self._words)
        head.addStretch(1)
        head.addWidget(self._switch)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(head)
        side_by_side = QHBoxLayout()
        side_by_side.setSpacing(0)
        side_by_side.addWidget(self._views, 5)
        side_by_side.addWidget(self.telling, 3)
        column.addLayout(side_by_side, 1)

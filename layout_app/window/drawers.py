"""The drawers of the window: what opens below the bench, and shuts again."""

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QWidget

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.advice import AdvicePanel
from layout_app.panels.choices import ChoicesDrawer
from layout_app.panels.lying import LyingDrawer
from layout_app.panels.paper_drawer import PaperDrawer
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.panels.widgets import Drawer
from layout_app.planner.live import Planning
from layout_app.window.offers import Offers


class Drawers(QObject):
    """Holds the drawers; one of `below` at a time is open, and the cut sequence hides then."""

    changed = Signal()
    """One of `below` was opened or put away."""

    def __init__(
        self,
        document: Document,
        planning: Planning,
        offers: Offers,
        *,
        theme: Theme,
        sequence: SequencePanel,
        window: QWidget,
    ) -> None:
        super().__init__(window)
        self.advice = AdvicePanel(document, offers.looking, window)
        self.advice.tell_offers(offers.offering)
        self.advice.tell_locks(offers.locks)
        self.choices = ChoicesDrawer(document, planning, theme, window)
        self.lying = LyingDrawer(document, window)
        self.paper = PaperDrawer(window)
        document.leaving.connect(self.paper.leave)
        self.below: tuple[Drawer, ...] = (self.choices, self.lying, self.paper)
        for drawer in (self.choices, self.lying, self.paper):
            for other in self.below:
                if other is not drawer:
                    drawer.opened.connect(other.hide)
            drawer.opened.connect(sequence.hide)
            drawer.closed.connect(sequence.show)
            drawer.opened.connect(self.changed)
            drawer.closed.connect(self.changed)

    def shut(self) -> bool:
        """Put away what is open; say whether anything was. The keys stay where they are."""
        shown = [one for one in (self.advice, *self.below) if one.isVisible()]
        focus = QApplication.focusWidget()
        for drawer in shown:
            drawer.put_away()
        if shown and focus is not None and focus.isVisible():
            focus.setFocus()
        return bool(shown)

"""What the window speaks besides the bench: plans, refusals, ticks, steps taken back, the cut."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from layout_app.document.document import Document
from layout_app.look.asking_bar import AskingBar
from layout_app.look.speaking import Voice
from layout_app.panels.issues import IssuesList
from layout_app.planner.live import Planning
from layout_app.window.status_line import StatusLine

PLAN, CUT, WRONG = "plan", "cut", "wrong"


class WindowVoice(QObject):
    """Speaks the sentences that the status line, the asking bar and the cut cards show."""

    def __init__(
        self,
        voice: Voice,
        document: Document,
        planning: Planning,
        *,
        status: StatusLine,
        bar: AskingBar,
        cards: QWidget,
        issues: IssuesList,
    ) -> None:
        super().__init__(voice)
        self._voice, self._document, self._planning = voice, document, planning
        self._status, self._cards = status, cards
        self._at, self._done, self._next = document.undo_stack.index(), "", ""
        self._back, self._again = "", ""
        status.spoke.connect(voice.tell)
        status.changed.connect(self._look)
        bar.asked.connect(lambda sentence: voice.tell(sentence, urgent=True))
        document.selection.changed.connect(self._look_at_cut)
        issues.changed.connect(lambda: voice.soon(WRONG, lambda: issues.first))
        stack = document.undo_stack
        stack.indexChanged.connect(self._take_step)
        stack.undoTextChanged.connect(self._take_done)
        stack.redoTextChanged.connect(self._take_next)

    def _look(self) -> None:
        """Speak of the plan once planning has come to rest."""
        if not self._planning.running:
            self._voice.soon(PLAN, self._plan)

    def _plan(self) -> str:
        """Say what the status line says of the plan, unless planning goes on already."""
        return "" if self._planning.running else self._status.plan

    def _look_at_cut(self) -> None:
        if self._document.selection.cut is None:
            self._voice.forget(CUT)
        else:
            self._voice.soon(CUT, self._cards.accessibleDescription)

    def _take_step(self, index: int) -> None:
        """Note which step may have been taken back, or again; the stack says its texts after."""
        self._back = self._done if index < self._at else ""
        self._again = self._next if index > self._at else ""
        self._at = index

    def _take_done(self, text: str) -> None:
        self._done = text
        if text and text == self._again:
            self._voice.tell(f"Redone: {text}.")
        self._again = ""

    def _take_next(self, text: str) -> None:
        self._next = text
        if text and text == self._back:
            self._voice.tell(f"Undone: {text}.")
        self._back = ""

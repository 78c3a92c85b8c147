"""What no longer fits where the maker laid it: where planning has laid it is said at its end."""

from PySide6.QtCore import QObject

from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.model.carry_over import had_to_leave
from layout_app.model.words.left_words import where_words
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from shared.parts import Copy


class WhereLeft(QObject):
    """Waits for the plan that follows, and says where each copy lies now, or that it lies nowhere.

    Made after the `Planning`, which takes the last plan of a run first.
    """

    def __init__(
        self, document: Document, planning: Planning, planner: PlannerProcess, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._document, self._planning = document, planning
        self._left: tuple[Copy, ...] = ()
        document.edited.connect(self._note)
        document.leaving.connect(self._forget)
        planner.done.connect(self._tell)

    def _forget(self) -> None:
        self._left = ()

    def _note(self, consequence: Consequence) -> None:
        """Keep what had to leave, as long as it waits for its plan."""
        before, now = self._document.before_edit.project, self._document.project
        waits = {one.key for one in now.layout.waiting if not one.sent}
        left = [key for key in self._left if key in waits]
        if consequence is Consequence.STOP:
            left = []
        elif consequence in {Consequence.PLAN_ANEW, Consequence.PLAN_TOUCHED}:
            # After a mistake, which changes what is ticked, a bar says what became of the rest.
            left += had_to_leave(before, now) if before.progress == now.progress else ()
        self._left = tuple(dict.fromkeys(left))

    def _tell(self) -> None:
        """Say it once the run has ended; a part in the hand keeps its plan waiting."""
        if self._planning.running:
            return
        left = self._left
        self._forget()
        if left and not self._document.gestures.in_hand:
            self._document.tell(where_words(self._document.job, self._document.layout, left))

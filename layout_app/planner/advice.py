"""Looks for what would save a sheet, as the window sees it: when it begins, ends, and is stale."""

from collections import Counter
from collections.abc import Callable
from enum import Enum, auto

from PySide6.QtCore import QObject, QTimer, Signal

from layout_app.document import edit_job, edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.model.locks import settled
from layout_app.model.project import Project
from layout_app.model.words.wording import uncut_words
from layout_app.planner.heard import Heard
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from layout_app.planner.run import PlannerRun, Work, same_question
from shared.changes import Change, ChangeKind, changed, changed_part, untrimmed
from shared.lengths import Length
from solver.outcome import Advice, AdviceEnded
from solver.wire import Budget

LIMITS = Budget(time_s=20.0, workers=1)
NO_PLAN = "there is no plan yet"
BROKEN_OFF = "changed since"


class At(Enum):
    """What it is at."""

    NOTHING = auto()
    WAITING = auto()
    """Planning is under way; it begins when that ends."""
    LOOKING = auto()


class Looking(QObject):
    """Asks the planner, one look at a time; nothing of it changes the document by itself."""

    changed = Signal()

    def __init__(
        self,
        document: Document,
        planning: Planning,
        planner: PlannerProcess,
        parent: QObject | None = None,
        *,
        limits: Budget = LIMITS,
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._planner = document, planning, planner
        self._limits = limits
        self._run: PlannerRun | None = None
        self.shorten_up_to: Length | None = None
        """How much shorter a part may get; common practice if ``None``."""
        self.at = At.NOTHING
        self.heard = Heard()
        self.sentence = ""
        """What there is to say besides what was heard."""
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._go_on)
        planning.changed.connect(self._soon.start)
        document.edited.connect(self._follow)
        document.leaving.connect(self._begin_anew)
        document.layout_changed.connect(self.changed)
        document.job_changed.connect(self.changed)
        planner.advised.connect(self._hear)
        planner.looked.connect(self._hear)
        planner.failed.connect(self._fail)
        planner.tried_all.connect(self._soon.start)

    @property
    def is_stale(self) -> bool:
        """Whether what was heard is about another job than the one shown, or other stock."""
        if self._run is None:
            return False
        asked, now = self._run.project, self._document.project
        return (
            not same_question(asked, now)
            or settled(asked) != settled(now)
            or _stock(asked) != _stock(now)
        )

    def look(self) -> None:
        """Look, once planning has ended."""
        self._forget()
        self.at = At.WAITING
        self._begin_if_due()
        self.changed.emit()

    def stop(self) -> None:
        """End it; what was heard stands."""
        if self.at is At.LOOKING:
            self._planner.cancel()
            self.sentence = "stopped"
        self.at = At.NOTHING
        self.changed.emit()

    def _begin_anew(self) -> None:
        """Leave the project, and the limit that was said for it."""
        self._forget()
        self.shorten_up_to = None

    def _forget(self) -> None:
        """End it and forget what was heard."""
        self.stop()
        self.heard, self.sentence, self._run = Heard(), "", None

    def apply(self, change: Change) -> bool:
        """Make the change as one step of the maker's; planning follows."""
        fits = self._run is not None and not self.is_stale
        return fits and heed(self._document, change)

    def _go_on(self) -> None:
        """Begin when planning has ended, end when the planner has turned to something else."""
        if self.at is At.LOOKING and (self._run is None or self._run.over):
            self.at, self.sentence = At.NOTHING, BROKEN_OFF
            self.changed.emit()
        self._begin_if_due()

    def _begin_if_due(self) -> None:
        if self.at is not At.WAITING or self._planning.running:
            return
        if self._planner.work is Work.ASIDE:
            return
        project, plan = self._document.project, self._document.plan
        uncut = uncut_words([sheet for sheet in self._document.problems if sheet])
        if plan is None or not plan.placements:
            self.at, self.sentence = At.NOTHING, uncut or NO_PLAN
        elif uncut:  # what the plan takes without that sheet is no measure of what is saved
            self.at, self.sentence = At.NOTHING, uncut
        else:
            self.at = At.LOOKING
            self._run = self._planner.advise(project, plan, self._limits, self.shorten_up_to)
        self.changed.emit()

    def _follow(self, consequence: Consequence) -> None:
        """End with the job that was looked at."""
        if self.at is At.LOOKING and consequence is not Consequence.NOTHING:
            if self._run is not None and not self._run.over:
                self._planner.cancel()
            self.at, self.sentence = At.NOTHING, BROKEN_OFF
        self.changed.emit()

    def _hear(self, event: Advice) -> None:
        self.heard(event)
        if isinstance(event, AdviceEnded):
            self.at = At.NOTHING
        self.changed.emit()

    def _fail(self, sentence: str) -> None:
        if self.at is At.LOOKING:
            self.at, self.sentence = At.NOTHING, sentence
            self.changed.emit()


def _stock(project: Project) -> Counter[str]:
    """Return how many sheets of each row are in use."""
    return Counter(sheet.stock for sheet in project.layout.sheets if sheet.placements)


def heed(document: Document, change: Change) -> bool:
    """Make a change to the document, as one step; say whether anything changed."""
    return _HEEDING[change.kind](document, change)


def _change_part(document: Document, change: Change) -> bool:
    part = changed_part(document.job.part(change.part), change)
    if part is None:
        return edit_parts.remove_parts(document, [change.part])
    return edit_parts.edit_part(document, part)


def _change_kerf(document: Document, change: Change) -> bool:
    return edit_job.edit_shop(document, changed(document.job, change).shop)


def _leave_trims(document: Document, change: Change) -> bool:
    return edit_job.edit_stock(document, untrimmed(document.job.stock_row(change.stock), change))


_HEEDING: dict[ChangeKind, Callable[[Document, Change], bool]] = {
    ChangeKind.SHORTEN: _change_part,
    ChangeKind.TURN: _change_part,
    ChangeKind.DROP: _change_part,
    ChangeKind.KERF: _change_kerf,
    ChangeKind.TRIM: _leave_trims,
}

"""When planning starts, goes on and ends, and what is known of it meanwhile."""

import time
from dataclasses import dataclass, field

from PySide6.QtCore import QObject, QTimer, Signal

from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.model.broken_sets import sheets_of_broken
from layout_app.model.cut_order import is_in_order
from layout_app.model.merge_plan import adopted
from layout_app.model.sawing import Sawn, saw
from layout_app.model.sparing import Sparing, is_settled, untouched
from layout_app.model.words.order_words import already_words
from layout_app.planner.choices import NOTHING, Offered
from layout_app.planner.process import PlannerProcess, spare_workers
from layout_app.planner.run import Work
from shared.check import plannable
from shared.layout import Layout
from shared.plan import Cut
from solver.outcome import Choice, Done, EndReason, RunProgress
from solver.wire import Budget

PATIENCE_S = 30.0
"""A run ends after so long without a better plan or bound."""
ORDER_AFTER_MS = 80
"""So long after a change the order of the cuts is asked for: what changed is shown by then."""
ORDER_S = 10.0
"""Longest time to look for better orders of cuts."""
ENOUGH_MS = 3000
"""So long a change is planned on the sheets it touched before another is planned again too."""
ADOPT_EVERY_MS = 250
"""Least time between two plans on screen after the first of a run."""

_ENDINGS = {
    EndReason.PROVEN: "",
    EndReason.TIME: "",
    EndReason.WORK: "",
    EndReason.PATIENCE: "",
    EndReason.STOPPED: "stopped",
    EndReason.EMPTY: "nothing to plan",
}


@dataclass(slots=True)
class Standing:
    """What the status line shows of a run.

    ``broken`` is whether it has ended without an end of its own: then it can be run again.
    """

    running: bool = False
    broken: bool = False
    started: float = 0.0
    progress: dict[str, RunProgress] = field(default_factory=dict)
    sentence: str = ""

    @property
    def elapsed_s(self) -> float:
        """Seconds since the run was asked for."""
        return time.monotonic() - self.started if self.running else 0.0


class Planning(QObject):
    """Lets the planner follow the document, by the rules of who wins."""

    changed = Signal()
    stood = Signal()
    """A run that the maker asked for has ended, and all lies as it lay."""

    def __init__(
        self,
        document: Document,
        planner: PlannerProcess,
        parent: QObject | None = None,
        *,
        limits: Budget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._planner = planner
        self._limits = limits or Budget(
            time_s=None, patience_s=PATIENCE_S, workers=spare_workers(), trade=True
        )
        self._latest: Sawn | None = None
        self._offered = NOTHING
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(ADOPT_EVERY_MS)
        self._pause.timeout.connect(self._adopt_latest)
        self._ordering = QTimer(self)
        self._ordering.setSingleShot(True)
        self._ordering.setInterval(ORDER_AFTER_MS)
        self._ordering.timeout.connect(self._order)
        self._were: tuple[Cut, ...] = ()
        """The cuts as they were in order by the mode before the one that was chosen last."""
        self._sparing: Sparing | None = None
        self._lay: Layout | None = None
        self.partial = False
        """Whether sheets were left as they lay that could be planned as well."""
        self._enough = QTimer(self)
        self._enough.setSingleShot(True)
        self._enough.setInterval(ENOUGH_MS)
        self._enough.timeout.connect(self._widen)
        self.standing = Standing()
        document.edited.connect(self._follow)
        document.leaving.connect(self._leave)
        document.gestures.changed.connect(self._follow_gesture)
        document.gestures.let_go.connect(self._follow_gesture)
        planner.better.connect(self._take)
        planner.progressed.connect(self._note)
        planner.offered.connect(self._take_choices)
        planner.done.connect(self._end)
        planner.sorted.connect(self._take_order)
        planner.sorted_all.connect(self._end_order)
        planner.looked.connect(self.order_if_needed)
        planner.failed.connect(self._fail)

    @property
    def running(self) -> bool:
        """Whether a run is under way."""
        return self.standing.running

    @property
    def at_work(self) -> bool:
        """Whether the planner does anything at all."""
        return self._planner.running

    @property
    def choices(self) -> tuple[Choice, ...]:
        """Plans to choose from, if there are several of the project as it is now."""
        offered = self._offered
        several = len(offered.choices) > 1 and offered.holds_for(self._document.project)
        # While a sheet can't be cut, the figures of the plan shown are of the others alone.
        return offered.choices if several and not self._document.problems else ()

    @property
    def limits(self) -> Budget:
        """How long a run goes on."""
        return self._limits

    def start(self, sparing: Sparing | None = None) -> None:
        """Plan what is not yours, nor spared; a run under way is void."""
        self.cancel()
        self.partial = sparing is not None
        project = self._document.project
        done = sparing is not None and is_settled(project, sparing)
        if done or not plannable(self._document.job).parts:
            self.changed.emit()
            return
        self._sparing = sparing
        self.standing = Standing(running=True, started=time.monotonic())
        if sparing is None:
            self._planner.plan(project, self._limits)
        else:
            self._planner.plan(project, self._limits, sparing.sheets)
            self._enough.start()
        self.changed.emit()

    def _widen(self) -> bool:
        """Plan more sheets again if what was planned takes more stock than before the change."""
        sparing, plan, job = self._sparing, self._document.plan, self._document.job
        if sparing is None or self._document.gestures.in_hand or not sparing.takes_more(job, plan):
            return False
        wider = None if sparing.widened else sparing.wider(self._document.project)
        if wider is None and not sparing.leaves_out(job, plan):
            return False
        self.start(wider)
        return True

    def say_if_it_stands(self, lay: Layout) -> None:
        """Tell at the end of the run that the maker asked for if all lies as it ``lay``."""
        self._lay = lay if self.running else None

    def run_again(self) -> None:
        """Plan again after a run that broke off; sheets that are yours stay as they lie."""
        if self.standing.broken:
            self.start()

    def stop(self) -> None:
        """End the run and keep what it has found."""
        self._planner.stop()

    def cancel(self) -> None:
        """End the run; nothing of it is adopted any more."""
        self._planner.cancel()
        self._latest = self._sparing = self._lay = None
        for timer in (self._pause, self._enough, self._ordering):
            timer.stop()
        self.standing = Standing()
        self.changed.emit()

    def _leave(self) -> None:
        """End with the project that is left; what was offered goes with it."""
        self._offered, self._were = NOTHING, ()
        self.partial = False
        self.cancel()

    def plan_if_needed(self) -> None:
        """Plan a project that was just opened, if parts of it lie nowhere."""
        if any(not one.sent for one in self._document.layout.waiting):
            self.start()
        else:
            self.cancel()
            self.order_if_needed()

    def order_if_needed(self) -> None:
        """Put the cuts of what lies there in order soon, if nothing else goes on by then."""
        self._ordering.start()

    def _order(self) -> None:
        """Put them in order unless they are: one request, whoever called for it."""
        if not self._planner.running and not is_in_order(self._document.project):
            self._planner.order(self._document.project, ORDER_S)

    def _follow_gesture(self) -> None:
        if not self._document.gestures.under_way:
            self.order_if_needed()

    def _take_order(self, sawn: Sawn) -> None:
        """Show a better order of what still lies there."""
        if not self._document.adopt_order(sawn):
            self._planner.cancel()
            self.order_if_needed()

    def _end_order(self) -> None:
        """Say so if another mode has found the cuts in its order: nothing else shows it."""
        were, self._were = self._were, ()
        plan, found = self._document.plan, is_in_order(self._document.project)
        if were and found and plan is not None and plan.cuts == were:
            self._document.tell(already_words(self._document.job.shop.sawing))

    def _note_mode(self) -> None:
        """Keep the cuts as they are in order while another mode looks for its own."""
        before, now = self._document.before_edit, self._document.project
        chosen = before.project.job.shop.sawing is not now.job.shop.sawing
        looks = chosen and not is_in_order(now)
        self._were = before.plan.cuts if looks and before.plan is not None else ()

    def _follow(self, consequence: Consequence) -> None:
        """Do what a change of the maker's means."""
        self._note_mode()
        if self._planner.work is Work.ORDER:
            self._planner.cancel()
        self._plan_after(consequence)
        self.order_if_needed()

    def _plan_after(self, consequence: Consequence) -> None:
        if consequence is Consequence.PLAN_ANEW:
            self.start()
        elif consequence is Consequence.PLAN_TOUCHED:
            self._plan_touched()
        elif consequence is Consequence.STOP:
            self.cancel()
        elif self.running:
            if consequence is Consequence.PLAN_ON:
                self.start(self._sparing)
            else:
                self._planner.rebase(self._document.project)

    def _plan_touched(self) -> None:
        """Plan the sheets that a change touched, with those a run is planning already.

        A change of a match group touches those on which its figure breaks now.
        """
        whole = self.running and self._sparing is None
        before, project = self._document.before_edit, self._document.project
        broken = sheets_of_broken(project.job, self._document.plan)
        self.start(None if whole else untouched(before, project, self._sparing, broken))

    def _take(self, sawn: Sawn) -> None:
        """Adopt a plan now, or soon when another was adopted just before."""
        self._latest = sawn
        if not self._pause.isActive():
            self._adopt_latest()
            self._pause.start()

    def _adopt_latest(self) -> None:
        sawn, self._latest = self._latest, None
        if sawn is None:
            return
        if self._is_current(sawn):
            self._document.adopt(sawn)
        elif sawn.plan is not None and self._document.shows(sawn.project):
            # What changed since the planner was asked is no matter to it.
            self._document.adopt(saw(adopted(self._document.project, sawn.plan)))

    def _is_current(self, sawn: Sawn) -> bool:
        """Say whether a plan was joined with the words and holds that the document has now."""
        now, joined = self._document.project, sawn.project
        return joined.job == now.job and joined.layout.holds == now.layout.holds

    def _take_choices(self, offered: Offered) -> None:
        self._offered = offered
        self.changed.emit()

    def _note(self, progress: RunProgress) -> None:
        self.standing.progress[progress.material] = progress
        self.changed.emit()

    def _end(self, done: Done) -> None:
        self._adopt_latest()
        if done.reason is not EndReason.STOPPED and self._widen():
            return
        lay, self._lay = self._lay, None
        self._sparing = None
        self._enough.stop()
        self.standing = Standing(sentence=_ENDINGS[done.reason])
        self.changed.emit()
        stands = lay is not None and _lies(lay) == _lies(self._document.layout)
        if stands and not _ENDINGS[done.reason]:
            self.stood.emit()
        self.order_if_needed()

    def _fail(self, sentence: str) -> None:
        self._adopt_latest()
        self._sparing = None
        self._enough.stop()
        self.standing = Standing(sentence=sentence, broken=True)
        self.changed.emit()


def _lies(layout: Layout) -> dict[str, object]:
    return {one.id: (one.stock, frozenset(one.placements)) for one in layout.sheets}

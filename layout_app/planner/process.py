"""The planner beside the window: a warm process that speaks lines of JSON.

It does one run at a time; what comes of another than the newest is dropped.
"""

import os
import sys
from collections.abc import Collection

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.model.cut_order import to_order
from layout_app.model.locks import settled
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.planner.choices import Offered
from layout_app.planner.line import PlannerLine
from layout_app.planner.run import PlannerRun, Work
from shared.lengths import Length
from shared.plan import Plan
from solver.wire import (
    AdviseRequest,
    Budget,
    ChoicesAnswer,
    DoneAnswer,
    FailedAnswer,
    ForcingAnswer,
    LookedAnswer,
    OrderRequest,
    PlanRequest,
    ProgressAnswer,
    Request,
    StopRequest,
    SuggestionAnswer,
)

DIED = "The planner broke off; nothing is lost"
LOWER_PRIORITY = "10"
"""Steps of niceness below the window."""
MOST_RESTARTS = 3
"""Times in a row a planner may die before it is ready; then it waits to be asked for."""


def spare_workers() -> int:
    """Return one core less than the machine has, at least 1."""
    return max(1, (os.cpu_count() or 1) - 1)


class PlannerProcess(QObject):
    """Starts, asks, stops and restarts the planner; all signals arrive in the window's thread."""

    ready = Signal()
    better = Signal(object)
    """A `Sawn` of the run that is under way."""
    progressed = Signal(object)
    """A `solver.outcome.RunProgress`."""
    offered = Signal(object)
    """A `layout_app.planner.choices.Offered`."""
    done = Signal(object)
    """A `solver.outcome.Done`; the run is over."""
    sorted = Signal(object)
    """A `Sawn` of the run that puts cuts in order."""
    sorted_all = Signal()
    """That run is over."""
    tried = Signal(object)
    """A `Sawn` of a plan that is made aside."""
    tried_all = Signal()
    """That run is over."""
    advised = Signal(object)
    """A `solver.outcome.Forcing` or `Suggestion` of the look that is under way."""
    looked = Signal(object)
    """A `solver.outcome.AdviceEnded`; the look is over."""
    failed = Signal(str)
    """The run is over without an end of its own; one sentence says why."""
    _listens = Signal()
    _answered = Signal(object, object)
    _ended = Signal(object)

    def __init__(self, command: tuple[str, ...] = (), parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._command = command or (sys.executable, "-m", "solver", "--nice", LOWER_PRIORITY)
        self._number = 0
        self._run: PlannerRun | None = None
        self._line: PlannerLine | None = None
        self._deaths = 0
        self._listens.connect(self._take_ready, Qt.ConnectionType.QueuedConnection)
        self._answered.connect(self._take, Qt.ConnectionType.QueuedConnection)
        self._ended.connect(self._take_end, Qt.ConnectionType.QueuedConnection)

    @property
    def work(self) -> Work | None:
        """What the run is for that is under way, if one is."""
        return None if self._run is None else self._run.work

    @property
    def running(self) -> bool:
        """Whether a run is under way."""
        return self._run is not None

    @property
    def pid(self) -> int | None:
        """The process's number, once it has one."""
        return None if self._line is None else self._line.pid

    def start(self) -> None:
        """Start the process, so that it is warm when it is needed."""
        if self._line is None:
            self._line = PlannerLine(
                self._command, self._listens.emit, self._answered.emit, self._ended.emit
            )

    def plan(self, project: Project, limits: Budget, spared: Collection[str] = ()) -> PlannerRun:
        """Plan what is not yours, held, or on a spared sheet; a run under way ends."""
        run = self._begin(Work.PLAN, project)
        return self._ask(run, _to_plan(run, limits, spared))

    def plan_aside(self, project: Project, limits: Budget) -> PlannerRun:
        """Plan a project that is not shown; a run under way ends."""
        run = self._begin(Work.ASIDE, project)
        return self._ask(run, _to_plan(run, limits))

    def advise(
        self, project: Project, plan: Plan, limits: Budget, shorten_up_to: Length | None = None
    ) -> PlannerRun:
        """Look for what would save a sheet of a plan; a run under way ends."""
        run = self._begin(Work.ADVICE, project)
        request = AdviseRequest(
            run=run.number,
            job=project.job,
            plan=plan,
            settled=settled(project),
            shorten_up_to=shorten_up_to,
            limits=limits,
        )
        return self._ask(run, request)

    def order(self, project: Project, seconds: float) -> PlannerRun:
        """Put the cuts of what lies there in order; a run under way ends."""
        run = self._begin(Work.ORDER, project)
        request = OrderRequest(run=run.number, asked=to_order(project), seconds=seconds)
        return self._ask(run, request)

    def rebase(self, project: Project) -> None:
        """Join what comes with this project, in which only words differ from the one asked for."""
        if self._run is not None:
            self._run.project = project

    def stop(self) -> None:
        """Let the run end with what it has; it says so when it is done."""
        if self._run is not None:
            self._ask(self._run, StopRequest(run=self._run.number))

    def cancel(self) -> None:
        """End the run; nothing more is heard of it."""
        self.stop()
        self._end_run()

    def close(self) -> None:
        """End the process and wait for the threads."""
        self._end_run()
        line, self._line = self._line, None
        if line is not None:
            line.close()

    def _begin(self, work: Work, project: Project) -> PlannerRun:
        self._end_run()
        self.start()
        self._number += 1
        self._run = PlannerRun(self._number, work, project)
        return self._run

    def _ask(self, run: PlannerRun, request: Request) -> PlannerRun:
        if self._line is not None:
            self._line.ask(run, request)
        return run

    def _end_run(self) -> None:
        if self._run is not None:
            self._run.over = True
        self._run = None

    @Slot()
    def _take_ready(self) -> None:
        self._deaths = 0
        self.ready.emit()

    @Slot(object, object)
    def _take(self, run: PlannerRun, answer: object) -> None:
        """Pass an answer on if its run is still wanted; of a plan aside, how far it is does not."""
        if run.over:
            return
        if isinstance(answer, DoneAnswer | FailedAnswer | LookedAnswer):
            self._end_run()
        aside = run.work is Work.ASIDE
        if isinstance(answer, Sawn):
            signals = {Work.ORDER: self.sorted, Work.ASIDE: self.tried}
            signals.get(run.work, self.better).emit(answer)
        elif aside and run.over:
            self.tried_all.emit()
        elif isinstance(answer, FailedAnswer):
            self.failed.emit(answer.sentence)
        elif isinstance(answer, DoneAnswer) and run.work is Work.PLAN:
            self.done.emit(answer.event)
        elif isinstance(answer, DoneAnswer) and run.work is Work.ORDER:
            self.sorted_all.emit()
        elif isinstance(answer, LookedAnswer):
            self.looked.emit(answer.event)
        elif isinstance(answer, ForcingAnswer | SuggestionAnswer):
            self.advised.emit(answer.event)
        elif isinstance(answer, ProgressAnswer) and not aside:
            self.progressed.emit(answer.event)
        elif isinstance(answer, ChoicesAnswer) and not aside:
            self.offered.emit(Offered(run.project, answer.event.choices))

    @Slot(object)
    def _take_end(self, line: object) -> None:
        """Start again when the process is gone that should be there."""
        if line is not self._line:
            return
        was_at = self.work
        self.close()
        self._deaths += 1
        if self._deaths <= MOST_RESTARTS:
            self.start()
        if was_at is Work.ASIDE:
            self.tried_all.emit()
        elif was_at is not None:
            self.failed.emit(DIED)


def _to_plan(run: PlannerRun, limits: Budget, spared: Collection[str] = ()) -> PlanRequest:
    around = settled(run.project, spared)
    return PlanRequest(
        run=run.number,
        job=run.project.job,
        kept=around.kept,
        held=around.held,
        holds=around.holds,
        waiting=around.waiting,
        made=around.made,
        limits=limits,
    )

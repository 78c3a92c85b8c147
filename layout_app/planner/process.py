"""The planner beside the window: a warm process that speaks lines of JSON.

Answers carry their run's number; those of another run are dropped.
"""

import os
import sys
from collections.abc import Collection
from dataclasses import dataclass, replace
from enum import Enum, auto

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.model.cut_order import to_order
from layout_app.model.locks import settled
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.planner.choices import Offered
from layout_app.planner.line import Line
from shared.lengths import Length
from shared.plan import Plan
from solver.budget.stop import Limits
from solver.wire import (
    AdviceAnswer,
    AdviseRequest,
    ChoicesAnswer,
    DoneAnswer,
    FailedAnswer,
    ForcingAnswer,
    OrderRequest,
    PlanRequest,
    ProgressAnswer,
    ReadyAnswer,
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


class Work(Enum):
    """What a run is for."""

    PLAN = auto()
    ADVICE = auto()
    """What would save a sheet."""
    ORDER = auto()
    """The cuts of what lies there, with fewer set-up changes."""
    ASIDE = auto()
    """A plan of something else than what is shown, to be offered."""


@dataclass(frozen=True, slots=True)
class _Run:
    """A run that was asked for, and the project it is to be joined with."""

    number: int
    project: Project
    work: "Work"


class PlannerProcess(QObject):
    """Starts, asks, stops and restarts the planner; all signals arrive in the window's thread."""

    ready = Signal()
    better = Signal(object)
    """A `Sawn` of the run that is under way."""
    progressed = Signal(object)
    """A `solver.outcome.Progress`."""
    offered = Signal(object)
    """A `layout_app.planner.choices.Offered`."""
    done = Signal(object)
    """A `solver.outcome.Done`; the run is over."""
    sorted = Signal(object)
    """A `Sawn` of the run that puts cuts in order."""
    ordered = Signal(object)
    """A `solver.outcome.Done`; that run is over."""
    tried = Signal(object)
    """A `Sawn` of a plan that is made aside."""
    tried_all = Signal()
    """That run is over."""
    forced = Signal(object)
    """A `solver.outcome.Forcing` of the look that is under way."""
    suggested = Signal(object)
    """A `solver.outcome.Suggestion` of it."""
    looked = Signal(object)
    """A `solver.outcome.Looked`; the look is over."""
    failed = Signal(str)
    """The run is over without an end of its own; one sentence says why."""
    _answered = Signal(int, object)
    _ended = Signal(object)

    def __init__(self, command: tuple[str, ...] = (), parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._command = command or (sys.executable, "-m", "solver", "--nice", LOWER_PRIORITY)
        self._number = 0
        self._run: _Run | None = None
        self._line: Line | None = None
        self._deaths = 0
        self._answered.connect(self._take, Qt.ConnectionType.QueuedConnection)
        self._ended.connect(self._take_end, Qt.ConnectionType.QueuedConnection)

    @property
    def running(self) -> bool:
        """Whether a run is under way."""
        return self._run is not None

    @property
    def advising(self) -> bool:
        """Whether it is looked for what would save a sheet."""
        return self._run is not None and self._run.work is Work.ADVICE

    @property
    def ordering(self) -> bool:
        """Whether cuts are put in order."""
        return self._run is not None and self._run.work is Work.ORDER

    @property
    def trying(self) -> bool:
        """Whether a plan is made aside."""
        return self._run is not None and self._run.work is Work.ASIDE

    @property
    def pid(self) -> int | None:
        """The process's number, once it has one."""
        return None if self._line is None else self._line.pid

    def start(self) -> None:
        """Start the process, so that it is warm when it is needed."""
        if self._line is None:
            self._line = Line(self._command, self)

    def plan(self, project: Project, limits: Limits, spared: Collection[str] = ()) -> None:
        """Plan what is not yours, held, or on a spared sheet; a run under way ends."""
        self._plan(project, limits, Work.PLAN, spared)

    def plan_aside(self, project: Project, limits: Limits) -> None:
        """Plan a project that is not shown; a run under way ends."""
        self._plan(project, limits, Work.ASIDE)

    def _plan(
        self, project: Project, limits: Limits, work: Work, spared: Collection[str] = ()
    ) -> None:
        self.start()
        self._number += 1
        self._run = _Run(self._number, project, work)
        around = settled(project, spared)
        request = PlanRequest(
            run=self._number,
            job=project.job,
            kept=around.kept,
            held=around.held,
            holds=around.holds,
            waiting=around.waiting,
            made=around.made,
            limits=limits,
        )
        self._send(request)

    def advise(
        self, project: Project, plan: Plan, limits: Limits, shorten_up_to: Length | None = None
    ) -> None:
        """Look for what would save a sheet of a plan; a run under way ends."""
        self.start()
        self._number += 1
        self._run = _Run(self._number, project, Work.ADVICE)
        request = AdviseRequest(
            run=self._number,
            job=project.job,
            plan=plan,
            settled=settled(project),
            shorten_up_to=shorten_up_to,
            limits=limits,
        )
        self._send(request)

    def order(self, project: Project, seconds: float) -> None:
        """Put the cuts of what lies there in order; a run under way ends."""
        self.start()
        self._number += 1
        self._run = _Run(self._number, project, Work.ORDER)
        request = OrderRequest(run=self._number, asked=to_order(project), seconds=seconds)
        self._send(request)

    def rebase(self, project: Project) -> None:
        """Join what comes with this project, in which only words differ from the one asked for."""
        if self._run is not None:
            self._run = replace(self._run, project=project)

    def stop(self) -> None:
        """Let the run end with what it has; it says so when it is done."""
        if self._run is not None:
            self._send(StopRequest(run=self._run.number))

    def cancel(self) -> None:
        """End the run; nothing more is heard of it."""
        self.stop()
        self._run = None

    def close(self) -> None:
        """End the process and wait for the threads."""
        self._run = None
        line, self._line = self._line, None
        if line is not None:
            line.close()

    def _send(self, request: Request) -> None:
        if self._line is not None:
            self._line.send(request)

    @Slot(int, object)
    def _take(self, run: int, answer: object) -> None:
        """Pass an answer on if its run is still wanted."""
        if isinstance(answer, ReadyAnswer):
            self._deaths = 0
            self.ready.emit()
        elif self._run is None or run != self._run.number:
            return
        elif self._run.work is Work.ASIDE:
            self._take_aside(answer)
        elif isinstance(answer, ProgressAnswer):
            self.progressed.emit(answer.event)
        elif isinstance(answer, ChoicesAnswer):
            self.offered.emit(Offered(self._run.project, answer.event.choices))
        elif isinstance(answer, DoneAnswer):
            ended = self.ordered if self._run.work is Work.ORDER else self.done
            self._run = None
            ended.emit(answer.event)
        elif isinstance(answer, FailedAnswer):
            self._run = None
            self.failed.emit(answer.sentence)
        elif isinstance(answer, AdviceAnswer):
            self._take_advice(answer)
        elif self._run.work is Work.ORDER:
            self.sorted.emit(answer)
        else:
            self.better.emit(answer)

    def _take_aside(self, answer: object) -> None:
        """Pass on what is planned aside; how far it is, is no matter."""
        if isinstance(answer, DoneAnswer | FailedAnswer):
            self._run = None
            self.tried_all.emit()
        elif isinstance(answer, Sawn):
            self.tried.emit(answer)

    def _take_advice(self, answer: AdviceAnswer) -> None:
        """Pass on what is said about saving a sheet."""
        if isinstance(answer, ForcingAnswer):
            self.forced.emit(answer.event)
        elif isinstance(answer, SuggestionAnswer):
            self.suggested.emit(answer.event)
        else:
            self._run = None
            self.looked.emit(answer.event)

    @Slot(object)
    def _take_end(self, line: object) -> None:
        """Start again when the process is gone that should be there."""
        if line is not self._line:
            return
        was_running, was_trying = self.running, self.trying
        self.close()
        self._deaths += 1
        if self._deaths <= MOST_RESTARTS:
            self.start()
        if was_trying:
            self.tried_all.emit()
        elif was_running:
            self.failed.emit(DIED)

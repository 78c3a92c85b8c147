"""The planner beside the window: a warm process that speaks lines of JSON.

Three threads keep the window free: one starts the process and writes to it, one reads its
answers, and one joins a plan with the maker's sheets and has it sawn. Only the last plan
that waits is sawn. Answers carry their run's number; those of another run are dropped.
"""

import contextlib
import importlib.util
import os
import queue
import subprocess
import sys
import threading
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.adoption import adopted
from layout_app.choosing import Offered
from layout_app.held import asked
from layout_app.project import Project
from layout_app.sawing import saw
from shared.lengths import Length
from shared.plan import Plan
from solver.advice.ground import Settled
from solver.stop import Limits
from solver.wire import (
    AdviceAnswer,
    AdviseRequest,
    BetterAnswer,
    ChoicesAnswer,
    DoneAnswer,
    FailedAnswer,
    ForcingAnswer,
    PlanRequest,
    ProgressAnswer,
    ReadyAnswer,
    Request,
    StopRequest,
    SuggestionAnswer,
    WireError,
    decode_answer,
    encode,
)

DIED = "The planner broke off; nothing is lost"
LOWER_PRIORITY = "10"
"""Steps of niceness below the window."""
MOST_RESTARTS = 3
"""Times in a row a planner may die before it is ready; then it waits to be asked for."""


def spare_workers() -> int:
    """Return one core less than the machine has, at least 1."""
    return max(1, (os.cpu_count() or 1) - 1)


def settled(project: Project) -> Settled:
    """Return what planning leaves alone of a project."""
    around = asked(project)
    return Settled(
        kept=around.kept,
        waiting=project.layout.waiting,
        held=around.held,
        holds=around.holds,
    )


@dataclass(frozen=True, slots=True)
class _Run:
    """A run that was asked for, and the project it is to be joined with."""

    number: int
    project: Project
    advice: bool = False
    """Whether it looks for what would save a sheet, instead of planning."""


class PlannerProcess(QObject):
    """Starts, asks, stops and restarts the planner; all signals arrive in the window's thread."""

    ready = Signal()
    better = Signal(object)
    """A `Sawn` of the run that is under way."""
    progressed = Signal(object)
    """A `solver.outcome.Progress`."""
    offered = Signal(object)
    """A `layout_app.choosing.Offered`."""
    done = Signal(object)
    """A `solver.outcome.Done`; the run is over."""
    forced = Signal(object)
    """A `solver.advice.events.Forcing` of the look that is under way."""
    suggested = Signal(object)
    """A `solver.advice.events.Suggestion` of it."""
    looked = Signal(object)
    """A `solver.advice.events.Looked`; the look is over."""
    failed = Signal(str)
    """The run is over without an end of its own; one sentence says why."""
    _answered = Signal(int, object)
    _ended = Signal(object)

    def __init__(self, command: tuple[str, ...] = (), parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._command = command or (sys.executable, "-m", "solver", "--nice", LOWER_PRIORITY)
        self._number = 0
        self._run: _Run | None = None
        self._line: _Line | None = None
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
        return self._run is not None and self._run.advice

    @property
    def pid(self) -> int | None:
        """The process's number, once it has one."""
        return None if self._line is None else self._line.pid

    def start(self) -> None:
        """Start the process, so that it is warm when it is needed."""
        if self._line is None:
            self._line = _Line(self._command, self)

    def plan(self, project: Project, limits: Limits) -> None:
        """Plan what is neither yours nor held; a run under way ends."""
        self.start()
        self._number += 1
        self._run = _Run(self._number, project)
        around = asked(project)
        request = PlanRequest(
            run=self._number,
            job=project.job,
            kept=around.kept,
            held=around.held,
            holds=around.holds,
            waiting=project.layout.waiting,
            limits=limits,
        )
        self._send(request)

    def advise(
        self, project: Project, plan: Plan, limits: Limits, shorten_up_to: Length | None = None
    ) -> None:
        """Look for what would save a sheet of a plan; a run under way ends."""
        self.start()
        self._number += 1
        self._run = _Run(self._number, project, advice=True)
        request = AdviseRequest(
            run=self._number,
            job=project.job,
            plan=plan,
            settled=settled(project),
            shorten_up_to=shorten_up_to,
            limits=limits,
        )
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
        elif isinstance(answer, ProgressAnswer):
            self.progressed.emit(answer.event)
        elif isinstance(answer, ChoicesAnswer):
            self.offered.emit(Offered(self._run.project, answer.event.choices))
        elif isinstance(answer, DoneAnswer):
            self._run = None
            self.done.emit(answer.event)
        elif isinstance(answer, FailedAnswer):
            self._run = None
            self.failed.emit(answer.sentence)
        elif isinstance(answer, AdviceAnswer):
            self._take_advice(answer)
        else:
            self.better.emit(answer)

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
        was_running = self.running
        self.close()
        self._deaths += 1
        if self._deaths <= MOST_RESTARTS:
            self.start()
        if was_running:
            self.failed.emit(DIED)


class _Line:
    """One process and the threads that talk with it."""

    def __init__(self, command: tuple[str, ...], owner: PlannerProcess) -> None:
        self._command = command
        self._owner = owner
        self._process: subprocess.Popen[bytes] | None = None
        self._closing = threading.Event()
        self._requests: queue.SimpleQueue[Request | None] = queue.SimpleQueue()
        self._judge = _Judge(owner)
        self._threads = [
            threading.Thread(target=self._talk, name="planner: talk"),
            threading.Thread(target=self._judge.work, name="planner: judge"),
        ]
        for thread in self._threads:
            thread.start()

    @property
    def pid(self) -> int | None:
        return None if self._process is None else self._process.pid

    def send(self, request: Request) -> None:
        self._requests.put(request)

    def close(self) -> None:
        """Close the process's input, which ends it; kill it if it dawdles."""
        self._closing.set()
        self._requests.put(None)
        self._judge.close()
        for thread in self._threads:
            thread.join()

    def _talk(self) -> None:
        """Start the process and write every request to it."""
        try:
            process = _started(self._command)
        except OSError:
            self._owner._ended.emit(self)
            return
        self._process = process
        reader = threading.Thread(target=self._listen, args=(process,), name="planner: listen")
        reader.start()
        while (request := self._requests.get()) is not None:
            with contextlib.suppress(OSError):
                _write(process, request)
        _finish(process)
        reader.join()

    def _listen(self, process: subprocess.Popen[bytes]) -> None:
        """Read answers until there are no more; plans that came before the end are sawn first."""
        assert process.stdout is not None
        with process.stdout as answers:
            for line in answers:
                if line.endswith(b"\n"):  # a process that is killed may leave half a line
                    self._hear(line)
        self._judge.drain()
        if not self._closing.is_set():
            self._owner._ended.emit(self)

    def _hear(self, line: bytes) -> None:
        try:
            answer = decode_answer(line)
        except WireError as error:
            number = self._owner._number
            sentence = f"The planner said something that is not understood: {error}."
            self._owner._answered.emit(number, FailedAnswer(run=number, sentence=sentence))
            return
        if isinstance(answer, BetterAnswer):
            self._judge.take(answer.run, answer.event.plan)
        elif isinstance(answer, ReadyAnswer):
            self._owner._answered.emit(0, answer)
        else:
            self._judge.drain()
            self._owner._answered.emit(answer.run, answer)


class _Judge:
    """Joins plans with the maker's sheets and has them sawn, the latest first."""

    def __init__(self, owner: PlannerProcess) -> None:
        self._owner = owner
        self._news = threading.Condition()
        self._latest: tuple[int, Plan] | None = None
        self._busy = False
        self._closed = False

    def take(self, run: int, plan: Plan) -> None:
        """Put a plan in place of the one that waits."""
        with self._news:
            self._latest = (run, plan)
            self._news.notify_all()

    def drain(self) -> None:
        """Wait until no plan waits, so that a run's end comes after its plans."""
        with self._news:
            self._news.wait_for(lambda: self._closed or not (self._busy or self._latest))

    def close(self) -> None:
        with self._news:
            self._closed = True
            self._news.notify_all()

    def work(self) -> None:
        """Judge until closed."""
        while (item := self._next()) is not None:
            self._judge(*item)

    def _next(self) -> tuple[int, Plan] | None:
        with self._news:
            self._busy = False
            self._news.notify_all()
            self._news.wait_for(lambda: self._closed or self._latest is not None)
            item, self._latest = self._latest, None
            self._busy = True
            return None if self._closed else item

    def _judge(self, number: int, plan: Plan) -> None:
        run = self._owner._run
        if run is None or run.number != number:
            return
        sawn = saw(adopted(run.project, plan))
        if refused := sawn.problems.get(""):
            sentence = f"A plan was refused by the simulated saw: {refused}"
            self._owner._answered.emit(number, FailedAnswer(run=number, sentence=sentence))
        else:
            self._owner._answered.emit(number, sawn)


def _started(command: tuple[str, ...]) -> subprocess.Popen[bytes]:
    """Start the planner, able to import what the window imports."""
    spec = importlib.util.find_spec("solver")
    home = str(Path(str(spec.origin)).parents[1]) if spec is not None else ""
    paths = [home, os.environ.get("PYTHONPATH", "")]
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(path for path in paths if path)}
    flags = getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0)
    flags |= getattr(subprocess, "CREATE_NO_WINDOW", 0)
    return subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=environment,
        creationflags=flags,
    )


def _write(process: subprocess.Popen[bytes], request: Request) -> None:
    assert process.stdin is not None
    process.stdin.write(encode(request))
    process.stdin.flush()


def _finish(process: subprocess.Popen[bytes]) -> None:
    """Close the input, and kill what does not end by itself."""
    assert process.stdin is not None
    with contextlib.suppress(OSError):
        process.stdin.close()
    try:
        process.wait(timeout=1.0)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()

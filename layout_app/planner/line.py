"""One planner's process and the threads that talk with it.

Three threads keep the window free: one starts the process and writes to it, one reads its
answers, and one joins a plan with the maker's sheets and has it sawn. Only the last plan
that waits is sawn.
"""

import contextlib
import queue
import subprocess
import sys
import threading
from typing import TYPE_CHECKING

from layout_app.model.cut_order import with_order
from layout_app.model.merge_plan import adopted
from layout_app.model.sawing import saw
from shared.plan import Plan
from solver.outcome import Ordered
from solver.planning.processes import apart, surroundings
from solver.wire import (
    BetterAnswer,
    FailedAnswer,
    OrderedAnswer,
    ReadyAnswer,
    Request,
    WireError,
    decode_answer,
    encode,
)

if TYPE_CHECKING:
    from layout_app.planner.process import PlannerProcess

ENDS_S = 1.0
"""So long a planner that has spoken may take to end."""


class Line:
    """One process and the threads that talk with it."""

    def __init__(self, command: tuple[str, ...], owner: "PlannerProcess") -> None:
        self._command = command
        self._owner = owner
        self._process: subprocess.Popen[bytes] | None = None
        self._closing = threading.Event()
        self._has_spoken = False
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
        """The process's number, once it has one."""
        return None if self._process is None else self._process.pid

    def send(self, request: Request) -> None:
        """Send a request, sooner or later."""
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
        try:
            while (request := self._requests.get()) is not None:
                with contextlib.suppress(OSError):
                    _write(process, request)
        finally:  # whatever breaks here, the reader hears the end and says that the run is over
            _finish(process, ENDS_S if self._has_spoken else 0.0)
            reader.join()

    def _listen(self, process: subprocess.Popen[bytes]) -> None:
        """Read answers until there are no more; plans that came before the end are sawn first."""
        assert process.stdout is not None
        try:
            with process.stdout as answers:
                for line in answers:
                    if line.endswith(b"\n"):  # a process that is killed may leave half a line
                        self._hear(line)
            self._judge.drain()
        finally:
            if not self._closing.is_set():
                self._owner._ended.emit(self)

    def _hear(self, line: bytes) -> None:
        self._has_spoken = True
        try:
            answer = decode_answer(line)
        except WireError as error:
            number = self._owner._number
            sentence = f"The planner said something that is not understood: {error}."
            self._owner._answered.emit(number, FailedAnswer(run=number, sentence=sentence))
            return
        if isinstance(answer, BetterAnswer):
            self._judge.take(answer.run, answer.event.plan)
        elif isinstance(answer, OrderedAnswer):
            self._judge.take(answer.run, answer.event)
        elif isinstance(answer, ReadyAnswer):
            self._owner._answered.emit(0, answer)
        else:
            self._judge.drain()
            self._owner._answered.emit(answer.run, answer)


class _Judge:
    """Joins plans with the maker's sheets and has them sawn, the latest first."""

    def __init__(self, owner: "PlannerProcess") -> None:
        self._owner = owner
        self._news = threading.Condition()
        self._latest: tuple[int, Plan | Ordered] | None = None
        self._busy = False
        self._closed = False

    def take(self, run: int, plan: Plan | Ordered) -> None:
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
            try:
                self._judge(*item)
            except Exception as error:  # the run ends in a sentence; the next is judged again
                number, sentence = item[0], f"A plan could not be judged: {error!r}."
                self._owner._answered.emit(number, FailedAnswer(run=number, sentence=sentence))
                sys.excepthook(type(error), error, error.__traceback__)

    def _next(self) -> tuple[int, Plan | Ordered] | None:
        with self._news:
            self._busy = False
            self._news.notify_all()
            self._news.wait_for(lambda: self._closed or self._latest is not None)
            item, self._latest = self._latest, None
            self._busy = True
            return None if self._closed else item

    def _judge(self, number: int, plan: Plan | Ordered) -> None:
        run = self._owner._run
        if run is None or run.number != number:
            return
        if isinstance(plan, Ordered):
            sawn = saw(with_order(run.project, plan))
        else:
            sawn = saw(adopted(run.project, plan))
        if refused := sawn.problems.get(""):
            sentence = f"A plan was refused by the simulated saw: {refused}"
            self._owner._answered.emit(number, FailedAnswer(run=number, sentence=sentence))
        else:
            self._owner._answered.emit(number, sawn)


def _started(command: tuple[str, ...]) -> subprocess.Popen[bytes]:
    """Start the planner, able to import what the window imports."""
    flags = getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0)
    flags |= getattr(subprocess, "CREATE_NO_WINDOW", 0)
    settings = apart()
    settings["creationflags"] = settings.get("creationflags", 0) | flags
    return subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=surroundings(),
        **settings,
    )


def _write(process: subprocess.Popen[bytes], request: Request) -> None:
    assert process.stdin is not None
    process.stdin.write(encode(request))
    process.stdin.flush()


def _finish(process: subprocess.Popen[bytes], patience_s: float) -> None:
    """Close the input, and kill what does not end by itself; what still loads does not hear it."""
    assert process.stdin is not None
    with contextlib.suppress(OSError):
        process.stdin.close()
    try:
        process.wait(timeout=patience_s)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()

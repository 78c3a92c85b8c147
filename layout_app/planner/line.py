"""The line to the planner's process: what it answers comes joined and sawn.

A thread of its own joins a plan with the maker's sheets and has it sawn; only the last plan
that waits is sawn.
"""

import subprocess
import sys
import threading
from collections.abc import Callable, Sequence

from layout_app.model.cut_order import with_order
from layout_app.model.merge_plan import adopted
from layout_app.model.sawing import Sawn, saw
from layout_app.planner.run import PlannerRun
from shared.plan import Plan
from solver.line import Line, WireError
from solver.outcome import Ordered
from solver.wire import (
    ANSWERS,
    REQUESTS,
    Answer,
    BetterAnswer,
    FailedAnswer,
    OrderedAnswer,
    ReadyAnswer,
    Request,
)

ENDS_S = 1.0
"""So long a planner that has spoken may take to end."""

Say = Callable[[PlannerRun, Answer | Sawn], None]


class PlannerLine:
    """One planner's process; what is heard of it is said by other threads.

    Parameters
    ----------
    command
        What to start.
    ready
        Called when the process listens.
    say
        Takes what the newest run answers; plans and orders are joined with its project, and sawn.
    ended
        Called when the process is gone, unless it was told to go.
    """

    def __init__(
        self,
        command: Sequence[str],
        ready: Callable[[], None],
        say: Say,
        ended: Callable[["PlannerLine"], None],
    ) -> None:
        self._ready, self._say, self._ended = ready, say, ended
        self._run: PlannerRun | None = None
        self._closing = self._has_spoken = False
        self._judge = _Judge(say)
        flags = getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0)
        flags |= getattr(subprocess, "CREATE_NO_WINDOW", 0)
        self._line = Line(command, self._hear, self._gone, name="planner", flags=flags)

    @property
    def pid(self) -> int | None:
        """The process's number, once it has one."""
        return self._line.pid

    def ask(self, run: PlannerRun, request: Request) -> None:
        """Send a request of a run; only that one's answers are heard from now on."""
        self._run = run
        self._line.send(REQUESTS.encode(request))

    def close(self) -> None:
        """End the process, and the threads; it is killed if it dawdles."""
        self._closing = True
        self._judge.close()
        self._line.end(ENDS_S if self._has_spoken else 0.0)
        self._judge.join()

    def _gone(self) -> None:
        """Say so; plans that came before the end are sawn first."""
        self._judge.drain()
        if not self._closing:
            self._ended(self)

    def _hear(self, line: bytes) -> None:
        self._has_spoken = True
        run = self._run
        try:
            answer = ANSWERS.decode(line)
        except WireError as error:
            if run is not None:
                sentence = f"The planner said something that is not understood: {error}."
                self._say(run, FailedAnswer(run=run.number, sentence=sentence))
            return
        if isinstance(answer, ReadyAnswer):
            self._ready()
        elif run is None or run.number != answer.run:
            return
        elif isinstance(answer, BetterAnswer):
            self._judge.take(run, answer.event.plan)
        elif isinstance(answer, OrderedAnswer):
            self._judge.take(run, answer.event)
        else:
            self._judge.drain()
            self._say(run, answer)


class _Judge:
    """Joins plans with the maker's sheets and has them sawn, the latest first."""

    def __init__(self, say: Say) -> None:
        self._say = say
        self._news = threading.Condition()
        self._latest: tuple[PlannerRun, Plan | Ordered] | None = None
        self._busy = False
        self._closed = False
        self._thread = threading.Thread(target=self._work, name="planner: judge")
        self._thread.start()

    def take(self, run: PlannerRun, plan: Plan | Ordered) -> None:
        """Put a plan in place of the one that waits."""
        with self._news:
            self._latest = (run, plan)
            self._news.notify_all()

    def drain(self) -> None:
        """Wait until no plan waits, so that a run's end comes after its plans."""
        with self._news:
            self._news.wait_for(lambda: self._closed or not (self._busy or self._latest))

    def close(self) -> None:
        """Judge nothing more."""
        with self._news:
            self._closed = True
            self._news.notify_all()

    def join(self) -> None:
        """Wait for the thread."""
        self._thread.join()

    def _work(self) -> None:
        """Judge until closed."""
        while (item := self._next()) is not None:
            try:
                self._judge(*item)
            except Exception as error:  # the run ends in a sentence; the next is judged again
                self._fail(item[0], f"A plan could not be judged: {error!r}.")
                sys.excepthook(type(error), error, error.__traceback__)

    def _next(self) -> tuple[PlannerRun, Plan | Ordered] | None:
        with self._news:
            self._busy = False
            self._news.notify_all()
            self._news.wait_for(lambda: self._closed or self._latest is not None)
            item, self._latest = self._latest, None
            self._busy = True
            return None if self._closed else item

    def _judge(self, run: PlannerRun, plan: Plan | Ordered) -> None:
        if run.over:
            return
        if isinstance(plan, Ordered):
            sawn = saw(with_order(run.project, plan))
        else:
            sawn = saw(adopted(run.project, plan))
        if refused := sawn.problems.get(""):
            self._fail(run, f"A plan was refused by the simulated saw: {refused}")
        else:
            self._say(run, sawn)

    def _fail(self, run: PlannerRun, sentence: str) -> None:
        self._say(run, FailedAnswer(run=run.number, sentence=sentence))

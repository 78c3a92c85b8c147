"""Workers of the planning process: started early, kept warm, halted or ended at a word."""

import queue
import sys
import threading
import time
from collections.abc import Sequence

from solver.budget.effort import Effort, Notes
from solver.budget.phase import Phase
from solver.budget.stop import Stop
from solver.line import Line
from solver.material.instance import Solution
from solver.planning.worker_wire import (
    MESSAGES,
    Halt,
    Message,
    News,
    Task,
    TaskFinished,
    Warm,
)
from solver.solutions.incumbent import Incumbent

LOOK_S = 0.02
"""Time between two looks at the stop."""
LAST_NEWS_S = 0.05
"""Time a halted worker has for what it just found; then it is left to come to an end alone."""
DEAF_S = 1.0
"""A halted worker that still works after so long does not hear: its process is ended."""


class WorkerLost(Exception):  # noqa: N818 - says what happened
    """The process of a worker has ended, or does not hear."""


class _WorkerProcess:
    """A worker's process, and what was heard from it."""

    def __init__(self) -> None:
        self.heard: queue.SimpleQueue[Message | None] = queue.SimpleQueue()
        """``None`` comes last."""
        self._warm = threading.Event()
        command = (sys.executable, "-P", "-m", "solver.planning.worker")
        self.line = Line(command, self._hear, lambda: self.heard.put(None), name="worker")

    def tell(self, message: Message) -> None:
        """Send a message, sooner or later."""
        self.line.send(MESSAGES.encode(message))

    def wait_warm(self) -> None:
        """Wait until the process has loaded what is slow to load, or has ended."""
        while self.line.alive and not self._warm.wait(LOOK_S):
            pass

    def _hear(self, line: bytes) -> None:
        message: Message = MESSAGES.decode(line)
        if isinstance(message, Warm):
            self._warm.set()
        else:
            self.heard.put(message)


class PoolWorker:
    """One worker, as seen from here. One task at a time, from one thread."""

    def __init__(self) -> None:
        self._process: _WorkerProcess | None = None
        self._number = 0
        self._finished = 0
        self._halted_at = 0.0
        self._notes: dict[int, Notes] = {}

    @property
    def pid(self) -> int | None:
        """The number of its process, if it has one."""
        return None if self._process is None else self._process.line.pid

    def start(self) -> _WorkerProcess:
        """Start the process if it does not run."""
        if self._process is None or not self._process.line.alive:
            self.end()
            self._process = _WorkerProcess()
        return self._process

    def end(self) -> None:
        """End the process at once."""
        process, self._process = self._process, None
        self._finished = self._number
        self._notes.clear()
        if process is not None:
            process.line.end()

    def work(self, phase: Phase, incumbent: Incumbent, stop: Stop, effort: Effort) -> str:
        """Let it work on an incumbent until it is done or stopped; return what broke, or "".

        Raises
        ------
        WorkerLost
            If its process has ended; the next task starts another.
        """
        line = self.start()
        self._number += 1
        known = _Known(incumbent)
        self._notes[self._number] = effort.notes or Notes()
        line.tell(
            Task(
                task=self._number,
                phase=phase,
                instance=incumbent.instance,
                solution=known.solution,
                bound=known.bound,
                cuts_bound=incumbent.cuts_bound,
                seconds=min(effort.seconds, stop.remaining_s),
                seed=effort.seed,
            )
        )
        return self._follow(line, incumbent, stop, known)

    def _follow(
        self, line: _WorkerProcess, incumbent: Incumbent, stop: Stop, known: "_Known"
    ) -> str:
        """Exchange news until the task is over."""
        while not stop:
            fault = self._hear(line, incumbent, known)
            if fault is not None:
                return fault
            if known.differs(incumbent):
                line.tell(known.news(incumbent, self._number))
        line.tell(Halt(task=self._number))
        self._halted_at = time.monotonic()
        last_news = Stop().within(LAST_NEWS_S)
        while not last_news:
            fault = self._hear(line, incumbent, known)
            if fault is not None:
                return fault
        return ""

    def _hear(self, line: _WorkerProcess, incumbent: Incumbent, known: "_Known") -> str | None:
        """Take a line of the worker if there is one soon; return how the task ended, if it did."""
        try:
            heard = line.heard.get(timeout=LOOK_S)
        except queue.Empty:
            self._check_hearing()
            return None
        if heard is None:
            self.end()
            raise WorkerLost("a worker's process has ended")
        if isinstance(heard, TaskFinished):
            self._finished = heard.task
            self._note_work(heard)
            return heard.fault if heard.task == self._number else None
        if isinstance(heard, News) and heard.task == self._number:
            self._note_method(heard)
            known.take(incumbent, heard)
        return None

    def _note_work(self, finished: TaskFinished) -> None:
        """Note what a task came to, though it may have been left alone long ago."""
        notes = self._notes.pop(finished.task, None)
        if notes is not None:
            notes.work = finished.work

    def _note_method(self, news: News) -> None:
        notes = self._notes[news.task]
        notes.method = news.method or notes.method
        notes.work = news.work or notes.work

    def _check_hearing(self) -> None:
        """End the process if it still works at what was halted long ago."""
        behind = self._finished < self._number - 1
        if behind and time.monotonic() - self._halted_at > DEAF_S:
            self.end()
            raise WorkerLost("a worker did not hear")


class _Known:
    """What the worker knows of an incumbent."""

    def __init__(self, incumbent: Incumbent) -> None:
        self.solution: Solution = incumbent.solution
        self.bound = incumbent.bound

    def differs(self, incumbent: Incumbent) -> bool:
        """Whether there is a cheaper solution, or a better bound, than the worker knows."""
        return incumbent.solution is not self.solution or incumbent.bound > self.bound

    def news(self, incumbent: Incumbent, task: int) -> News:
        """Return what the worker does not know, and take it as known."""
        self.solution, self.bound = incumbent.solution, incumbent.bound
        return News(task=task, solution=self.solution, bound=self.bound)

    def take(self, incumbent: Incumbent, news: News) -> None:
        """Write down what the worker found."""
        incumbent.raise_bound(news.bound)
        self.bound = max(self.bound, news.bound)
        if news.solution is not None and incumbent.offer(news.solution):
            self.solution = incumbent.solution
        incumbent.raise_cuts_bound(news.cuts_bound)
        if news.least_sawing:
            incumbent.finish_sawing()
        if news.best_remainder:
            incumbent.finish_remainder()


class WorkerPool:
    """So many workers; use as a context, or end it."""

    def __init__(self, workers: int) -> None:
        self.workers: Sequence[PoolWorker] = tuple(PoolWorker() for _ in range(workers))

    def start(self) -> None:
        """Start all processes, so that they are warm when there is work."""
        for worker in self.workers:
            worker.start()

    def wait_warm(self) -> None:
        """Start all processes and wait until each has loaded what is slow to load."""
        for worker in self.workers:
            worker.start().wait_warm()

    def end(self) -> None:
        """End all processes."""
        for worker in self.workers:
            worker.end()

    def __enter__(self) -> "WorkerPool":
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.end()

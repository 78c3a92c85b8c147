"""The worker: a process of its own that proves, squeezes or anneals what it is told to.

``python -m solver.planning.worker`` is started by `solver.planning.worker_pool` and ends
with its input.
"""

import queue
import sys
import threading
import traceback

from solver.budget.effort import Effort, Notes
from solver.budget.stop import Stop
from solver.line import Sender, claim_output, leave, read_in_background
from solver.material.instance import Solution
from solver.planning.steps import KERNEL, SOLVER, take_step, warm_up
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


class TaskWorker:
    """Does one task after the other, and listens meanwhile."""

    def __init__(self, send: Sender) -> None:
        self._send = send
        self._tasks: queue.SimpleQueue[Task | None] = queue.SimpleQueue()
        self._halted = -1
        self._stop = Stop()
        self._incumbent: Incumbent | None = None
        self._number = -1

    def heard(self, text: bytes) -> None:
        """Take a line of the other side; called by the reader."""
        line: Message = MESSAGES.decode(text)
        if isinstance(line, Task):
            self._tasks.put(line)
        elif isinstance(line, Halt):
            self._halted = max(self._halted, line.task)
        elif isinstance(line, News):
            self._take(line)

    def gone(self) -> None:
        """End: nobody listens any more."""
        self._stop.ask()
        self._tasks.put(None)

    def tell_warm(self) -> None:
        """Tell, once it is so, that everything slow is loaded."""
        SOLVER.wait()
        KERNEL.wait()
        self._send(MESSAGES.encode(Warm()))

    def work(self) -> None:
        """Do the tasks that come, until input ends."""
        while (task := self._tasks.get()) is not None:
            notes = Notes()
            fault = self._do(task, notes)
            self._send(MESSAGES.encode(TaskFinished(task=task.task, fault=fault, work=notes.work)))

    def _do(self, task: Task, notes: Notes) -> str:
        """Do one task; return what broke, or nothing."""
        stop = self._stop.within(task.seconds).when(lambda: self._halted >= task.task)
        try:
            incumbent = Incumbent(task.instance, task.solution, task.bound)
            incumbent.raise_cuts_bound(task.cuts_bound)
            self._incumbent, self._number = incumbent, task.task
            reports = _Reports(task, notes, self._send)
            incumbent.listen(reports)
            incumbent.front.listen(reports.tell_choice)
            take_step(task.phase, incumbent, stop, Effort(task.seconds, task.seed, notes=notes))
        except Exception as error:
            traceback.print_exc()
            return f"{type(error).__name__}: {error}"
        return ""

    def _take(self, news: News) -> None:
        incumbent = self._incumbent
        if incumbent is None or news.task != self._number:
            return
        incumbent.raise_bound(news.bound)
        if news.solution is not None:
            incumbent.offer(news.solution)


class _Reports:
    """Tells the other side what is better than what it knows."""

    def __init__(self, task: Task, notes: Notes, send: Sender) -> None:
        self._task = task.task
        self._notes = notes
        self._send = send
        self._solution = task.solution
        self._bound = task.bound
        self._cuts_bound = task.cuts_bound

    def __call__(self, incumbent: Incumbent) -> None:
        solution, bound = incumbent.solution, incumbent.bound
        cuts_bound, least_sawing = incumbent.cuts_bound, incumbent.has_least_sawing
        news: Message = News(
            task=self._task,
            solution=None if solution is self._solution else solution,
            bound=bound,
            cuts_bound=cuts_bound,
            least_sawing=least_sawing,
            best_remainder=incumbent.is_finished(),
            method=self._notes.method,
            work=self._notes.work,
        )
        higher = bound > self._bound or cuts_bound > self._cuts_bound
        if solution is not self._solution or higher or least_sawing:
            self._solution, self._bound, self._cuts_bound = solution, bound, cuts_bound
            self._send(MESSAGES.encode(news))

    def tell_choice(self, solution: Solution) -> None:
        """Tell of a dearer solution that takes less sawing."""
        if solution is not self._solution:
            self._send(MESSAGES.encode(News(task=self._task, solution=solution)))


def main() -> None:
    """Run a worker on standard input and output."""
    worker = TaskWorker(Sender(claim_output()))
    read_in_background(sys.stdin.buffer, worker.heard, worker.gone)
    warm_up()
    threading.Thread(target=worker.tell_warm, name="tells", daemon=True).start()
    worker.work()
    leave()


if __name__ == "__main__":
    main()

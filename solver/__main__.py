"""The warm planning process: ``python -m solver``.

Requests come in and answers go out as lines of JSON (`solver.wire`). A reader thread hears
the next request while one is worked on: a stop ends it, a new run takes its place. The
process ends when its input ends. OR-Tools is loaded while nothing is asked, never before
a first plan.
"""

import argparse
import contextlib
import os
import queue
import sys
import threading
import time
import traceback
from collections.abc import Callable

from solver.budget.stop import Budget, Stop
from solver.line import Sender, WireError, claim_output, leave, read_in_background
from solver.outcome import Advice, Done, EndReason, Event, Ordered
from solver.planning.steps import warm_up
from solver.planning.trouble import log_it
from solver.planning.worker_pool import WorkerPool
from solver.run import put_in_order, run, suggest
from solver.wire import (
    ANSWERS,
    REQUESTS,
    AdviseRequest,
    Answer,
    FailedAnswer,
    OrderRequest,
    PlanRequest,
    ReadyAnswer,
    answer,
)

Asked = PlanRequest | AdviseRequest | OrderRequest
Say = Callable[[Event | Advice | Ordered], None]

_BROKE_OFF = {
    PlanRequest: "Planning",
    AdviseRequest: "Looking for what would save a sheet",
    OrderRequest: "Putting the cuts in order",
}


class Worker:
    """Does one run at a time; hears from another thread what comes meanwhile."""

    def __init__(self, send: Callable[[bytes], None]) -> None:
        self._send = send
        self._inbox: queue.SimpleQueue[Asked | None] = queue.SimpleQueue()
        self._lock = threading.Lock()
        self._stops: dict[int, Stop] = {}
        self._pool = WorkerPool(0)

    def heard(self, line: bytes) -> None:
        """Take a line; called by the reader."""
        try:
            request = REQUESTS.decode(line)
        except WireError as error:
            self._say(FailedAnswer(run=-1, sentence=f"Not understood: {error}."))
            return
        with self._lock:
            if isinstance(request, Asked):
                self._ask_all()
                self._stops[request.run] = Stop()
                self._inbox.put(request)
            elif request.run in self._stops:
                self._stops[request.run].ask()

    def gone(self) -> None:
        """End what is under way, and then the process."""
        with self._lock:
            self._ask_all()
        self._inbox.put(None)

    def work(self) -> None:
        """Plan what is asked, until input ends."""
        self._say(ReadyAnswer())
        warm_up()
        while (request := self._inbox.get()) is not None:
            self.do(request)
            with self._lock:
                self._stops.pop(request.run, None)
        self._pool.end()

    def do(self, request: Asked) -> None:
        """Do one run; whatever breaks is told in one sentence."""
        stop = self._stops[request.run]

        def say(event: Event | Advice | Ordered) -> None:
            self._say(answer(request.run, event))

        try:
            if isinstance(request, PlanRequest):
                self._plan(request, stop, say)
            elif isinstance(request, AdviseRequest):
                _suggest(request, stop, say)
            else:
                _order(request, stop, say)
        except Exception as error:
            traceback.print_exc()
            what = f"{_BROKE_OFF[type(request)]} broke off: {type(error).__name__}: {error}"
            self._say(FailedAnswer(run=request.run, sentence=what))

    def _say(self, message: Answer) -> None:
        self._send(ANSWERS.encode(message))

    def _ask_all(self) -> None:
        for stop in self._stops.values():
            stop.ask()

    def _plan(self, request: PlanRequest, stop: Stop, say: Say) -> None:
        if stop:
            say(Done(reason=EndReason.STOPPED, elapsed_s=0.0))
            return
        run(
            request.job,
            request.limits,
            say,
            request.settled,
            stop=stop,
            pool=self._workers(request.limits),
            trouble=log_it,
        )

    def _workers(self, limits: Budget) -> WorkerPool:
        """Return as many warm workers as the run may use; they stay for the next."""
        if len(self._pool.workers) < limits.workers - 1:
            self._pool.end()
            self._pool = WorkerPool(limits.workers - 1)
        return self._pool


def _suggest(request: AdviseRequest, stop: Stop, say: Say) -> None:
    suggest(
        request.job,
        request.plan,
        request.limits,
        say,
        request.settled,
        shorten_up_to=request.shorten_up_to,
        stop=stop,
        trouble=log_it,
    )


def _order(request: OrderRequest, stop: Stop, say: Say) -> None:
    began = time.monotonic()
    for ordered in put_in_order(request.asked, stop.within(request.seconds)):
        say(ordered)
    reason = EndReason.STOPPED if stop.asked else EndReason.TIME
    say(Done(reason=reason, elapsed_s=time.monotonic() - began))


def main() -> None:
    """Run the worker on standard input and output."""
    parser = argparse.ArgumentParser(prog="python -m solver", description="Planning process.")
    parser.add_argument("--nice", type=int, default=0, help="steps of lower priority")
    arguments = parser.parse_args()
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(arguments.nice)
    worker = Worker(Sender(claim_output()))
    read_in_background(sys.stdin.buffer, worker.heard, worker.gone)
    worker.work()
    leave()


if __name__ == "__main__":
    main()

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

from solver.budget.stop import Limits, Stop
from solver.outcome import Advice, Done, Event, Reason
from solver.planning.pipes import Sender, claim_output, leave, read_in_background
from solver.planning.steps import warm_up
from solver.planning.trouble import log_it
from solver.planning.worker_pool import WorkerPool
from solver.run import run
from solver.wire import (
    AdviseRequest,
    FailedAnswer,
    OrderedAnswer,
    OrderRequest,
    PlanRequest,
    ReadyAnswer,
    WireError,
    advice_answer,
    answer,
    decode_request,
    encode,
)


class Worker:
    """Does one run at a time; hears from another thread what comes meanwhile."""

    def __init__(self, send: Sender) -> None:
        self._send = send
        self._inbox: queue.SimpleQueue[PlanRequest | AdviseRequest | OrderRequest | None] = (
            queue.SimpleQueue()
        )
        self._lock = threading.Lock()
        self._newest = -1
        self._stops: dict[int, Stop] = {}
        self._pool = WorkerPool(0)

    def heard(self, line: bytes) -> None:
        """Take a line; called by the reader."""
        try:
            request = decode_request(line)
        except WireError as error:
            self._send(encode(FailedAnswer(run=-1, sentence=f"Not understood: {error}.")))
            return
        with self._lock:
            if isinstance(request, PlanRequest | AdviseRequest | OrderRequest):
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
        self._send(encode(ReadyAnswer()))
        warm_up()
        while (request := self._inbox.get()) is not None:
            stop = self._stops[request.run]
            if isinstance(request, AdviseRequest):
                self._advise(request, stop)
            elif isinstance(request, OrderRequest):
                self._order(request, stop)
            else:
                self._plan(request, stop)
            with self._lock:
                self._stops.pop(request.run, None)
        self._pool.end()

    def _ask_all(self) -> None:
        for stop in self._stops.values():
            stop.ask()

    def _plan(self, request: PlanRequest, stop: Stop) -> None:
        """Do one run; whatever breaks is told in one sentence."""

        def say(event: Event) -> None:
            self._send(encode(answer(request.run, event)))

        if stop:
            say(Done(reason=Reason.STOPPED, elapsed_s=0.0))
            return
        try:
            run(
                request.job,
                request.limits,
                say,
                request.settled,
                stop=stop,
                pool=self._workers(request.limits),
                trouble=log_it,
            )
        except Exception as error:
            self._broke_off(request.run, "Planning", error)

    def _advise(self, request: AdviseRequest, stop: Stop) -> None:
        """Look for what would save a sheet."""
        from solver.advice.suggesting import suggestions  # noqa: PLC0415 - brings OR-Tools in

        def say(event: Advice) -> None:
            self._send(encode(advice_answer(request.run, event)))

        try:
            suggestions(
                request.job,
                request.plan,
                request.limits,
                say,
                shorten_up_to=request.shorten_up_to,
                settled=request.settled,
                stop=stop,
                trouble=log_it,
            )
        except Exception as error:
            self._broke_off(request.run, "Looking for what would save a sheet", error)

    def _order(self, request: OrderRequest, stop: Stop) -> None:
        """Put cuts in order."""
        from solver.cut_order.order import put_in_order  # noqa: PLC0415 - brings OR-Tools in

        began = time.monotonic()
        try:
            for ordered in put_in_order(request.asked, stop.within(request.seconds)):
                self._send(encode(OrderedAnswer(run=request.run, event=ordered)))
        except Exception as error:
            self._broke_off(request.run, "Putting the cuts in order", error)
            return
        reason = Reason.STOPPED if stop.asked else Reason.TIME
        done = Done(reason=reason, elapsed_s=time.monotonic() - began)
        self._send(encode(answer(request.run, done)))

    def _broke_off(self, run: int, what: str, error: Exception) -> None:
        traceback.print_exc()
        sentence = f"{what} broke off: {type(error).__name__}: {error}"
        self._send(encode(FailedAnswer(run=run, sentence=sentence)))

    def _workers(self, limits: Limits) -> WorkerPool:
        """Return as many warm workers as the run may use; they stay for the next."""
        if len(self._pool.workers) < limits.workers - 1:
            self._pool.end()
            self._pool = WorkerPool(limits.workers - 1)
        return self._pool


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

"""Everybody at work on the incumbents of a run, until it has to end."""

import math
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Budget, Stop
from solver.outcome import EndReason
from solver.planning.steps import KERNEL, bound_quickly, take_step, warm_up
from solver.planning.trace import Trace
from solver.planning.trouble import BrokenWorker, Trouble
from solver.planning.worker_loop import (
    PROVEN_PATIENCE,
    Enter,
    WorkerLoop,
    by_size,
    rounds,
)
from solver.planning.worker_pool import PoolWorker, WorkerLost
from solver.solutions.incumbent import Incumbent

LIVES = 3
"""Times a worker that is lost is started again in one run."""
START_PART = 0.015
"""Part of the first round that goes to more first plans before anything cleverer."""


class Scheduler:
    """The incumbents of a run and all who work on them."""

    def __init__(
        self,
        incumbents: Sequence[Incumbent],
        budget: Budget,
        stop: Stop,
        *,
        workers: Sequence[PoolWorker],
        enter: Enter,
        trace: Trace,
        trouble: Trouble,
    ) -> None:
        self._incumbents = incumbents
        self._budget = budget
        self._asked = stop
        self._broken = threading.Event()
        self._stop = stop.when(self._finished).when(self._broken.is_set)
        if budget.patience_s is not None:
            self._stop = self._stop.when(self._tired)
        self._workers = workers[: budget.workers - 1]
        self._enter = enter
        self._trace = trace
        self._trouble = trouble
        self._faults: list[Exception] = []

    def run(self) -> EndReason:
        """Search until the end; say why it came."""
        if not self._incumbents:
            return EndReason.EMPTY
        for incumbent in self._incumbents:
            if incumbent.provable:
                bound_quickly(incumbent, self._asked)
        if self._budget.work is not None:
            self._by_work(self._budget.work)
        elif not self._stop:
            self._by_time()
        return self._reason()

    def _by_work(self, work: int) -> None:
        """Take every step for so many units of work, in one process and a fixed order."""
        effort = Effort(math.inf, self._budget.seed, work)
        step = self._trace.watched(0, take_step)
        first = (Phase.START, Phase.SQUEEZE, Phase.PROVE, Phase.SQUEEZE)
        trade = (Phase.TRADE,) if self._budget.trade else ()
        for phase in (*first, Phase.SAWING, *trade, Phase.CUTS):
            for incumbent in self._incumbents:
                if phase in {Phase.PROVE, Phase.CUTS} and not incumbent.provable:
                    continue
                if not self._stop and (phase not in first or not incumbent.is_proven()):
                    self._enter(incumbent, phase)
                    step(phase, incumbent, self._stop, effort)

    def _by_time(self) -> None:
        """Let every process work until the end; return when all are done."""
        warm_up(proves=not self._workers)
        self._start()
        with self._beside():
            self._turn(0).take(self._trace.watched(0, take_step))
        if self._faults:
            self._trouble(self._faults.pop())

    def _start(self) -> None:
        """Offer more constructive solutions before anything cleverer."""
        step = self._trace.watched(0, take_step)
        seconds = START_PART * next(rounds(self._budget))
        for incumbent, part in zip(self._incumbents, by_size(self._incumbents), strict=True):
            if not self._stop and not incumbent.is_proven():
                effort = Effort(seconds * part, self._budget.seed)
                step(Phase.START, incumbent, self._stop, effort)

    def _turn(self, process: int) -> WorkerLoop:
        return WorkerLoop(
            process=process,
            processes=1 + len(self._workers),
            incumbents=self._incumbents,
            budget=self._budget,
            stop=self._stop,
            enter=self._enter,
        )

    @contextmanager
    def _beside(self) -> Iterator[None]:
        """Have the workers work meanwhile, each followed by a thread."""
        threads = [
            threading.Thread(
                target=self._follow, args=(process, worker), name=f"follows {process}", daemon=True
            )
            for process, worker in enumerate(self._workers, 1)
        ]
        for thread in threads:
            thread.start()
        try:
            yield
        except BaseException:
            self._broken.set()
            raise
        finally:
            for thread in threads:
                thread.join()

    def _follow(self, process: int, worker: PoolWorker) -> None:
        """Let a worker do its share; one that is lost is started again, but not for ever."""

        def step(phase: Phase, incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
            fault = worker.work(phase, incumbent, stop, effort)
            if fault:
                raise BrokenWorker(fault)

        for _ in range(LIVES):
            try:
                self._turn(process).take(self._trace.watched(process, step))
                return
            except WorkerLost as lost:
                print(lost, file=sys.stderr)
            except Exception as fault:
                self._faults.append(fault)
                return

    def _finished(self) -> bool:
        """Whether nothing can get better, and the trade was looked for if it is wanted."""
        traded = not self._budget.trade or all(
            incumbent.front.settled for incumbent in self._incumbents
        )
        return traded and all(incumbent.is_finished() for incumbent in self._incumbents)

    def _tired(self) -> bool:
        """Whether nothing has got better for as long as patience lasts; loading is not counted."""
        if KERNEL.pending:
            return False
        patience = self._budget.patience_s or 0.0
        if all(incumbent.is_proven() for incumbent in self._incumbents):
            patience *= PROVEN_PATIENCE
        last = max(KERNEL.done_at, *(incumbent.changed_at for incumbent in self._incumbents))
        return time.monotonic() - last > patience

    def _reason(self) -> EndReason:
        if self._asked.asked:
            return EndReason.STOPPED
        if all(incumbent.is_proven() for incumbent in self._incumbents):
            return EndReason.PROVEN
        if self._budget.work is not None:
            return EndReason.WORK
        return EndReason.TIME if self._asked.late else EndReason.PATIENCE

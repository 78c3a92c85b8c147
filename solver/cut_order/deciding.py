"""The order that is shown in the end: a quick one made better by CP-SAT, and what is proven of it.

Two things go on beside each other. One makes the best order known better, neighbourhood by
neighbourhood; the other finds what every order counts at least, and, sheet by sheet, the best
one. Each hears of the orders of the other.
"""

import threading
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from queue import Empty, Queue
from typing import Final, NamedTuple

from shared.asked import CutsToOrder
from solver.budget.stop import Stop
from solver.cut_order.improving import Improving
from solver.cut_order.least import least_of
from solver.cut_order.moving import moved
from solver.cut_order.rows import by_rows
from solver.cut_order.task import Task, task_of

FEW: Final = 16
"""So few passes are put in order at once, as a rule, without the other search."""
FEW_S: Final = 0.5
"""Time for that."""
WAIT_S: Final = 0.05
"""How often it is looked whether to stop."""


class Decided(NamedTuple):
    """An order of all passes ahead, what it counts, and what every order counts at least."""

    order: list[int]
    counts: int
    least: int

    @property
    def is_best(self) -> bool:
        """Whether no order counts less."""
        return self.counts <= self.least


def decide(
    asked: CutsToOrder, task: Task, order: Sequence[int], stop: Stop, workers: int
) -> Iterator[Decided]:
    """Yield ever better orders, or better bounds, from one that is given; it comes first."""
    yield from _Deciding(asked, task, order, workers).run(stop)


class _Deciding:
    """Both searches, and the best order of either."""

    def __init__(self, asked: CutsToOrder, task: Task, order: Sequence[int], workers: int) -> None:
        self._asked, self._task, self._workers = asked, task, workers
        self._best = Decided(list(order), task.worth(order), 0)
        self._found: Queue[Decided | BaseException | None] = Queue()
        self._ended = False

    def run(self, stop: Stop) -> Iterator[Decided]:
        """Yield what is better until it is proven best, both have ended, or it is time to stop."""
        yield self._best
        if len(self._best.order) <= FEW:
            yield from self._alone(stop)
            if self._best.is_best:
                return
        ending = stop.when(lambda: self._ended)
        threads = [
            threading.Thread(target=self._guarded, args=(work, ending), daemon=True)
            for work in (self._improve, self._prove)
        ]
        for thread in threads:
            thread.start()
        try:
            at_work = len(threads)
            while at_work and not stop:
                try:
                    found = self._found.get(timeout=WAIT_S)
                except Empty:
                    continue
                if found is None:
                    at_work -= 1
                elif isinstance(found, BaseException):
                    raise found
                elif self._is_better(found):
                    yield self._best
                    if self._best.is_best:
                        return
        finally:
            self._ended = True
            for thread in threads:
                thread.join()

    def _alone(self, stop: Stop) -> Iterator[Decided]:
        """Yield what the proof finds by itself."""
        self._prove(self._task, stop.within(FEW_S))
        while not self._found.empty():
            found = self._found.get()
            if isinstance(found, Decided) and self._is_better(found):
                yield self._best

    def _is_better(self, found: Decided) -> bool:
        """Take an order or a bound if it is better than what there is."""
        best = self._best
        if found.counts < best.counts:
            best = best._replace(order=found.order, counts=found.counts)
        if found.least > best.least:
            best = best._replace(least=min(found.least, best.counts))
        changed, self._best = best != self._best, best
        return changed

    def _guarded(self, work: Callable[[Task, Stop], None], stop: Stop) -> None:
        """Do work with a task of its own, and tell when it has ended, or how it failed."""
        try:
            work(task_of(self._asked), stop)
        except Exception as fault:
            self._found.put(fault)
        else:
            self._found.put(None)

    def _improve(self, task: Task, stop: Stop) -> None:
        while not stop:
            start = moved(task, self._best.order, stop)
            improving = Improving(task, task.split(start), self._workers)
            self._found.put(Decided(start, improving.worth, 0))
            beaten = stop.when(partial(self._beats, improving))
            for order in improving.improve(beaten):
                self._found.put(Decided(order, improving.worth, 0))
            again = moved(task, improving.order, stop)
            if not beaten and task.worth(again) == improving.worth:
                return
            self._found.put(Decided(again, task.worth(again), 0))

    def _beats(self, improving: Improving) -> bool:
        """Whether a better order is known than a search has found."""
        return self._best.counts < improving.worth

    def _prove(self, task: Task, stop: Stop) -> None:
        if len(task.groups) - task.finishing == 1 and task.groups:
            self._found.put(self._best._replace(least=least_of(task, stop)))
        for order, least in by_rows(task, self._best.order, stop):
            self._found.put(Decided(order, task.worth(order), least))

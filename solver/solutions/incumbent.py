"""Where all who work on one material write down the best they found."""

import threading
import time
from collections.abc import Callable

from solver.limits.measure import Cost, cost, goal_value, problems
from solver.material.instance import Instance, Solution
from solver.solutions.pareto_front import ParetoFront

Listener = Callable[["Incumbent"], None]


class UnsoundSolution(Exception):  # noqa: N818 - names what was offered
    """A solution breaks the rules of its instance: a fault of the search, not of the job."""


class Incumbent:
    """Best solution and best bound of one instance; safe to use from several threads.

    Listeners are called, outside the lock, after each change. What is not the best, but
    takes less sawing than all that costs no more, is kept on the ``front``. Bounds of what is
    not ``provable`` are not looked for: nobody would be told.
    """

    provable = True

    def __init__(self, instance: Instance, solution: Solution, bound: int = 0) -> None:
        _check(instance, solution)
        self.instance = instance
        self.front = ParetoFront()
        self.changed_at = time.monotonic()
        self._lock = threading.Lock()
        self._listeners: list[Listener] = []
        self._solution = solution
        self._cost = cost(instance, solution)
        self._bound = bound
        self._cuts_bound = 0
        self._least_sawing = False
        self._best_remainder = False
        self.front.take(self._cost, solution)

    @property
    def solution(self) -> Solution:
        """The best solution so far."""
        return self._solution

    @property
    def cost(self) -> Cost:
        """What it costs."""
        return self._cost

    @property
    def stock(self) -> tuple[int, int, int, int]:
        """What the best solution leaves out and takes of the stock; less is better."""
        return self._stock_of(self._cost)

    @staticmethod
    def _stock_of(cost: Cost) -> tuple[int, int, int, int]:
        return cost.unplaced, cost.price, cost.rack, cost.sheets

    @property
    def value(self) -> int:
        """Sheets or price of the best solution, whichever is the goal."""
        return goal_value(self.instance, self._solution)

    @property
    def told(self) -> tuple[int, int]:
        """Value and bound as they are told."""
        return self.value, self.bound

    @property
    def bound(self) -> int:
        """What every solution that lays all items costs at least, in units of the goal."""
        return self._bound

    @property
    def cuts_bound(self) -> int:
        """Cuts that every solution of the proven price takes; 0 while nothing is known."""
        return self._cuts_bound if self.is_proven() else 0

    @property
    def complete(self) -> bool:
        """Whether the best solution lays every item."""
        return not any(self._solution.left)

    def cheaper_than(self, stock: tuple[int, int, int, int]) -> bool:
        """Whether the best solution takes less of the stock than that."""
        return self.stock < stock

    def known(self) -> tuple[Solution, int, int, bool, bool]:
        """Return, of one moment, the best solution, its bound, and what is proven of its sawing.

        Bound on price and on cuts; whether nothing takes less sawing at the price, and
        whether then no remainder is better.
        """
        with self._lock:
            finished = self.is_finished()
            return self._solution, self._bound, self.cuts_bound, self.has_least_sawing, finished

    def is_proven(self) -> bool:
        """Whether nothing costs less."""
        return self.complete and self._bound >= self.value

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Call a listener after each change; the returned function ends that."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener)

    @property
    def has_least_sawing(self) -> bool:
        """Whether no solution at the proven price takes less sawing."""
        return self._least_sawing and self.is_proven()

    def is_finished(self) -> bool:
        """Whether neither price nor sawing time can get less, nor the remainder better."""
        return self._best_remainder and self.has_least_sawing

    def finish_sawing(self) -> None:
        """Note that no solution at the best price takes less sawing."""
        if not self._least_sawing:
            self._least_sawing = True
            self._tell()

    def finish_remainder(self) -> None:
        """Note that no solution of least sawing leaves a better remainder."""
        if not self._best_remainder:
            self._best_remainder = True
            self._tell()

    def offer(self, solution: Solution) -> bool:
        """Take a solution if it is better than the best; `UnsoundSolution` if it is none.

        A dearer one that takes less sawing goes to the front only.
        """
        measured = cost(self.instance, solution)
        if measured >= self._cost and not self.front.wants(measured):
            return False
        _check(self.instance, solution)
        better = self._take(measured, solution)
        self.front.take(measured, solution)
        return better

    def _take(self, measured: Cost, solution: Solution) -> bool:
        with self._lock:
            if measured >= self._cost:
                return False
            if self._stock_of(measured) != self.stock:
                self._least_sawing = self._best_remainder = False  # was of other sheets
            self._solution, self._cost = solution, measured
        self._tell()
        return True

    def raise_bound(self, bound: int) -> bool:
        """Take a bound if it is higher than the best."""
        with self._lock:
            if bound <= self._bound:
                return False
            self._bound = bound
        self._tell()
        return True

    def raise_cuts_bound(self, cuts: int) -> bool:
        """Take a bound on the cuts of all solutions of the proven price, if it is higher.

        It makes no plan better, so it does not count as a change.
        """
        with self._lock:
            if cuts <= self._cuts_bound:
                return False
            self._cuts_bound = cuts
        self._inform()
        return True

    def _tell(self) -> None:
        self.changed_at = time.monotonic()
        self._inform()

    def _inform(self) -> None:
        for listener in tuple(self._listeners):
            listener(self)


def _check(instance: Instance, solution: Solution) -> None:
    found = problems(instance, solution)
    if found:
        raise UnsoundSolution(f"{instance.material}: {found[0]}")

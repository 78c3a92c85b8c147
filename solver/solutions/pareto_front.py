"""The trade between stock and sawing: solutions of which none is worse in both."""

import threading
from collections.abc import Callable
from operator import attrgetter
from typing import NamedTuple

from solver.limits.measure import Cost
from solver.material.instance import Solution


class Candidate(NamedTuple):
    """A solution that lays every item, and what it costs."""

    cost: Cost
    solution: Solution

    @property
    def stock(self) -> tuple[int, int, int]:
        """Price, what is taken from the rack, then sheets; less is better."""
        return stock_of(self.cost)


def stock_of(cost: Cost) -> tuple[int, int, int]:
    """Return what a solution takes of the stock: price, rack and sheets; less is better."""
    return cost.price, cost.rack, cost.sheets


def beats(one: Cost, other: Cost) -> bool:
    """Whether a solution makes another one superfluous: no more stock and no more sawing.

    Of two that are equal in both the first one wins, unless the second one's remainder is
    larger.
    """
    mine, yours = stock_of(one), stock_of(other)
    if (mine, one.seconds) == (yours, other.seconds):
        return one.spare <= other.spare
    return mine <= yours and one.seconds <= other.seconds


class ParetoFront:
    """Complete solutions of one material that nothing beats; safe from several threads.

    Of those with equal stock and sawing the one with the largest remainder stays.
    Listeners hear, outside the lock, each solution that is taken.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._listeners: list[Callable[[Solution], None]] = []
        self._candidates: tuple[Candidate, ...] = ()
        self.settled = False
        """Whether nobody looks for more on dearer stock."""

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        """All of them, least stock first and so most sawing first."""
        return self._candidates

    def wants(self, cost: Cost) -> bool:
        """Whether a solution of that cost would be taken, if it is sound."""
        return not cost.unplaced and not any(beats(c.cost, cost) for c in self._candidates)

    def take(self, cost: Cost, solution: Solution) -> bool:
        """Take a sound solution if nothing beats it, and let go of what it beats."""
        with self._lock:
            if not self.wants(cost):
                return False
            rest = [c for c in self._candidates if not beats(cost, c.cost)]
            self._candidates = tuple(
                sorted([*rest, Candidate(cost, solution)], key=attrgetter("stock"))
            )
        for listener in tuple(self._listeners):
            listener(solution)
        return True

    def settle(self) -> None:
        """Note that enough was looked for on dearer stock."""
        self.settled = True

    def listen(self, listener: Callable[[Solution], None]) -> None:
        """Call a listener with each solution that is taken."""
        self._listeners.append(listener)

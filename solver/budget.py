"""How far a search has come: by the clock, or by iterations so that it can be repeated."""

import time
from dataclasses import dataclass

from solver.stop import Stop

LOOK_EVERY = 32
"""Iterations between two looks at the clock and the stop."""


@dataclass(slots=True)
class Budget:
    """What one search may spend, and the share of it that is spent.

    With ``work`` (iterations) the share depends on nothing but the iterations, so the same
    seed and work give the same result; the stop still ends the search early when asked.
    With ``seconds`` it follows the clock. One budget may serve several searches in turn.
    """

    stop: Stop
    work: int | None = None
    seconds: float | None = None
    done: int = 0
    _start: float = -1.0

    @property
    def repeatable(self) -> bool:
        """Whether the share follows the iterations."""
        return self.work is not None

    def spend(self, iterations: int) -> float:
        """Count iterations and return the share of the budget spent so far, 1.0 at its end."""
        self.done += iterations
        if self.stop:
            return 1.0
        if self.work is not None:
            return min(1.0, self.done / max(1, self.work))
        return self._by_clock()

    def _by_clock(self) -> float:
        now = time.monotonic()
        if self._start < 0:
            self._start = now
        if self.seconds is None:
            return 0.0
        return min(1.0, (now - self._start) / max(1e-9, self.seconds))

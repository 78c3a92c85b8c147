"""How many tries of the compiled search fit between two looks at the clock."""

import time
from collections.abc import Callable

MOMENT_S = 0.02
"""Time between two looks at the stop."""
STEADY_TRIES = 500
"""Tries between two looks when the result must not depend on the clock."""


class Tempo:
    """Chooses how many tries to make before looking at the clock again."""

    def __init__(self, steady: bool) -> None:
        self._steady = steady
        self._tries = STEADY_TRIES if steady else 20

    def take(self, work: Callable[[int], int], most: int) -> int:
        """Let ``work`` make some tries, at most so many; return how many it made."""
        began = time.perf_counter()
        made = work(max(1, min(self._tries, most)))
        took = time.perf_counter() - began
        if not self._steady and made >= self._tries:
            faster = min(4.0, MOMENT_S / max(took, 1e-6))
            self._tries = max(1, int(self._tries * faster))
        return made

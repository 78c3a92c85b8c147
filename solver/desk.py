"""Solutions laid out in arrays for the compiled search, and how many tries fit in a moment."""

import time
from collections.abc import Callable, Sequence

from solver.instance import Instance, Laid
from solver.kernel.chance import seeded
from solver.kernel.fleet import most_items, shape_of, to_arrays
from solver.kernel.sheets import Search, empty_pool, empty_sheets

SPARE = 8
"""Sheets that a try keeps aside."""
MOMENT_S = 0.02
"""Time between two looks at the stop."""
STEADY_TRIES = 500
"""Tries between two looks when the result must not depend on the clock."""


def desk(instance: Instance, sheets: Sequence[Laid], fleet: Sequence[int], seed: int) -> Search:
    """Lay sheets out on a fleet of as many sheets or more, in its order of kinds.

    The kinds of ``sheets`` must be the first of ``fleet``.
    """
    shape = shape_of(instance, fleet)
    items = most_items(instance)
    total = sum(item.demand for item in instance.items)
    empty = [Laid(kind, ()) for kind in fleet[len(sheets) :]]
    return Search(
        seeded(seed),
        shape,
        to_arrays(instance, [*sheets, *empty], shape),
        empty_sheets(SPARE, items),
        empty_sheets(len(fleet), items),
        empty_pool(total, items),
    )


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

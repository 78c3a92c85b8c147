"""Positions on the exact scale, where a run that fills its room can be told from one that does not.

On a coarser scale (`solver.proof.normal_patterns`) nearly every run could be exact, and a
bound on waste pieces would prove next to nothing.
"""

from collections.abc import Mapping

import numpy as np

from solver.proof.bounds import doublings
from solver.proof.normal_patterns import Ints, normal_patterns

LOOKED_UP = 2**22
"""Up to this capacity positions are found in a table, beyond it by bisection."""
MARKED = 2**18
"""Up to this capacity sums are marked in a table of all places."""
MOST_KEPT = 2**22
"""Indices kept for steps back that may be asked for again."""


class TooManyPositions(Exception):  # noqa: N818 - says what was found
    """The sums of sizes are too many for tables over all of them."""


class ExactPositions:
    """All sums of sizes up to a capacity, each known by its index.

    Attributes
    ----------
    points
        The sums, ascending from 0.
    capacity
        The room; it is the last point if some sum fills it.
    """

    def __init__(self, copies: Mapping[int, int], capacity: int, most: int) -> None:
        """Take sizes with the number of their copies, and the most points to work with.

        Raises
        ------
        TooManyPositions
            When there are more.
        """
        points = _sums(copies, capacity, most)
        if points is None or len(points) > most:
            raise TooManyPositions
        self.points, self.capacity = points, capacity
        self._back: dict[int, Ints] = {}
        self._kept = 0
        self._where: Ints | None = None
        if capacity <= LOOKED_UP:
            self._where = np.full(capacity + 1, len(points), dtype=np.int64)
            self._where[points] = np.arange(len(points))

    def __len__(self) -> int:
        return len(self.points)

    @property
    def reaches_end(self) -> bool:
        """Whether some sum fills the room."""
        return int(self.points[-1]) == self.capacity

    def index(self, places: Ints) -> Ints:
        """Return the index of each place; ``len(self)`` where it is no point."""
        inside = (places >= 0) & (places <= self.capacity)
        kept = np.where(inside, places, 0)
        if self._where is not None:
            found = self._where[kept]
        else:
            found = np.minimum(np.searchsorted(self.points, kept), len(self) - 1)
            found = np.where(self.points[found] == kept, found, len(self))
        return np.where(inside, found, len(self))

    def not_beyond(self, places: Ints) -> Ints:
        """Return the index of the last point not beyond each place; -1 for a negative place."""
        return np.searchsorted(self.points, places, side="right") - 1

    def back(self, size: int) -> Ints:
        """Return for the last points, all from ``size`` on, the index just ``size`` before."""
        if size in self._back:
            return self._back[size]
        first = int(np.searchsorted(self.points, size))
        found = self.index(self.points[first:] - size)
        if self._kept + len(found) <= MOST_KEPT:
            self._kept += len(found)
            self._back[size] = found
        return found


def _sums(copies: Mapping[int, int], capacity: int, most: int) -> Ints | None:
    """Return all sums up to the capacity, as `normal_patterns` does, but sooner if it is small."""
    if capacity > MARKED:
        return normal_patterns(copies, capacity, most)
    marks = np.zeros(capacity + 1, dtype=bool)
    marks[0] = True
    for size, count in copies.items():
        for times in doublings(min(count, capacity // size)):
            marks[times * size :] |= marks[: capacity + 1 - times * size].copy()
    return np.flatnonzero(marks)

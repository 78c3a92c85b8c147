"""Positions that can occur: sums of sizes, on the exact scale or on a coarser one.

Normal patterns: J. C. Herz, "Recursive computational procedure for two-dimensional stock
cutting", IBM Journal of Research and Development 16 (1972); N. Christofides, C. Whitlock,
"An algorithm for two-dimensional cutting problems", Operations Research 25 (1977).
"""

from collections.abc import Mapping
from math import log2

import numpy as np
from numpy.typing import NDArray

from solver.proof.bounds import doublings

Ints = NDArray[np.int64]


def normal_patterns(copies: Mapping[int, int], capacity: int, most: int) -> Ints | None:
    """Return all sums up to ``capacity`` of sizes taken up to so many times, ascending.

    Returns ``None`` when there are more than ``most``.
    """
    sums = np.zeros(1, dtype=np.int64)
    for size, count in sorted(copies.items(), reverse=True):
        for times in doublings(min(count, capacity // size)):
            sums = np.union1d(sums, sums + times * size)
            sums = sums[sums <= capacity]
            if sums.size > most:
                return None
    return sums


class Scale:
    """Maps sizes to whole cells so that sizes that share a length share its cells.

    With M - 1 cells for a capacity C, a size v becomes floor(v M / (C + 1)): whole sizes
    that sum to at most C sum to less than C + 1, their images to less than M, hence to at
    most M - 1. So whatever fits, fits on the coarse scale (not the other way round): a
    bound proven there is true. M = C + 1 is the exact scale.
    """

    def __init__(self, capacity: int, cells: int) -> None:
        self._capacity = capacity
        self.cells = min(cells, capacity)

    def __call__(self, size: int) -> int:
        """Return the number of whole cells that a size surely fills."""
        return size * (self.cells + 1) // (self._capacity + 1)


class ScaledPositions:
    """Positions along one direction, and how far back a size reaches from each of them.

    Attributes
    ----------
    scale
        From sizes to cells.
    points
        Positions in cells, ascending from 0: all sums of sizes that can occur. "At a
        point" means: within so many cells.
    """

    def __init__(self, copies: Mapping[int, int], capacity: int, most: int) -> None:
        """Take sizes with the number of their copies; at most about ``most`` points."""
        self.scale = Scale(capacity, capacity)
        sums = normal_patterns(copies, capacity, most)
        self.exact = sums is not None
        self.points = self._coarse(copies, capacity, most) if sums is None else sums
        self._before: dict[int, Ints] = {}

    def _coarse(self, copies: Mapping[int, int], capacity: int, most: int) -> Ints:
        """Change to a coarser scale; return the sums that occur there."""
        self.scale = _least_loss(copies, capacity, most)
        cells = self.scale.cells
        sums = normal_patterns(_on(self.scale, copies), cells, cells + 1)
        return np.arange(cells + 1) if sums is None else sums

    def __len__(self) -> int:
        return len(self.points)

    def before(self, size: int) -> Ints:
        """Return for each point the index of the last one that lies ``size`` before it.

        Points nearer to 0 than that have none and are left out, so the result belongs to
        the last ``len(result)`` points.
        """
        if size not in self._before:
            index = np.searchsorted(self.points, self.points - size, side="right") - 1
            self._before[size] = index[index >= 0]
        return self._before[size]

    def index(self, cells: int) -> int:
        """Return the index of the first point not below a number of cells."""
        return int(np.searchsorted(self.points, cells))


def _on(scale: Scale, copies: Mapping[int, int]) -> dict[int, int]:
    """Return the sizes in cells; those of no cell take no room and shift nothing."""
    scaled: dict[int, int] = {}
    for size, count in copies.items():
        scaled[scale(size)] = scaled.get(scale(size), 0) + count
    scaled.pop(0, None)
    return scaled


def _least_loss(copies: Mapping[int, int], capacity: int, most: int) -> Scale:
    """Return the scale of ``most`` to half as many cells that shrinks the sizes least."""
    scales = [Scale(capacity, cells) for cells in range(most - 1, most // 2, -1)]

    def kept(scale: Scale) -> float:
        filled = sum(count * scale(size) for size, count in copies.items())
        return filled / scale.cells - log2(most / scale.cells) * 1e-3

    return max(scales, key=kept)

"""Runs of cuts as the search makes them: plain tuples, parts by their index."""

from collections.abc import Iterator
from typing import NamedTuple

from shared.lengths import Length
from shared.shop import Axis


class Bit(NamedTuple):
    """A piece of a run: its size, the run that divides it, or the part it is (-1: none)."""

    size: Length
    run: "Sawn | None" = None
    box: int = -1


class Sawn(NamedTuple):
    """A run: axis, trim, pieces in order, and what is left over beyond the last."""

    axis: Axis
    trim: Length
    bits: tuple[Bit, ...]
    left: Length

    def cuts(self, level: int = 1) -> Iterator[tuple[int, Length]]:
        """Yield the set-up, level and size, of every cut in the tree, trims left out."""
        for bit in self.bits[: None if self.left else -1]:
            yield level, bit.size
        for bit in self.bits:
            if bit.run is not None:
                yield from bit.run.cuts(level + 1)

    @property
    def depth(self) -> int:
        """How many levels of runs there are."""
        return 1 + max((bit.run.depth for bit in self.bits if bit.run is not None), default=0)

    def trims(self) -> int:
        """Count the cuts in the tree that make reference edges."""
        return (self.trim > 0) + sum(bit.run.trims() for bit in self.bits if bit.run is not None)

    def skims(self, kerf: Length) -> int:
        """Count the runs that end with less than a kerf to take off."""
        inner = sum(bit.run.skims(kerf) for bit in self.bits if bit.run is not None)
        return inner + (0 < self.left <= kerf)

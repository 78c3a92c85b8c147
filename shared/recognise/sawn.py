"""Runs of cuts as the search makes them: plain tuples, parts told by where they lie."""

from collections.abc import Iterator
from typing import NamedTuple

from shared.lengths import Length
from shared.recognise.allowed import Allowed, Beyond, CutExtent
from shared.recognise.boxes import ENDS, Area, SheetGround, sliced
from shared.shop import Axis
from shared.tree import Run


class Bit(NamedTuple):
    """A piece of a run: its size, the run that divides it, or whether it is a part."""

    size: Length
    run: "SawnRun | None" = None
    part: bool = False


class SawnRun(NamedTuple):
    """A run: axis, trim, pieces in order, what is left over beyond the last; a kerf of its own."""

    axis: Axis
    trim: Length
    bits: tuple[Bit, ...]
    left: Length
    kerf: Length = 0

    @classmethod
    def of(cls, run: Run, area: Area, kerf: Length) -> "SawnRun":
        """Return the run of a tree over an area, in ticks."""
        bare = cls(run.axis, run.trim, tuple(Bit(piece.size) for piece in run.pieces), 0, run.kerf)
        inside = zip(run.pieces, bare.pieces(area, kerf), strict=True)
        bits = tuple(
            Bit(
                piece.size,
                cls.of(piece.run, at, kerf) if piece.run is not None else None,
                piece.place is not None,
            )
            for piece, (_, at) in inside
        )
        begin, end = ENDS[run.axis]
        gaps = run.kerf_or(kerf) * max(0, len(bits) - 1)
        taken = run.trim + sum(bit.size for bit in bits) + gaps
        return cls(run.axis, run.trim, bits, area[end] - area[begin] - taken, run.kerf)

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
        return inner + (0 < self.left <= (self.kerf or kerf))

    def too_deep(self, allowed: Allowed, level: int = 1) -> int:
        """Count the cuts that lie deeper than the rule has them."""
        trims = len(self.bits) == 1 and self.bits[0].part
        number = len(self.bits) - (self.left == 0)
        inner = (bit.run.too_deep(allowed, level + 1) for bit in self.bits if bit.run is not None)
        return number * allowed.too_deep(level, trims=trims) + sum(inner)

    def pieces(self, area: Area, kerf: Length) -> Iterator[tuple[Bit, Area]]:
        """Yield the pieces with their areas, in order."""
        at = area[ENDS[self.axis][0]] + self.trim
        for bit in self.bits:
            yield bit, sliced(area, self.axis, at, at + bit.size)
            at += bit.size + (self.kerf or kerf)

    def beyond(self, area: Area, ground: SheetGround) -> Iterator[tuple[Beyond, Area]]:
        """Yield the cuts that are beyond the shop's limits, each with the piece under the saw."""
        begin, end = ENDS[self.axis]
        side, other = ENDS[self.axis.other]
        long, far = area[other] - area[side], area[end]
        at, kerf = area[begin], self.kerf or ground.kerf
        number = len(self.bits) if self.left else len(self.bits) - 1
        sizes = [bit.size for bit in self.bits[:number]]
        if self.trim:
            stroke = CutExtent.trim(self.axis, long, self.trim, far - at, ground.kerf)
            if found := ground.allowed.beyond(stroke):
                yield found, area
            at += self.trim
        for index, size in enumerate(sizes, 1):
            last = index == number and self.left > 0
            stroke = CutExtent.of(self.axis, long, size, far - at, kerf, last=last)
            if found := ground.allowed.beyond(stroke, fenced=self.kerf > 0):
                yield found, sliced(area, self.axis, at, far)
            at += size + kerf
        for bit, inside in self.pieces(area, ground.kerf):
            if bit.run is not None:
                yield from bit.run.beyond(inside, ground)

"""Wood grain: fine lines that flow side by side over a whole sheet.

The lines are those of the sheet, so they run on from part to part as the veneer does.
They are the same every time: their unevenness comes from a hash of the sheet's id.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from zlib import crc32

from shared.drawing.records import Box, GrainLine, Point, Role
from shared.geometry import Rect
from shared.lengths import Length
from shared.stock import SheetGrain

LINES = 84
"""Lines across a square; a sheet that is narrower across its grain has fewer."""
STATIONS = 16
"""Points along a line."""
SHOWN = (Role.PART, Role.KEEPER, Role.WASTE, Role.PIECE, Role.KEPT, Role.LEFT)
"""Boxes that are wood."""

Run = list[tuple[Length, Length]]
"""Points of a line as distances along the grain and across it, in ticks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RingLine:
    """A growth ring as it shows: distances along the grain, rising, and across it.

    ``least`` and ``most`` are the extremes of ``across``.
    """

    along: tuple[Length, ...]
    across: tuple[Length, ...]
    least: Length
    most: Length
    heavy: bool

    def meets(self, low: Length, high: Length) -> bool:
        """Say whether the line comes between two distances across the grain."""
        return self.least < high and self.most > low


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GrainFigure:
    """The grain of a whole sheet; ``along_x`` says which way it runs.

    `figure` makes one of each, so they are told apart by identity.
    """

    lines: tuple[RingLine, ...] = ()
    along_x: bool = True

    def points(self, run: Iterable[tuple[Length, Length]]) -> tuple[Point, ...]:
        """Return points of a line as x and y."""
        return tuple(run) if self.along_x else tuple((y, x) for x, y in run)


@lru_cache(maxsize=128)
def figure(seed: str, sheet: Rect, grain: SheetGrain) -> GrainFigure:
    """Return the grain of a whole sheet; the same seed and sheet give the same lines."""
    if grain is SheetGrain.NONE:
        return GrainFigure()
    along_x = grain is SheetGrain.ALONG_L
    sides = (sheet.length, sheet.width) if along_x else (sheet.width, sheet.length)
    return GrainFigure(lines=tuple(_lines(seed, *sides)), along_x=along_x)


def grain_lines(boxes: Iterable[Box], whole: GrainFigure) -> tuple[GrainLine, ...]:
    """Return what each box of wood shows of the grain of its sheet."""
    wood = [box for box in boxes if box.role in SHOWN]
    return tuple(seen for box in wood for seen in grain_in(box.key, box.rect, whole))


@lru_cache(maxsize=512)
def grain_in(key: str, rect: Rect, whole: GrainFigure) -> tuple[GrainLine, ...]:
    """Return what a rectangle shows of the lines; remembered, since few boxes change at a time."""
    return tuple(_seen(key, rect, whole))


def _seen(key: str, rect: Rect, whole: GrainFigure) -> Iterator[GrainLine]:
    along, across = (rect.x, rect.right), (rect.y, rect.bottom)
    if not whole.along_x:
        along, across = across, along
    for line in whole.lines:
        if not line.meets(*across):
            continue
        for run in _between(_stretch(line, *along), *across):
            yield GrainLine(key=key, points=whole.points(run), heavy=line.heavy)


def _lines(seed: str, along: Length, across: Length) -> Iterator[RingLine]:
    count = max(8, min(LINES, LINES * across // max(along, 1)))
    phase = _noise(seed, 0) * math.tau
    for index in range(count):
        base = (index + 0.15 + 0.7 * _noise(seed, index + 1)) * across / count
        stations = tuple(_stations(*_ends(seed, index, along), along))
        drift = tuple(_drift(base, at / along, phase, across) for at in stations)
        yield RingLine(
            along=stations,
            across=drift,
            least=min(drift),
            most=max(drift),
            heavy=_noise(seed, 1000 + index) > 0.8,
        )


def _ends(seed: str, index: int, along: Length) -> tuple[Length, Length]:
    """Two lines in five are short, as growth rings run out in a veneer."""
    if _noise(seed, 2000 + index) < 0.6:
        return 0, along
    start = round(_noise(seed, 3000 + index) * 0.7 * along)
    reach = round((0.15 + 0.4 * _noise(seed, 4000 + index)) * along)
    return start, min(along, start + reach)


def _stations(start: Length, end: Length, along: Length) -> Iterator[Length]:
    step = max(1, along // STATIONS)
    yield start
    yield from range((start // step + 1) * step, end, step)
    yield end


def _drift(base: float, part: float, phase: float, across: Length) -> Length:
    """Bend a line as its neighbours bend, so that no two ever cross."""
    place = base / across
    bend = math.sin(phase + 5.1 * part + 3.0 * place) + 0.5 * math.sin(2.3 * phase + 11 * part)
    return round(base + 0.006 * across * bend)


def _noise(seed: str, index: int) -> float:
    """Return a number from 0 to 1 that is always the same."""
    return (crc32(f"{seed}/{index}".encode()) & 0xFFFF) / 0xFFFF


def _stretch(line: RingLine, start: Length, end: Length) -> Run:
    """Return a line from one distance along the grain to another."""
    start, end = max(start, line.along[0]), min(end, line.along[-1])
    if start >= end:
        return []
    first, last = bisect_right(line.along, start), bisect_left(line.along, end)
    between = zip(line.along[first:last], line.across[first:last], strict=True)
    return [(start, _at(line, start, first)), *between, (end, _at(line, end, last))]


def _at(line: RingLine, along: Length, behind: int) -> Length:
    """Return how far across a line is at a distance along, before its station ``behind``."""
    before = (line.along[behind - 1], line.across[behind - 1])
    after = (line.along[behind], line.across[behind])
    return before[1] + round((after[1] - before[1]) * (along - before[0]) / (after[0] - before[0]))


def _between(run: Run, low: Length, high: Length) -> Iterator[Run]:
    """Yield what of a run lies between two distances across the grain."""
    if not run:
        return
    least, most = min(at for _, at in run), max(at for _, at in run)
    if low <= least and most <= high:
        yield run
    elif least < high and most > low:
        yield from _clipped(run, low, high)


def _clipped(run: Run, low: Length, high: Length) -> Iterator[Run]:
    """Yield the parts of a run that swings over the border."""
    inside: Run = []
    for start, end in pairwise(run):
        seen = _segment(start, end, low, high)
        if not seen:
            continue
        if inside and inside[-1] != seen[0]:
            yield inside
            inside = []
        inside = [*(inside or seen[:1]), seen[1]]
    if inside:
        yield inside


def _segment(start: Point, end: Point, low: Length, high: Length) -> Run:
    """Clip a straight line to a band (the parametric method of Liang and Barsky, 1984)."""
    rise = end[1] - start[1]
    if rise == 0:
        return [start, end] if low < start[1] < high else []
    enter, leave = sorted(((low - start[1]) / rise, (high - start[1]) / rise))
    enter, leave = max(0.0, enter), min(1.0, leave)
    if enter >= leave:
        return []
    return [_along(start, end, enter), _along(start, end, leave)]


def _along(start: Point, end: Point, part: float) -> Point:
    return (
        start[0] + round((end[0] - start[0]) * part),
        start[1] + round((end[1] - start[1]) * part),
    )

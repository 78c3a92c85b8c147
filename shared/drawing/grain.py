"""Wood grain: fine lines that flow side by side over a whole sheet.

The lines are those of the sheet, so they run on from part to part as the veneer does.
They are the same every time: their unevenness comes from a hash of the sheet's id.
"""

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise
from zlib import crc32

from shared.drawing.records import Box, GrainLine, Point, Role
from shared.geometry import Rect
from shared.stock import SheetGrain

LINES = 84
"""Lines across a square; a sheet that is narrower across its grain has fewer."""
STATIONS = 16
"""Points along a line."""
SHOWN = (Role.PART, Role.KEEPER, Role.WASTE, Role.PIECE, Role.OFF, Role.STAYS)
"""Boxes that are wood."""

Line = tuple[tuple[Point, ...], bool]


def grain_lines(boxes: Iterable[Box], lines: Iterable[Line]) -> tuple[GrainLine, ...]:
    """Return what each box of wood shows of the grain of its sheet."""
    wood = [box for box in boxes if box.role in SHOWN]
    return tuple(seen for box in wood for seen in grain_in(box.key, box.rect, lines))


def figure(seed: str, sheet: Rect, grain: SheetGrain) -> tuple[Line, ...]:
    """Return the grain of a whole sheet: points of each line, and whether it is heavy."""
    return () if grain is SheetGrain.NONE else tuple(_figure(seed, sheet, grain))


def grain_in(key: str, rect: Rect, lines: Iterable[Line]) -> Iterator[GrainLine]:
    """Yield what a rectangle shows of the lines."""
    for points, heavy in lines:
        for run in _clipped(points, rect):
            yield GrainLine(key=key, points=run, heavy=heavy)


def _figure(seed: str, sheet: Rect, grain: SheetGrain) -> Iterator[Line]:
    along_x = grain is SheetGrain.ALONG_L
    along, across = (sheet.length, sheet.width) if along_x else (sheet.width, sheet.length)
    count = max(8, min(LINES, LINES * across // max(along, 1)))
    phase = _noise(seed, 0) * math.tau
    for index in range(count):
        base = (index + 0.15 + 0.7 * _noise(seed, index + 1)) * across / count
        heavy = _noise(seed, 1000 + index) > 0.8
        start, end = _ends(seed, index, along)
        points = tuple(
            (x, _drift(base, x / along, phase, across)) for x in _stations(start, end, along)
        )
        yield (points if along_x else tuple((y, x) for x, y in points)), heavy


def _ends(seed: str, index: int, along: int) -> tuple[int, int]:
    """Two lines in five are short, as growth rings run out in a veneer."""
    if _noise(seed, 2000 + index) < 0.6:
        return 0, along
    start = round(_noise(seed, 3000 + index) * 0.7 * along)
    reach = round((0.15 + 0.4 * _noise(seed, 4000 + index)) * along)
    return start, min(along, start + reach)


def _stations(start: int, end: int, along: int) -> Iterator[int]:
    step = max(1, along // STATIONS)
    yield start
    yield from range((start // step + 1) * step, end, step)
    yield end


def _drift(base: float, part: float, phase: float, across: int) -> int:
    """Bend a line as its neighbours bend, so that no two ever cross."""
    place = base / across
    bend = math.sin(phase + 5.1 * part + 3.0 * place) + 0.5 * math.sin(2.3 * phase + 11 * part)
    return round(base + 0.006 * across * bend)


def _noise(seed: str, index: int) -> float:
    """Return a number from 0 to 1 that is always the same."""
    return (crc32(f"{seed}/{index}".encode()) & 0xFFFF) / 0xFFFF


def _clipped(points: tuple[Point, ...], rect: Rect) -> Iterator[tuple[Point, ...]]:
    run: list[Point] = []
    for start, end in pairwise(points):
        inside = _segment(start, end, rect)
        if inside is None:
            continue
        if run and run[-1] != inside[0]:
            yield tuple(run)
            run = []
        run = run or [inside[0]]
        run.append(inside[1])
    if run:
        yield tuple(run)


def _segment(start: Point, end: Point, rect: Rect) -> tuple[Point, Point] | None:
    """Clip a straight line to a rectangle (the parametric method of Liang and Barsky, 1984)."""
    low, high = 0.0, 1.0
    dx, dy = end[0] - start[0], end[1] - start[1]
    for run, to_low, to_high in (
        (dx, rect.x - start[0], rect.right - start[0]),
        (dy, rect.y - start[1], rect.bottom - start[1]),
    ):
        if run == 0:
            if to_low >= 0 or to_high <= 0:
                return None
            continue
        enter, leave = sorted((to_low / run, to_high / run))
        low, high = max(low, enter), min(high, leave)
    if low >= high:
        return None
    return _along(start, dx, dy, low), _along(start, dx, dy, high)


def _along(start: Point, dx: int, dy: int, part: float) -> Point:
    return start[0] + round(dx * part), start[1] + round(dy * part)

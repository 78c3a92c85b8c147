"""Stage C: of equal plans, that with the best remainder.

What counts is the largest single fall worth keeping. The search looks at the squares of
the largest fall of each sheet instead: their sum changes with every move, and grows when
two falls become one.
"""

from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Ints
from solver.search.kernel.sheets import (
    COUNT,
    FILLED,
    ROOM_LENGTH,
    ROOM_WIDTH,
    STRIPS,
    TAKEN,
    WIDTH,
    Search,
)


@compiled
def remainder(search: Search, laid: Ints, place: int, sheet: int) -> float:
    """Return the square of the share of a sheet that its largest fall worth keeping is.

    The contents stand at ``place`` of the arrays, the figures of the sheet in row ``sheet``
    of the rooms.
    """
    length, width = search.rooms[sheet, ROOM_LENGTH], search.rooms[sheet, ROOM_WIDTH]
    best = _kept(search, length, width - laid[place, FILLED, COUNT])
    for strip in range(laid[place, STRIPS, COUNT]):
        left = length - laid[place, strip, TAKEN]
        best = max(best, _kept(search, left, laid[place, strip, WIDTH]))
    part = best / float(length * width)
    return part * part


@compiled
def _kept(search: Search, one: int, other: int) -> float:
    """Return the area of a fall of two sides, a kerf included in each; 0 if it is not kept."""
    long = max(one, other) - search.kerf
    short = min(one, other) - search.kerf
    if short <= 0 or long < search.keep_long or short < search.keep_short:
        return 0.0
    return float(long * short)

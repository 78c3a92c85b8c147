"""Which set-ups are in use, how often, and what the cuts of one sheet add to them.

A set-up is a level and the size sawn off; its key is ``4 * size + level - 1``. Keys live
in an open-addressed table whose length is a power of two.
"""

from typing import NamedTuple

import numpy as np

from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Ints
from solver.search.kernel.sheets import (
    BLOCK,
    BLOCKS,
    CODE,
    COUNT,
    CROSSWISE,
    EXACT_LENGTH,
    EXACT_WIDTH,
    FILLED,
    HEAVIEST,
    ITEMS,
    LENGTH,
    ROOM_LENGTH,
    ROOM_WIDTH,
    SHEET_TRIM,
    STACKED,
    STRIP,
    STRIP_TRIM,
    STRIPS,
    TAKEN,
    WIDTH,
    Search,
    extents,
)

RIPS, CROSSCUTS, BLOCK_RIPS, LAST_TRIMS = 0, 1, 2, 3
_TABLE = 1 << 14
_EXACT, _ENDS_IN_CUT = -2, -1
_ANYTHING = 1 << 60
"""More than any size."""
_UNGUIDED_CUT = (1 << 32) + 1


class Setups(NamedTuple):
    """Keys, how many cuts use each, number of distinct ones in use and of keys held."""

    keys: Ints
    uses: Ints
    totals: Ints


def no_setups() -> Setups:
    """Return an empty table."""
    return Setups(
        np.full(_TABLE, -1, np.int64),
        np.zeros(_TABLE, np.int64),
        np.zeros(2, np.int64),
    )


@compiled
def forget(setups: Setups) -> None:
    """Empty the table."""
    setups.keys[:] = -1
    setups.uses[:] = 0
    setups.totals[:] = 0


@compiled
def slot_of(setups: Setups, key: int) -> int:
    """Return the row of a key, or the empty row where it belongs."""
    mask = setups.keys.shape[0] - 1
    row = (key * 2654435761) & mask
    while setups.keys[row] != -1 and setups.keys[row] != key:
        row = (row + 1) & mask
    return int(row)


@compiled
def uses(setups: Setups, key: int) -> int:
    """Return how many cuts use a set-up."""
    return int(setups.uses[slot_of(setups, key)])


@compiled
def _count(setups: Setups, key: int, by: int) -> None:
    row = slot_of(setups, key)
    if setups.keys[row] == -1:
        setups.keys[row] = key
        setups.totals[1] += 1
    before = setups.uses[row]
    setups.uses[row] = before + by
    if before == 0:
        setups.totals[0] += 1
    elif before + by == 0:
        setups.totals[0] -= 1


@compiled
def crowded(setups: Setups) -> bool:
    """Say whether so many keys are held that the table should be emptied and filled anew."""
    return bool(setups.totals[1] * 2 > setups.keys.shape[0])


@compiled
def charge(search: Search, laid: Ints, place: int, sheet: int, setups: Setups, by: int) -> int:
    """Count the cuts of a sheet, and their set-ups into (1) or out of (-1) the table.

    The contents stand at ``place`` of the arrays, the figures of the sheet in row ``sheet``
    of the rooms. In an exact run the largest piece, of those the guide cannot be set to if
    there are any, is left for the end and needs no cut.
    Returns cuts plus 65536 times skim cuts plus 2**32 times cuts the guide cannot be set to.
    """
    if laid[place, STRIPS, COUNT] == 0:
        return 0
    cuts = search.rooms[sheet, SHEET_TRIM]
    cuts += search.rooms[sheet, STRIP_TRIM] * laid[place, STRIPS, COUNT]
    cuts += _charge_rips(search, laid, place, sheet, setups, by)
    for strip in range(laid[place, STRIPS, COUNT]):
        cuts += _charge_crosscuts(search, laid, place, sheet, strip, setups, by)
    return int(cuts + _charge_blocks(search, laid, place, sheet, setups, by))


@compiled
def _skim(left: int, kerf: int) -> int:
    return 65536 if 0 < left <= kerf else 0


@compiled
def _reach_of_guide(search: Search, sheet: int, level: int) -> tuple[int, int]:
    """Return what the guide can be set to at a level; anything where it is not used.

    (Loops ask once and compare numbers: a call that takes all that is searched is dear.)
    """
    if search.guide_most < 0 or (level & 1) != search.rooms[sheet, CROSSWISE]:
        return -1, _ANYTHING
    return search.guide_least, search.guide_most


@compiled
def _charge_rips(
    search: Search, laid: Ints, place: int, sheet: int, setups: Setups, by: int
) -> int:
    left = search.rooms[sheet, ROOM_WIDTH] - laid[place, FILLED, COUNT]
    low, high = _reach_of_guide(search, sheet, RIPS)
    cuts, last, most = 0, -1, -1
    strips = laid[place, STRIPS, COUNT]
    if search.rooms[sheet, EXACT_WIDTH]:
        cuts = _skim(left, search.kerf)
        if left == 0:
            for strip in range(strips):
                width = laid[place, strip, WIDTH]
                rank = width if low <= width <= high else width + _ANYTHING
                if rank > most:
                    last, most = strip, rank
    for strip in range(strips):
        if strip != last:
            width = laid[place, strip, WIDTH]
            _count(setups, 4 * width + RIPS, by)
            cuts += 1 if low <= width <= high else _UNGUIDED_CUT
    return cuts


@compiled
def _charge_crosscuts(
    search: Search, laid: Ints, place: int, sheet: int, strip: int, setups: Setups, by: int
) -> int:
    left = search.rooms[sheet, ROOM_LENGTH] - laid[place, strip, TAKEN]
    low, high = _reach_of_guide(search, sheet, CROSSCUTS)
    cuts, last, most = 0, -1, -1
    blocks = laid[place, BLOCKS, COUNT]
    if search.rooms[sheet, EXACT_LENGTH]:
        cuts = _skim(left, search.kerf)
        if left == 0:
            for block in range(blocks):
                length = laid[place, block, LENGTH]
                rank = length if low <= length <= high else length + _ANYTHING
                if laid[place, block, STRIP] == strip and rank > most:
                    last, most = block, rank
    for block in range(blocks):
        if laid[place, block, STRIP] == strip and block != last:
            length = laid[place, block, LENGTH]
            _count(setups, 4 * length + CROSSCUTS, by)
            cuts += 1 if low <= length <= high else _UNGUIDED_CUT
    return cuts


@compiled
def _charge_blocks(
    search: Search, laid: Ints, place: int, sheet: int, setups: Setups, by: int
) -> int:
    low, high = _reach_of_guide(search, sheet, BLOCK_RIPS)
    least, most = _reach_of_guide(search, sheet, LAST_TRIMS)
    cuts = _find_heaviest(search, laid, place, low, high)
    for row in range(laid[place, ITEMS, COUNT]):
        block = laid[place, row, BLOCK]
        length, width = extents(search, laid[place, row, CODE])
        if search.marks[block, HEAVIEST] != row:
            _count(setups, 4 * width + BLOCK_RIPS, by)
            cuts += 1 if low <= width <= high else _UNGUIDED_CUT
        beside = laid[place, block, LENGTH] - length
        if beside > 0:
            _count(setups, 4 * length + LAST_TRIMS, by)
            cuts += _skim(beside, search.kerf)
            cuts += 1 if least <= length <= most else _UNGUIDED_CUT
    return cuts


@compiled
def _find_heaviest(search: Search, laid: Ints, place: int, low: int, high: int) -> int:
    """Find, for every block filled exactly, the item left for the end; return skims.

    One that is not from ``low`` to ``high`` wide is left rather than one that is.
    """
    skims = 0
    for block in range(laid[place, BLOCKS, COUNT]):
        strip = laid[place, block, STRIP]
        left = laid[place, strip, WIDTH] - laid[place, block, STACKED]
        search.marks[block, HEAVIEST] = _EXACT if left == 0 else _ENDS_IN_CUT
        skims += _skim(left, search.kerf)
    for row in range(laid[place, ITEMS, COUNT]):
        block = laid[place, row, BLOCK]
        chosen = search.marks[block, HEAVIEST]
        if chosen == _EXACT:
            search.marks[block, HEAVIEST] = row
        elif chosen >= 0:
            width = extents(search, laid[place, row, CODE])[1]
            other = extents(search, laid[place, chosen, CODE])[1]
            rank = width if low <= width <= high else width + _ANYTHING
            if rank > (other if low <= other <= high else other + _ANYTHING):
                search.marks[block, HEAVIEST] = row
    return skims

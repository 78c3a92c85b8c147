"""Ruins that aim at a set-up few cuts use, on the sheets that use it."""

from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Ints, below, share
from solver.search.kernel.setups import (
    BLOCK_RIPS,
    CROSSCUTS,
    LAST_TRIMS,
    RIPS,
    Setups,
    uses,
)
from solver.search.kernel.sheets import (
    BLOCK,
    CODE,
    COUNT,
    DEAD,
    HELD,
    ITEMS,
    LENGTH,
    STRIP,
    WIDTH,
    Search,
    extents,
)


@compiled
def rare_setup(search: Search, setups: Setups) -> int:
    """Return the key of the least used of four set-ups drawn at random, or -1."""
    state, laid = search.state, search.laid
    rarest, aim = 1 << 60, -1
    for _ in range(4):
        sheet = below(state, laid.shape[0])
        if laid[sheet, ITEMS, COUNT] == 0:
            continue
        row = below(state, laid[sheet, ITEMS, COUNT])
        block = laid[sheet, row, BLOCK]
        length, width = extents(search, laid[sheet, row, CODE])
        draw = share(state)
        if draw < 0.3:
            key = 4 * laid[sheet, laid[sheet, block, STRIP], WIDTH] + RIPS
        elif draw < 0.65:
            key = 4 * laid[sheet, block, LENGTH] + CROSSCUTS
        elif draw < 0.85:
            key = 4 * width + BLOCK_RIPS
        else:
            key = 4 * length + LAST_TRIMS
        used = uses(setups, key)
        if 0 < used < rarest:
            rarest, aim = used, key
    return aim


@compiled
def users(search: Search, aim: int, chosen: Ints) -> int:
    """Choose up to three sheets with pieces of the set-up's size at its level."""
    sheets = search.laid.shape[0]
    first = below(search.state, sheets)
    count = 0
    for step in range(sheets):
        sheet = (first + step) % sheets
        if count < 3 and aim >= 0 and _uses(search, sheet, aim):
            chosen[count] = sheet
            count += 1
    return count


@compiled
def _uses(search: Search, sheet: int, aim: int) -> bool:
    for row in range(search.laid[sheet, ITEMS, COUNT]):
        if _item_uses(search, sheet, row, aim):
            return True
    return False


@compiled
def _item_uses(search: Search, sheet: int, row: int, aim: int) -> bool:
    """Say whether an item, its block or its strip has the size of a set-up at its level."""
    laid = search.laid
    size, level = aim >> 2, aim & 3
    block = laid[sheet, row, BLOCK]
    strip = laid[sheet, block, STRIP]
    if level == RIPS:
        return bool(laid[sheet, strip, WIDTH] == size)
    if level == CROSSCUTS:
        return bool(laid[sheet, block, LENGTH] == size)
    length, width = extents(search, laid[sheet, row, CODE])
    if level == BLOCK_RIPS:
        stacked = laid[sheet, block, HELD] > 1
        return bool(width == size and (stacked or width < laid[sheet, strip, WIDTH]))
    return bool(length == size and length < laid[sheet, block, LENGTH])


@compiled
def mark_users(search: Search, sheet: int, aim: int) -> None:
    """Mark the blocks of a sheet that use a set-up, -1 for none, to take off."""
    if aim < 0:
        return
    for row in range(search.laid[sheet, ITEMS, COUNT]):
        if _item_uses(search, sheet, row, aim):
            search.marks[search.laid[sheet, row, BLOCK], DEAD] = 1

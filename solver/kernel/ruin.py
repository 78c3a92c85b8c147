"""What a try takes off the sheets, and the order in which it goes back."""

from solver.kernel.chance import Ints, below, share
from solver.kernel.compiled import compiled
from solver.kernel.sheets import (
    BLOCKS,
    FILLED,
    KIND,
    ROOM_WIDTH,
    STRIP,
    STRIPS,
    Pool,
    Search,
    Shape,
    Sheets,
    extents,
)

WHOLE_SHEET = 0.35
"""Share of ruins that empty a sheet."""
WHOLE_STRIPS = 0.45
"""Share of ruins that take each strip with even chances; the rest takes single blocks."""


@compiled
def some_sheets(state: Ints, sheets: int, chosen: Ints, already: int) -> int:
    """Choose one to four sheets, those already chosen included; return how many."""
    draw = below(state, 6)
    wanted = 1 if draw < 1 else 2 if draw < 3 else 3 if draw < 5 else 4
    if already > 0:
        wanted = min(wanted, already + 1)
    wanted = min(wanted, sheets)
    while already < wanted:
        sheet = below(state, sheets)
        fresh = True
        for other in range(already):
            fresh = fresh and chosen[other] != sheet
        if fresh:
            chosen[already] = sheet
            already += 1
    return already


@compiled
def mark(state: Ints, laid: Sheets, sheet: int, dead: Ints) -> None:
    """Mark the blocks of a sheet to take off."""
    blocks = laid.counts[sheet, BLOCKS]
    draw = share(state)
    if draw < WHOLE_SHEET:
        dead[:blocks] = 1
    elif draw < WHOLE_SHEET + WHOLE_STRIPS:
        for strip in range(laid.counts[sheet, STRIPS]):
            gone = share(state) < 0.5
            for block in range(blocks):
                if laid.blocks[sheet, block, STRIP] == strip:
                    dead[block] = gone
    else:
        for block in range(blocks):
            dead[block] = share(state) < 0.2


@compiled
def sort_pool(state: Ints, shape: Shape, pool: Pool, count: int) -> None:
    """Sort the pool, greatest first, by area, width, length or at random, more or less blurred."""
    draw = share(state)
    blur = 0.15 * below(state, 3)
    for place in range(count):
        kind = pool.items[place]
        key = share(state)
        if draw < 0.4:
            key = float(shape.length[kind] * shape.width[kind])
        elif draw < 0.7:
            key = float(shape.width[kind])
        elif draw < 0.9:
            key = float(shape.length[kind])
        pool.keys[place] = key * (1.0 + blur * (2.0 * share(state) - 1.0))
    _insertion_sort(pool, count)


@compiled
def _insertion_sort(pool: Pool, count: int) -> None:
    for place in range(1, count):
        kind, key = pool.items[place], pool.keys[place]
        gap = place
        while gap > 0 and pool.keys[gap - 1] < key:
            pool.keys[gap] = pool.keys[gap - 1]
            pool.items[gap] = pool.items[gap - 1]
            gap -= 1
        pool.keys[gap] = key
        pool.items[gap] = kind


@compiled
def opened_width(search: Search, next_item: int, items: int, item: int, often: float) -> int:
    """Return how wide to open the strip found for an item: as wide as it, or wider.

    A strip that opens as wide as its first item can never hold a stack that is wider. So
    some open over all the room, twice the item, or the item and another of the pool; what
    stays empty is given back by `shrink`.
    """
    shape, state, pool = search.shape, search.state, search.pool
    sheet = pool.found[0]
    width = extents(shape, 2 * item + pool.found[2])[1]
    if shape.levels < 3 or share(state) >= often:
        return width
    room = shape.rooms[sheet, ROOM_WIDTH] - search.laid.counts[sheet, FILLED]
    draw = share(state)
    wide = 2 * width
    if draw < 0.33:
        wide = room
    elif draw >= 0.6 and next_item < items:
        other = pool.items[next_item + below(state, items - next_item)]
        lies = shape.lies[shape.rooms[sheet, KIND], other]
        turned = lies == 2 or (lies == 3 and share(state) < 0.5)
        wide = width + extents(shape, 2 * other + turned)[1]
    return wide if wide <= room else width

"""What a try takes off the sheets, and the order in which it goes back."""

from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Floats, Ints, below, share
from solver.search.kernel.sheets import (
    BLOCKS,
    COUNT,
    DEAD,
    FILLED,
    FIXED,
    FOUND_SHEET,
    FOUND_TURNED,
    KIND,
    ROOM_WIDTH,
    STRIP,
    STRIPS,
    Search,
    extents,
)


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
def mark(search: Search, sheet: int, whole: float, strips: float) -> None:
    """Mark the blocks of a sheet to take off.

    ``whole`` is the share of ruins that empty the sheet, ``strips`` of those that take each
    strip with even chances; the rest takes single blocks.
    """
    state, laid, marks = search.state, search.laid, search.marks
    blocks = laid[sheet, BLOCKS, COUNT]
    draw = share(state)
    if draw < whole:
        for block in range(blocks):
            marks[block, DEAD] = 1
    elif draw < whole + strips:
        for strip in range(laid[sheet, STRIPS, COUNT]):
            gone = share(state) < 0.5
            for block in range(blocks):
                if laid[sheet, block, STRIP] == strip:
                    marks[block, DEAD] = gone
    else:
        for block in range(blocks):
            marks[block, DEAD] = share(state) < 0.2


@compiled
def sort_pool(search: Search, count: int) -> None:
    """Sort the pool, greatest first, by area, width, length or at random, more or less blurred."""
    state, pool, keys = search.state, search.pool, search.keys
    draw = share(state)
    blur = 0.15 * below(state, 3)
    for place in range(count):
        kind = pool[place]
        key = share(state)
        if draw < 0.4:
            key = float(search.types[kind, 0] * search.types[kind, 1])
        elif draw < 0.7:
            key = float(search.types[kind, 1])
        elif draw < 0.9:
            key = float(search.types[kind, 0])
        keys[place] = key * (1.0 + blur * (2.0 * share(state) - 1.0))
    _insertion_sort(pool, keys, count)


@compiled
def _insertion_sort(pool: Ints, keys: Floats, count: int) -> None:
    for place in range(1, count):
        kind, key = pool[place], keys[place]
        gap = place
        while gap > 0 and keys[gap - 1] < key:
            keys[gap] = keys[gap - 1]
            pool[gap] = pool[gap - 1]
            gap -= 1
        keys[gap] = key
        pool[gap] = kind


@compiled
def opened_width(search: Search, next_item: int, items: int, item: int, often: float) -> int:
    """Return how wide to open the strip found for an item: as wide as it, or wider.

    A strip that opens as wide as its first item can never hold a stack that is wider. So
    some open over all the room, twice the item, or the item and another of the pool; what
    stays empty is given back by `shrink`.
    """
    state, pool = search.state, search.pool
    sheet = state[FOUND_SHEET]
    if search.rooms[sheet, FIXED]:
        return int(search.rooms[sheet, ROOM_WIDTH])
    width = extents(search, 2 * item + state[FOUND_TURNED])[1]
    if search.levels < 3 or share(state) >= often:
        return width
    room = search.rooms[sheet, ROOM_WIDTH] - search.laid[sheet, FILLED, COUNT]
    room = min(room, max(width, search.reach))
    draw = share(state)
    wide = 2 * width
    if draw < 0.33:
        wide = room
    elif draw >= 0.6 and next_item < items:
        other = pool[next_item + below(state, items - next_item)]
        lies = search.lies[search.rooms[sheet, KIND], other]
        turned = lies == 2 or (lies == 3 and share(state) < 0.5)
        wide = width + extents(search, 2 * other + turned)[1]
    return wide if wide <= room else width

"""Stage A: all items onto a fixed fleet of sheets, by ruin and recreate.

Value of a state: area of the items on no sheet, less a small bonus for sheets that are
empty, in sheets. A try empties parts of one to four sheets and lays what came off, and
what was off before, back by best fit; worse states are accepted within a threshold that
falls to nothing (Schrimpf, Schneider, Stamm-Wilbrandt, Dueck, "Record breaking
optimization results using the ruin and recreate principle", J. Comput. Phys. 159, 2000).

An item weighs more the longer it is off: else an awkward small one stays off for ever, as
every way to lay it takes a larger one off for a while.
"""

import numpy as np

from solver.material.instance import RunLimits
from solver.search.kernel.compiled import compiled
from solver.search.kernel.limits import (
    bind,
    keeps_beside,
    keeps_in_block,
    take_broken_off,
)
from solver.search.kernel.rng import Floats, Ints, below, share
from solver.search.kernel.ruin import mark, opened_width, some_sheets, sort_pool
from solver.search.kernel.sheets import (
    AREA,
    BLOCKS,
    COUNT,
    FILLED,
    IN_BLOCK,
    IN_STRIP,
    LENGTH,
    NEW_STRIP,
    ROOM_LENGTH,
    ROOM_WIDTH,
    STACKED,
    STRIP,
    STRIPS,
    TAKEN,
    WIDTH,
    Lie,
    Search,
    add,
    copy_all,
    copy_sheet,
    lie,
    note,
    shrink,
    take_off,
)

BLINK = 0.02
"""Share of places that are overlooked, so that best fit does not repeat itself."""
OPEN_WIDE = 0.3
"""Share of strips that open wider than their first item."""
WHOLE_SHEET, WHOLE_STRIPS = 0.35, 0.45
"""Shares of ruins that empty a sheet, and that take strips."""
EMPTINESS = 0.05
"""Weight of the squared free share of a sheet."""
IMPATIENCE = 2e-5
"""Share of its area that an item off gains in weight with each try."""
_NEVER = 1e300


@compiled
def squeeze(search: Search, off: Ints, best_off: Ints, tries: int, heat: Floats) -> int:
    """Make so many tries, fewer if every item finds a place; return how many were made.

    Parameters
    ----------
    search
        Its ``best`` is the state with the least area left over.
    off, best_off
        Count and types of the items on no sheet, now and in the best state.
    tries
        How many.
    heat
        Threshold in sheets at the first try, at the last, and least area left over so far.
    """
    chosen = np.zeros(4, np.int64)
    for attempt in range(tries):
        limit = heat[0] + (heat[1] - heat[0]) * attempt / tries
        _try(search, off, chosen, limit)
        _grow(search, off)
        left = _area(search, off[1:], off[0])
        if left < heat[2]:
            heat[2] = left
            copy_all(search.laid, search.best)
            best_off[: off[0] + 1] = off[: off[0] + 1]
            if off[0] == 0:
                return attempt + 1
    return tries


@compiled
def _area(search: Search, items: Ints, count: int) -> float:
    area = 0.0
    for row in range(count):
        area += search.types[items[row], 0] * search.types[items[row], 1]
    return area


@compiled
def _load(search: Search, items: Ints, count: int) -> float:
    load = 0.0
    for row in range(count):
        load += search.load[items[row]]
    return load


@compiled
def _grow(search: Search, off: Ints) -> None:
    """Let what is off weigh more."""
    for row in range(1, off[0] + 1):
        item = off[row]
        search.load[item] += IMPATIENCE * search.types[item, 0] * search.types[item, 1]


@compiled
def _try(search: Search, off: Ints, chosen: Ints, limit: float) -> None:
    state, laid, pool = search.state, search.laid, search.pool
    count = some_sheets(state, laid.shape[0], chosen, 0)
    unit = float(search.rooms[0, ROOM_LENGTH] * search.rooms[0, ROOM_WIDTH])
    before = _load(search, off[1:], off[0]) / unit - _emptiness(search, chosen, count)
    pooled = 0
    for place in range(count):
        sheet = chosen[place]
        copy_sheet(laid, sheet, search.spare, place)
        mark(search, sheet, WHOLE_SHEET, WHOLE_STRIPS)
        pooled = take_off(search, sheet, pooled)
    for row in range(1, off[0] + 1):
        pool[pooled] = off[row]
        pooled += 1
    sort_pool(search, pooled)
    left = _lay(search, pooled, chosen, count)
    for place in range(count):
        shrink(search, chosen[place])
        if bind(search.limits):
            left = take_broken_off(search, chosen[place], left)
    after = _load(search, pool, left) / unit - _emptiness(search, chosen, count)
    draw = share(state)
    if after <= before + limit * draw * draw + 1e-12:
        off[0] = left
        off[1 : left + 1] = pool[:left]
    else:
        for place in range(count):
            copy_sheet(search.spare, place, laid, chosen[place])


@compiled
def _emptiness(search: Search, chosen: Ints, count: int) -> float:
    total = 0.0
    for place in range(count):
        sheet = chosen[place]
        room = float(search.rooms[sheet, ROOM_LENGTH] * search.rooms[sheet, ROOM_WIDTH])
        free = 1.0 - search.laid[sheet, AREA, COUNT] / room
        total += EMPTINESS * free * free
    return total


@compiled
def _lay(search: Search, pooled: int, chosen: Ints, count: int) -> int:
    """Lay the pool on the chosen sheets; what fits nowhere moves to its front, counted."""
    pool = search.pool
    tolerance = (0.02, 0.1, 0.3, 1.0, 3.0)[below(search.state, 5)]
    left = 0
    limited = bind(search.limits)
    for row in range(pooled):
        item = pool[row]
        if limited:
            found = _find_place(search, item, chosen, count, tolerance, search.limits)
        else:
            found = _find_place(search, item, chosen, count, tolerance, None)
        if found:
            opened = opened_width(search, row + 1, pooled, item, OPEN_WIDE)
            add(search, item, opened)
        else:
            pool[left] = item
            left += 1
    return left


@compiled
def _find_place(
    search: Search,
    item: int,
    chosen: Ints,
    count: int,
    tolerance: float,
    limits: RunLimits | None,
) -> bool:
    """Find where an item wastes least; a new strip before a place that wastes too much.

    Waste is what the item makes unusable for its own size: beside it in its block, or
    above it in its strip, as a share of its area. Without ``limits`` all is possible; it is
    compiled once for each, as asking costs time in the innermost loops.
    """
    best = _NEVER
    for nth in range(count):
        for turned in range(2):
            lying = lie(search, item, chosen[nth], turned)
            if lying.length > 0:
                if search.levels > 2:
                    best = _in_blocks(search, lying, tolerance, best, limits)
                best = _in_strips(search, lying, tolerance, best, limits)
                best = _in_new_strip(search, lying, best)
    return best < _NEVER


@compiled
def _in_blocks(
    search: Search, lying: Lie, tolerance: float, best: float, limits: RunLimits | None
) -> float:
    laid, sheet = search.laid, lying.sheet
    for block in range(laid[sheet, BLOCKS, COUNT]):
        beside = laid[sheet, block, LENGTH] - lying.length
        if beside < 0:
            continue
        strip = laid[sheet, block, STRIP]
        across = laid[sheet, strip, WIDTH] - laid[sheet, block, STACKED]
        rest = across - lying.width
        if rest >= 0 and share(search.state) >= BLINK:
            if limits is not None:
                if not keeps_beside(limits, lying.length, beside, lying.width):
                    continue
                if not keeps_in_block(search, limits, lying, block, rest):
                    continue
            waste = float(beside) / lying.length
            score = waste + 1e-3 * rest / lying.room_width
            if waste > tolerance:
                score += 1000.0
            if score < best:
                best = score
                note(search, lying, IN_BLOCK, block)
    return best


@compiled
def _in_strips(
    search: Search, lying: Lie, tolerance: float, best: float, limits: RunLimits | None
) -> float:
    laid, sheet = search.laid, lying.sheet
    for strip in range(laid[sheet, STRIPS, COUNT]):
        above = laid[sheet, strip, WIDTH] - lying.width
        rest = lying.room_length - laid[sheet, strip, TAKEN] - lying.length
        if above >= 0 and rest >= 0 and share(search.state) >= BLINK:
            if limits is not None and not keeps_beside(limits, lying.width, above, lying.length):
                continue
            waste = float(above) / lying.width
            score = waste + 1e-3 * rest / lying.room_length + 0.01
            if waste > tolerance:
                score += 990.0
            if score < best:
                best = score
                note(search, lying, IN_STRIP, strip)
    return best


@compiled
def _in_new_strip(search: Search, lying: Lie, best: float) -> float:
    rest = lying.room_width - search.laid[lying.sheet, FILLED, COUNT] - lying.width
    if rest >= 0 and share(search.state) >= BLINK:
        score = 100.0 + float(rest) / lying.room_width
        if score < best:
            best = score
            note(search, lying, NEW_STRIP, 0)
    return best

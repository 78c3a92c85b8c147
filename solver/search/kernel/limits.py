"""The shop's limits in the compiled search: what may be laid where, and what breaks one.

The same rules as `solver.limits.cut_run`, written out for the arrays; tests hold them against it.
Reach is kept by what may open a strip, and how wide; carry and hold are looked at where an
item is laid, as far as can be told then, and for whole sheets at the end of a try.
"""

from solver.material.instance import RunLimits
from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Ints
from solver.search.kernel.sheets import (
    BESIDE,
    BEYOND_LENGTH,
    BEYOND_WIDTH,
    BLOCK,
    BLOCKS,
    CODE,
    COUNT,
    DEAD,
    EXACT_LENGTH,
    EXACT_WIDTH,
    FILLED,
    ITEMS,
    LENGTH,
    OTHER_MARKS,
    ROOM_LENGTH,
    ROOM_WIDTH,
    SHEET_TRIM,
    STACKED,
    STRIP,
    STRIP_TRIM,
    STRIPS,
    TAKEN,
    WHOLE,
    WIDTH,
    Lie,
    Search,
    extents,
    take_off,
)

WIDEST, NEXT_WIDEST, LONGEST, NEXT_LONGEST, MARKS = range(OTHER_MARKS, OTHER_MARKS + 5)
"""Columns of `Search.marks` for what limits ask of a block or strip; then how many there are."""


@compiled
def bind(limits: RunLimits) -> bool:
    """Say whether any of them can forbid a run."""
    return bool(limits.carry > 0 or limits.hold > 0)


@compiled
def _keeps(
    limits: RunLimits, widest: int, second: int, fall: int, across: int, first: bool
) -> bool:
    """Say whether a run can be sawn, whose two largest pieces and fall these are.

    With a fall of 0 it is taken to end exactly. ``first`` says that its last cut is its only
    one.
    """
    if widest < limits.carry and fall < limits.carry:
        if fall <= 0 or limits.fence <= 0 or widest < limits.fence:
            return False
        if not first and widest + fall < limits.carry:
            return False
    held = widest + fall if fall > 0 else widest + second
    return bool(across >= limits.hold or held >= limits.hold)


@compiled
def keeps_beside(limits: RunLimits, size: int, beside: int, across: int) -> bool:
    """Say whether one piece can be sawn off what is larger by that much, if by anything."""
    return bool(beside == 0 or _keeps(limits, size, 0, beside, across, True))


@compiled
def keeps_in_block(search: Search, limits: RunLimits, lying: Lie, block: int, rest: int) -> bool:
    """Say whether an item can be ripped off a block that it leaves so much of."""
    laid, sheet, width = search.laid, lying.sheet, lying.width
    length = laid[sheet, block, LENGTH]
    if (width >= limits.carry or rest >= limits.carry) and length >= limits.hold:
        return True
    widest, second = width, 0
    for row in range(laid[sheet, ITEMS, COUNT]):
        if laid[sheet, row, BLOCK] == block:
            width = extents(search, laid[sheet, row, CODE])[1]
            if width > widest:
                widest, second = width, widest
            elif width > second:
                second = width
    return bool(_keeps(limits, widest, second, rest, length, second == 0))


@compiled
def take_broken_off(search: Search, sheet: int, pooled: int) -> int:
    """Take off a sheet whatever breaks a limit; return how many items are in the pool then."""
    while mark_broken(search, sheet) > 0:
        pooled = take_off(search, sheet, pooled)
    return pooled


@compiled
def any_broken(search: Search, chosen: Ints, count: int) -> bool:
    """Say whether a limit is broken on one of the chosen sheets."""
    found = 0
    for nth in range(count):
        found += mark_broken(search, chosen[nth])
    return found > 0


@compiled
def mark_broken(search: Search, sheet: int) -> int:
    """Mark the blocks to take off so that the limits are kept; return how many."""
    laid, marks = search.laid, search.marks
    blocks = laid[sheet, BLOCKS, COUNT]
    for block in range(blocks):
        marks[block, DEAD] = 0
    _mark_blocks(search, sheet)
    _mark_strips(search, sheet)
    _mark_sheet(search, sheet)
    count = 0
    for block in range(blocks):
        count += marks[block, DEAD]
    return int(count)


@compiled
def _enter(marks: Ints, row: int, column: int, size: int) -> None:
    """Note a size among the two largest of a row, in two columns."""
    if size > marks[row, column]:
        marks[row, column + 1] = marks[row, column]
        marks[row, column] = size
    elif size > marks[row, column + 1]:
        marks[row, column + 1] = size


@compiled
def _mark_blocks(search: Search, sheet: int) -> None:
    """Mark blocks that cannot be ripped, or whose items cannot be trimmed."""
    laid, marks, limits = search.laid, search.marks, search.limits
    blocks = laid[sheet, BLOCKS, COUNT]
    for block in range(blocks):
        marks[block, WIDEST] = marks[block, NEXT_WIDEST] = 0
    for row in range(laid[sheet, ITEMS, COUNT]):
        block = laid[sheet, row, BLOCK]
        length, width = extents(search, laid[sheet, row, CODE])
        _enter(marks, block, WIDEST, width)
        beside = laid[sheet, block, LENGTH] - length
        if beside > 0 and not _keeps(limits, length, 0, beside, width, True):
            marks[block, DEAD] = 1
    for block in range(blocks):
        left = laid[sheet, laid[sheet, block, STRIP], WIDTH] - laid[sheet, block, STACKED]
        widest, second = marks[block, WIDEST], marks[block, NEXT_WIDEST]
        alone, across = second == 0, laid[sheet, block, LENGTH]
        whole = left == 0 and alone
        if not whole and not _keeps(limits, widest, second, left, across, alone):
            marks[block, DEAD] = 1


@compiled
def _limits_in(search: Search, sheet: int) -> RunLimits:
    """Return the limits of first and second cuts: none at the table saw beside what is held."""
    carry, hold, fence = search.limits
    return RunLimits(carry, hold, 0 if search.rooms[sheet, BESIDE] else fence)


@compiled
def _mark_strips(search: Search, sheet: int) -> None:
    """Mark all blocks of strips that cannot be crosscut."""
    laid, marks, limits = search.laid, search.marks, _limits_in(search, sheet)
    strips, blocks = laid[sheet, STRIPS, COUNT], laid[sheet, BLOCKS, COUNT]
    for strip in range(strips):
        marks[strip, LONGEST] = marks[strip, NEXT_LONGEST] = 0
    for block in range(blocks):
        _enter(marks, laid[sheet, block, STRIP], LONGEST, laid[sheet, block, LENGTH])
    trimmed = search.rooms[sheet, STRIP_TRIM]
    exact = search.rooms[sheet, EXACT_LENGTH]
    for strip in range(strips):
        longest, second = marks[strip, LONGEST], marks[strip, NEXT_LONGEST]
        fall = search.rooms[sheet, ROOM_LENGTH] - laid[sheet, strip, TAKEN]
        fall += search.rooms[sheet, BEYOND_LENGTH]
        first = second == 0 and not trimmed
        whole = exact and fall == 0 and first
        second, across = second if exact else 0, laid[sheet, strip, WIDTH]
        if not whole and not _keeps(limits, longest, second, fall, across, first):
            for block in range(blocks):
                if laid[sheet, block, STRIP] == strip:
                    marks[block, DEAD] = 1


@compiled
def _mark_sheet(search: Search, sheet: int) -> None:
    """Mark all blocks of the narrowest strip of a sheet that cannot be ripped."""
    laid, rooms, limits = search.laid, search.rooms, _limits_in(search, sheet)
    widest, second, narrowest = 0, 0, 0
    strips = laid[sheet, STRIPS, COUNT]
    for strip in range(strips):
        width = laid[sheet, strip, WIDTH]
        if width > widest:
            widest, second = width, widest
        elif width > second:
            second = width
        if width < laid[sheet, narrowest, WIDTH]:
            narrowest = strip
    fall = rooms[sheet, ROOM_WIDTH] - laid[sheet, FILLED, COUNT] + rooms[sheet, BEYOND_WIDTH]
    exact = rooms[sheet, EXACT_WIDTH]
    first = second == 0 and not rooms[sheet, SHEET_TRIM]
    whole = exact and fall == 0 and first
    second, across = second if exact else 0, rooms[sheet, WHOLE]
    if strips > 0 and not whole and not _keeps(limits, widest, second, fall, across, first):
        for block in range(laid[sheet, BLOCKS, COUNT]):
            if laid[sheet, block, STRIP] == narrowest:
                search.marks[block, DEAD] = 1

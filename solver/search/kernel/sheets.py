"""Sheets as arrays: what lies on them, copying, adding, removing.

All that lies on some sheets is one array, indexed by sheet, row and column. A sheet has
strips, a strip has blocks, a block has items; each has a row of columns of its own, and
names its parent's row. Rows stand in any order and without gaps. An item's code is
``2 * type + turned``. (Few arrays, because every array a compiled function takes adds to
the time to compile it.)
"""

from typing import NamedTuple

import numpy as np

from solver.material.instance import RunLimits
from solver.search.kernel.compiled import compiled
from solver.search.kernel.rng import Floats, Ints

WIDTH, TAKEN = 0, 1
"""Columns of strips: width, length taken by blocks."""
STRIP, LENGTH, STACKED, HELD = 2, 3, 4, 5
"""Columns of blocks: strip, length, width taken by items, number of items."""
BLOCK, CODE = 6, 7
"""Columns of items."""
COUNT = 8
"""Column of the sheet's own figures, one a row:"""
STRIPS, BLOCKS, ITEMS, FILLED, AREA = range(5)
ROOM_LENGTH, ROOM_WIDTH, EXACT_LENGTH, EXACT_WIDTH, STRIP_TRIM, SHEET_TRIM, FIXED = range(7)
BEYOND_LENGTH, BEYOND_WIDTH, WHOLE, CROSSWISE, KIND, BESIDE = range(7, 13)
"""Columns of `Search.rooms`; crosswise is 1 where the first level is crosscut, beside
where the room is beside what is held."""
DEAD, STRIP_ROW, BLOCK_ROW, HEAVIEST, OTHER_MARKS = range(5)
"""Columns of `Search.marks`; what others note begins at the last."""
NO_REACH = 1 << 60
"""Reach of a shop whose rails are of any length."""
FOUND_SHEET, FOUND_ROW, FOUND_TURNED, FOUND_PLACE = 1, 2, 3, 4
"""Entries of `Search.state` behind the random number."""
IN_BLOCK, IN_STRIP, NEW_STRIP = 0, 1, 2
"""What an item may be added to."""


class Search(NamedTuple):
    """All that a search works on.

    Attributes
    ----------
    state
        Random number, and the place found for an item.
    types
        Length and width by item type.
    lies
        By kind and type: 1 as it is, 2 turned, 3 both.
    rooms
        Figures of each sheet of the fleet.
    laid, best
        What lies on the sheets, now and in the best state met.
    spare
        Room for eight sheets: the chosen ones as they were, and as ruined.
    pool, keys
        Types of the items off the sheets, and what to sort them by.
    marks
        By row: block to take off, new rows of strips and blocks, item left for the end.
    load
        By type: how much it weighs to leave an item off; its area at first.
    kerf, levels
        As in `solver.material.instance.Instance`.
    keep_long, keep_short
        Least sides of a remainder worth keeping.
    reach, limits
        Limits of the shop as in `solver.material.instance.ShopLimits`; `NO_REACH` for none.
    guide_least, guide_most
        What the guide can be set to; -1 for anything.
    """

    state: Ints
    types: Ints
    lies: Ints
    rooms: Ints
    laid: Ints
    spare: Ints
    best: Ints
    pool: Ints
    keys: Floats
    marks: Ints
    load: Floats
    kerf: int
    levels: int
    keep_long: int
    keep_short: int
    reach: int
    limits: RunLimits
    guide_least: int
    guide_most: int


class Lie(NamedTuple):
    """An item lying one way on one sheet, while places for it are compared."""

    sheet: int
    turned: int
    length: int
    width: int
    room_length: int
    room_width: int


def empty_sheets(sheets: int, items: int) -> Ints:
    """Return empty sheets with room for so many items on each."""
    return np.zeros((sheets, max(items, COUNT), COUNT + 1), np.int64)


@compiled
def copy_sheet(source: Ints, sheet: int, target: Ints, place: int) -> None:
    """Copy one sheet into a place of others."""
    for row in range(AREA + 1):
        target[place, row, COUNT] = source[sheet, row, COUNT]
    rows = max(source[sheet, ITEMS, COUNT], source[sheet, BLOCKS, COUNT])
    for row in range(rows):
        for column in range(COUNT):
            target[place, row, column] = source[sheet, row, column]


@compiled
def copy_all(source: Ints, target: Ints) -> None:
    """Copy every sheet."""
    for sheet in range(source.shape[0]):
        copy_sheet(source, sheet, target, sheet)


@compiled
def extents(search: Search, code: int) -> tuple[int, int]:
    """Return the extent along and across the strip of an item as it lies."""
    kind = code >> 1
    if code & 1:
        return search.types[kind, 1], search.types[kind, 0]
    return search.types[kind, 0], search.types[kind, 1]


@compiled
def lie(search: Search, item: int, sheet: int, turned: int) -> Lie:
    """Return an item as it would lie on a sheet; of length 0 if it may not or cannot."""
    length, width = extents(search, 2 * item + turned)
    room_length = search.rooms[sheet, ROOM_LENGTH]
    room_width = search.rooms[sheet, ROOM_WIDTH]
    allowed = (search.lies[search.rooms[sheet, KIND], item] >> turned) & 1
    if not allowed or length > room_length or width > room_width:
        length = 0
    return Lie(sheet, turned, length, width, room_length, room_width)


@compiled
def note(search: Search, lying: Lie, place: int, row: int) -> None:
    """Remember a place for an item."""
    search.state[FOUND_SHEET] = lying.sheet
    search.state[FOUND_ROW] = row
    search.state[FOUND_TURNED] = lying.turned
    search.state[FOUND_PLACE] = place


@compiled
def shrink(search: Search, sheet: int) -> None:
    """Make every strip as wide as its fullest block, unless it is ripped already."""
    laid = search.laid
    if search.rooms[sheet, FIXED]:
        laid[sheet, FILLED, COUNT] = search.rooms[sheet, ROOM_WIDTH] * laid[sheet, STRIPS, COUNT]
        return
    strips = laid[sheet, STRIPS, COUNT]
    for strip in range(strips):
        laid[sheet, strip, WIDTH] = 0
    for block in range(laid[sheet, BLOCKS, COUNT]):
        strip = laid[sheet, block, STRIP]
        stacked = laid[sheet, block, STACKED]
        laid[sheet, strip, WIDTH] = max(laid[sheet, strip, WIDTH], stacked)
    filled = 0
    for strip in range(strips):
        filled += laid[sheet, strip, WIDTH]
    laid[sheet, FILLED, COUNT] = filled


@compiled
def add(search: Search, item: int, opened: int) -> None:
    """Put an item where it was found to fit; a new strip is opened that wide."""
    state, laid = search.state, search.laid
    sheet, row, place = state[FOUND_SHEET], state[FOUND_ROW], state[FOUND_PLACE]
    code = 2 * item + state[FOUND_TURNED]
    length, width = extents(search, code)
    if place == NEW_STRIP:
        row = laid[sheet, STRIPS, COUNT]
        laid[sheet, STRIPS, COUNT] = row + 1
        laid[sheet, FILLED, COUNT] += opened
        laid[sheet, row, WIDTH] = opened
        laid[sheet, row, TAKEN] = 0
    if place != IN_BLOCK:
        laid[sheet, row, TAKEN] += length
        row = _new_block(laid, sheet, row, length)
    laid[sheet, row, STACKED] += width
    laid[sheet, row, HELD] += 1
    last = laid[sheet, ITEMS, COUNT]
    laid[sheet, ITEMS, COUNT] = last + 1
    laid[sheet, AREA, COUNT] += length * width
    laid[sheet, last, BLOCK] = row
    laid[sheet, last, CODE] = code


@compiled
def _new_block(laid: Ints, sheet: int, strip: int, length: int) -> int:
    block = laid[sheet, BLOCKS, COUNT]
    laid[sheet, BLOCKS, COUNT] = block + 1
    laid[sheet, block, STRIP] = strip
    laid[sheet, block, LENGTH] = length
    laid[sheet, block, STACKED] = 0
    laid[sheet, block, HELD] = 0
    return int(block)


@compiled
def take_off(search: Search, sheet: int, pooled: int) -> int:
    """Take the blocks marked dead off a sheet; return how many items are in the pool now."""
    laid = search.laid
    _renumber(search, sheet)
    kept = 0
    for row in range(laid[sheet, ITEMS, COUNT]):
        block = laid[sheet, row, BLOCK]
        code = laid[sheet, row, CODE]
        if search.marks[block, DEAD]:
            kind = code >> 1
            search.pool[pooled] = kind
            pooled += 1
            laid[sheet, AREA, COUNT] -= search.types[kind, 0] * search.types[kind, 1]
        else:
            laid[sheet, kept, BLOCK] = search.marks[block, BLOCK_ROW]
            laid[sheet, kept, CODE] = code
            kept += 1
    laid[sheet, ITEMS, COUNT] = kept
    shrink(search, sheet)
    return pooled


@compiled
def _renumber(search: Search, sheet: int) -> None:
    """Close the gaps that dead blocks leave among strips and blocks."""
    laid, marks = search.laid, search.marks
    strips, blocks = laid[sheet, STRIPS, COUNT], laid[sheet, BLOCKS, COUNT]
    for strip in range(strips):
        marks[strip, STRIP_ROW] = -1
    for block in range(blocks):
        if not marks[block, DEAD]:
            marks[laid[sheet, block, STRIP], STRIP_ROW] = 0
    kept = 0
    for strip in range(strips):
        if marks[strip, STRIP_ROW] == 0:
            marks[strip, STRIP_ROW] = kept
            laid[sheet, kept, TAKEN] = 0
            laid[sheet, kept, WIDTH] = laid[sheet, strip, WIDTH]
            kept += 1
    laid[sheet, STRIPS, COUNT] = kept
    kept = 0
    for block in range(blocks):
        if not marks[block, DEAD]:
            strip = marks[laid[sheet, block, STRIP], STRIP_ROW]
            length = laid[sheet, block, LENGTH]
            laid[sheet, strip, TAKEN] += length
            laid[sheet, kept, STRIP] = strip
            laid[sheet, kept, LENGTH] = length
            laid[sheet, kept, STACKED] = laid[sheet, block, STACKED]
            laid[sheet, kept, HELD] = laid[sheet, block, HELD]
            marks[block, BLOCK_ROW] = kept
            kept += 1
    laid[sheet, BLOCKS, COUNT] = kept

"""Sheets as arrays: what lies on them, copying, adding, removing.

A sheet has strips, a strip has blocks, a block has items; each is a row of numbers that
names its parent. Rows stand in any order and without gaps. An item's code is
``2 * type + turned``.
"""

from typing import NamedTuple

import numpy as np

from solver.kernel.chance import Floats, Ints
from solver.kernel.compiled import compiled

# Columns of Sheets.counts.
STRIPS, BLOCKS, ITEMS, FILLED, AREA = 0, 1, 2, 3, 4
# Columns of Sheets.strips: width, length taken by blocks.
WIDTH, TAKEN = 0, 1
# Columns of Sheets.blocks: strip it is in, length, width taken by items, number of items.
STRIP, LENGTH, STACKED, HELD = 0, 1, 2, 3
# Columns of Sheets.items.
BLOCK, CODE = 0, 1
# Columns of Shape.rooms.
ROOM_LENGTH, ROOM_WIDTH, EXACT_LENGTH, EXACT_WIDTH, STRIP_TRIM, SHEET_TRIM, KIND = range(7)
# What an item may be added to.
NOWHERE, IN_BLOCK, IN_STRIP, NEW_STRIP = -1, 0, 1, 2


class Sheets(NamedTuple):
    """What lies on some sheets; the first index is the sheet."""

    counts: Ints
    strips: Ints
    blocks: Ints
    items: Ints


class Shape(NamedTuple):
    """What does not change in a search.

    ``length`` and ``width`` are by item type; ``lies`` by kind and type: 1 as it is,
    2 turned, 3 both. ``rooms`` holds a row of figures for each sheet of the fleet.
    """

    length: Ints
    width: Ints
    lies: Ints
    rooms: Ints
    kerf: int
    levels: int


class Pool(NamedTuple):
    """Items off the sheets, and room to work in.

    ``items`` are types; ``keys`` sort them; ``dead`` marks blocks to take off; ``moved``
    maps strips, then blocks, to their new rows; ``found`` holds sheet, row, turn and kind
    of the place an item goes to.
    """

    items: Ints
    keys: Floats
    dead: Ints
    moved: Ints
    found: Ints


class Search(NamedTuple):
    """All that a search works on.

    ``spare`` has room for eight sheets: the chosen ones as they were, and as ruined;
    ``best`` is the best state met.
    """

    state: Ints
    shape: Shape
    laid: Sheets
    spare: Sheets
    best: Sheets
    pool: Pool


class Lie(NamedTuple):
    """An item lying one way on one sheet, while places for it are compared."""

    sheet: int
    turned: int
    length: int
    width: int
    room_length: int
    room_width: int


def empty_sheets(sheets: int, items: int) -> Sheets:
    """Return empty sheets with room for so many items on each sheet."""
    return Sheets(
        np.zeros((sheets, 5), np.int64),
        np.zeros((sheets, items, 2), np.int64),
        np.zeros((sheets, items, 4), np.int64),
        np.zeros((sheets, items, 2), np.int64),
    )


def empty_pool(total: int, items: int) -> Pool:
    """Return a pool for so many items in all, and so many on a sheet."""
    return Pool(
        np.zeros(total + 1, np.int64),
        np.zeros(total + 1, np.float64),
        np.zeros(items, np.int64),
        np.zeros((2, items), np.int64),
        np.zeros(4, np.int64),
    )


@compiled
def copy_sheet(source: Sheets, sheet: int, target: Sheets, place: int) -> None:
    """Copy one sheet into a place of others."""
    for column in range(5):
        target.counts[place, column] = source.counts[sheet, column]
    for row in range(source.counts[sheet, STRIPS]):
        for column in range(2):
            target.strips[place, row, column] = source.strips[sheet, row, column]
    for row in range(source.counts[sheet, BLOCKS]):
        for column in range(4):
            target.blocks[place, row, column] = source.blocks[sheet, row, column]
    for row in range(source.counts[sheet, ITEMS]):
        for column in range(2):
            target.items[place, row, column] = source.items[sheet, row, column]


@compiled
def copy_all(source: Sheets, target: Sheets) -> None:
    """Copy every sheet."""
    for sheet in range(source.counts.shape[0]):
        copy_sheet(source, sheet, target, sheet)


@compiled
def extents(shape: Shape, code: int) -> tuple[int, int]:
    """Return the extent along and across the strip of an item as it lies."""
    kind = code >> 1
    if code & 1:
        return shape.width[kind], shape.length[kind]
    return shape.length[kind], shape.width[kind]


@compiled
def lie(search: Search, item: int, sheet: int, turned: int) -> Lie:
    """Return an item as it would lie on a sheet; of length 0 if it may not or cannot."""
    shape = search.shape
    length, width = extents(shape, 2 * item + turned)
    room_length = shape.rooms[sheet, ROOM_LENGTH]
    room_width = shape.rooms[sheet, ROOM_WIDTH]
    allowed = (shape.lies[shape.rooms[sheet, KIND], item] >> turned) & 1
    if not allowed or length > room_length or width > room_width:
        length = 0
    return Lie(sheet, turned, length, width, room_length, room_width)


@compiled
def note(found: Ints, lying: Lie, place: int, row: int) -> None:
    """Remember a place for an item."""
    found[0], found[1], found[2], found[3] = lying.sheet, row, lying.turned, place


@compiled
def shrink(laid: Sheets, sheet: int) -> None:
    """Make every strip as wide as its fullest block."""
    strips = laid.counts[sheet, STRIPS]
    for strip in range(strips):
        laid.strips[sheet, strip, WIDTH] = 0
    for block in range(laid.counts[sheet, BLOCKS]):
        strip = laid.blocks[sheet, block, STRIP]
        stacked = laid.blocks[sheet, block, STACKED]
        laid.strips[sheet, strip, WIDTH] = max(laid.strips[sheet, strip, WIDTH], stacked)
    filled = 0
    for strip in range(strips):
        filled += laid.strips[sheet, strip, WIDTH]
    laid.counts[sheet, FILLED] = filled


@compiled
def add(laid: Sheets, shape: Shape, found: Ints, item: int, opened: int) -> None:
    """Put an item where it was found to fit; a new strip is opened that wide."""
    sheet, row, turned, place = found[0], found[1], found[2], found[3]
    code = 2 * item + turned
    length, width = extents(shape, code)
    if place == NEW_STRIP:
        row = laid.counts[sheet, STRIPS]
        laid.counts[sheet, STRIPS] = row + 1
        laid.counts[sheet, FILLED] += opened
        laid.strips[sheet, row, WIDTH] = opened
        laid.strips[sheet, row, TAKEN] = 0
    if place != IN_BLOCK:
        laid.strips[sheet, row, TAKEN] += length
        row = _new_block(laid, sheet, row, length)
    laid.blocks[sheet, row, STACKED] += width
    laid.blocks[sheet, row, HELD] += 1
    last = laid.counts[sheet, ITEMS]
    laid.counts[sheet, ITEMS] = last + 1
    laid.counts[sheet, AREA] += length * width
    laid.items[sheet, last, BLOCK] = row
    laid.items[sheet, last, CODE] = code


@compiled
def _new_block(laid: Sheets, sheet: int, strip: int, length: int) -> int:
    block = laid.counts[sheet, BLOCKS]
    laid.counts[sheet, BLOCKS] = block + 1
    laid.blocks[sheet, block, STRIP] = strip
    laid.blocks[sheet, block, LENGTH] = length
    laid.blocks[sheet, block, STACKED] = 0
    laid.blocks[sheet, block, HELD] = 0
    return int(block)


@compiled
def take_off(laid: Sheets, shape: Shape, pool: Pool, sheet: int, pooled: int) -> int:
    """Take the blocks marked dead off a sheet; return how many items are in the pool now."""
    _renumber(laid, pool, sheet)
    kept = 0
    for row in range(laid.counts[sheet, ITEMS]):
        block = laid.items[sheet, row, BLOCK]
        code = laid.items[sheet, row, CODE]
        if pool.dead[block]:
            kind = code >> 1
            pool.items[pooled] = kind
            pooled += 1
            laid.counts[sheet, AREA] -= shape.length[kind] * shape.width[kind]
        else:
            laid.items[sheet, kept, BLOCK] = pool.moved[1, block]
            laid.items[sheet, kept, CODE] = code
            kept += 1
    laid.counts[sheet, ITEMS] = kept
    shrink(laid, sheet)
    return pooled


@compiled
def _renumber(laid: Sheets, pool: Pool, sheet: int) -> None:
    """Close the gaps that dead blocks leave among strips and blocks."""
    strips, blocks = laid.counts[sheet, STRIPS], laid.counts[sheet, BLOCKS]
    for strip in range(strips):
        pool.moved[0, strip] = -1
    for block in range(blocks):
        if not pool.dead[block]:
            pool.moved[0, laid.blocks[sheet, block, STRIP]] = 0
    kept = 0
    for strip in range(strips):
        if pool.moved[0, strip] == 0:
            pool.moved[0, strip] = kept
            laid.strips[sheet, kept, TAKEN] = 0
            kept += 1
    laid.counts[sheet, STRIPS] = kept
    kept = 0
    for block in range(blocks):
        if not pool.dead[block]:
            strip = pool.moved[0, laid.blocks[sheet, block, STRIP]]
            length = laid.blocks[sheet, block, LENGTH]
            laid.strips[sheet, strip, TAKEN] += length
            laid.blocks[sheet, kept, STRIP] = strip
            laid.blocks[sheet, kept, LENGTH] = length
            laid.blocks[sheet, kept, STACKED] = laid.blocks[sheet, block, STACKED]
            laid.blocks[sheet, kept, HELD] = laid.blocks[sheet, block, HELD]
            pool.moved[1, block] = kept
            kept += 1
    laid.counts[sheet, BLOCKS] = kept

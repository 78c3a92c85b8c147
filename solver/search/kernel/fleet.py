"""Between solutions of `solver.material.instance` and the arrays of the compiled search."""

from collections.abc import Sequence

import numpy as np

from solver.material.instance import Block, Instance, Laid, Lying, SheetKind, Solution, Strip
from solver.search.kernel.limits import MARKS
from solver.search.kernel.rng import Ints, seeded
from solver.search.kernel.sheets import (
    AREA,
    BLOCK,
    BLOCKS,
    CODE,
    COUNT,
    FILLED,
    HELD,
    ITEMS,
    KIND,
    LENGTH,
    NO_REACH,
    STACKED,
    STRIP,
    STRIPS,
    TAKEN,
    WIDTH,
    Search,
    empty_sheets,
)

SPARE = 8
"""Sheets that a try keeps aside."""


def desk(instance: Instance, sheets: Sequence[Laid], fleet: Sequence[int], seed: int) -> Search:
    """Lay sheets out in arrays, on a fleet of as many kinds or more.

    The kinds of ``sheets`` must be the first of ``fleet``, in its order.
    """
    items, limits = most_items(instance), instance.limits
    guide = limits.guide or (-1, -1)
    total = sum(item.demand for item in instance.items)
    laid = empty_sheets(len(fleet), items)
    for place, sheet in enumerate(sheets):
        _lay_out(instance, sheet, laid[place])
    return Search(
        state=np.concatenate([seeded(seed), np.zeros(4, np.int64)]),
        types=np.array([[item.length, item.width] for item in instance.items], np.int64),
        lies=np.array(_ways(instance), np.int64),
        rooms=np.array([_figures(instance, kind) for kind in fleet], np.int64),
        laid=laid,
        spare=empty_sheets(SPARE, items),
        best=laid.copy(),
        pool=np.zeros(total + 1, np.int64),
        keys=np.zeros(total + 1, np.float64),
        marks=np.zeros((laid.shape[1], MARKS), np.int64),
        load=np.array([float(it.length * it.width) for it in instance.items], np.float64),
        kerf=instance.kerf,
        levels=instance.levels,
        keep_long=instance.keep[0],
        keep_short=instance.keep[1],
        reach=NO_REACH if limits.reach is None else limits.reach,
        limits=limits.of_runs,
        guide_least=guide[0],
        guide_most=guide[1],
    )


def _ways(instance: Instance) -> list[list[int]]:
    """Bits for each kind and item: 1 as it is, 2 turned."""
    return [
        [
            sum(1 << turned for turned in set(ways) if _reached(instance, kind, item, turned))
            for item, ways in enumerate(kind.orientations)
        ]
        for kind in instance.kinds
    ]


def _reached(instance: Instance, kind: SheetKind, item: int, turned: bool) -> bool:
    """Whether rails crosscut the strip of an item that lies so, or none need to."""
    reach = instance.limits.reach
    length, width = instance.size(item, turned)
    whole = length == kind.length and kind.exact_length and not kind.strip_trim
    if reach is None or (whole and not kind.beyond_length):
        return True
    return (kind.width if kind.fixed else width) <= reach


def _figures(instance: Instance, number: int) -> list[int]:
    kind = instance.kinds[number]
    return [
        kind.length,
        kind.width,
        kind.exact_length,
        kind.exact_width,
        kind.strip_trim,
        kind.sheet_trim,
        kind.fixed,
        kind.beyond_length,
        kind.beyond_width,
        kind.whole or kind.length,
        kind.transposed,
        number,
        instance.is_room(number),
    ]


def most_items(instance: Instance) -> int:
    """Return how many items one sheet can hold at most, by area, and one more."""
    room = max(kind.length * kind.width for kind in instance.kinds)
    count, filled = 0, 0
    for area in sorted(it.length * it.width for it in instance.items for _ in range(it.demand)):
        filled += area
        if filled > room:
            break
        count += 1
    return count + 1


def _lay_out(instance: Instance, sheet: Laid, rows: Ints) -> None:
    """Write one sheet into its rows."""
    rows[FILLED, COUNT] = sum(strip.width for strip in sheet.strips)
    for strip in sheet.strips:
        row = rows[STRIPS, COUNT]
        rows[STRIPS, COUNT] += 1
        rows[row, WIDTH] = strip.width
        rows[row, TAKEN] = sum(block.length for block in strip.blocks)
        for block in strip.blocks:
            _lay_out_block(instance, block, rows, int(row))


def _lay_out_block(instance: Instance, block: Block, rows: Ints, strip: int) -> None:
    row = rows[BLOCKS, COUNT]
    rows[BLOCKS, COUNT] += 1
    sizes = [instance.size(*lying) for lying in block.stack]
    rows[row, STRIP] = strip
    rows[row, LENGTH] = block.length
    rows[row, STACKED] = sum(width for _, width in sizes)
    rows[row, HELD] = len(sizes)
    rows[AREA, COUNT] += sum(length * width for length, width in sizes)
    for lying in block.stack:
        item = rows[ITEMS, COUNT]
        rows[ITEMS, COUNT] += 1
        rows[item, BLOCK] = row
        rows[item, CODE] = 2 * lying.item + lying.turned


def to_sheets(laid: Ints, rooms: Ints) -> tuple[Laid, ...]:
    """Read sheets back; empty ones are left out."""
    kinds = [int(row[KIND]) for row in rooms]
    read = [Laid(kind, _strips(laid[place])) for place, kind in enumerate(kinds)]
    return tuple(sheet for sheet in read if sheet.strips)


def _strips(rows: Ints) -> tuple[Strip, ...]:
    blocks: dict[int, list[Lying]] = {}
    for block, code in rows[: rows[ITEMS, COUNT], BLOCK : CODE + 1].tolist():
        blocks.setdefault(block, []).append(Lying(code >> 1, bool(code & 1)))
    strips: dict[int, list[Block]] = {}
    for block, stack in blocks.items():
        strip = int(rows[block, STRIP])
        strips.setdefault(strip, []).append(Block(int(rows[block, LENGTH]), tuple(stack)))
    return tuple(Strip(int(rows[k, WIDTH]), tuple(made)) for k, made in sorted(strips.items()))


def left_of(instance: Instance, off: Ints) -> tuple[int, ...]:
    """Return how many of each item type are in a list of a count and types."""
    counts = np.bincount(off[1 : off[0] + 1], minlength=len(instance.items))
    return tuple(int(count) for count in counts)


def off_of(solution: Solution, room: int) -> Ints:
    """Return the items a solution leaves off as a count and types, with room for more."""
    types = [item for item, count in enumerate(solution.left) for _ in range(count)]
    off = np.zeros(room + 1, np.int64)
    off[0] = len(types)
    off[1 : len(types) + 1] = types
    return off

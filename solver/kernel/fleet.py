"""Between solutions of `solver.instance` and the arrays of the compiled search."""

from collections.abc import Sequence

import numpy as np

from solver.instance import Block, Instance, Laid, Lying, Solution, Strip
from solver.kernel.chance import Ints
from solver.kernel.sheets import (
    BLOCK,
    BLOCKS,
    CODE,
    IN_BLOCK,
    IN_STRIP,
    ITEMS,
    LENGTH,
    NEW_STRIP,
    STRIP,
    STRIPS,
    WIDTH,
    Shape,
    Sheets,
    add,
    empty_sheets,
    shrink,
)


def shape_of(instance: Instance, kinds: Sequence[int]) -> Shape:
    """Return the problem of laying an instance on a fleet: one kind index for each sheet."""
    return Shape(
        np.array([item.length for item in instance.items], np.int64),
        np.array([item.width for item in instance.items], np.int64),
        _ways(instance),
        np.array([_figures(instance, kind) for kind in kinds], np.int64),
        instance.kerf,
        instance.levels,
    )


def _ways(instance: Instance) -> Ints:
    """Bits for each kind and item: 1 as it is, 2 turned."""
    rows = [
        [sum(1 << turned for turned in set(ways)) for ways in kind.orientations]
        for kind in instance.kinds
    ]
    return np.array(rows, np.int64)


def _figures(instance: Instance, number: int) -> list[int]:
    kind = instance.kinds[number]
    return [
        kind.length,
        kind.width,
        kind.exact_length,
        kind.exact_width,
        kind.strip_trim,
        kind.sheet_trim,
        number,
    ]


def most_items(instance: Instance) -> int:
    """Return how many items one sheet can hold at most, by area, and one more for a scratch row."""
    room = max(kind.length * kind.width for kind in instance.kinds)
    count, filled = 0, 0
    for area in sorted(it.length * it.width for it in instance.items for _ in it.members):
        filled += area
        if filled > room:
            break
        count += 1
    return count + 1


def to_arrays(instance: Instance, sheets: Sequence[Laid], shape: Shape) -> Sheets:
    """Lay the sheets of a solution out in arrays."""
    laid = empty_sheets(len(sheets), most_items(instance))
    for place, sheet in enumerate(sheets):
        for strip in sheet.strips:
            _add_strip(laid, shape, place, strip)
        shrink(laid, place)
    return laid


def _add_strip(laid: Sheets, shape: Shape, place: int, strip: Strip) -> None:
    row = NEW_STRIP
    for block in sorted(strip.blocks, key=lambda block: -block.length):
        for nth, lying in enumerate(sorted(block.stack, key=lambda it: -_long(shape, it))):
            where = IN_BLOCK if nth else row
            index = laid.counts[place, BLOCKS if nth else STRIPS] - 1
            found = np.array([place, index, lying.turned, where], np.int64)
            add(laid, shape, found, lying.item, strip.width)
            row = IN_STRIP


def _long(shape: Shape, lying: Lying) -> int:
    return int(shape.width[lying.item] if lying.turned else shape.length[lying.item])


def to_sheets(laid: Sheets, shape: Shape) -> tuple[Laid, ...]:
    """Read the sheets back; empty ones are left out."""
    kinds = [int(row[-1]) for row in shape.rooms]
    read = [Laid(kind, _strips(laid, place)) for place, kind in enumerate(kinds)]
    return tuple(sheet for sheet in read if sheet.strips)


def _strips(laid: Sheets, place: int) -> tuple[Strip, ...]:
    blocks: dict[int, list[Lying]] = {}
    for row in range(laid.counts[place, ITEMS]):
        code = int(laid.items[place, row, CODE])
        block = int(laid.items[place, row, BLOCK])
        blocks.setdefault(block, []).append(Lying(code >> 1, bool(code & 1)))
    strips: dict[int, list[Block]] = {}
    for block, stack in blocks.items():
        length = int(laid.blocks[place, block, LENGTH])
        strip = int(laid.blocks[place, block, STRIP])
        strips.setdefault(strip, []).append(Block(length, tuple(stack)))
    widths = laid.strips[place, :, WIDTH]
    return tuple(Strip(int(widths[k]), tuple(made)) for k, made in sorted(strips.items()))


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

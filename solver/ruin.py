"""Take part of what lies on a few sheets away again."""

from collections.abc import Callable
from random import Random

from solver.insert import shrink
from solver.state import Cell, Rip, Sheet, Table, put_cell


def ruin(table: Table, sheets: list[Sheet], rng: Random) -> tuple[list[Sheet], list[int]]:
    """Return thinned copies of some sheets, and the item types taken off them.

    One of three ways for all of them: everything, every other strip, or two blocks of five.
    """
    roll = rng.random()
    if roll < 0.35:
        return _clear(table, sheets, rng)
    if roll < 0.8:
        return _take_strips(table, sheets, rng)
    random = rng.random
    return take_marked(table, sheets, lambda rip: [random() < 0.4 for _ in range(rip.blocks)])


def _clear(table: Table, sheets: list[Sheet], rng: Random) -> tuple[list[Sheet], list[int]]:
    taken: list[int] = []
    for sheet in sheets:
        for rip in sheet.rips:
            _take_all(rip, taken)
    return [table.empty(rng.choice(table.siblings[sheet.kind])) for sheet in sheets], taken


def _take_all(rip: Rip, taken: list[int]) -> None:
    for cell in rip.open:
        taken.extend([piece[2] for piece in cell[2]])
    for cell in rip.closed:
        taken.extend([piece[2] for piece in cell[2]])


def _take_strips(table: Table, sheets: list[Sheet], rng: Random) -> tuple[list[Sheet], list[int]]:
    random, area = rng.random, table.area
    thinned: list[Sheet] = []
    taken: list[int] = []
    for sheet in sheets:
        new = Sheet(sheet.kind, sheet.free, [], sheet.used)
        before = len(taken)
        for rip in sheet.rips:
            if random() < 0.5:
                new.free += rip.width
                _take_all(rip, taken)
            else:
                new.rips.append(rip.copy())
        new.used -= sum([area[item] for item in taken[before:]])
        thinned.append(new)
    return thinned, taken


def take_marked(
    table: Table, sheets: list[Sheet], marked: Callable[[Rip], list[bool]]
) -> tuple[list[Sheet], list[int]]:
    """Return copies of sheets without the marked blocks, and the item types taken off."""
    thinned: list[Sheet] = []
    taken: list[int] = []
    for sheet in sheets:
        new = Sheet(sheet.kind, sheet.free, [], sheet.used)
        before = len(taken)
        for rip in sheet.rips:
            _thin_strip(table, new, rip, taken, marked(rip))
        new.used -= sum([table.area[item] for item in taken[before:]])
        thinned.append(new)
    return thinned, taken


def _thin_strip(table: Table, sheet: Sheet, rip: Rip, taken: list[int], marks: list[bool]) -> None:
    """Take marked blocks away; narrow the strip to the rest, or drop it when empty."""
    kept: list[Cell] = []
    free = rip.free
    for cell, mark in zip(rip.open + rip.closed, marks, strict=True):
        if mark:
            free += cell[0]
            taken.extend([piece[2] for piece in cell[2]])
        else:
            kept.append(cell)
    if not kept:
        sheet.free += rip.width
        return
    new = Rip(rip.width, free, [], [])
    for cell in kept:
        put_cell(table, sheet.kind, new, cell)
    sheet.rips.append(new)
    shrink(table, sheet, new)

"""The first plan, within milliseconds, and better ones while nothing cleverer runs.

A pass sorts the items (by width, length, area, or a mix) and lays each where it wastes
least, opening sheets as it needs them. After one pass for every key and tolerance, the
passes go on with keys, tolerances and choice of sheets perturbed at random.

An item goes into a block (wasting what is cut off behind it), into a strip as a new block
(wasting what is beside it), or opens a strip. A strip may open taller than its first
item, so that stacks of narrow items can arise beside each other; it shrinks to what it
holds when all items are laid.
"""

from collections.abc import Callable, Iterator, Sequence
from random import Random
from typing import NamedTuple

from solver.material.instance import Instance, Solution
from solver.search.repair import block_keeps, mend
from solver.search.state import Cell, Piece, Rip, SearchTable, Sheet, demand, freeze, put_cell


class Habits(NamedTuple):
    """How items are laid.

    ``tolerance`` is the waste, as a share of the item, above which a strip is rather
    opened than an existing place used; ``tall`` the chance that a strip opens taller
    than its first item; ``blink`` the chance that a good place is overlooked.
    """

    tolerance: float = 0.15
    tall: float = 0.0
    blink: float = 0.0


Place = tuple[Sheet, Rip, int, Piece]
"""Where a piece goes: sheet, strip, index of the open block or -1 for a new one, piece."""


def fill(
    table: SearchTable,
    sheets: list[Sheet],
    pool: Sequence[int],
    rng: Random,
    *,
    habits: Habits,
    opener: Callable[[int], Sheet | None] | None = None,
) -> list[int]:
    """Lay the items of a pool in their order; return those that found no place.

    ``sheets`` and their strips are changed. ``opener`` is asked for a new sheet whenever
    an item finds no place; the sheet joins the list.
    """
    tolerance, tall, blink = habits
    failed: set[int] = set()
    left: list[int] = []
    opened: list[tuple[Sheet, Rip]] = []
    for item in pool:
        if item in failed:
            left.append(item)
            continue
        least, place = _least_waste(table, sheets, item, blink, rng)
        if least > tolerance * table.area[item]:
            room = _room(table, sheets, item)
            if room is None and place is None and opener is not None:
                room = _room_on_new(table, sheets, item, opener)
            if room is not None:
                place = open_strip(table, room, pool, rng, tall)
                opened.append(place[:2])
        if place is None:
            failed.add(item)
            left.append(item)
        else:
            lay(table, *place)
    for sheet, rip in opened:
        shrink(table, sheet, rip)
    return left


def _least_waste(
    table: SearchTable, sheets: Sequence[Sheet], item: int, blink: float, rng: Random
) -> tuple[float, Place | None]:
    """Find the place in a strip that wastes least, and what it wastes."""
    random = rng.random
    least = float("inf")
    best: Place | None = None
    for sheet in sheets:
        for piece in table.lying[sheet.kind][item]:
            length, width, _, _ = piece
            for rip in sheet.rips:
                beside = rip.width - width
                if beside < 0:
                    continue
                fits = rip.free >= length and beside * length < least and random() >= blink
                if fits and _keeps(table, rip, (length, beside, (piece,))):
                    least = beside * length
                    best = sheet, rip, -1, piece
                at = -1
                for block, free, stack in rip.open:
                    at += 1
                    if free >= width and block >= length:
                        behind = (block - length) * width
                        less = behind < least and random() >= blink
                        if less and _keeps(table, rip, (block, free - width, (*stack, piece))):
                            least = behind
                            best = sheet, rip, at, piece
    return least, best


def _keeps(table: SearchTable, rip: Rip, cell: Cell) -> bool:
    """Whether the shop can saw a block of a strip as it would be."""
    return not table.limited or block_keeps(table, rip.width, cell)


def _room_on_new(
    table: SearchTable, sheets: list[Sheet], item: int, opener: Callable[[int], Sheet | None]
) -> tuple[Sheet, Piece] | None:
    """Ask for a new sheet and take it into the list."""
    sheet = opener(item)
    if sheet is None:
        return None
    sheets.append(sheet)
    return _room(table, (sheet,), item)


def _room(table: SearchTable, sheets: Sequence[Sheet], item: int) -> tuple[Sheet, Piece] | None:
    """Find the sheet on which a strip for the item leaves least."""
    least, best = 0, None
    for sheet in sheets:
        for piece in table.lying[sheet.kind][item]:
            over = sheet.free - piece[1]
            if over >= 0 and (best is None or over < least):
                least, best = over, (sheet, piece)
    return best


def open_strip(
    table: SearchTable, room: tuple[Sheet, Piece], pool: Sequence[int], rng: Random, tall: float
) -> Place:
    """Open a strip for a piece, by chance taller than it; return where the piece goes."""
    sheet, piece = room
    width = piece[1]
    if table.fixed[sheet.kind]:
        width = sheet.free
    elif rng.random() < tall:
        widest = max(width, min(sheet.free, table.reach[sheet.kind]))
        width = min(widest, _taller(table, sheet, piece, pool, rng))
    rip = Rip(width, table.length[sheet.kind], [], [])
    sheet.rips.append(rip)
    sheet.free -= width
    return sheet, rip, -1, piece


def _taller(
    table: SearchTable, sheet: Sheet, piece: Piece, pool: Sequence[int], rng: Random
) -> int:
    """Choose a width for a strip to open with: all there is, twice, or one more item's."""
    choice = rng.randrange(3)
    if choice == 0:
        return sheet.free
    if choice == 1:
        return 2 * piece[1]
    others = table.lying[sheet.kind][pool[rng.randrange(len(pool))]]
    return piece[1] + others[rng.randrange(len(others))][1] if others else sheet.free


def lay(table: SearchTable, sheet: Sheet, rip: Rip, at: int, piece: Piece) -> None:
    """Lay a piece into the open block at that index, or as a new block for -1."""
    sheet.used += table.area[piece[2]]
    if at < 0:
        rip.free -= piece[0]
        put_cell(table, sheet.kind, rip, (piece[0], rip.width - piece[1], (piece,)))
        return
    length, free, stack = rip.open[at]
    cell: Cell = (length, free - piece[1], (*stack, piece))
    if cell[1] >= table.least[sheet.kind][length]:
        rip.open[at] = cell
    else:
        del rip.open[at]
        rip.closed.append(cell)


def shrink(table: SearchTable, sheet: Sheet, rip: Rip) -> None:
    """Narrow a strip to its fullest block and give the rest back to the sheet."""
    cells = rip.open + rip.closed
    spare = min(cell[1] for cell in cells)
    if spare and not table.fixed[sheet.kind]:
        rip.width -= spare
        sheet.free += spare
        rip.open, rip.closed = [], []
        for length, free, stack in cells:
            put_cell(table, sheet.kind, rip, (length, free - spare, stack))


Key = Callable[[int, int], float]
"""Importance of an item by its length and width; the greatest is laid first."""

KEYS: tuple[Key, ...] = (
    lambda length, width: length * width,
    lambda length, width: width + length * 1e-6,
    lambda length, width: length + width * 1e-6,
    lambda length, width: 2 * width + length,
)
TOLERANCES = (0.15, 0.05, 0.4, 1.0)


class Buyer:
    """Chooses the kind of the next sheet: cheapest by area, larger ones first.

    ``noise`` blurs price and size by up to that share. Rows are never used up beyond what
    is at hand.
    """

    def __init__(self, table: SearchTable, rng: Random, noise: float = 0.0) -> None:
        self._table = table
        self._stock = [row.at_hand for row in table.instance.rows]
        self._order = sorted(range(len(table.size)), key=lambda kind: self._rank(kind, rng, noise))

    def _rank(self, kind: int, rng: Random, noise: float) -> tuple[float, float]:
        price = self._table.instance.rows[self._row(kind)].price
        size = self._table.size[kind] * rng.uniform(1 - noise, 1)
        return price / size, -size

    def _row(self, kind: int) -> int:
        return self._table.instance.kinds[kind].row

    def __call__(self, item: int) -> Sheet | None:
        """Return an empty sheet that takes the item, or ``None`` when there is none."""
        for kind in self._order:
            row = self._row(kind)
            stock = self._stock[row]
            if self._table.takes(kind, item) and stock != 0:
                self._stock[row] = None if stock is None else stock - 1
                return self._table.empty(kind)
        return None


def first(instance: Instance) -> Solution:
    """Return a sound solution from a single pass."""
    table = SearchTable(instance)
    return _construct(table, _sorted(table, KEYS[0], Random(0), 0.0), TOLERANCES[0], Random(0), 0.0)


def passes(instance: Instance, rng: Random) -> Iterator[Solution]:
    """Yield the solution of one pass after the other, without end; the first is `first`."""
    table = SearchTable(instance)
    for tolerance in TOLERANCES:
        for key in KEYS:
            yield _construct(table, _sorted(table, key, rng, 0.0), tolerance, rng, 0.0)
    while True:
        noise = rng.choice((0.05, 0.1, 0.3))
        items = _sorted(table, rng.choice(KEYS), rng, noise)
        yield _construct(table, items, rng.choice(TOLERANCES), rng, noise)


def _sorted(table: SearchTable, key: Key, rng: Random, noise: float) -> list[int]:
    """Sort the items that fit somewhere, greatest first; keys blurred by that share."""
    types = table.instance.items
    weight = [key(it.length, it.width) * rng.uniform(1 - noise, 1) for it in types]
    return sorted(demand(table.instance), key=weight.__getitem__, reverse=True)


def _construct(
    table: SearchTable, items: list[int], tolerance: float, rng: Random, noise: float
) -> Solution:
    """Lay the items in their order on as many sheets as they take."""
    sheets: list[Sheet] = []
    tall = 0.3 if noise else 0.0
    buyer = Buyer(table, rng, noise)
    left = fill(table, sheets, items, rng, habits=Habits(tolerance, tall), opener=buyer)
    if table.limited:
        left = mend(table, sheets, left, buyer)
    return freeze(table, sheets, left)

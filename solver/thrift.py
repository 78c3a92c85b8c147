"""Lay items where they take the least sawing.

Cuts are parts less sheets plus pieces of waste, so a place is judged by the pieces of
waste it makes or fills up, by the set-ups it needs that nobody else does, and by the area
it wastes. Every item has to go; the attempt ends with the first that does not.
"""

from collections.abc import Sequence
from random import Random
from typing import NamedTuple

from solver.insert import Place, lay, open_strip, shrink
from solver.ledger import LEVEL, Ledger
from solver.state import Piece, Rip, Sheet

BLINK, TALL = 0.02, 0.1

Room = tuple[Sheet, Piece]
"""A sheet, and the piece that a new strip on it begins with."""


class Prices(NamedTuple):
    """Seconds for set-ups not in use yet: a piece's rip, crosscut, block rip and last trim."""

    rip: int
    crosscut: int
    block_rip: int
    trim: int


def lay_all(
    ledger: Ledger, sheets: Sequence[Sheet], pool: Sequence[int], rng: Random, greed: float
) -> bool:
    """Lay all items of a pool in their order; return whether every one found a place.

    ``greed`` is what wasting a whole sheet costs, in seconds.
    """
    table = ledger.table
    known = set(ledger.users)
    opened: list[tuple[Sheet, Rip]] = []
    for item in pool:
        place, room = _cheapest(ledger, sheets, item, known, rng, greed=greed)
        if room is not None:
            place = open_strip(table, room, pool, rng, TALL)
            opened.append(place[:2])
        if place is None:
            return False
        _note(known, place)
        lay(table, *place)
    for sheet, rip in opened:
        shrink(table, sheet, rip)
    return True


def _cheapest(
    ledger: Ledger,
    sheets: Sequence[Sheet],
    item: int,
    known: set[int],
    rng: Random,
    *,
    greed: float,
) -> tuple[Place | None, Room | None]:
    """Find the cheapest place in a strip, or the sheet where a new strip is cheaper still."""
    table, cut, random = ledger.table, ledger.cut, rng.random
    least = float("inf")
    best: Place | None = None
    room: Room | None = None
    for sheet in sheets:
        waste = greed / table.size[sheet.kind]
        for piece in table.lying[sheet.kind][item]:
            length, width, _, _ = piece
            prices = _prices(ledger, known, piece)
            price = _price_of_strip(ledger, sheet, piece, prices, waste)
            if sheet.free >= width and price < least and random() >= BLINK:
                least, best, room = price, None, (sheet, piece)
            filled = -cut if table.instance.kinds[sheet.kind].exact_length else prices.crosscut
            for rip in sheet.rips:
                above = rip.width - width
                if above < 0:
                    continue
                if rip.free >= length:
                    price = filled if rip.free == length else prices.crosscut
                    if above:
                        price += cut + prices.block_rip + above * length * waste
                    if price < least and random() >= BLINK:
                        least, best, room = price, (sheet, rip, -1, piece), None
                at = -1
                for block, free, _ in rip.open:
                    at += 1
                    if free >= width and block >= length:
                        price = -cut if free == width else prices.block_rip
                        if block > length:
                            price += cut + prices.trim + (block - length) * width * waste
                        if price < least and random() >= BLINK:
                            least, best, room = price, (sheet, rip, at, piece), None
    return best, room


def _prices(ledger: Ledger, known: set[int], piece: Piece) -> Prices:
    length, width, _, _ = piece
    setup = ledger.setup
    return Prices(
        0 if LEVEL + width in known else setup,
        0 if 2 * LEVEL + length in known else setup,
        0 if 3 * LEVEL + width in known else setup,
        0 if 4 * LEVEL + length in known else setup,
    )


def _price_of_strip(
    ledger: Ledger, sheet: Sheet, piece: Piece, prices: Prices, waste: float
) -> float:
    """Return what a new strip for a piece costs in sawing and in waste beyond the piece."""
    kind = ledger.table.instance.kinds[sheet.kind]
    beyond = kind.length - piece[0]
    price = ledger.cut * (1 + kind.strip_trim) + beyond * piece[1] * waste
    price += prices.rip if sheet.free > piece[1] or not kind.exact_width else -ledger.cut
    return price + (prices.crosscut if beyond or not kind.exact_length else -ledger.cut)


def _note(known: set[int], place: Place) -> None:
    """Take the set-ups a place will need for known."""
    _, rip, at, (length, width, _, _) = place
    if at >= 0:
        known.add(3 * LEVEL + width)
        if rip.open[at][0] > length:
            known.add(4 * LEVEL + length)
        return
    known.add(2 * LEVEL + length)
    if rip.closed or rip.open:
        if rip.width > width:
            known.add(3 * LEVEL + width)
    else:
        known.add(LEVEL + rip.width)

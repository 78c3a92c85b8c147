"""Least price by trying everything: an oracle that shares no idea with the solver.

It works on sets of copies (bits), for at most about six of them. A set fits a sheet if it
can be split into strips, each strip into blocks, each block being a stack of items, as
`solver.material.instance` defines them.
"""

from collections.abc import Iterator
from functools import cache

from solver.material.instance import Instance, SheetKind
from tests.solver.limits import brute_limits as limited

IMPOSSIBLE = 10**9


def least_price(instance: Instance, costs: tuple[int, ...]) -> int | None:
    """Return the least price of sheets for all items; ``None`` if the stock is too small."""
    copies = [i for i, item in enumerate(instance.items) for _ in range(item.demand)]
    sets = limited.fitting if instance.limits.bind else _fitting
    fitting = [list(sets(instance, kind, copies)) for kind in instance.kinds]
    at_hand = tuple(len(copies) if row.at_hand is None else row.at_hand for row in instance.rows)

    @cache
    def least(rest: int, stock: tuple[int, ...]) -> int:
        if rest == 0:
            return 0
        found = IMPOSSIBLE
        for kind, subsets in zip(instance.kinds, fitting, strict=True):
            if stock[kind.row]:
                fewer = tuple(n - (r == kind.row) for r, n in enumerate(stock))
                for subset in subsets:
                    if subset & rest == subset and subset & _lowest(rest):
                        found = min(found, costs[kind.row] + least(rest ^ subset, fewer))
        return found

    price = least((1 << len(copies)) - 1, at_hand)
    return None if price >= IMPOSSIBLE else price


def _lowest(bits: int) -> int:
    return bits & -bits


def _subsets(bits: int) -> Iterator[int]:
    """Yield all subsets but the empty one."""
    subset = bits
    while subset:
        yield subset
        subset = (subset - 1) & bits


def _fitting(instance: Instance, kind: SheetKind, copies: list[int]) -> Iterator[int]:
    """Yield the sets of copies that one sheet of a kind can hold."""

    @cache
    def blocks(bits: int) -> frozenset[tuple[int, int]]:
        """Return (length, width) of every stack of a set."""
        if bits.bit_count() == 1:
            item = copies[bits.bit_length() - 1]
            turns = kind.orientations[item]
            return frozenset(instance.size(item, turned) for turned in turns)
        if instance.levels < 3:
            return frozenset()
        rest = bits ^ _lowest(bits)
        return frozenset(
            (max(x, length), y + width)
            for x, y in blocks(_lowest(bits))
            for length, width in blocks(rest)
        )

    @cache
    def strips(bits: int) -> frozenset[tuple[int, int]]:
        """Return (length, width) of every strip of a set."""
        found = set(blocks(bits))
        for part in _subsets(bits):
            if part != bits and part & _lowest(bits):
                for length, width in blocks(part):
                    for x, y in strips(bits ^ part):
                        found.add((length + x, max(width, y)))
        return frozenset((x, y) for x, y in found if x <= kind.length)

    @cache
    def width(bits: int) -> int:
        """Return the least width of a sheet for a set."""
        whole = min((y for _, y in strips(bits)), default=IMPOSSIBLE)
        parts = (
            min((y for _, y in strips(part)), default=IMPOSSIBLE) + width(bits ^ part)
            for part in _subsets(bits)
            if part != bits and part & _lowest(bits)
        )
        return min(whole, min(parts, default=IMPOSSIBLE))

    for subset in _subsets((1 << len(copies)) - 1):
        if width(subset) <= kind.width:
            yield subset

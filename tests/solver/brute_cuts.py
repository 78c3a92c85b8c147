"""Fewest cuts at a price by trying everything: an oracle that shares no idea with the solver.

It works on sets of copies (bits), for at most about four of them, and counts the cuts of
every run as `solver.material.instance` defines the levels: one for each piece, less one where the
last piece is just what remains.
"""

from collections.abc import Iterator
from functools import cache
from itertools import product

from solver.material.instance import Instance, SheetKind

Fewest = dict[int, int]
"""Fewest cuts for each price."""


def fewest_cuts(instance: Instance, costs: tuple[int, ...], price: int) -> int:
    """Return the fewest cuts of any plan of all items whose sheets cost just so much."""
    copies = [i for i, item in enumerate(instance.items) for _ in range(item.demand)]
    whole = (1 << len(copies)) - 1
    sheets = [dict(_sheets(instance, kind, copies)) for kind in instance.kinds]

    @cache
    def plans(rest: int, stock: tuple[int, ...]) -> Fewest:
        if rest == 0:
            return {0: 0}
        found: Fewest = {}
        for kind, cuts in zip(instance.kinds, sheets, strict=True):
            if stock[kind.row]:
                fewer = tuple(n - (row == kind.row) for row, n in enumerate(stock))
                for subset in _with_lowest(rest):
                    if subset in cuts:
                        for paid, more in plans(rest ^ subset, fewer).items():
                            total = paid + costs[kind.row]
                            found[total] = min(found.get(total, 10**6), more + cuts[subset])
        return found

    hands = tuple(len(copies) if row.at_hand is None else row.at_hand for row in instance.rows)
    return plans(whole, hands)[price]


def _with_lowest(bits: int) -> Iterator[int]:
    """Yield the subsets that hold the lowest member."""
    lowest = bits & -bits
    rest = bits ^ lowest
    subset = rest
    while True:
        yield subset | lowest
        if not subset:
            return
        subset = (subset - 1) & rest


def _sheets(instance: Instance, kind: SheetKind, copies: list[int]) -> Iterator[tuple[int, int]]:
    """Yield each set that one sheet can hold, with its fewest cuts."""

    @cache
    def block(bits: int, width: int) -> Fewest:
        """Return the fewest cuts inside a block of a set, by its length."""
        members = [copies[i] for i in range(len(copies)) if bits >> i & 1]
        found: Fewest = {}
        if instance.levels < 3 and len(members) > 1:
            return found
        for turns in product(*(kind.orientations[item] for item in members)):
            sizes = [instance.size(i, turned) for i, turned in zip(members, turns, strict=True)]
            left = width - sum(y for _, y in sizes)
            length = max(x for x, _ in sizes)
            if left >= 0:
                cuts = len(sizes) - (left == 0) + sum(x < length for x, _ in sizes)
                found[length] = min(cuts, found.get(length, cuts))
        return found

    @cache
    def strip(bits: int, width: int, room: int) -> int | None:
        """Return the fewest cuts that bring a set out of what is left of a strip."""
        if bits == 0:
            return -1 if room == 0 and kind.exact_length else 0
        found = []
        for subset in _with_lowest(bits):
            for length, cuts in block(subset, width).items():
                rest = strip(bits ^ subset, width, room - length) if length <= room else None
                if rest is not None:
                    found.append(1 + cuts + rest)
        return min(found, default=None)

    @cache
    def sheet(bits: int, room: int) -> int | None:
        """Return the fewest cuts that bring a set out of what is left of a sheet."""
        if bits == 0:
            return -1 if room == 0 and kind.exact_width else 0
        found = []
        for subset in _with_lowest(bits):
            for width in range(1, room + 1):
                cuts = strip(subset, width, kind.length)
                rest = None if cuts is None else sheet(bits ^ subset, room - width)
                if cuts is not None and rest is not None:
                    found.append(1 + kind.strip_trim + cuts + rest)
        return min(found, default=None)

    for bits in range(1, 1 << len(copies)):
        cuts = sheet(bits, kind.width)
        if cuts is not None:
            yield bits, cuts + kind.sheet_trim

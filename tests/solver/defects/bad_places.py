"""All ways to cut a small sheet with bad places, rip first, by going through every one.

A second opinion on a grid without kerf: rips over the whole length, crosscuts in a strip,
rips in a block, and a last trim that leaves a part at the reference end of its piece. Any
piece may be waste. It shares nothing with the solver but the rule.
"""

from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple


class Tile(NamedTuple):
    """A rectangle on the grid: corner, extent along x, extent along y."""

    x: int
    y: int
    length: int
    width: int


def most_area(sheet: tuple[int, int], bad: Sequence[Tile], parts: Sequence[tuple[int, int]]) -> int:
    """Return the most area of parts, each needed once and free to turn, that can be cut."""
    length, width = sheet
    every = range(1 << len(parts))
    area = [sum(a * b for n, (a, b) in enumerate(parts) if mask >> n & 1) for mask in every]

    @cache
    def piece(x: int, y: int, along: int, across: int) -> frozenset[int]:
        """Sets of parts that a piece of that width yields: one part, or none."""
        if any(
            x < one.x + one.length
            and one.x < x + along
            and y < one.y + one.width
            and one.y < y + across
            for one in bad
        ):
            return frozenset([0])
        fits = (n for n, one in enumerate(parts) if (along, across) in {one, one[::-1]})
        return frozenset([0, *(1 << n for n in fits)])

    @cache
    def trimmed(x: int, y: int, along: int, across: int) -> frozenset[int]:
        return frozenset().union(*(piece(x, y, some, across) for some in range(1, along + 1)))

    @cache
    def block(x: int, y: int, along: int, across: int) -> frozenset[int]:
        if not across:
            return frozenset([0])
        return joined(
            (trimmed(x, y, along, some), block(x, y + some, along, across - some))
            for some in range(1, across + 1)
        )

    @cache
    def strip(x: int, y: int, across: int) -> frozenset[int]:
        if x == length:
            return frozenset([0])
        return joined(
            (block(x, y, some, across), strip(x + some, y, across))
            for some in range(1, length - x + 1)
        )

    @cache
    def rest(y: int) -> frozenset[int]:
        if y == width:
            return frozenset([0])
        return joined((strip(0, y, some), rest(y + some)) for some in range(1, width - y + 1))

    return max(area[mask] for mask in rest(0))


def joined(pairs: Iterable[tuple[frozenset[int], frozenset[int]]]) -> frozenset[int]:
    """Return the unions of disjoint sets, one of each side of a pair."""
    return frozenset(
        one | other for here, there in pairs for one in here for other in there if not one & other
    )

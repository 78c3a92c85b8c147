"""A layout while it is being searched: mutable, small and quick to copy.

Sizes are the instance's, kerf included. A block is a plain tuple that is never changed but
replaced, so that copying a strip copies two short lists. A block that no item fits any
more is closed and not looked at again.
"""

from collections.abc import Iterable, Sequence

from solver.limits.single_item import alone
from solver.material.instance import Block, Instance, Laid, Lying, Solution, Strip

Piece = tuple[int, int, int, bool]
"""Extent along x, extent along y, item type, turned."""

NEVER = 1 << 62
"""A width that nothing has."""

Stack = tuple[Piece, ...]
Cell = tuple[int, int, Stack]
"""A block: its length, its free room across, and what is stacked in it."""


class Rip:
    """A strip: width, free room along it, open and closed blocks."""

    __slots__ = ("closed", "free", "open", "width")

    def __init__(self, width: int, free: int, open_: list[Cell], closed: list[Cell]) -> None:
        self.width = width
        self.free = free
        self.open = open_
        self.closed = closed

    @property
    def blocks(self) -> int:
        """Number of blocks."""
        return len(self.open) + len(self.closed)

    def copy(self) -> "Rip":
        """Return a strip that may be changed without changing this one."""
        return Rip(self.width, self.free, self.open[:], self.closed[:])


class Sheet:
    """A sheet: its kind, free room across, strips, and the area of the items on it."""

    __slots__ = ("free", "kind", "rips", "used")

    def __init__(self, kind: int, free: int, rips: list[Rip], used: int) -> None:
        self.kind = kind
        self.free = free
        self.rips = rips
        self.used = used

    def copy(self) -> "Sheet":
        """Return a sheet that may be changed without changing this one."""
        return Sheet(self.kind, self.free, [rip.copy() for rip in self.rips], self.used)


class SearchTable:
    """An instance worked out for the search.

    Attributes
    ----------
    lying
        For each kind and item type, the ways it may lie that fit that kind of sheet.
    area
        Area of each item type.
    length, width, size
        Room along and across each kind of sheet, and its area.
    least
        For each kind, the narrowest width of an item that fits a block of that length.
    fixed
        For each kind, whether it is one strip that is ripped already.
    limited
        Whether the shop's limits can forbid a cut.
    reach
        For each kind, the widest strip that is opened for what does not fill its length.
    """

    __slots__ = (
        "area",
        "fixed",
        "instance",
        "least",
        "length",
        "limited",
        "lying",
        "reach",
        "size",
        "width",
    )

    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        self.area = [item.length * item.width for item in instance.items]
        self.length = [kind.length for kind in instance.kinds]
        self.width = [kind.width for kind in instance.kinds]
        self.size = [kind.length * kind.width for kind in instance.kinds]
        self.lying = [_lying(instance, kind) for kind in range(len(instance.kinds))]
        self.least = [_least(ways, instance.levels > 2) for ways in self.lying]
        self.fixed = [kind.fixed for kind in instance.kinds]
        self.limited = instance.limits.bind
        reach = instance.limits.reach
        self.reach = [kind.width if reach is None else reach for kind in instance.kinds]

    def empty(self, kind: int) -> Sheet:
        """Return a sheet with nothing on it."""
        return Sheet(kind, self.width[kind], [], 0)

    def takes(self, kind: int, item: int) -> bool:
        """Whether an empty sheet of a kind takes an item, within the shop's limits."""
        if not self.limited or not self.lying[kind][item]:
            return bool(self.lying[kind][item])
        return next(alone(self.instance, kind, item), None) is not None


def _lying(instance: Instance, kind: int) -> list[tuple[Piece, ...]]:
    sheet = instance.kinds[kind]
    ways = []
    for item, turns in enumerate(sheet.orientations):
        pieces = {instance.size(item, turned): turned for turned in sorted(turns, reverse=True)}
        fitting = ((*size, item, turned) for size, turned in pieces.items())
        ways.append(tuple(p for p in fitting if p[0] <= sheet.length and p[1] <= sheet.width))
    return ways


def _least(ways: Iterable[tuple[Piece, ...]], stacks: bool) -> dict[int, int]:
    """Map each length of a block to the width below which nothing fits beside its items."""
    narrowest: dict[int, int] = {}
    least = NEVER
    for length, width, _, _ in sorted(piece for pieces in ways for piece in pieces):
        least = min(least, width)
        narrowest[length] = least if stacks else NEVER
    return narrowest


def demand(instance: Instance) -> list[int]:
    """Return the item types needed, each as often as it is needed."""
    return [index for index, item in enumerate(instance.items) for _ in range(item.demand)]


def put_cell(table: SearchTable, kind: int, rip: Rip, cell: Cell) -> None:
    """Add a block to the open or the closed ones of a strip; its free room stays as it is."""
    (rip.open if cell[1] >= table.least[kind][cell[0]] else rip.closed).append(cell)


def freeze(table: SearchTable, sheets: Sequence[Sheet], left: Iterable[int]) -> Solution:
    """Return the solution: sheets with anything on them, and what is on none."""
    counts = [0] * len(table.area)
    for item in left:
        counts[item] += 1
    return Solution(tuple(freeze_sheet(sheet) for sheet in sheets if sheet.rips), tuple(counts))


def freeze_sheet(sheet: Sheet) -> Laid:
    """Return one sheet as the instance describes it."""
    return Laid(sheet.kind, tuple(freeze_rip(rip) for rip in sheet.rips))


def freeze_rip(rip: Rip) -> Strip:
    """Return one strip as the instance describes it."""
    blocks = (
        Block(length, tuple(Lying(item, turned) for _, _, item, turned in stack))
        for length, _, stack in (*rip.open, *rip.closed)
    )
    return Strip(rip.width, tuple(blocks))

"""What sawing a layout takes, sheet by sheet, so that a change costs only its sheets.

A set-up is one number: its level and the size sawn off. In a run that ends exactly the
largest piece is left for the end; the order that saves most is arranged afterwards.
"""

from collections.abc import Iterable
from typing import NamedTuple

from solver.state import Cell, Rip, Sheet, Table

LEVEL = 1 << 48
"""Set-up of a size at a level: ``level * LEVEL + size``."""


class Entry(NamedTuple):
    """Seconds for the cuts and skims of one sheet, and the set-ups it needs."""

    seconds: int
    setups: tuple[int, ...]


class Ledger:
    """How many sheets need each set-up."""

    __slots__ = ("cut", "setup", "skim", "table", "users")

    def __init__(self, table: Table) -> None:
        weights = table.instance.weights
        self.table = table
        self.cut, self.setup, self.skim = weights.cut_s, weights.setup_s, weights.skim_s
        self.users: dict[int, int] = {}

    def add(self, entries: Iterable[Entry]) -> None:
        """Count sheets in."""
        users = self.users
        for entry in entries:
            for key in entry.setups:
                users[key] = users.get(key, 0) + 1

    def take(self, entries: Iterable[Entry]) -> None:
        """Count sheets out."""
        users = self.users
        for entry in entries:
            for key in entry.setups:
                if users[key] == 1:
                    del users[key]
                else:
                    users[key] -= 1

    def seconds(self, entries: Iterable[Entry]) -> int:
        """Return the seconds of sheets that are all counted in, set-ups included."""
        return sum([entry.seconds for entry in entries]) + self.setup * len(self.users)

    def entry(self, sheet: Sheet) -> Entry:
        """Work out what sawing one sheet takes."""
        kind = self.table.instance.kinds[sheet.kind]
        keys: set[int] = set()
        seconds = 0
        if sheet.rips:
            widths = [rip.width for rip in sheet.rips]
            trims = kind.sheet_trim + kind.strip_trim * len(widths)
            seconds = self.cut * trims + self._run(1, widths, sheet.free, keys, kind.exact_width)
        for rip in sheet.rips:
            lengths = [cell[0] for cell in rip.open] + [cell[0] for cell in rip.closed]
            seconds += self._run(2, lengths, rip.free, keys, kind.exact_length)
            for cell in rip.open:
                seconds += self._block(cell, keys)
            for cell in rip.closed:
                seconds += self._block(cell, keys)
        return Entry(seconds, tuple(keys))

    def _run(self, level: int, sizes: list[int], left: int, keys: set[int], exact: bool) -> int:
        """Return the seconds for the cuts of a run; its set-ups join the keys."""
        base = level * LEVEL
        if left or not exact:
            keys.update([base + size for size in sizes])
            skims = exact and left <= self.table.instance.kerf
            return self.cut * len(sizes) + self.skim * skims
        largest = max(sizes)
        if sizes.count(largest) > 1:
            keys.update([base + size for size in sizes])
        else:
            keys.update([base + size for size in sizes if size != largest])
        return self.cut * (len(sizes) - 1)

    def _block(self, cell: Cell, keys: set[int]) -> int:
        length, free, stack = cell
        if free or len(stack) > 1:
            seconds = self._run(3, [piece[1] for piece in stack], free, keys, True)
        else:
            seconds = 0
        for piece in stack:
            if piece[0] < length:
                keys.add(4 * LEVEL + piece[0])
                skims = length - piece[0] <= self.table.instance.kerf
                seconds += self.cut + self.skim * skims
        return seconds


def users_of(rip: Rip, key: int) -> list[Cell]:
    """Return the blocks of a strip whose cuts have that level and size."""
    level, size = divmod(key, LEVEL)
    cells = rip.open + rip.closed
    if level == 1:
        return cells if rip.width == size else []
    if level == 2:
        return [cell for cell in cells if cell[0] == size]
    across = 1 if level == 3 else 0
    return [cell for cell in cells if any(piece[across] == size for piece in cell[2])]

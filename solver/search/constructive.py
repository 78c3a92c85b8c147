"""The first plan, within milliseconds, and better ones while nothing cleverer runs.

A pass sorts the items (by width, length, area, or a mix) and lays each where it wastes
least, opening sheets as it needs them. After one pass for every key and tolerance, the
passes go on with keys, tolerances and choice of sheets perturbed at random.
"""

from collections.abc import Callable, Iterator
from random import Random

from solver.material.instance import Instance, Solution
from solver.search.insert import Habits, fill
from solver.search.repair import mend
from solver.search.state import SearchTable, Sheet, demand, freeze

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

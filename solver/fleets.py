"""Which sheets to try next: sets of sheets cheaper than the best plan's, yet large enough.

A fleet says how many sheets of each row there are. Only fleets that no further sheet fits
into are listed: a sheet that is not needed may stay empty.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from operator import le
from random import Random

from solver.instance import Instance
from solver.state import Sheet, Table, items_on

MOST = 64
"""Fleets kept, those with most area."""

DEEPEST = 4096
"""Fleets looked at."""

Fleet = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Limit:
    """What a fleet may cost: a price at most, and a number of sheets at most."""

    price: int
    sheets: int


def room_of(table: Table, row: int) -> int:
    """Return the area of a sheet of that row, the largest of its kinds; 0 if unused."""
    instance = table.instance
    sizes = (table.size[k] for k, kind in enumerate(instance.kinds) if kind.row == row)
    return max(sizes, default=0)


def fleets(table: Table, limit: Limit, items: Sequence[int]) -> list[Fleet]:
    """Return the fullest fleets within a limit that may take those items, largest first.

    They have enough area, and for every item a kind of sheet that it fits.
    """
    area = sum(table.area[item] for item in items)
    rows = table.instance.rows
    rooms = [room_of(table, row) for row in range(len(rows))]
    order = sorted(
        (row for row in range(len(rows)) if rooms[row]),
        key=lambda row: (rows[row].price / rooms[row], -rooms[row]),
    )
    found: dict[Fleet, int] = {}
    for counts in islice(_full(table.instance, order, limit), DEEPEST):
        fleet = tuple(counts.get(row, 0) for row in range(len(rows)))
        total = sum(n * room for n, room in zip(fleet, rooms, strict=True))
        if total >= area and _takes(table, fleet, set(items)):
            found[fleet] = total
    return _undominated(sorted(found, key=lambda fleet: -found[fleet]))


def _takes(table: Table, fleet: Fleet, items: set[int]) -> bool:
    """Whether every item fits some sheet of the fleet."""
    kinds = [k for k, kind in enumerate(table.instance.kinds) if fleet[kind.row]]
    return all(any(table.lying[kind][item] for kind in kinds) for item in items)


def _undominated(ordered: Sequence[Fleet]) -> list[Fleet]:
    """Drop fleets that another one contains; the order is by falling area."""
    kept: list[Fleet] = []
    for fleet in ordered:
        if not any(all(map(le, fleet, other)) for other in kept):
            kept.append(fleet)
        if len(kept) == MOST:
            break
    return kept


def _full(instance: Instance, order: Sequence[int], limit: Limit) -> Iterator[dict[int, int]]:
    """Yield fleets of the rows in that order, as many of each as the limit allows first."""
    if not order:
        yield {}
        return
    row = order[0]
    most = _most(instance, row, limit)
    if len(order) == 1:
        yield {row: most}
        return
    for count in range(most, -1, -1):
        cost = count * instance.rows[row].price
        rest = Limit(limit.price - cost, limit.sheets - count)
        for fleet in _full(instance, order[1:], rest):
            yield {row: count, **fleet}


def _most(instance: Instance, row: int, limit: Limit) -> int:
    """Return how many sheets of a row a limit allows."""
    stock = instance.rows[row]
    most = limit.sheets if stock.at_hand is None else min(limit.sheets, stock.at_hand)
    return min(most, limit.price // stock.price) if stock.price else most


def refit(
    table: Table, fleet: Fleet, layout: tuple[Sequence[Sheet], Sequence[int]], rng: Random
) -> tuple[list[Sheet], list[int]]:
    """Fit a layout (sheets, left over) to a fleet: its fullest sheets, and empty ones.

    What lay on sheets that the fleet does not have is left over.
    """
    sheets, spilled = layout
    free, left = list(fleet), list(spilled)
    kept: list[Sheet] = []
    for sheet in sorted(sheets, key=lambda sheet: -sheet.used):
        row = table.instance.kinds[sheet.kind].row
        if free[row] > 0:
            free[row] -= 1
            kept.append(sheet)
        else:
            left.extend(items_on(sheet))
    return kept + list(_empty_sheets(table, free, rng)), left


def _empty_sheets(table: Table, counts: Sequence[int], rng: Random) -> Iterator[Sheet]:
    for kind, sheet in enumerate(table.instance.kinds):
        if table.siblings[kind][0] == kind:
            for _ in range(counts[sheet.row]):
                yield table.empty(rng.choice(table.siblings[kind]))

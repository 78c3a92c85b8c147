"""Which sheets to try next: fleets that cost less than the one in use."""

from collections import Counter
from collections.abc import Iterator, Sequence

from solver.material.instance import Instance, Laid

Fleet = tuple[int, ...]
"""Index of the kind of each sheet, sorted."""


def fleet_of(sheets: Sequence[Laid]) -> Fleet:
    """Return the fleet of a solution's sheets."""
    return tuple(sorted(sheet.kind for sheet in sheets))


def worth(instance: Instance, fleet: Fleet) -> tuple[int, int, int]:
    """Return price, what is taken from the rack, and sheets; less is better, in this order."""
    bought = _bought(instance, fleet)
    rows = [instance.rows[instance.kinds[kind].row] for kind in bought]
    return sum(row.price for row in rows), sum(row.rack for row in rows), len(bought)


def cheaper_fleets(instance: Instance, fleet: Fleet) -> list[Fleet]:
    """Return fleets that cost less and have room by area, the roomiest first.

    Each is the fleet less one or two sheets, plus at most one other, or plus all that costs
    nothing, and whatever room there is on sheets that are begun.
    """
    need = sum(item.length * item.width * item.demand for item in instance.items)
    found = {
        with_begun(instance, other)
        for other in _neighbours(instance, _bought(instance, fleet))
        if worth(instance, tuple(other)) < worth(instance, fleet)
        and _area(instance, with_begun(instance, other)) >= need
        and _at_hand(instance, other)
    }
    return sorted(found, key=lambda other: (-_area(instance, other), other))


def with_begun(instance: Instance, fleet: Sequence[int]) -> Fleet:
    """Return the fleet with all the room on sheets that are begun, one kind for each row."""
    there = {instance.kinds[kind].row for kind in fleet}
    begun = {
        one.row: kind
        for kind, one in enumerate(instance.kinds)
        if instance.is_begun(kind) and one.row not in there
    }
    return tuple(sorted([*fleet, *begun.values()]))


def everything(instance: Instance, fleet: Fleet) -> Fleet:
    """Return the fleet with every further sheet at hand, one kind for each row."""
    used = _rows(instance, fleet)
    more = list(fleet)
    for number, row in enumerate(instance.rows):
        kinds = [k for k, kind in enumerate(instance.kinds) if kind.row == number]
        if row.at_hand is not None and kinds:
            more += [kinds[0]] * (row.at_hand - used[number])
    return tuple(sorted(more))


def _bought(instance: Instance, fleet: Fleet) -> Fleet:
    return tuple(kind for kind in fleet if not instance.is_begun(kind))


def _neighbours(instance: Instance, fleet: Fleet) -> Iterator[list[int]]:
    for rest in _thinned(fleet):
        yield rest
        yield [*rest, *_free(instance, rest)]
        for kind in range(len(instance.kinds)):
            if not instance.is_begun(kind):
                yield [*rest, kind]


def _free(instance: Instance, fleet: Sequence[int]) -> Iterator[int]:
    """Yield further sheets of the rack that cost nothing, all there are, one kind for each row."""
    used = _rows(instance, fleet)
    kinds = {one.row: kind for kind, one in reversed([*enumerate(instance.kinds)])}
    for number, row in enumerate(instance.rows):
        if number in kinds and row.rack and not row.price and row.at_hand is not None:
            yield from [kinds[number]] * (row.at_hand - used[number])


def _thinned(fleet: Fleet) -> Iterator[list[int]]:
    """Yield the fleet without one sheet, then without two, equal choices once."""
    for first in sorted(set(fleet)):
        rest = list(fleet)
        rest.remove(first)
        yield rest
        for second in sorted({kind for kind in rest if kind >= first}):
            fewer = list(rest)
            fewer.remove(second)
            yield fewer


def _area(instance: Instance, fleet: Sequence[int]) -> int:
    return sum(instance.kinds[kind].length * instance.kinds[kind].width for kind in fleet)


def _rows(instance: Instance, fleet: Sequence[int]) -> Counter[int]:
    return Counter(instance.kinds[kind].row for kind in fleet)


def _at_hand(instance: Instance, fleet: Sequence[int]) -> bool:
    limits = [row.at_hand for row in instance.rows]
    return all(
        (limit := limits[row]) is None or count <= limit
        for row, count in _rows(instance, fleet).items()
    )

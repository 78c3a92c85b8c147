"""Whether the shop's limits let an item be sawn at all, from a sheet of its own."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import Any

from solver.limits.measure import wrong_sheet
from solver.material.instance import Block, Instance, Laid, Lying, SheetKind, ShopLimits, Strip


def alone(instance: Instance, kind: int, item: int) -> Iterator[Laid]:
    """Yield sheets of a kind with that item only, sound under the limits, least waste first.

    A wider strip or a longer block than the item may be what can be held, or what carries
    the rail: those whose size a limit or the room sets are tried.
    """
    room, limits = instance.kinds[kind], instance.limits
    for turned in room.orientations[item]:
        length, width = instance.size(item, turned)
        widths = [room.width] if room.fixed else _sizes(width, room.width, limits)
        lengths = [length] if instance.levels < 3 else _sizes(length, room.length, limits)
        for across, along in product(widths, lengths):
            block = Block(along, (Lying(item, turned),))
            sheet = Laid(kind, (Strip(across, (block,)),))
            if next(wrong_sheet(instance, sheet), None) is None:
                yield sheet


def _sizes(least: int, room: int, limits: ShopLimits) -> list[int]:
    """Return the sizes worth trying for a piece that holds one of that size."""
    tried = {room, room - limits.carry, limits.carry, limits.hold, limits.reach or room}
    return [least, *sorted(size for size in tried if least < size <= room)]


def can_be_sawn(instance: Instance, item: int) -> bool:
    """Whether some kind of sheet gives an item without breaking a limit."""
    kinds = range(len(instance.kinds))
    return any(next(alone(instance, kind, item), None) is not None for kind in kinds)


def most(instance: Instance, item: int, limit: str) -> int | None:
    """Return the greatest figure of a limit under which an item can be sawn.

    ``limit`` is a field of `ShopLimits` that sets none when it is 0; ``None`` if none helps.
    """
    limits = instance.limits

    def can(value: int) -> bool:
        figure: dict[str, Any] = {limit: value}
        return can_be_sawn(replace(instance, limits=replace(limits, **figure)), item)

    if not can(0):
        return None
    able, unable = 0, getattr(limits, limit)
    while unable - able > 1:
        middle = (able + unable) // 2
        able, unable = (middle, unable) if can(middle) else (able, middle)
    return able


def without(instance: Instance, items: set[int]) -> Instance:
    """Return the instance without some item types."""
    kept = [number for number in range(len(instance.items)) if number not in items]

    def fewer(kind: SheetKind) -> SheetKind:
        return replace(kind, orientations=tuple(kind.orientations[number] for number in kept))

    return replace(
        instance,
        items=tuple(instance.items[number] for number in kept),
        kinds=tuple(fewer(kind) for kind in instance.kinds),
    )

"""Kinds of sheet that are cut alike, and how the items may lie on them in whole cells."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from solver.material.instance import Instance, Lying, SheetKind
from solver.proof.normal_patterns import ScaledPositions


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetShape:
    """Kinds with the same room and the same ways to lie; their strips are the same.

    ``kinds`` are indices into `Instance.kinds`.
    """

    length: int
    width: int
    orientations: tuple[tuple[bool, ...], ...]
    kinds: tuple[int, ...]


class WayToLie(NamedTuple):
    """One way in which an item type may lie on a shape: extents, in cells if scaled, and copies."""

    lying: Lying
    length: int
    width: int
    copies: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaledShape:
    """A shape on a scale: what may lie where.

    ``lies`` are sorted by length. Points of ``across`` are heights of strips and positions
    of strips on the sheet alike.
    """

    shape: SheetShape
    levels: int
    along: ScaledPositions
    across: ScaledPositions
    lies: tuple[WayToLie, ...]

    @property
    def is_exact(self) -> bool:
        """Whether nothing is lost to the scale."""
        return self.along.exact and self.across.exact


def shapes_of(instance: Instance) -> tuple[SheetShape, ...]:
    """Return the shapes of all kinds that can be had and take any item, in order of mention."""
    groups: dict[tuple[int, int, tuple[tuple[bool, ...], ...]], list[int]] = {}
    for index, kind in enumerate(instance.kinds):
        turns = _fitting(instance, kind)
        if instance.rows[kind.row].at_hand != 0 and any(turns):
            groups.setdefault((kind.length, kind.width, turns), []).append(index)
    return tuple(
        SheetShape(length=length, width=width, orientations=turns, kinds=tuple(kinds))
        for (length, width, turns), kinds in groups.items()
    )


def _fitting(instance: Instance, kind: SheetKind) -> tuple[tuple[bool, ...], ...]:
    """Return how each item may lie so that it fits, once if it is square."""
    found = []
    for item, turns in enumerate(kind.orientations):
        sizes = {turned: instance.size(item, turned) for turned in turns}
        fits = [t for t, (x, y) in sizes.items() if x <= kind.length and y <= kind.width]
        square = instance.items[item].length == instance.items[item].width
        found.append(tuple(fits[: 1 if square else 2]))
    return tuple(found)


def grid_of(
    instance: Instance, shape: SheetShape, most_along: int, most_across: int
) -> ScaledShape:
    """Lay a shape on at most about so many points in each direction."""
    along = ScaledPositions(copies_of(instance, shape, 0), shape.length, most_along)
    across = ScaledPositions(copies_of(instance, shape, 1), shape.width, most_across)
    return ScaledShape(
        shape=shape,
        levels=instance.levels,
        along=along,
        across=across,
        lies=lies_of(instance, shape, along.scale, across.scale),
    )


def lies_of(
    instance: Instance,
    shape: SheetShape,
    along: Callable[[int], int] = int,
    across: Callable[[int], int] = int,
) -> tuple[WayToLie, ...]:
    """Return all ways to lie on a shape, sizes put on a scale each way, shortest first."""
    lies = (
        WayToLie(Lying(item, turned), along(length), across(width), instance.items[item].demand)
        for item, turns in enumerate(shape.orientations)
        for turned in turns
        for length, width in [instance.size(item, turned)]
    )
    return tuple(sorted(lies, key=lambda lie: (lie.length, -lie.width, lie.lying)))


def copies_of(instance: Instance, shape: SheetShape, direction: int) -> Counter[int]:
    """Return how many copies have which size along (0) or across (1) the strips."""
    copies: Counter[int] = Counter()
    for lie in lies_of(instance, shape):
        copies[(lie.length, lie.width)[direction]] += lie.copies
    return copies

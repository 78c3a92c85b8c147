"""Kinds of sheet that are cut alike, and how the items may lie on them in whole cells."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from solver.material.instance import Instance, Lying, SheetKind
from solver.proof.normal_patterns import ScaledPositions


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Kinds with the same room and the same ways to lie; their strips are the same.

    ``kinds`` are indices into `Instance.kinds`.
    """

    length: int
    width: int
    orientations: tuple[tuple[bool, ...], ...]
    kinds: tuple[int, ...]


class ScaledLie(NamedTuple):
    """One way in which an item type may lie on a shape: extents in cells, and copies."""

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

    shape: Shape
    levels: int
    along: ScaledPositions
    across: ScaledPositions
    lies: tuple[ScaledLie, ...]

    @property
    def is_exact(self) -> bool:
        """Whether nothing is lost to the scale."""
        return self.along.exact and self.across.exact


def shapes_of(instance: Instance) -> tuple[Shape, ...]:
    """Return the shapes of all kinds that can be had and take any item, in order of mention."""
    groups: dict[tuple[int, int, tuple[tuple[bool, ...], ...]], list[int]] = {}
    for index, kind in enumerate(instance.kinds):
        turns = _fitting(instance, kind)
        if instance.rows[kind.row].at_hand != 0 and any(turns):
            groups.setdefault((kind.length, kind.width, turns), []).append(index)
    return tuple(
        Shape(length=length, width=width, orientations=turns, kinds=tuple(kinds))
        for (length, width, turns), kinds in groups.items()
    )


def _fitting(instance: Instance, kind: SheetKind) -> tuple[tuple[bool, ...], ...]:
    """Return how each item may lie so that it fits, once if it is square."""

    def fits(item: int, turned: bool) -> bool:
        length, width = instance.size(item, turned)
        return length <= kind.length and width <= kind.width

    return tuple(
        tuple(t for t in turns if fits(item, t))[: 1 if _is_square(instance, item) else 2]
        for item, turns in enumerate(kind.orientations)
    )


def _is_square(instance: Instance, item: int) -> bool:
    return instance.items[item].length == instance.items[item].width


def grid_of(instance: Instance, shape: Shape, most_along: int, most_across: int) -> ScaledShape:
    """Lay a shape on at most about so many points in each direction."""
    lyings = [
        Lying(item, turned) for item, turns in enumerate(shape.orientations) for turned in turns
    ]
    along = ScaledPositions(_copies(instance, lyings, 0), shape.length, most_along)
    across = ScaledPositions(_copies(instance, lyings, 1), shape.width, most_across)
    lies = (_lie(instance, lying, along, across) for lying in lyings)
    return ScaledShape(
        shape=shape,
        levels=instance.levels,
        along=along,
        across=across,
        lies=tuple(sorted(lies, key=lambda lie: (lie.length, -lie.width, lie.lying))),
    )


def _lie(
    instance: Instance, lying: Lying, along: ScaledPositions, across: ScaledPositions
) -> ScaledLie:
    length, width = instance.size(*lying)
    copies = instance.items[lying.item].demand
    return ScaledLie(lying, along.scale(length), across.scale(width), copies)


def _copies(instance: Instance, lyings: Iterable[Lying], direction: int) -> Counter[int]:
    """Return how many copies have which size along (0) or across (1) the strips."""
    copies: Counter[int] = Counter()
    for lying in lyings:
        copies[instance.size(*lying)[direction]] += instance.items[lying.item].demand
    return copies

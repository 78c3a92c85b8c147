"""Kinds of sheet that are cut and trimmed alike, on the exact scale."""

from dataclasses import dataclass, replace

from solver.material.instance import Instance, SheetKind
from solver.proof.cut_bound.positions import ExactPositions
from solver.proof.cut_bound.stacks import NEVER, PIECE
from solver.proof.shapes import SheetShape, WayToLie, copies_of, lies_of, shapes_of

MOST_ALONG, MOST_ACROSS = 30_000, 15_000
"""Most positions worked with in each direction."""
MOST_PIECES = 200
"""Waste pieces that one item may be worth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExactShape:
    """What one sheet offers: room, ways to lie, and where a run may end without a cut.

    Attributes
    ----------
    kinds, rows
        Indices of the kinds, and of the stock rows that have such sheets.
    lies
        By rising length.
    fills_length, fills_width
        Whether a run can fill the room, and then needs no last cut.
    strip_waste, sheet_waste
        Value of the near trims of each strip, and of the sheet.
    """

    kinds: tuple[int, ...]
    rows: tuple[int, ...]
    levels: int
    along: ExactPositions
    across: ExactPositions
    lies: tuple[WayToLie, ...]
    fills_length: bool
    fills_width: bool
    strip_waste: int
    sheet_waste: int

    @property
    def most_price(self) -> int:
        """Price of an item up to which no strip is worth so much that tables overflow."""
        shortest = min(lie.length for lie in self.lies)
        narrowest = min(lie.width for lie in self.lies)
        most = (self.along.capacity // shortest) * (self.across.capacity // narrowest)
        return min(MOST_PIECES * PIECE, -NEVER // (4 * most))


def exact_shapes(instance: Instance) -> tuple[ExactShape, ...]:
    """Return the exact shapes of all kinds that can be had and take any item.

    Raises
    ------
    TooManyPositions
        When there are more positions than can be worked with.
    """
    return tuple(
        _exact_shape(instance, shape, kinds)
        for shape in shapes_of(instance)
        for kinds in _alike(instance, shape)
    )


def _alike(instance: Instance, shape: SheetShape) -> list[tuple[int, ...]]:
    """Group the kinds of a shape by their trims."""
    groups: dict[SheetKind, list[int]] = {}
    for index in shape.kinds:
        kind = instance.kinds[index]
        alike = replace(kind, row=0, transposed=False, orientations=shape.orientations)
        groups.setdefault(alike, []).append(index)
    return [tuple(kinds) for kinds in groups.values()]


def _exact_shape(instance: Instance, shape: SheetShape, kinds: tuple[int, ...]) -> ExactShape:
    kind = instance.kinds[kinds[0]]
    along = ExactPositions(copies_of(instance, shape, 0), shape.length, MOST_ALONG)
    across = ExactPositions(copies_of(instance, shape, 1), shape.width, MOST_ACROSS)
    return ExactShape(
        kinds=kinds,
        rows=tuple(sorted({instance.kinds[index].row for index in kinds})),
        levels=instance.levels,
        along=along,
        across=across,
        lies=lies_of(instance, shape),
        fills_length=kind.exact_length and along.reaches_end,
        fills_width=kind.exact_width and across.reaches_end,
        strip_waste=PIECE * kind.strip_trim,
        sheet_waste=PIECE * kind.sheet_trim,
    )

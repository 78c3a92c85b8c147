"""A cut as far as it decides what leads the saw, what that lies on, and what holds the size."""

from typing import NamedTuple

from shared.lengths import Length
from shared.making.strokes import Stroke
from shared.plan import CutKind
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.weighing import grams


class Aim(NamedTuple):
    """A cut as far as it decides that; lengths in ticks, weight in grams.

    Attributes
    ----------
    kind, axis, size
        As in `shared.plan.Cut`.
    kept, other
        Extent of the keep side and of the other side at right angles to the cut.
    long
        Length of the cut.
    grams
        Of the piece before the cut; 0 when the density is not known.
    sawn
        Whether the edge that the size is measured from was sawn, and is no factory edge. Of a
        piece that came from an earlier sheet nobody knows.
    fenced
        Whether it is made at the table saw.
    """

    kind: CutKind
    axis: Axis
    size: Length
    kept: Length
    other: Length
    long: Length
    grams: int
    sawn: bool
    fenced: bool


def _aim(stroke: Stroke, shop: Shop) -> Aim:
    sheet, piece, axis = stroke.sheet, stroke.piece, stroke.axis
    return Aim(
        kind=stroke.cut.kind,
        axis=axis,
        size=stroke.cut.size,
        kept=stroke.kept,
        other=stroke.other,
        long=stroke.long,
        grams=grams(piece.length, piece.width, sheet.thickness, sheet.density),
        sawn=(piece.y if axis is Axis.RIP else piece.x) > 0 and not sheet.piece,
        fenced=stroke.at_table(shop),
    )


aim_of = Remembered(_aim, 4096)
"""Returns what decides about a stroke in a shop."""

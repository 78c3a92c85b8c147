"""Which rail a cut is made on, and which piece the rail lies on."""

from dataclasses import dataclass
from enum import StrEnum

from shared.lengths import Length
from shared.shop import Rail, Shop
from shared.telling.strokes import Stroke


class Bed(StrEnum):
    """What carries the rail."""

    KEPT = "kept"
    """The keep side, so that the splinter strip guards it."""
    OTHER = "other"
    """The other side: the keep side is too narrow."""
    PACKED = "packed"
    """The keep side, with scrap of the same thickness behind it: both sides are too narrow."""
    NONE = "none"
    """There is no rail: the cut is made at the table saw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RailUse:
    """A rail over a cut.

    ``rail`` is ``None`` where the shop names no rails, or the cut is made at the table saw.
    ``over`` is how much longer the rail is than the cut, in ticks, negative when it does not
    reach; ``enough`` says that this is as much as the maker wants.
    """

    bed: Bed
    rail: Rail | None = None
    over: Length = 0
    enough: bool = True


def rail_use(stroke: Stroke, shop: Shop) -> RailUse:
    """Return the shortest rail that takes the cut; if none does, the longest there is."""
    bed = _bed(stroke, shop)
    if bed is Bed.NONE or not shop.rails:
        return RailUse(bed=bed)
    taking = shop.rail_for(stroke.long)
    rail = taking or max(shop.rails, key=lambda one: one.whole)
    return RailUse(bed=bed, rail=rail, over=rail.whole - stroke.long, enough=taking is not None)


def _bed(stroke: Stroke, shop: Shop) -> Bed:
    if stroke.at_table(shop):
        return Bed.NONE
    if stroke.kept >= shop.carry:
        return Bed.KEPT
    return Bed.OTHER if stroke.other >= shop.carry else Bed.PACKED

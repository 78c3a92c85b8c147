"""What carries both sides of a cut on sawhorses, so that neither tips, before it and after.

Bearers lie over the sawhorses along the line of the cut. A side is carried beside the line,
where the blade would be pinched, and near its other end too, so that its centre lies between
its bearers; a side that is not much wider than a bearer is carried under its middle.
"""

from typing import Final

from shared.lengths import MM, Length
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bearers, Way
from shared.making.strokes import Stroke
from shared.shop import Shop, Support

FALLS: Final[Length] = 50 * MM
"""Waste narrower than this has no room for a bearer clear of the blade: it falls."""
ONE: Final[Length] = 200 * MM
"""Up to so wide a side is carried by one bearer under its middle (common practice)."""
BESIDE: Final[Length] = 50 * MM
"""From the line, or the other end, to the middle of a bearer (common practice)."""


def bearers_of(stroke: Stroke, left: Side | None, way: Way, shop: Shop) -> Bearers | None:
    """Return where the bearers go under both sides of a cut.

    ``left`` is what the cut leaves on the side that is not kept. ``None`` where there are no
    bearers: at the table saw, on a slatted grid, and on foam.
    """
    if way is Way.FENCE or shop.support is not Support.HORSES:
        return None
    waste = left is None or left.end is PieceFate.WASTE
    return Bearers(
        keep=under(stroke.kept), other=() if waste and falls(stroke.other) else under(stroke.other)
    )


def falls(wide: Length) -> bool:
    """Say whether waste so wide, in ticks at right angles to the cut, is too narrow to carry."""
    return wide < FALLS


def under(wide: Length) -> tuple[Length, ...]:
    """Return how far from the line the middles of the bearers are of a side so wide, in ticks."""
    if wide <= ONE:
        return (wide // 2,) if wide else ()
    return BESIDE, wide - BESIDE

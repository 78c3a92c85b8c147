"""What carries both sides of a cut on sawhorses, so that neither tips, before it and after.

Bearers lie over the sawhorses along the line of the cut. A side is carried beside the line,
where the blade would be pinched, and near its other end too, so that its centre lies between
its bearers, and between these so often that it sags little; a side that is not much wider than
a bearer is carried under its middle. A narrow strip of waste drops, unless it is apt to twist
and close the kerf: that one is carried too, on a lath.
"""

from typing import Final

from shared.lengths import METRE, MM, Length
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bearers, Way
from shared.making.strokes import Stroke
from shared.shop import Shop, Support

SPAN: Final[Length] = 1200 * MM
"""Bearers are at most so far apart (4 ft; common practice), so that a sheet sags little."""
FALLS: Final[Length] = 50 * MM
"""What is narrower than this has no room for a bearer clear of the blade, only for a lath."""
BENDS: Final[Length] = 25 * MM
"""A strip narrower than this bends away from the blade and closes nothing (common practice)."""
SLENDER: Final = 15
"""A strip so many times longer than wide is apt to twist; our reading of the manuals."""
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
    drops = waste and stroke.other < FALLS and not may_twist(stroke.other, stroke.long)
    return Bearers(keep=under(stroke.kept), other=() if drops else under(stroke.other))


def may_twist(wide: Length, long: Length) -> bool:
    """Say whether a strip, its sides in ticks, is apt to twist and close the kerf on the blade."""
    return wide >= BENDS and long >= max(METRE, SLENDER * wide)


def under(wide: Length) -> tuple[Length, ...]:
    """Return how far from the line the middles of the bearers are of a side so wide, in ticks."""
    if wide <= ONE:
        return (wide // 2,) if wide else ()
    over = wide - 2 * BESIDE
    spans = -(-over // SPAN)
    return tuple(BESIDE + over * place // spans for place in range(spans + 1))

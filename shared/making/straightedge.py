"""What leads each cut, and where a straightedge is clamped for a circular saw.

The base of the saw runs along the straightedge. With d from the edge of the base to the nearer
face of the blade, the straightedge lies d back from the line on the keep side, or kerf + d
beyond it on the other side. An edge guide rides on an edge of the piece instead, and copies it:
so only on one that was sawn.
"""

from typing import Final

from shared.lengths import MM, Length
from shared.making.aim import Aim
from shared.making.record import Bed, Way
from shared.making.strokes import Stroke
from shared.plan import CutKind, Keep
from shared.shop import Hand, RunsOn, SawBase, Shop

GRIP: Final[Length] = 60 * MM
"""A piece has to lie so far under a straightedge for a clamp to hold (common practice)."""


def way_of(aim: Aim, shop: Shop) -> Way:
    """Say what leads the saw along the line of a cut."""
    if aim.fenced:
        return Way.FENCE
    if shop.runs_on is RunsOn.RAIL:
        return Way.RAIL
    return Way.EDGE_GUIDE if rides(aim, shop) else Way.STRAIGHTEDGE


def rides(aim: Aim, shop: Shop) -> bool:
    """Say whether the edge guide of a circular saw leads a cut.

    It has to reach from a sawn edge to the line. That edge is at least as long as the base and
    not shorter than the guide stands off, or the saw would swing on it (common practice).
    """
    guide, base, size = shop.guide, shop.base, aim.size
    if guide is None or base is None or aim.kind is CutKind.TRIM or not aim.sawn:
        return False
    return guide.least <= size <= guide.most and aim.long >= max(base.length, size)


def set_back(shop: Shop) -> Length:
    """Return how far behind the blade's nearer face the edge lies that leads it, in ticks.

    0 for a rail, whose edge is where the blade runs; for a straightedge from that edge of the
    base which runs along it to the blade.
    """
    if shop.runs_on is RunsOn.RAIL or shop.base is None:
        return 0
    return nearer(shop.base, shop.rail_side)


def nearer(base: SawBase, hand: Hand) -> Length:
    """Return the distance from the left or right edge of a base to the blade's nearer face."""
    return base.left_near if hand is Hand.LEFT else base.right_near


def edge_at(stroke: Stroke, bed: Bed, shop: Shop) -> Length:
    """Return where the edge lies that leads the saw, from the edge the size is measured from.

    In ticks. A rail's edge is at the line on the keep side, one kerf past it on the other; a
    straightedge lies back from there by what the base takes.
    """
    cut, back = stroke.cut, set_back(shop)
    away = cut.kerf + back if bed is Bed.WASTE else -back
    return cut.size + away if cut.keep is Keep.NEAR else cut.size - away


def least_carry(shop: Shop) -> Length:
    """Return the narrowest piece that a straightedge can be clamped on beside a line, in ticks.

    0 where the saw runs on a rail, which wants no clamp beyond its own width.
    """
    return 0 if shop.runs_on is RunsOn.RAIL else set_back(shop) + GRIP


def takes(shop: Shop) -> Length:
    """Return how wide a side of the line has to be to carry what leads the saw, in ticks.

    A rail its width; a straightedge its own and what lies between it and the blade.
    """
    return max(shop.carry, set_back(shop) + shop.rail_width)

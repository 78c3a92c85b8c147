"""Where the saw enters a piece, as follows from what leads it and that it is pushed away.

The maker pushes the saw away from the body, and the rail, straightedge or edge guide is on one
side of the blade. So the side of the line it lies on decides which way the saw runs: led along
the side towards the reference edge with the rail left of the blade, a rip runs from the left
end to the right, a crosscut from the far edge to the reference edge.
"""

from typing import Final

from shared.making.record import OPPOSITE, Bed, Edge
from shared.making.strokes import Stroke
from shared.plan import Keep
from shared.shop import Axis, Hand

_LED_LEFT: Final = {Axis.RIP: Edge.LEFT, Axis.CROSSCUT: Edge.FAR}
"""Where it enters, led on its left along the side towards the reference edge or left end."""


def led_on(stroke: Stroke, bed: Bed) -> Keep:
    """Return the side of the line on which what leads the saw lies: the keep side, or not."""
    keep = stroke.cut.keep
    return keep.other if bed is Bed.WASTE else keep


def entry_of(stroke: Stroke, bed: Bed, hand: Hand, *, mirrored: bool) -> Edge:
    """Return where the saw enters, as an edge of the piece with its show face up.

    Parameters
    ----------
    stroke
        The cut over its piece.
    bed
        What the rail or straightedge lies on; ``NONE`` at a fence or edge guide, which lead
        along the keep side.
    hand
        On which side of the blade that is, as the saw is pushed away. At a table saw the
        piece is pushed, its keep side along a fence on the right: so the blade goes through it
        as a saw does that is led on its left.
    mirrored
        Whether the piece is turned over; it is then led the other way along the same edge.
    """
    near, left = led_on(stroke, bed) is Keep.NEAR, hand is Hand.LEFT
    edge = _LED_LEFT[stroke.axis]
    straight = (near is left) is not mirrored
    return edge if straight else OPPOSITE[edge]

"""What carries both sides of a cut: whether each stays put on the bearers its record names."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from shared.lengths import MM, Length
from shared.making.outcome import PieceFate
from shared.making.record import CutRecord, Way
from shared.saw.laid import Lies
from shared.shop import Shop, Support

HALF: Final[Length] = 19 * MM
"""Half the width of a narrow bearer, such as a stud on its edge (common practice)."""
CLOSE: Final[Length] = 100 * MM
"""So near to the line, and to the other end, a side is carried (common practice)."""
FAR: Final[Length] = 1200 * MM
"""Bearers farther apart let a sheet sag so that it closes the kerf (common practice: 4 ft)."""
STIFF: Final[Length] = 25 * MM
TWISTS: Final = 1000 * MM, 15
"""A strip twists that is so wide, so long, and so many times longer than wide (practice)."""
DROPS: Final[Length] = 50 * MM
"""Waste that may drop is narrower than this (common practice)."""


def bearer_faults(record: CutRecord, way: Way, there: Lies, shop: Shop) -> Iterator[str]:
    """Yield what tips or drops, or lies in the blade's path, with the bearers of a record."""
    wanted = shop.support is Support.HORSES and way is not Way.FENCE
    laid = record.bearers
    if laid is None or not wanted:
        if wanted is (laid is None):
            yield "it says otherwise whether there are bearers"
        return
    yield from _tips(there.kept, laid.keep)
    waste = record.left is None or record.left.end is PieceFate.WASTE
    if waste and there.other < DROPS and not _closes(there):
        if laid.other:
            yield f"a strip of {there.other} has no room for a bearer"
        return
    yield from _tips(there.other, laid.other)


def _closes(there: Lies) -> bool:
    """Say whether a strip of waste is stiff and long enough to twist and close the kerf."""
    return (
        there.other >= STIFF and there.long >= TWISTS[0] and there.long >= TWISTS[1] * there.other
    )


def _tips(wide: Length, at: tuple[Length, ...]) -> Iterator[str]:
    """Yield how a side so wide moves on bearers so far from the line."""
    if not wide:
        if at:
            yield "a bearer lies under nothing"
        return
    if not at:
        yield f"nothing carries a side of {wide}"
        return
    first, last, half = min(at), max(at), min(HALF, wide // 2)
    if first < half or last > wide - half:
        yield f"bearers at {at} lie in the blade's path, or beyond a side of {wide}"
    if not (first - half <= wide // 2 <= last + half):
        yield f"on bearers at {at} a side of {wide} tips"
    apart = max((after - one for one, after in pairwise(sorted(at))), default=0)
    if apart > FAR:
        yield f"a side of {wide} sags on bearers {apart} apart"
    if first > CLOSE or last < wide - CLOSE:
        yield f"bearers at {at} are far from the line, or from the end of a side of {wide}"

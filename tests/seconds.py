"""What cuts take, added up from the figures of their records by plain arithmetic.

The simulated saw finds these figures on its own and refuses records that say otherwise
(`shared.saw.records`). Here they are only multiplied by the shop's seconds and added, kind by
kind, as the help has it.
"""

from collections import Counter
from collections.abc import Iterable

from shared.lengths import METRE
from shared.making.lifting import Moved
from shared.making.record import CutRecord
from shared.making.settings import Device
from shared.plan import CutKind
from shared.shop import Axis, Shop


def seconds_by_kind(records: Iterable[CutRecord], shop: Shop) -> Counter[str]:
    """Return seconds by kinds of work; a kind that takes none is left out."""
    total = Counter[str]()
    for one in records:
        total += Counter(
            {
                "cutting": _cutting(one, shop),
                "setting": shop.setup_s if one.anew else 0,
                "measuring": shop.measure_s if one.proves else 0,
                "marking": shop.unguided_s if one.setting.device is Device.BOTH_ENDS else 0,
                "rails": _rails(one, shop),
                "lifting": _lifting(one, shop),
                "skimming": shop.skim_s if _skims(one) else 0,
            }
        )
    return total


def minutes_of(records: Iterable[CutRecord], shop: Shop) -> int:
    """Return the time in full minutes: what is begun is counted whole."""
    full, rest = divmod(sum(seconds_by_kind(records, shop).values()), 60)
    return full + (rest > 0)


def _cutting(one: CutRecord, shop: Shop) -> int:
    """A base, and a share for each metre sawn, to the nearest second."""
    cut = one.stroke.cut
    sawn = cut.length if one.stroke.axis is Axis.RIP else cut.width
    full, rest = divmod(sawn * shop.metre_s, METRE)
    return shop.cut_s + full + (2 * rest >= METRE)


def _rails(one: CutRecord, shop: Shop) -> int:
    if one.rail is None:
        return 0
    joining = one.rail.joins or one.rail.parted
    return (shop.rail_s if one.rail.change else 0) + (shop.join_s if joining else 0)


def _lifting(one: CutRecord, shop: Shop) -> int:
    if one.moved not in {Moved.LAID, Moved.TURNED}:
        return 0
    alone = shop.turn_g if one.moved is Moved.TURNED else shop.lift_g
    heavy = shop.heavy_s if alone and one.grams > alone else 0
    if one.moved is Moved.TURNED:
        return shop.turn_s + heavy
    return shop.lift_s + heavy + (shop.turn_s if one.turn_over else 0)


def _skims(one: CutRecord) -> bool:
    """Whether the blade goes to the end of the piece, and no trim does that."""
    cut, piece = one.stroke.cut, one.stroke.piece
    ends = (
        cut.y + cut.width == piece.y + piece.width
        if one.stroke.axis is Axis.RIP
        else cut.x + cut.length == piece.x + piece.length
    )
    return ends and cut.kind is not CutKind.TRIM

"""What the rail of a cut lies on, and what holds its size.

One decision for all: the record of a cut, the order of cuts, and what is counted of a plan.
"""

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache
from typing import Final, NamedTuple

from shared.lengths import MM, Length
from shared.making.aim import Aim, aim_of
from shared.making.record import Bed, Way
from shared.making.settings import LETTERS, Device, Setting
from shared.making.straightedge import rides, takes, way_of
from shared.making.strokes import Stroke
from shared.plan import CutKind
from shared.remembered import Remembered
from shared.shop import Axis, RunsOn, Shop, Span

GUIDED: Final = 200 * MM
"""An edge shorter than this, and than the size, leads no guide square (common practice)."""
REACHES: Final = 2
"""A square reaches if it is at least this part of the cut long: a half."""


def bed_of(aim: Aim, shop: Shop) -> Bed:
    """Say what the rail of a cut lies on.

    The keep side where it is at least as wide as the rail, so that its splinter strip guards it;
    else the wider side. Where neither is as wide as the shop asks, scrap is packed beside it.
    """
    if way_of(aim, shop) in {Way.FENCE, Way.EDGE_GUIDE}:
        return Bed.NONE
    return _lies_on(aim, shop)


def _lies_on(aim: Aim, shop: Shop) -> Bed:
    if max(aim.kept, aim.other) < shop.carry:
        return Bed.PACKED
    if aim.kept >= takes(shop) or aim.kept >= aim.other:
        return Bed.KEEP
    return Bed.WASTE


def device_of(aim: Aim, shop: Shop) -> Device:
    """Return what holds the size of a cut.

    A trim is marked; the fence of the table saw holds rips and crosscuts alike. On a rail the
    guide holds rips and the stop crosscuts (common practice), as far as they reach, and only
    where the keep side lies under the rail and its other edge beside it: an edge that the rail
    covers no guide or stop can touch, and a short one leads none square; and a board that is too
    heavy to be lifted bends a stop. Nor is a stop used where no square is long enough to lay the
    rail: a stop holds a size at one point only, and marks at both edges hold it already; a shop
    that says nothing of either is not asked. The edge guide of a saw without a rail holds what it
    reaches from a sawn edge. Whatever nothing holds is marked at both ends.
    """
    if aim.kind is CutKind.TRIM:
        return Device.MARK
    if aim.fenced:
        held = shop.table is None or within(aim.size, shop.table.fence)
        return Device.FENCE if held else Device.BOTH_ENDS
    if shop.runs_on is RunsOn.STRAIGHTEDGE:
        return Device.GUIDE if rides(aim, shop) else Device.BOTH_ENDS
    if _lies_on(aim, shop) is not Bed.KEEP or aim.size < shop.rail_width:
        return Device.BOTH_ENDS
    if aim.axis is Axis.RIP:
        led = shop.guide is None or aim.long >= min(aim.size, GUIDED)
        return Device.GUIDE if led and within(aim.size, shop.guide) else Device.BOTH_ENDS
    heavy = 0 < shop.lift_g < aim.grams
    square = is_squared(aim, shop) or (shop.stop is None and not shop.square)
    held = within(aim.size, shop.stop) and square and not heavy
    return Device.STOP if held else Device.BOTH_ENDS


class Led(NamedTuple):
    """What leads the saw of a cut, what that lies on, and what holds the size."""

    aim: Aim
    way: Way
    bed: Bed
    device: Device


def _led(stroke: Stroke, shop: Shop) -> Led:
    aim = aim_of(stroke, shop)
    return Led(aim, way_of(aim, shop), bed_of(aim, shop), device_of(aim, shop))


led = Remembered(_led, 4096)
"""Returns how a cut is led in a shop, whatever came before it."""


def is_squared(aim: Aim, shop: Shop) -> bool:
    """Say whether the shop's longest square is long enough to lay the rail of a cut with."""
    return shop.square * REACHES >= aim.long


def loses(standing: Device | None, bed: Bed, shop: Shop, *, change: bool) -> bool:
    """Say whether laying a rail loses what is set at a device; ``change`` says for another rail.

    Guide and stop come off with the rail they are on; an edge guide comes off the base whenever
    that runs along a straightedge. A fence stays as it is set.
    """
    if standing is None or standing is Device.FENCE:
        return False
    if shop.runs_on is RunsOn.STRAIGHTEDGE:
        return bed is not Bed.NONE
    return change


def within(size: Length, span: Span | None) -> bool:
    """Say whether a guide, stop or fence can be set to a size; ``None`` sets no limit."""
    return span is None or span.least <= size <= span.most


def name_settings(found: Iterable[Stroke], shop: Shop) -> dict[int, Setting]:
    """Return the setting of each cut by its number; equal settings are the same value.

    So are those of other plans, as long as they are remembered.

    Rips of any level share the guide, crosscuts of any level the stop: what is set is a
    size, and how deep in the sheet the piece lay is no matter to it.
    """
    named: dict[tuple[Device, str, Length], Setting] = {}
    counts: Counter[Device] = Counter()
    settings: dict[int, Setting] = {}
    for stroke in found:
        tool, size = stroke.cut.tool, stroke.cut.size
        device = led(stroke, shop).device
        setting = named.get((device, tool, size))
        if setting is None:
            counts[device] += 1
            letter = LETTERS.get(device)
            name = "" if letter is None else f"{letter}{counts[device]}"
            setting = named[device, tool, size] = _setting(device, tool, size, name)
        settings[stroke.cut.number] = setting
    return settings


@lru_cache(4096)
def _setting(device: Device, tool: str, size: Length, name: str) -> Setting:
    return Setting(device=device, tool=tool, size=size, name=name)

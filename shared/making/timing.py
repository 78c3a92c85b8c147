"""How long cuts take at the saw, by the kinds of work and the shop's own seconds for each.

Minutes are a sum over the records of cuts, in the order in which these are made; whatever shows
minutes shows that sum. What goes on between cuts and has no figure, such as a rest, is no part
of it.
"""

from collections.abc import Collection, Iterable
from dataclasses import astuple, dataclass, fields
from typing import Final, NamedTuple, TypeAlias

from shared.lengths import METRE, Length
from shared.making.lifting import Moved
from shared.making.rail_choice import Taken
from shared.making.record import CutRecord, RailLaid
from shared.making.recording import Handled, Readied, handled_in
from shared.making.settings import Device
from shared.plan import Plan
from shared.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Seconds:
    """What some cuts take, in whole seconds.

    Attributes
    ----------
    cutting
        A base for each cut, and a share for its length.
    setting
        Setting guide, stop or fence to a size, also to the one it had before the rail was
        changed; nothing is set for what is marked.
    measuring
        Measuring the first of several pieces that are cut at one setting.
    marking
        Measuring and marking at both ends what nothing can be set to.
    rails
        Taking another rail in hand, and joining or parting rails.
    lifting
        Laying pieces on their support, turning them there and turning them over.
    skimming
        Feeding slowly where only part of the kerf is in wood.
    """

    cutting: int = 0
    setting: int = 0
    measuring: int = 0
    marking: int = 0
    rails: int = 0
    lifting: int = 0
    skimming: int = 0

    @property
    def total(self) -> int:
        """All of them together."""
        return sum(astuple(self))

    def __add__(self, other: "Seconds") -> "Seconds":
        """Return both together."""
        return Seconds(
            cutting=self.cutting + other.cutting,
            setting=self.setting + other.setting,
            measuring=self.measuring + other.measuring,
            marking=self.marking + other.marking,
            rails=self.rails + other.rails,
            lifting=self.lifting + other.lifting,
            skimming=self.skimming + other.skimming,
        )


_NAMES: Final = tuple(one.name for one in fields(Seconds))
_Kinds: TypeAlias = tuple[int, int, int, int, int, int, int]
"""The seconds of a cut by kinds, in the order of `Seconds`."""


def seconds_of(record: CutRecord, shop: Shop) -> Seconds:
    """Return what one cut takes by the pace of a shop."""
    return _together([_of_record(record, shop)])


def total_of(found: Iterable[CutRecord], shop: Shop) -> Seconds:
    """Return what cuts take together."""
    return _together(_of_record(one, shop) for one in found)


class Worked(NamedTuple):
    """What the cuts of a plan take, and how often something is set for them."""

    seconds: Seconds
    settings: int


def worked(plan: Plan, shop: Shop) -> Worked:
    """Return what the cuts of a plan take in their order, begun with nothing set or in hand.

    It is the sum over its `shared.making.recording.records`, without all else these say.
    """
    (handled,) = handled_in(shop, plan)
    found = [_of_handled(one, shop) for one in handled]
    return Worked(_together(found), sum(one.readied.anew for one in handled))


def ahead(plan: Plan, shop: Shop, made: Collection[int]) -> Seconds:
    """Return what the cuts of a plan take but those whose numbers are ``made``."""
    (handled,) = handled_in(shop, plan)
    return _together(
        _of_handled(one, shop) for one in handled if one.readied.stroke.cut.number not in made
    )


def _of_handled(handled: Handled, shop: Shop) -> _Kinds:
    one, lying, moved, proves = handled
    aim, _, _, device = one.led
    handling = lifting_s(moved, aim.grams, shop, turn_over=lying.turn_over)
    return _kinds(one, device, handling, shop, proves=proves)


def _of_record(record: CutRecord, shop: Shop) -> _Kinds:
    handling = lifting_s(record.moved, record.grams, shop, turn_over=record.turn_over)
    return _kinds(record, record.setting.device, handling, shop, proves=record.proves)


def _kinds(
    one: Readied | CutRecord, device: Device, handling: int, shop: Shop, *, proves: bool
) -> _Kinds:
    """Return the seconds of one cut, as `Seconds` has them in order."""
    rail, stroke = one.rail, one.stroke
    return (
        cutting_s(stroke.long, shop),
        shop.setup_s if one.anew else 0,
        shop.measure_s if proves else 0,
        shop.unguided_s if device is Device.BOTH_ENDS else 0,
        0 if rail is None else rails_s(rail, shop),
        handling,
        shop.skim_s if stroke.is_skim else 0,
    )


def _together(found: Iterable[_Kinds]) -> Seconds:
    return Seconds(**dict(zip(_NAMES, map(sum, zip(*found, strict=True)), strict=False)))


def cutting_s(long: Length, shop: Shop) -> int:
    """Return the seconds of a pass so long, in ticks, whatever is done before it."""
    return shop.cut_s + (2 * shop.metre_s * long + METRE) // (2 * METRE)


def rails_s(laid: RailLaid | Taken, shop: Shop) -> int:
    """Return the seconds for another rail in hand, and for rails that are joined or parted."""
    return shop.rail_s * laid.change + shop.join_s * (laid.joins or laid.parted)


def lifting_s(moved: Moved, grams: int, shop: Shop, *, turn_over: bool) -> int:
    """Return the seconds to lay a piece of so many grams on its support, or to turn it there.

    A quarter and over is one turn, if it lies there; laid there it is turned over besides. It
    takes more when it is heavier than one lifts, or, only turned there, than one turns. One walks
    round a piece in no time that is counted.
    """
    if moved is Moved.LAID:
        handled, alone = shop.lift_s + shop.turn_s * turn_over, shop.lift_g
    elif moved is Moved.TURNED:
        handled, alone = shop.turn_s, shop.turn_g
    else:
        return 0
    return handled + (shop.heavy_s if 0 < alone < grams else 0)

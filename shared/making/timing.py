"""How long cuts take at the saw, by the kinds of work and the shop's own seconds for each.

Minutes are a sum over the records of cuts, in the order in which these are made; whatever shows
minutes shows that sum. What goes on between cuts and has no figure, such as a rest, is no part
of it.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import astuple, dataclass
from typing import NamedTuple, TypeAlias

from shared.lengths import METRE, Length
from shared.making.lifting import Moved
from shared.making.record import CutRecord
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


class Counts(NamedTuple):
    """How often each kind of work that has its seconds is done.

    Attributes
    ----------
    cuts, sawn
        Cuts, and the length of all together, in ticks.
    settings
        Whenever guide, stop or fence is set; the first is no set-up change.
    proven
        First pieces that are measured.
    marked
        Cuts that are marked at both ends.
    exchanged, joined
        Whenever another rail is taken in hand, and whenever rails are joined or parted.
    lifts, turns, heavy
        Lifts; quarter turns and turnings over; those of both that are too much for one alone.
    skims
        Cuts where only part of the kerf is in wood.
    """

    cuts: int = 0
    sawn: Length = 0
    settings: int = 0
    proven: int = 0
    marked: int = 0
    exchanged: int = 0
    joined: int = 0
    lifts: int = 0
    turns: int = 0
    heavy: int = 0
    skims: int = 0


def seconds_of(record: CutRecord, shop: Shop) -> Seconds:
    """Return what one cut takes by the pace of a shop."""
    return total_of((record,), shop)


def total_of(found: Iterable[CutRecord], shop: Shop) -> Seconds:
    """Return what cuts take together."""
    return _worked([_of_record(one, shop) for one in found], shop).seconds


class Worked(NamedTuple):
    """What the cuts of a plan take, and how often each kind of work is done for them."""

    seconds: Seconds
    counts: Counts


def worked(plan: Plan, shop: Shop) -> Worked:
    """Return what the cuts of a plan take in their order, begun with nothing set or in hand.

    It is the sum over its `shared.making.recording.records`, without all else these say.
    """
    (handled,) = handled_in(shop, plan)
    return _worked([_of_handled(one, shop) for one in handled], shop)


def ahead(plan: Plan, shop: Shop, made: Collection[int]) -> Seconds:
    """Return what the cuts of a plan take but those whose numbers are ``made``."""
    (handled,) = handled_in(shop, plan)
    left = [one for one in handled if one.readied.stroke.cut.number not in made]
    return _worked([_of_handled(one, shop) for one in left], shop).seconds


_Counts: TypeAlias = tuple[int, Length, int, int, int, int, int, int, int, int, int]
"""Counts of one cut, in the order of `Counts`; made faster."""
_Handling: TypeAlias = tuple[int, int, int]
"""Lifts and turns before a cut, and how many of these moves are too much for one alone."""


def _of_handled(handled: Handled, shop: Shop) -> _Counts:
    one, lying, moved, proves = handled
    aim, _, _, device = one.led
    handling = _handling(moved, aim.grams, shop, turn_over=lying.turn_over)
    return _counts(one, device, handling, proves=proves)


def _of_record(record: CutRecord, shop: Shop) -> _Counts:
    handling = _handling(record.moved, record.grams, shop, turn_over=record.turn_over)
    return _counts(record, record.setting.device, handling, proves=record.proves)


def _counts(
    one: Readied | CutRecord, device: Device, handling: _Handling, *, proves: bool
) -> _Counts:
    """Return how often each kind of work is done for one cut."""
    rail, stroke = one.rail, one.stroke
    lifts, turns, heavy = handling
    return (
        1,
        stroke.long,
        one.anew,
        proves,
        device is Device.BOTH_ENDS,
        rail is not None and rail.change,
        rail is not None and (rail.joins or rail.parted),
        lifts,
        turns,
        heavy,
        stroke.is_skim,
    )


def _worked(found: Sequence[_Counts], shop: Shop) -> Worked:
    """Return both sums over cuts; only the share for a cut's length is rounded cut by cut."""
    its = Counts(*map(sum, zip(*found, strict=True)))
    seconds = Seconds(
        cutting=sum(cutting_s(one[1], shop) for one in found),
        setting=shop.setup_s * its.settings,
        measuring=shop.measure_s * its.proven,
        marking=shop.unguided_s * its.marked,
        rails=shop.rail_s * its.exchanged + shop.join_s * its.joined,
        lifting=_lifting_s((its.lifts, its.turns, its.heavy), shop),
        skimming=shop.skim_s * its.skims,
    )
    return Worked(seconds, its)


def cutting_s(long: Length, shop: Shop) -> int:
    """Return the seconds of a pass so long, in ticks, whatever is done before it."""
    return shop.cut_s + (2 * shop.metre_s * long + METRE) // (2 * METRE)


def lifting_s(moved: Moved, grams: int, shop: Shop, *, turn_over: bool) -> int:
    """Return the seconds to lay a piece of so many grams on its support, or to turn it there."""
    return _lifting_s(_handling(moved, grams, shop, turn_over=turn_over), shop)


def _handling(moved: Moved, grams: int, shop: Shop, *, turn_over: bool) -> _Handling:
    """Return what is lifted and turned to lay a piece of so many grams, or to turn it there.

    A quarter and over is one turn, if it lies there; laid there it is turned over besides. It
    is heavy when it weighs more than one lifts, or, only turned there, than one turns. One walks
    round a piece in no time that is counted.
    """
    if moved is Moved.LAID:
        return (1, turn_over, 0 < shop.lift_g < grams)
    if moved is Moved.TURNED:
        return (0, 1, 0 < shop.turn_g < grams)
    return (0, 0, 0)


def _lifting_s(handling: _Handling, shop: Shop) -> int:
    lifts, turns, heavy = handling
    return shop.lift_s * lifts + shop.turn_s * turns + shop.heavy_s * heavy

"""What a plan takes: sheets, cuts, set-ups, seconds at the saw, and the share of stock used."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from shared.lengths import Length
from shared.making.aim import aim_of
from shared.making.devices import device_of
from shared.making.settings import LETTERS, Device
from shared.making.strokes import strokes
from shared.plan import Plan, PlanSheet
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.tree import left_over, passes, runs, span


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """The counts of a plan.

    Attributes
    ----------
    sheets, cuts
        Sheets in the plan, and passes of the saw over all of them.
    setups
        Distinct set-ups: cuts of equal level and size share one, over all sheets and
        materials; trims of equal size share one of their own.
    setup_changes
        Consecutive cuts of the sequence that need something else set: another size, another
        tool, or a stop instead of the guide. What is marked needs nothing set, and leaves what is
        set as it is. That another rail loses what is set is not counted.
    skims
        Cuts at the end of a run that leave no offcut: 0 < left over <= kerf.
    unguided
        Rips of the track saw that its guide cannot be set to, trims left out.
    seconds
        At the saw: cuts, distinct set-ups, skims and unguided rips by the shop's pace.
    sawn
        Length of all cuts in ticks.
    part_area, stock_area
        Of the parts placed and of the sheets they come from, in square ticks.
    """

    sheets: int
    cuts: int
    setups: int
    setup_changes: int
    skims: int
    unguided: int
    seconds: int
    sawn: Length
    part_area: int
    stock_area: int

    @property
    def minutes(self) -> int:
        """Time at the saw in full minutes, rounded up."""
        return -(-self.seconds // 60)

    @property
    def percent_used(self) -> float:
        """Part of the stock's area that becomes parts, in per cent; 0 without sheets."""
        return 100 * self.part_area / self.stock_area if self.stock_area else 0.0


def tally(plan: Plan, shop: Shop) -> Tally:
    """Count a plan whose sheets carry their trees of cuts, at the pace of that shop."""
    setups = len({cut.setup for cut in plan.cuts})
    counts = [counts_of(sheet, shop) for sheet in plan.sheets]
    skims = sum(one.skims for one in counts)
    unguided = sum(one.unguided for one in counts)
    cuts = len(plan.cuts)
    settings = list(_settings(plan, shop))
    return Tally(
        sheets=len(plan.sheets),
        cuts=cuts,
        setups=setups,
        setup_changes=sum(one != other for one, other in pairwise(settings)),
        skims=skims,
        unguided=unguided,
        seconds=seconds_of(shop, cuts=cuts, setups=setups, skims=skims, unguided=unguided),
        sawn=sum(one.sawn for one in counts),
        part_area=sum(lying.length * lying.width for lying in plan.placements),
        stock_area=sum(sheet.rect.area for sheet in plan.sheets),
    )


def seconds_of(shop: Shop, *, cuts: int, setups: int, skims: int, unguided: int) -> int:
    """Return the time at the saw of so many cuts and distinct set-ups, at the shop's pace."""
    pace = cuts * shop.cut_s + setups * shop.setup_s + skims * shop.skim_s
    return pace + unguided * shop.unguided_s


def _settings(plan: Plan, shop: Shop) -> Iterator[tuple[str, Device, Length]]:
    """Yield what is set for each cut that a guide, stop or fence is set for."""
    for stroke in strokes(plan):
        device = device_of(aim_of(stroke, shop), shop)
        if device in LETTERS:
            yield stroke.cut.tool, device, stroke.cut.size


class SheetCounts(NamedTuple):
    """What is counted of one sheet; ``sawn`` in ticks."""

    skims: int
    unguided: int
    sawn: Length


def _count(sheet: PlanSheet, shop: Shop) -> SheetCounts:
    return SheetCounts(_skims(sheet, shop.kerf), _unguided(sheet, shop), _sawn(sheet, shop.kerf))


counts_of = Remembered(_count, 512)


def _skims(sheet: PlanSheet, kerf: Length) -> int:
    return sum(
        0 < left_over(run, rect, kerf) <= run.kerf_or(kerf)
        for _, run, rect in runs(sheet.tree, sheet.rect, kerf)
    )


def _unguided(sheet: PlanSheet, shop: Shop) -> int:
    guide = shop.guide
    if guide is None:
        return 0
    return sum(
        not guide.least <= piece.size <= guide.most
        for _, run, rect in runs(sheet.tree, sheet.rect, shop.kerf)
        if run.axis is Axis.RIP and not run.kerf
        for piece in run.pieces[: len(run.pieces) - (left_over(run, rect, shop.kerf) == 0)]
    )


def _sawn(sheet: PlanSheet, kerf: Length) -> Length:
    return sum(
        span(rect, run.axis) * passes(run, left_over(run, rect, kerf))
        for _, run, rect in runs(sheet.tree, sheet.rect, kerf)
    )

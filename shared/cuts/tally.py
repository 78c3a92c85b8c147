"""What a plan takes: sheets, cuts, set-ups, time at the saw, and the share of stock used."""

from dataclasses import dataclass
from typing import NamedTuple

from shared.lengths import Length
from shared.making.timing import Counts, Seconds, worked
from shared.pace import LayoutPace
from shared.plan import Plan, PlanSheet
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.tree import left_over, runs


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
        How often something is set after the first time: another size, another tool, a stop
        instead of the guide, or what came off with a rail. What is marked needs nothing set, and
        leaves what is set as it is.
    skims
        Cuts at the end of a run that leave no offcut: 0 < left over <= kerf.
    unguided
        Rips of the track saw that its guide cannot be set to, trims left out.
    took
        Seconds at the saw in the order of the cuts, by kinds of work and the shop's pace.
    counts
        How often each kind of work is done in that order.
    part_area, stock_area
        Of the parts placed and of the sheets they come from, in square ticks.
    """

    sheets: int
    cuts: int
    setups: int
    setup_changes: int
    skims: int
    unguided: int
    took: Seconds
    counts: Counts
    part_area: int
    stock_area: int

    @property
    def seconds(self) -> int:
        """Time at the saw in the order of the cuts."""
        return self.took.total

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
    counts = [counts_of(sheet, shop) for sheet in plan.sheets]
    took = worked(plan, shop)
    return Tally(
        sheets=len(plan.sheets),
        cuts=len(plan.cuts),
        setups=_setups(plan),
        setup_changes=max(0, took.counts.settings - 1),
        skims=sum(one.skims for one in counts),
        unguided=sum(one.unguided for one in counts),
        took=took.seconds,
        counts=took.counts,
        part_area=sum(lying.length * lying.width for lying in plan.placements),
        stock_area=sum(sheet.rect.area for sheet in plan.sheets),
    )


def layout_seconds(plan: Plan, shop: Shop) -> int:
    """Return the time at the saw as far as the layout decides it, whatever the order."""
    counts = [counts_of(sheet, shop) for sheet in plan.sheets]
    return LayoutPace.of(shop).seconds(
        cuts=len(plan.cuts),
        setups=_setups(plan),
        skims=sum(one.skims for one in counts),
        unguided=sum(one.unguided for one in counts),
    )


def _setups(plan: Plan) -> int:
    return len({cut.setup for cut in plan.cuts})


class SheetCounts(NamedTuple):
    """What is counted of one sheet: skims, and rips that the guide cannot be set to."""

    skims: int
    unguided: int


def _count(sheet: PlanSheet, shop: Shop) -> SheetCounts:
    return SheetCounts(_skims(sheet, shop.kerf), _unguided(sheet, shop))


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

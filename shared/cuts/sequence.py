"""From trees of cuts and the order of their passes to numbered cuts and named pieces."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from itertools import chain

from shared.costs import Costs, costs_of
from shared.cuts.forest import Forest
from shared.cuts.growing import grown, joined
from shared.cuts.matching import matched_sets
from shared.cuts.pass_order import in_order
from shared.cuts.sheet_cuts import cuts_of_sheet, placement_of
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Part
from shared.plan import Cut, Finished, Offcut, Placement, Plan, PlanPart, PlanSheet, Proof, Unplaced
from shared.remembered import Remembered
from shared.shop import CutRule, FirstCut
from shared.stock import Stock
from shared.tree import Run, places

WAITS = "not planned yet"
"""What a copy needs that lies on no sheet and is not known to be impossible."""


def saw_up(
    job: Job,
    sheets: Sequence[LayoutSheet],
    proof: Proof | None = None,
    unplaced: tuple[Unplaced, ...] = (),
    *,
    order: Sequence[str] = (),
    first: int = 1,
    finished: Sequence[Finished] = (),
    stays: Collection[str] = (),
) -> Plan:
    """Number all cuts of the sheets that have a tree, and say what comes of them.

    Parameters
    ----------
    job
        Whose parts, stock rows and shop the sheets refer to.
    sheets
        In sawing order; those without a tree are left out of the plan.
    proof
        How good the layout is, as far as known.
    unplaced
        Copies known to fit no stock at hand. Every other copy that lies on none of the
        sheets is added with the need `WAITS`.
    order
        Keys of the passes in the order wanted; a pass that has to wait for another comes
        as soon as it can, and what is not named comes last.
    first
        Number of the first cut.
    finished
        Copies that were sawn before.
    stays
        Sheets that are begun, or kept as they lie: no limit of the shop is held against them.

    Raises
    ------
    KeyError
        If a sheet names a stock row that the job does not have.
    """
    rows = {row.id: row for row in job.stock}
    cuttable = [sheet for sheet in sheets if sheet.tree is not None]
    costs = {name: _costs_of(job, name) for name in {rows[one.stock].material for one in cuttable}}
    forests = grown(job, cuttable)
    plan_sheets = tuple(
        _plan_sheet(
            sheet,
            rows[sheet.stock],
            costs[rows[sheet.stock].material],
            sheet.id in stays,
            _is_off_rule(forest, job.rule),
        )
        for sheet, forest in forests
    )
    sawing = _Sawing(job, forests)
    placements = sawing.placements()
    cuts, offcuts = sawing.saw(order, first)
    return Plan(
        name=job.name,
        parts=_plan_parts(job.parts),
        sheets=plan_sheets,
        placements=placements,
        cuts=tuple(cuts),
        offcuts=tuple(offcuts),
        proof=proof or Proof(),
        unplaced=(*unplaced, *_waiting(job.parts, placements, unplaced, finished)),
        first=first,
        finished=tuple(finished),
        shop=job.shop,
        rule=job.rule,
        matches=matched_sets(job, placements),
    )


def layout_sheet(
    sheet_id: str, stock_row: Stock, kerf: Length, tree: Run, yours: bool = False
) -> LayoutSheet:
    """Return the sheet of a layout that the tree of cuts yields, kerf in ticks."""
    whole = stock_row.whole
    lying = tuple(placement_of(sheet_id, place, rect) for place, rect in places(tree, whole, kerf))
    return LayoutSheet(id=sheet_id, stock=stock_row.id, placements=lying, tree=tree, yours=yours)


def plan_part(part: Part) -> PlanPart:
    """Return the part as the saw sees it: cut size, bands taken off.

    A fit part that was measured just as large as its blank loses nothing: it is sawn no larger.
    """
    blank, sawn = (part.cut_length, part.cut_width), (part.sawn_length, part.sawn_width)
    larger = part.waits or blank != sawn
    return PlanPart(
        id=part.id,
        name=part.name,
        length=part.cut_length,
        width=part.cut_width,
        copies=part.copies,
        material=part.material,
        grain_rule=part.grain_rule,
        group=part.group,
        sawn_length=part.sawn_length,
        sawn_width=part.sawn_width,
        waits=part.waits,
        show=part.show,
        allowance=part.fit_allowance if larger else 0,
        oversize=part.oversize if larger else 0,
    )


def plan_sheet(sheet: LayoutSheet, row: Stock, costs: Costs | None = None) -> PlanSheet:
    """Return a sheet of a layout with all that is known of its stock row, and what it costs.

    A piece on hand costs nothing.
    """
    return PlanSheet(
        id=sheet.id,
        stock=row.id,
        name=row.name,
        material=row.material,
        thickness=row.thickness,
        length=row.length,
        width=row.width,
        grain=row.grain,
        trims=row.trims,
        price=0 if costs is None else costs.prices.get(row.id, 0),
        cost=0 if costs is None else costs.each.get(row.id, 0),
        by_area=costs is not None and not costs.is_money,
        density=row.density,
        no_go=row.no_go,
        named=row.named,
        piece=row.is_piece,
        tree=sheet.tree,
    )


def _sheet_of_plan(
    sheet: LayoutSheet, row: Stock, costs: Costs, stays: bool, off_rule: bool
) -> PlanSheet:
    return replace(plan_sheet(sheet, row, costs), stays=stays, off_rule=off_rule)


def _off_rule(forest: Forest, rule: CutRule) -> bool:
    """Say whether a sheet is cut deeper than a rule says, or in another direction first."""
    for run in forest.runs:
        for one in run.passes:
            first = one.axis if one.level % 2 else one.axis.other
            wanted = rule.first is FirstCut.EITHER or rule.first.value == first.value
            if not run.finishes and (one.level > rule.levels + 1 or not wanted):
                return True
    return False


_plan_sheet = Remembered(_sheet_of_plan, 512)
_is_off_rule = Remembered(_off_rule, 512)
_costs_of = Remembered(costs_of, 32)
_plan_parts = Remembered(lambda parts: tuple(map(plan_part, parts)), 8)


def _waiting(
    parts: Iterable[Part],
    placements: Iterable[Placement],
    unplaced: Iterable[Unplaced],
    finished: Iterable[Finished],
) -> list[Unplaced]:
    """Return the copies that are neither placed nor known to be impossible."""
    known = Counter(lying.part for lying in placements)
    known.update(copy.part for copy in finished)
    for lacking in unplaced:
        known[lacking.part] += lacking.copies
    return [
        Unplaced(part=part.id, copies=part.copies - known[part.id], need=WAITS)
        for part in parts
        if part.copies > known[part.id]
    ]


class _Sawing:
    """Numbers the cuts of sheets in an order of all their passes, and sorts what falls off."""

    def __init__(self, job: Job, sheets: Sequence[tuple[LayoutSheet, Forest]]) -> None:
        rows = {row.id: row for row in job.stock}
        self._sheets = [
            cuts_of_sheet(sheet.id, rows[sheet.stock], job.shop, forest) for sheet, forest in sheets
        ]
        self._forest = joined([forest for _, forest in sheets])
        self._of = [
            (place, index)
            for place, (_, forest) in enumerate(sheets)
            for index in range(len(forest.runs))
        ]

    def saw(self, wanted: Sequence[str], first: int) -> tuple[list[Cut], list[Offcut]]:
        """Return the cuts in the order wanted, as far as they can be, and what is no part."""
        orders: list[list[int]] = [[] for _ in self._sheets]
        whose = []
        for one in in_order(self._forest, wanted):
            place, run = self._of[one.run]
            orders[place].append(run)
            whose.append(place)
        made = [one.made(tuple(order)) for one, order in zip(self._sheets, orders, strict=True)]
        numbers: list[list[int]] = [[0] for _ in made]
        cuts = []
        for number, place in enumerate(whose, first):
            numbers[place].append(number)
            cuts.append(made[place].numbered(len(numbers[place]) - 2, number))
        falls = [
            (numbers[place][fall.after], fall.stays, fall.offcut)
            for place, its in enumerate(made)
            for fall in its.falls
        ]
        falls.sort(key=lambda fall: fall[:2])
        return cuts, [offcut for _, _, offcut in falls]

    def placements(self) -> tuple[Placement, ...]:
        """Return where the parts lie, blanks as they leave their sheets."""
        return tuple(chain.from_iterable(one.placements for one in self._sheets))

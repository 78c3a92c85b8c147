"""From trees of cuts and the order of their passes to numbered cuts and named pieces."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from shared.costs import Costs, costs_of
from shared.cuts.forest import Forest, Leaf, Pass, grow
from shared.cuts.matching import matched_sets
from shared.cuts.naming import Names
from shared.cuts.pass_order import in_order
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Part
from shared.plan import (
    Cut,
    CutKind,
    Finished,
    Keep,
    Offcut,
    Placement,
    Plan,
    PlanPart,
    PlanSheet,
    Proof,
    Unplaced,
)
from shared.shop import Axis, CutRule, FirstCut
from shared.stock import Stock
from shared.tree import Place, Run, extent, places

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
    costs = {name: costs_of(job, name) for name in {rows[one.stock].material for one in cuttable}}
    forest = grow(job, cuttable)
    off_rule = set(_off_rule(forest, job.rule))
    plan_sheets = tuple(
        replace(
            plan_sheet(sheet, rows[sheet.stock], costs[rows[sheet.stock].material]),
            stays=sheet.id in stays,
            off_rule=sheet.id in off_rule,
        )
        for sheet in cuttable
    )
    sawing = _Sawing(job, forest, plan_sheets, first)
    sawing.saw(in_order(forest, order))
    placements = sawing.placements()
    return Plan(
        name=job.name,
        parts=tuple(plan_part(part) for part in job.parts),
        sheets=plan_sheets,
        placements=placements,
        cuts=tuple(sawing.cuts),
        offcuts=sawing.offcuts(),
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
    lying = tuple(_placement(sheet_id, place, rect) for place, rect in places(tree, whole, kerf))
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


def setup_key(made: Pass, rail_saw: str) -> str:
    """Return the key of a set-up: cuts of one key are made with one setting of guide or stop.

    ``rail_saw`` is the tool that is not named in keys.
    """
    if made.kind is CutKind.TRIM:
        return f"trim:{made.size}"
    if made.kind is CutKind.FINISH:
        return f"finish:{made.tool}:{made.size}"
    tool = "" if made.tool == rail_saw else f"{made.tool}:"
    return f"{made.level}:{tool}{made.size}"


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


def _off_rule(forest: Forest, rule: CutRule) -> Iterator[str]:
    """Yield the sheets that are cut deeper than a rule says, or in another direction first."""
    for run in forest.runs:
        for one in run.passes:
            first = one.axis if one.level % 2 else one.axis.other
            wanted = rule.first is FirstCut.EITHER or rule.first.value == first.value
            if not run.finishes and (one.level > rule.levels + 1 or not wanted):
                yield run.sheet


def _placement(sheet_id: str, place: Place, rect: Rect) -> Placement:
    return Placement(
        part=place.part,
        copy=place.copy,
        sheet=sheet_id,
        x=rect.x,
        y=rect.y,
        length=rect.length,
        width=rect.width,
        turned=place.turned,
    )


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
    """Makes the passes of a forest in some order; writes down cuts, names and offcuts."""

    def __init__(self, job: Job, forest: Forest, sheets: Sequence[PlanSheet], first: int) -> None:
        self._shop = job.shop
        self._forest = forest
        self._trims = {sheet.id: sheet.trims for sheet in sheets}
        self._names = {sheet.id: Names({sheet.id: sheet.named}) for sheet in sheets}
        self._pieces: dict[int, str] = {}
        self._ends: dict[str | int, str] = {}
        self._first = first
        self.cuts: list[Cut] = []

    def saw(self, order: Iterable[Pass]) -> None:
        """Make the passes; each needs the piece of its run to lie there."""
        for index, run in enumerate(self._forest.runs):
            if run.parent < 0:
                self._pieces[index] = run.sheet
        ahead = [len(run.passes) for run in self._forest.runs]
        for made in order:
            run, piece = self._forest.runs[made.run], self._pieces[made.run]
            trim = made.kind is CutKind.TRIM
            off = "" if trim else self._names[run.sheet].off(piece)
            self._ends[made.key] = off
            if made.opens is not None:
                self._pieces[made.opens] = off
            ahead[made.run] -= 1
            if not ahead[made.run]:
                self._ends[made.run] = piece
                if run.goes_on is not None:
                    self._pieces[run.goes_on] = piece
            self._cut(made, run.sheet, piece, off)

    def _cut(self, made: Pass, sheet: str, piece: str, off: str) -> None:
        """Write down one cut."""
        dust = made.dust
        self.cuts.append(
            Cut(
                number=self._first + len(self.cuts),
                sheet=sheet,
                kind=made.kind,
                level=made.level,
                tool=made.tool,
                kerf=made.kerf,
                x=dust.x,
                y=dust.y,
                length=dust.length,
                width=dust.width,
                piece=piece,
                off=off,
                setup=setup_key(made, self._shop.tool),
                running=self._running(made, sheet),
                size=made.size,
                keep=made.keep,
                key=made.key,
            )
        )

    def _running(self, made: Pass, sheet: str) -> Length:
        """Return where the keep side lies from the trimmed reference edge or end."""
        trims, dust = self._trims[sheet], made.dust
        near = dust.y - trims.near if made.axis is Axis.RIP else dust.x - trims.start
        return near if made.keep is Keep.NEAR else near + extent(dust, made.axis)

    def placements(self) -> tuple[Placement, ...]:
        """Return where the parts lie, blanks as they leave their sheets."""
        return tuple(_placement(*placed) for placed in self._forest.placed)

    def offcuts(self) -> tuple[Offcut, ...]:
        """Return what is no part, in the order in which it comes to lie there."""
        when = {end: place for place, end in enumerate(self._ends)}
        falls = [leaf for leaf in self._forest.leaves if leaf.place is None]
        falls.sort(key=lambda leaf: when.get(leaf.key or leaf.rest, -1))
        return tuple(map(self._offcut, falls))

    def _offcut(self, leaf: Leaf) -> Offcut:
        return Offcut(
            sheet=leaf.sheet,
            piece=self._ends[leaf.key or leaf.rest] if leaf.key or leaf.rest >= 0 else leaf.sheet,
            x=leaf.rect.x,
            y=leaf.rect.y,
            length=leaf.rect.length,
            width=leaf.rect.width,
            keep=self._shop.keeps(leaf.rect.length, leaf.rect.width),
        )

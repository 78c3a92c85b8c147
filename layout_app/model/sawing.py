"""From what the document holds to a plan that the simulated saw has accepted."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from layout_app.model.at_hand import over, over_words
from layout_app.model.project import Project
from layout_app.model.words.shop_limits import beyond_shop
from shared.check import placeable, plannable
from shared.cuts.growing import grow
from shared.cuts.sequence import WAITS, plan_sheet, saw_up
from shared.finding import say
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.no_go import barred_by, place_name
from shared.parts import Copy
from shared.plan import ASIDE, Placement, Plan, Proof, Unplaced
from shared.plan_number import plan_number
from shared.progress import Progress, changed_in
from shared.reach import ways
from shared.recognise import Allowed, Pace, SetUps, SheetGround, find_tree, setups
from shared.recognise import problems as problems_of
from shared.remembered import Remembered
from shared.saw import verify
from shared.shop import Limit
from shared.stock import Stock, orientations
from shared.tree import Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """A project with the plan of its cuttable sheets, and what is wrong with the others.

    Attributes
    ----------
    project
        What was sawn.
    plan
        ``None`` when no sheet can be cut.
    problems
        One sentence for each sheet that has no tree of cuts, by sheet id; under ``""``
        what the simulated saw said when it refused the whole.
    """

    project: Project
    plan: Plan | None = None
    problems: Mapping[str, str] = field(default_factory=dict)

    @property
    def number(self) -> str:
        """The plan's number, as on its pages; ``""`` where there are no cuts."""
        return "" if self.plan is None else plan_number(self.plan, self.project.job.shop)


def ground_of(job: Job, stock: Stock, *, limited: bool = True) -> SheetGround:
    """Return a sheet of a stock row as cuts are looked for on it: kerf, trims, limits, rule."""
    return SheetGround.of(stock.whole, job.shop.kerf, stock.trims, _allowed(job, limited=limited))


def _allowed(job: Job, *, limited: bool) -> Allowed:
    """Return what a job allows; not ``limited`` on a sheet that is begun."""
    return Allowed.of(job.shop, job.rule) if limited else Allowed(levels=job.rule.levels)


def tree_of(
    job: Job,
    stock: Stock,
    placements: tuple[Placement, ...],
    before: Run | None = None,
    free: SetUps = frozenset(),
    *,
    limited: bool = True,
) -> Run | None:
    """Find the cuts that give these placements, or ``None`` when they cannot be sawn.

    ``before`` is the tree the sheet had: what of it still serves is kept. ``free`` are the
    set-ups that other sheets need anyway. A cut may be beyond the shop's limits where there
    is no other way: `saw` says so. Where they are no matter, it is not ``limited``.
    """
    if not placements or any(_barred(job, stock, one) for one in placements):
        return None
    return find_tree(
        stock.whole,
        placements,
        job.shop.kerf,
        stock.trims,
        job.rule.first,
        pace=Pace.of(job.shop),
        allowed=_allowed(job, limited=limited),
        before=before,
        free=free,
    )


def setups_of(job: Job, sheets: Iterable[LayoutSheet]) -> SetUps:
    """Return the set-ups that the cuts of some sheets need."""
    rows = {row.id: row for row in job.stock}
    found = (
        _setups_in(one.tree, rows[one.stock], job.shop.kerf)
        for one in sheets
        if one.tree is not None and one.stock in rows
    )
    return frozenset[tuple[int, Length]]().union(*found)


_setups_in = Remembered(lambda tree, row, kerf: setups(tree, row.whole, kerf), 512)


def against_rules(job: Job, stock: Stock, placement: Placement) -> str:
    """Say which rule a placement breaks, wherever it lies, and what to do; ``""`` if none."""
    part = job.part(placement.part)
    name = job.named(placement.key)
    if part.material != stock.material:
        return f"{name} lies on {stock.material}: lay it on a sheet of {part.material}."
    if placement.turned not in orientations(part.grain_rule, stock.grain):
        return f"{name} lies against its grain rule, {part.grain_rule}: turn it."
    return ""


def on_bad_place(job: Job, stock: Stock, placement: Placement) -> str:
    """Say in one sentence on which bad place of its sheet a part lies; ``""`` if on none."""
    if not stock.no_go:
        return ""
    show = job.part(placement.part).show
    bad = barred_by(stock.no_go, placement.rect, show=show)
    if bad is None:
        return ""
    what = "with its show face on" if bad.show_only else "on"
    return f"{job.named(placement.key)} lies {what} a {place_name(bad, stock.whole)}: move it off."


def _barred(job: Job, stock: Stock, placement: Placement) -> str:
    return against_rules(job, stock, placement) or on_bad_place(job, stock, placement)


def saw(project: Project) -> Sawn:
    """Saw up every sheet that can be cut, and say what is wrong with the rest.

    Cuts that are made keep their numbers, if the layout still has them; sheets with such
    cuts are not held against the limits of the shop, which may have changed since.
    """
    sound = plannable(project.job)
    begun = project.progress.sheets
    used = [one for one in project.layout.sheets if one.placements or one.id in begun]
    found = {sheet.id: problem(project.job, sound, sheet) for sheet in used}
    problems = {sheet: sentence for sheet, sentence in found.items() if sentence}
    more = over(project.job, used, begun)
    problems |= {one.id: over_words(project.job, one) for one in more}
    if more:  # a sheet that is not there costs nothing, so that whatever is claimed is too good
        project = replace(project, proof=Proof())
    cuttable = [sheet for sheet in used if sheet.id not in problems]
    if not cuttable:
        return Sawn(project=project, problems=problems)
    plan = _plan_of(project, sound, cuttable, whole=len(cuttable) == len(used))
    refused = verify(plan)
    if any(issue.code in set(Limit) for issue in refused):
        beyond = {
            sheet: sentence
            for sheet, sentence in beyond_shop(plan, sound.shop, sound.style).items()
            if sheet not in project.progress.sheets
        }
        problems |= beyond
        cuttable = [sheet for sheet in cuttable if sheet.id not in beyond]
        if not cuttable:
            return Sawn(project=project, problems=problems)
        plan = _plan_of(project, sound, cuttable, whole=False)
        refused = verify(plan)
    if refused:
        problems[""] = refused[0].sentence
        return Sawn(project=project, problems=problems)
    if changed_in(project.progress, plan) is None:
        project = replace(project, progress=project.progress.seen_in(plan))
    return Sawn(project=project, plan=plan, problems=problems)


def _plan_of(project: Project, job: Job, cuttable: Sequence[LayoutSheet], *, whole: bool) -> Plan:
    """Return the plan of sheets that can be cut; ``whole`` if no other sheet has parts on it."""
    finished = project.layout.finished
    return borne_out(
        saw_up(
            job,
            cuttable,
            # What was proven of all sheets says nothing of some of them.
            project.proof if whole else Proof(),
            _unplaced(job, project, cuttable),
            order=order_of(job, cuttable, project),
            first=project.progress.first,
            finished=finished,
            stays=project.progress.sheets,
        )
    )


def with_progress(sawn: Sawn, progress: Progress) -> Sawn:
    """Return what was sawn once as it is with the ticks of now; their cuts keep their numbers."""
    if sawn.project.progress == progress:
        return sawn
    project = replace(sawn.project, progress=progress)
    same = project.progress.first == sawn.project.progress.first
    if same and sawn.plan is not None and changed_in(progress, sawn.plan) is None:
        plan = staying(sawn.plan, progress.sheets)
        if plan is not None:
            project = replace(project, progress=progress.seen_in(plan))
            return replace(sawn, project=project, plan=plan)
    return saw(project)


def staying(plan: Plan, sheets: Collection[str]) -> Plan | None:
    """Return a plan that says which of its sheets stay as they lie, now that others are begun.

    ``None`` if one that stays no longer is beyond the limits of the shop: it was cut within
    those there were then.
    """
    if all(sheet.stays == (sheet.id in sheets) for sheet in plan.sheets):
        return plan
    freed = any(sheet.stays and sheet.id not in sheets for sheet in plan.sheets)
    now = replace(
        plan, sheets=tuple(replace(sheet, stays=sheet.id in sheets) for sheet in plan.sheets)
    )
    return None if freed and verify(now) else now


def order_of(job: Job, sheets: Sequence[LayoutSheet], project: Project) -> tuple[str, ...]:
    """Return the keys of the cuts in the order wanted: first those up to the last one made.

    A cut is found again by the dust it makes, so that it may have another key than it had.
    """
    fixed = project.progress.fixed
    if not fixed:
        return project.layout.order
    runs = grow(job, sheets).runs
    keys = {(run.sheet, one.dust): one.key for run in runs for one in run.passes}
    found = (keys.get((cut.sheet, cut.rect), "") for cut in fixed)
    return tuple(dict.fromkeys(key for key in (*found, *project.layout.order) if key))


def borne_out(plan: Plan) -> Plan:
    """Drop a bound on cuts that the plan undercuts: by hand more levels may be sawn than proven."""
    materials = tuple(
        replace(one, least_cuts=0) if one.least_cuts > plan.cuts_of(one.material) else one
        for one in plan.proof.materials
    )
    return replace(plan, proof=replace(plan.proof, materials=materials))


def problem(job: Job, sound: Job, sheet: LayoutSheet) -> str:
    """Say in one sentence why a sheet cannot be cut; ``""`` if it can.

    ``sound`` is the job without the rows that have an error.
    """
    if placeable(job) is not job:
        return f"Sheet {sheet.id} waits until the pace is put right."
    if rows := against_rows(job, sound, sheet):
        return rows
    stock = job.stock_row(sheet.stock)
    places = (on_bad_place(job, stock, placement) for placement in sheet.placements)
    if bad := next(filter(None, places), ""):
        return f"Sheet {sheet.id}: {bad}"
    if sheet.tree is not None:
        return ""
    rules = (against_rules(job, stock, placement) for placement in sheet.placements)
    if bad := next(filter(None, rules), ""):
        return f"Sheet {sheet.id}: {bad}"
    return _geometry(job, stock, sheet)


def breaks_rules(job: Job, sound: Job, sheet: LayoutSheet) -> bool:
    """Say whether a sheet cannot be cut for another reason than where its parts lie."""
    if against_rows(job, sound, sheet):
        return True
    stock = sound.stock_row(sheet.stock)
    return any(_barred(sound, stock, placement) for placement in sheet.placements)


def against_rows(job: Job, sound: Job, sheet: LayoutSheet, more: Iterable[Copy] = ()) -> str:
    """Say that a sheet, or one of its parts or of ``more``, has a row with an error; or ``""``.

    A row of sheets that no rail reaches over is well described: then the rails are named.
    """
    usable = _ids_of(sound.parts)
    lying = {one.part for one in sheet.placements} | {part for part, _ in more}
    if any(row.id == sheet.stock for row in sound.stock) and lying <= usable:
        return ""
    row = next((row for row in job.stock if row.id == sheet.stock), None)
    if row is not None and not (found := ways(job, row)).axes:
        return f"Sheet {sheet.id}: {found.sentence[:1].lower()}{found.sentence[1:]}"
    return f"Sheet {sheet.id} uses a row with an error; fix that row."


_ids_of = Remembered(lambda parts: frozenset(part.id for part in parts), 8)


def _geometry(job: Job, stock: Stock, sheet: LayoutSheet) -> str:
    rect = plan_sheet(sheet, stock).rect
    found = problems_of(rect, sheet.placements, job.shop.kerf, stock.trims)
    if not found:
        return f"Sheet {sheet.id} cannot be cut edge to edge."
    said = found[0].sentence(lambda one: job.named(one.key), partial(say, style=job.style))
    return f"Sheet {sheet.id}: {said}"


def _unplaced(job: Job, project: Project, cuttable: Iterable[LayoutSheet]) -> tuple[Unplaced, ...]:
    """Count the copies that are on no sheet that can be cut: set aside, or with what they need."""
    needs = {row.part: row.need for row in project.unplaced if row.need != ASIDE}
    aside = Counter(one.part for one in project.layout.waiting if one.sent)
    placed = Counter(one.part for sheet in cuttable for one in sheet.placements)
    placed.update(one.part for one in project.layout.finished)
    return tuple(
        Unplaced(part=part.id, copies=copies, need=need)
        for part in job.parts
        for copies, need in (
            (part.copies - placed[part.id] - aside[part.id], needs.get(part.id, WAITS)),
            (aside[part.id], ASIDE),
        )
        if copies > 0
    )


def resized(job: Job, placement: Placement) -> Placement:
    """Return a placement with the extents its part has now."""
    part = job.part(placement.part)
    length, width = as_it_lies(part.cut_length, part.cut_width, placement.turned)
    return replace(placement, length=length, width=width)


def as_it_lies(length: Length, width: Length, turned: bool) -> tuple[Length, Length]:
    """Return the extents along x and y of a part of that cut size, in ticks."""
    return (width, length) if turned else (length, width)

"""From what the document holds to a plan that the simulated saw has accepted."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from layout_app.project import Project
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.plan import Placement, Plan, PlanSheet, Unplaced
from shared.recognise import find_tree, locked
from shared.saw import verify
from shared.stock import Stock, orientations
from shared.tree import Run
from solver.sequence import saw_up


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


def plan_sheet(job: Job, sheet: LayoutSheet) -> PlanSheet:
    """Return a sheet of a layout with all that is known of its stock row."""
    stock = job.stock_row(sheet.stock)
    return PlanSheet(
        id=sheet.id,
        stock=stock.id,
        name=stock.name,
        material=stock.material,
        thickness=stock.thickness,
        length=stock.length,
        width=stock.width,
        grain=stock.grain,
        trims=stock.trims,
        price=stock.price,
        tree=sheet.tree,
    )


def tree_of(job: Job, stock: Stock, placements: tuple[Placement, ...]) -> Run | None:
    """Find the cuts that give these placements, or ``None`` when they cannot be sawn."""
    if not placements or any(problem_of(job, stock, one) for one in placements):
        return None
    sheet = plan_sheet(job, LayoutSheet(id=placements[0].sheet, stock=stock.id))
    return find_tree(sheet.rect, placements, job.shop.kerf, stock.trims, job.rule.first)


def problem_of(job: Job, stock: Stock, placement: Placement) -> str:
    """Say in one sentence why a placement is wrong whatever lies beside it; ``""`` if it is not."""
    part = job.part(placement.part)
    name = f"{part.name} {placement.copy}"
    if part.material != stock.material:
        return f"{name} is of {part.material}, the sheet is {stock.material}."
    if placement.turned not in orientations(part.grain_rule, stock.grain):
        return f"{name} lies against its grain rule ({part.grain_rule})."
    if not _inside(stock, placement):
        return f"{name} reaches off the usable sheet."
    return ""


def _inside(stock: Stock, placement: Placement) -> bool:
    trims, rect = stock.trims, placement.rect
    return (
        rect.x >= trims.start
        and rect.y >= trims.near
        and rect.right <= stock.length - trims.end
        and rect.bottom <= stock.width - trims.far
    )


def saw(project: Project) -> Sawn:
    """Saw up every sheet that can be cut, and say what is wrong with the rest."""
    job = project.job
    used = [sheet for sheet in project.layout.sheets if sheet.placements]
    problems = {sheet.id: problem(job, sheet) for sheet in used if sheet.tree is None}
    cuttable = [sheet for sheet in used if sheet.tree is not None]
    if not cuttable:
        return Sawn(project=project, problems=problems)
    plan = saw_up(job, cuttable, project.proof, _unplaced(project, cuttable))
    refused = verify(plan)
    if refused:
        problems[""] = refused[0].sentence
        return Sawn(project=project, problems=problems)
    return Sawn(project=project, plan=plan, problems=problems)


def problem(job: Job, sheet: LayoutSheet) -> str:
    """Say in one sentence why a sheet without a tree cannot be cut."""
    stock = job.stock_row(sheet.stock)
    for placement in sheet.placements:
        if sentence := problem_of(job, stock, placement):
            return sentence
    return _overlap(job, sheet.placements) or _lock(job, stock, sheet)


def _overlap(job: Job, placements: tuple[Placement, ...]) -> str:
    for index, one in enumerate(placements):
        for other in placements[index + 1 :]:
            if one.rect.overlaps(other.rect):
                return f"{_names(job, (one, other))} overlap."
    return ""


def _lock(job: Job, stock: Stock, sheet: LayoutSheet) -> str:
    rect = plan_sheet(job, sheet).rect
    stuck = locked(rect, sheet.placements, job.shop.kerf, stock.trims, job.rule.first)
    if not stuck:
        return f"Sheet {sheet.id} cannot be cut edge to edge."
    return f"{_names(job, stuck)} lock each other: no cut goes from edge to edge."


def _names(job: Job, placements: Iterable[Placement]) -> str:
    names = [f"{job.part(one.part).name} {one.copy}" for one in placements]
    return " and ".join((", ".join(names[:-1]), names[-1])) if names[1:] else names[0]


def _unplaced(project: Project, cuttable: list[LayoutSheet]) -> tuple[Unplaced, ...]:
    """Count the copies that are on no sheet that can be cut, with what they would need."""
    needs = {row.part: row.need for row in project.unplaced}
    placed: dict[str, int] = {}
    for sheet in cuttable:
        for one in sheet.placements:
            placed[one.part] = placed.get(one.part, 0) + 1
    return tuple(
        Unplaced(part=part.id, copies=left, need=needs.get(part.id, "waits on no sheet"))
        for part in project.job.parts
        if (left := part.copies - placed.get(part.id, 0)) > 0
    )


def resized(job: Job, placement: Placement) -> Placement:
    """Return a placement with the extents its part has now."""
    part = job.part(placement.part)
    length, width = as_it_lies(part.cut_length, part.cut_width, placement.turned)
    return replace(placement, length=length, width=width)


def as_it_lies(length: Length, width: Length, turned: bool) -> tuple[Length, Length]:
    """Return the extents along x and y of a part of that cut size, in ticks."""
    return (width, length) if turned else (length, width)

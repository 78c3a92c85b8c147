"""How a planner's result and the maker's own sheets become one layout."""

from collections.abc import Iterator, Set
from dataclasses import replace
from itertools import count

from layout_app.model import layout_edits
from layout_app.model.at_hand import over
from layout_app.model.carry_over import with_waiting
from layout_app.model.locks import asked
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, borne_out
from shared.costs import value_of
from shared.layout import Layout, LayoutSheet, by_number, sheets_of
from shared.plan import Goal, MaterialProof, Plan, Proof
from shared.proof_rule import is_conditional
from shared.stock import Stock


def adopted(project: Project, plan: Plan) -> Project:
    """Return the project with the planner's sheets in place of those that do not stay.

    Those that are yours stay, and those that are held whole; an empty one gives its number to
    a planned one. Cuts come in the plan's order where the maker has not set any.
    """
    stays = asked(project).kept
    kept = {sheet.id for sheet in stays}
    planned = [sheet for sheet in sheets_of(plan) if sheet.id not in kept]
    laid = (*stays, *planned)
    sheets = by_number((*laid, *_empty(project, kept, {sheet.id for sheet in laid})))
    layout = with_waiting(project.job, sheets, project.layout)
    if layout.sawing is None and not layout.before:
        layout = replace(layout, order=tuple(cut.key for cut in plan.cuts))
    return replace(project, layout=layout, proof=plan.proof, unplaced=plan.unplaced)


def _empty(project: Project, kept: Set[str], taken: Set[str]) -> Iterator[LayoutSheet]:
    """Yield the empty sheets that are yours and not kept, under numbers that are not taken."""
    taken = {*taken, *project.progress.names}
    for sheet in project.layout.sheets:
        if sheet.yours and not sheet.placements and sheet.id not in kept:
            free = (str(number) for number in count(1) if str(number) not in taken)
            number = next(free) if sheet.id in taken else sheet.id
            taken.add(number)
            yield replace(sheet, id=number)


def without_claims(project: Project) -> Project:
    """Forget what was proven: the job is another one now."""
    return replace(project, proof=Proof(), unplaced=())


def after_hands(project: Project) -> Project:
    """Measure the layout anew after a change by hand; a bound on the job still holds.

    A bound that was shown with sheets kept as they lay says nothing about the job.
    """
    conditional = is_conditional(project.proof.rule)
    return without_claims(project) if conditional else valued(project, project.proof)


def with_layout(project: Project, layout: Layout) -> Project:
    """Return a project with a layout that was changed by hand; cuts of begun sheets are kept."""
    begun = project.progress.sheets
    layout = layout_edits.cut_on(project.job, project.layout, layout, begun)
    return after_hands(replace(project, layout=layout))


def valued(project: Project, proof: Proof) -> Project:
    """Return the project with the bounds of a proof held against its own layout.

    Nothing is claimed of a layout that uses a sheet for which none is at hand.
    """
    if over(project.job, project.layout.sheets, project.progress.sheets):
        return replace(project, proof=Proof())
    complete, used = is_complete(project.layout), _used(project)
    materials = tuple(_valued_material(project, one, complete) for one in proof.materials)
    goal = proof.goal
    if goal is Goal.LEAST_PRICE and value_of(project.job, used, Goal.LEAST_AREA):
        goal = Goal.LEAST_COST  # by hand sheets came into use that nobody gave a price
    value = value_of(project.job, used, goal)
    bound = min(proof.bound, value) if complete else proof.bound
    proven = complete and all(one.proven for one in materials) and bound == value
    proof = replace(proof, goal=goal, value=value, bound=bound, proven=proven, materials=materials)
    return replace(project, proof=proof)


def with_bounds(sawn: Sawn, proof: Proof) -> Sawn:
    """Let what was proven about the job stand beside the layout there is."""
    project, plan = valued(sawn.project, proof), sawn.plan
    # What was proven of all sheets says nothing of a plan of some of them.
    if plan is not None and not sawn.problems:
        plan = borne_out(replace(plan, proof=project.proof))
    return replace(sawn, project=project, plan=plan)


def is_complete(layout: Layout) -> bool:
    """Say whether every copy lies on a sheet that can be cut."""
    return not layout.waiting and all(s.tree is not None for s in layout.sheets if s.placements)


def _valued_material(project: Project, proof: MaterialProof, complete: bool) -> MaterialProof:
    used = [row for row in _used(project) if row.material == proof.material]
    value = value_of(project.job, used, proof.goal)
    bound = min(proof.bound, value) if complete else proof.bound
    proven = complete and bound == value
    least_cuts = proof.least_cuts if proven else 0
    return replace(
        proof,
        value=value,
        bound=bound,
        proven=proven,
        least_cuts=least_cuts,
        least_sawing=False,  # said of the planner's sheets, not of these
        best_remainder=False,
    )


def _used(project: Project) -> list[Stock]:
    begun = project.progress.sheets
    sheets = (one for one in project.layout.sheets if one.placements or one.id in begun)
    return [project.job.stock_row(sheet.stock) for sheet in sheets]

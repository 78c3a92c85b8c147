"""What becomes of the plan when ticks come or go, and what may not become of it for their sake."""

from dataclasses import replace
from typing import Final

from layout_app.model.merge_plan import after_hands
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw, staying
from shared.progress import Progress, changed_in

WHAT_TO_DO: Final = (
    "untick it if it was not, or plan the rest from what lies there (Cuts, “A piece came out"
    " wrong”)."
)
"""Where a change would tell a cut that is made another way."""


def ticked(sawn: Sawn, progress: Progress) -> Sawn:
    """Return what is shown with other ticks: the same plan, but for sheets begun no longer.

    One without parts is used up because cuts were made in it; once they are made no more it goes,
    unless it was put on the bench by hand. One that is beyond the limits of the shop, which have
    changed since, has no cuts then.
    """
    project = replace(sawn.project, progress=progress)
    unbegun = sawn.project.progress.sheets - progress.sheets
    layout = project.layout
    if any(one.id in unbegun and not one.placements for one in layout.sheets):
        return saw(after_hands(_without(project, unbegun)))
    if sawn.plan is None:
        return replace(sawn, project=project)
    plan = staying(sawn.plan, progress.sheets)
    return saw(project) if plan is None else replace(sawn, project=project, plan=plan)


def _without(project: Project, sheets: frozenset[str]) -> Project:
    """Return a project without those of some sheets that are empty and not yours."""
    stay = (
        one for one in project.layout.sheets if one.placements or one.yours or one.id not in sheets
    )
    return replace(project, layout=replace(project.layout, sheets=tuple(stay)))


def would_change(progress: Progress, sawn: Sawn) -> str:
    """Say which cut that is made a change would make another one, and what to do; ``""`` if none.

    ``sawn`` is what the change would show.
    """
    cut = changed_in(progress, sawn.plan)
    if cut is None:
        return ""
    problem = sawn.problems.get(cut.sheet, "")
    if problem:
        return (
            f"Cut {cut.number} on sheet {cut.sheet} is made, and the rest could not be cut:"
            f" {why_not(cut.sheet, problem)}. So nothing was changed."
        )
    return (
        f"Cut {cut.number} on sheet {cut.sheet} is made, and this would change it: untick it if"
        " it is not, or plan the rest from what lies there (Cuts, “A piece came out wrong”)."
    )


def why_not(sheet: str, problem: str) -> str:
    """Return what is said of a sheet that cannot be cut, to stand within a sentence."""
    why = problem.removeprefix(f"Sheet {sheet}: ").removesuffix(".")
    return f"sheet {why[6:]}" if why.startswith("Sheet ") else why


def other_saw(before: Project, after: Project) -> str:
    """Say that cuts were made with the saw on what it ran on before a change; ``""`` if none.

    What was made along a rail was not made along a straightedge.
    """
    made, runs_on = before.progress.made, before.job.shop.runs_on
    if not made or after.job.shop.runs_on is runs_on:
        return ""
    return f"Cut {made[-1]} was made with the saw along a {runs_on}: {WHAT_TO_DO}"

"""What of a project stays when it is planned: said in words, or let go."""

from collections.abc import Iterator
from dataclasses import replace

from layout_app.model.carry_over import with_waiting
from layout_app.model.merge_plan import without_claims
from layout_app.model.project import Project
from layout_app.model.words.wording import counted
from shared.holding import standing


def planned_anew(project: Project) -> Project:
    """Return a project without layout, locks, parts set aside and hand-set order.

    Sheets with ticked cuts stay as they lie, and so does what was sawn before.
    """
    begun = project.progress.sheets
    bare = replace(project.layout, waiting=(), holds=(), before=(), order=(), sawing=None)
    sheets = tuple(sheet for sheet in project.layout.sheets if sheet.id in begun)
    layout = replace(with_waiting(project.job, sheets, bare), least_changes=-1)
    return without_claims(replace(project, layout=layout))


def kept_words(project: Project) -> str:
    """Say what planning leaves as it is, such as ``3 locks, 12 ticked cuts``; ``""`` if nothing."""
    return ", ".join(_kept(project))


def _kept(project: Project) -> Iterator[str]:
    layout, progress = project.layout, project.progress
    in_force, suspended = standing(project.job, layout)
    by_hand = sum(sheet.yours and bool(sheet.placements) for sheet in layout.sheets)
    ticked = len(progress.made) + sum(len(plan.cuts) for plan in progress.past)
    aside = sum(one.sent for one in layout.waiting)
    if by_hand:
        yield f"{counted(by_hand, 'sheet')} laid out by hand"
    if in_force:
        yield counted(len(in_force), "lock")
    if suspended:
        yield f"{counted(len(suspended), 'lock')} not in force"
    if ticked:
        yield counted(ticked, "ticked cut")
    if layout.before:
        yield f"{counted(len(layout.before), 'change')} to the cut order"
    if aside:
        yield f"{counted(aside, 'part')} set aside"

"""What it means for its copies to resize a part by hand, in words."""

from collections.abc import Sequence
from dataclasses import replace

from layout_app.model.project import Project
from layout_app.model.words.wording import MOST_NAMED
from shared.check import check_job, plannable
from shared.issues import Severity
from shared.job import Job
from shared.layout import Layout
from shared.parts import Copy, Part


def refusal(job: Job, part: Part) -> str:
    """Say why a part cannot get the size that it has here: no sheet would be there for it.

    ``""`` if it can, or if it cannot be planned as it is either.
    """
    rows = tuple(part if row.id == part.id else row for row in job.parts)
    new = replace(job, parts=rows)
    if _is_sound(new, part) or not _is_sound(job, part):
        return ""
    wrong = (
        one.sentence
        for one in check_job(new)
        if one.subject == part.id and one.severity is Severity.ERROR
    )
    return f"Not resized: {next(wrong, '')}"


def _is_sound(job: Job, part: Part) -> bool:
    return any(row.id == part.id for row in plannable(job).parts)


def elsewhere_words(before: Layout, after: Project, part: str) -> tuple[str, ...]:
    """Say which copies of a part have to leave sheets, and that these are planned anew."""
    waits = {one.key for one in after.layout.waiting}
    return tuple(
        _leave(after.job, sheet.id, gone)
        for sheet in before.sheets
        if (gone := [p.key for p in sheet.placements if p.part == part and p.key in waits])
    )


def _leave(job: Job, sheet: str, gone: Sequence[Copy]) -> str:
    names = [job.named(key) for key in gone]
    if len(names) > MOST_NAMED:
        names = [job.part(gone[0][0]).name + f", {len(names)} copies"]
    leave = "leaves" if len(gone) == 1 else "leave"
    return f"{', '.join(names)} {leave} sheet {sheet}, to be planned anew"

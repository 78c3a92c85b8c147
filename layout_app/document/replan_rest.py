"""Planning the rest from what lies there, as one step.

What is sawn becomes history, what lies there stock. The step carries the ticks of both its sides,
so it is undone only while no other is set.
"""

from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.carry_over import settle
from layout_app.model.merge_plan import without_claims
from layout_app.model.replan import Corrections, half_done, replanned
from shared.job import Job
from shared.squaring import squared


def plan_the_rest(doc: Document, corrections: Corrections) -> bool:
    """Plan anew from what lies there; say why not if a blank is half brought to size."""
    if doc.plan is None or doc.tell(half_done(doc.project, doc.plan, corrections)):
        return False
    wrong = list(corrections)
    text = f"plan the rest: {wrong[0]} came out wrong" if wrong else "plan the rest from here"
    after = replanned(doc.project, doc.plan, corrections)
    return doc.push(Edit(text, after, Consequence.PLAN_ANEW, brings_ticks=True))


def change_the_rest(doc: Document, edit: Edit) -> bool:
    """Make an edit of the job that the cuts made bar, for the rest; one step with planning it.

    Says why not if a blank is half done.
    """
    if doc.plan is None or edit.alter is None or doc.tell(half_done(doc.project, doc.plan, {})):
        return False
    rest = replanned(doc.project, doc.plan, {})
    job = _as_left(doc.job, rest.job, squared(edit.alter(rest.job)))
    layout = settle(rest.job, job, rest.layout).layout
    after = without_claims(replace(rest, job=job, layout=layout))
    text = f"{edit.text}, and replan the rest"
    return doc.push(Edit(text, after, Consequence.PLAN_ANEW, brings_ticks=True))


def _as_left(before: Job, rest: Job, job: Job) -> Job:
    """Return a changed job with no more sheets at hand than sawing has left.

    A change of a row of sheets was typed before the sheets that are sawn were taken off it.
    """
    had = {row.id: row.at_hand for row in before.stock}
    left = {row.id: row.at_hand for row in rest.stock}
    rows = (
        replace(row, at_hand=left[row.id])
        if row.id in left and row.at_hand == had.get(row.id, left[row.id])
        else row
        for row in job.stock
    )
    return replace(job, stock=tuple(rows))

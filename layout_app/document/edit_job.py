"""Edits of the job: the shop, the rule, units, the title, and sheets and rack.

Each pushes one step and says whether anything changed. What an edit of the job does to the layout
stands here too.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.carry_over import (
    CarriedOver,
    Staying,
    same_but_pace,
    same_problem,
    settle,
)
from layout_app.model.merge_plan import without_claims
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.model.words.left_words import gave_way_words, left_words, let_go_words
from shared.building import Build
from shared.costs import area_price
from shared.job import Job
from shared.layout import EARLIER_PACE, Layout
from shared.lengths import LengthStyle
from shared.parts import Copy
from shared.plan import Proof
from shared.progress import changed_in
from shared.shop import CutRule, Shop
from shared.squaring import squared
from shared.stock import AreaPrice, Stock

Alter = Callable[[Job], Job]
"""Says what a job becomes."""


def change_job(doc: Document, text: str, alter: Alter) -> bool:
    """Change the job: sheets that are not yours are planned again, unless only words changed.

    Once cuts are ticked the pace changes minutes, not sheets.
    """
    after, says = settled_to(doc.project, alter)
    if same_problem(doc.job, after.job):
        consequence = Consequence.NOTHING
    elif _paced_anew(doc.project, after.job):
        consequence = Consequence.PLAN_ON
    else:
        consequence = Consequence.PLAN_ANEW
    return doc.push(Edit(text, after, consequence, alter, says=says))


def settled_to(
    project: Project,
    alter: Alter,
    *,
    by_hand: bool = False,
    push: bool = False,
    under_hand: str = "",
) -> tuple[Project, tuple[str, ...]]:
    """Return a project with its job altered and its layout settled to that, and what had to leave.

    That in sentences, to be said once it is done. With ``by_hand`` changed parts may stay on every
    sheet, not only on those that are yours; with ``push`` what they would lie on gives way, and
    that is said. No part leaves the sheet ``under_hand``.
    """
    job = squared(alter(project.job))
    if same_problem(project.job, job):
        same = project.job.shop.loose == job.shop.loose
        layout = project.layout if same else replace(project.layout, sawing=None)
        return replace(project, job=job, layout=layout), ()
    if _paced_anew(project, job):
        least_s = -1 if project.layout.sawing is None else EARLIER_PACE
        layout = replace(project.layout, least_s=least_s)
        return replace(project, job=job, layout=layout, proof=_of_no_pace(project.proof)), ()
    settled = _settled(project, job, by_hand=by_hand, push=push, under_hand=under_hand)
    left = left_words(job, [one.key for one in settled.left])
    let_go = let_go_words(project.job, settled.let_go)
    aside = gave_way_words(job, _gave_way(project.layout, settled.layout)) if push else ""
    after = without_claims(replace(project, job=job, layout=settled.layout))
    return after, (left, let_go, aside)


def _paced_anew(project: Project, job: Job) -> bool:
    """Say whether cuts are ticked and only the pace of the shop is another.

    It changes no cut: what is made was made, and what is ahead stays as it was told.
    """
    return bool(project.progress.made) and same_but_pace(project.job, job)


def _of_no_pace(proof: Proof) -> Proof:
    """Return what was proven of sheets and cuts, without what was of the time sawing takes."""
    materials = (replace(one, least_sawing=False, best_remainder=False) for one in proof.materials)
    return replace(proof, materials=tuple(materials))


def _settled(
    project: Project, job: Job, *, by_hand: bool, push: bool, under_hand: str
) -> CarriedOver:
    """Carry the layout over; on begun sheets as much stays as leaves all cuts made alone.

    Once cuts are ticked nothing moves that need not, as on sheets laid out by hand.
    """
    begun = project.progress.dust
    for staying in Staying if begun else [Staying.NONE]:
        settled = settle(
            project.job,
            job,
            project.layout,
            by_hand=by_hand or bool(begun),
            begun=begun,
            staying=staying,
            push=push,
            under_hand=under_hand,
        )
        after = replace(project, job=job, layout=settled.layout)
        if not begun or changed_in(project.progress, saw(after).plan) is None:
            break
    return settled


def _gave_way(before: Layout, after: Layout) -> tuple[Copy, ...]:
    """Return which copies lie elsewhere on a sheet that is yours than they lay there."""
    yours = {sheet.id for sheet in before.sheets if sheet.yours}
    lay = {one.key: one for sheet in before.sheets for one in sheet.placements}
    return tuple(
        one.key
        for sheet in after.sheets
        if sheet.id in yours
        for one in sheet.placements
        if one.key in lay and (lay[one.key].x, lay[one.key].y) != (one.x, one.y)
    )


def edit_shop(doc: Document, shop: Shop, what: str = "edit the shop") -> bool:
    """Change saws, rails, limits, pace, or what is worth keeping; ``what`` names the step."""
    return shop != doc.job.shop and change_job(doc, what, lambda job: replace(job, shop=shop))


def edit_rule(doc: Document, rule: CutRule) -> bool:
    """Change how deep, and in which direction first, sheets are broken down."""
    return rule != doc.job.rule and change_job(
        doc, "change the rule", lambda job: replace(job, rule=rule)
    )


def edit_style(doc: Document, style: LengthStyle) -> bool:
    """Change how lengths are written."""
    return style != doc.job.style and change_job(
        doc, "change units", lambda job: replace(job, style=style)
    )


def rename_job(doc: Document, name: str) -> bool:
    """Change the title."""
    return name != doc.job.name and change_job(doc, "rename", lambda job: replace(job, name=name))


def set_build(doc: Document, build: Build, what: str) -> bool:
    """Change build steps or hardware; ``what`` of them names the step."""
    if build == doc.project.build:
        return False
    after = replace(doc.project, build=build)
    return doc.push(Edit(f"change {what}", after, Consequence.NOTHING))


def edit_stock(doc: Document, stock: Stock, what: str = "") -> bool:
    """Change the row of sheets and rack that has this id; ``what`` names the step."""
    old = doc.job.stock_row(stock.id)

    def alter(job: Job) -> Job:
        rows = (stock if row.id == stock.id else row for row in job.stock)
        return _of_the_only_material(replace(job, stock=tuple(rows)))

    return old != stock and change_job(doc, what or f"edit {old.name}", alter)


def add_stock(doc: Document, rows: Sequence[Stock]) -> bool:
    """Add rows to sheets and rack."""

    def alter(job: Job) -> Job:
        return _of_the_only_material(replace(job, stock=(*job.stock, *rows)))

    what = rows[0].name if len(rows) == 1 else f"{len(rows)} rows"
    return bool(rows) and change_job(doc, f"add {what}", alter)


def _of_the_only_material(job: Job) -> Job:
    """Return the job with parts of no material made of the only one there is."""
    only = {row.material for row in job.stock}
    if len(only) != 1 or all(part.material for part in job.parts):
        return job
    (material,) = only
    parts = (part if part.material else replace(part, material=material) for part in job.parts)
    return replace(job, parts=tuple(parts))


def remove_stock(doc: Document, ids: Sequence[str]) -> bool:
    """Take rows off sheets and rack; what lies on them waits."""
    gone = frozenset(ids)

    def alter(job: Job) -> Job:
        return replace(job, stock=tuple(row for row in job.stock if row.id not in gone))

    what = doc.job.stock_row(ids[0]).name if len(ids) == 1 else f"{len(ids)} rows"
    return bool(ids) and change_job(doc, f"remove {what}", alter)


def set_area_price(doc: Document, material: str, given: AreaPrice | None) -> bool:
    """Say what a material costs by area; ``None`` for nothing."""
    if given == area_price(doc.job, material):
        return False

    def alter(job: Job) -> Job:
        others = (one for one in job.area_prices if one.material != material)
        return replace(job, area_prices=(*others, *([given] if given else [])))

    return change_job(doc, f"price by area of {material}", alter)


def set_sheet_apart(doc: Document, row_id: str, new_id: str) -> bool:
    """Give the one sheet of a row that has its bad places a row of its own, under a new id."""
    row = doc.job.stock_row(row_id)
    if not row.no_go or row.at_hand in {0, 1}:
        return False
    apart = replace(row, id=new_id, name=f"{row.name}, flawed", at_hand=1)

    def rows(job: Job) -> Iterator[Stock]:
        """Yield the sheet behind its row, which has one fewer and no bad places."""
        for one in job.stock:
            if one.id != row_id:
                yield one
                continue
            left = None if one.at_hand is None else max(0, one.at_hand - 1)
            yield replace(one, no_go=(), at_hand=left)
            yield apart

    return change_job(
        doc, f"set a sheet of {row.name} apart", lambda job: replace(job, stock=tuple(rows(job)))
    )

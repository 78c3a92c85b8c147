"""From what is shown to what goes on paper: the plan, and the sheets that have none."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from layout_app.model.feasibility import explain
from layout_app.model.sawing import Sawn
from layout_app.model.words.order_words import order_words
from layout_app.model.words.wording import unplaced_sentences
from layout_app.paper.matter import Matter, matter_of
from shared.cuts.sequence import WAITS
from shared.drawing import SheetDrawing, draw_loose
from shared.lengths import Unit
from shared.plan import ASIDE, Plan


def matter_of_sawn(sawn: Sawn, unit: Unit | None = None) -> Matter:
    """Return all that exports tell of a project, in another unit if one is named."""
    project = sawn.project
    style = project.job.style if unit is None else replace(project.job.style, unit=unit)
    job = replace(project.job, style=style)
    plan = sawn.plan or Plan(name=job.name, shop=job.shop, rule=job.rule)
    matter = matter_of(
        job,
        plan,
        loose=tuple(_loose(sawn, plan)),
        waiting=tuple(dict.fromkeys(_waiting(sawn, plan))),
        build=project.build,
        made=tuple(sorted(project.progress.all_made)),
        past=project.progress.past,
    )
    return replace(matter, ordered=order_words(sawn))


def _loose(sawn: Sawn, plan: Plan) -> Iterator[SheetDrawing]:
    """Yield the sheets that cannot be cut."""
    job, cut = sawn.project.job, {sheet.id for sheet in plan.sheets}
    for sheet in sawn.project.layout.sheets:
        if sheet.id not in cut and sheet.placements:
            problem = sawn.problems.get(sheet.id, "it has no plan.")
            begun = sheet.id in sawn.project.progress.sheets
            troubled = explain(job, sheet, begun=begun).troubled
            yield draw_loose(job, sheet, troubled, problem)


def _waiting(sawn: Sawn, plan: Plan) -> Iterator[str]:
    """Yield a sentence for each kind of part that lies on no sheet, cuttable or not."""
    lying = _lying_loose(sawn, plan)
    missing = [
        one if one.need == ASIDE else replace(one, copies=one.copies - lying[one.part])
        for one in plan.unplaced
    ]
    yield from unplaced_sentences(
        replace(plan, unplaced=tuple(one for one in missing if one.copies > 0))
    )
    named = {one.part for one in plan.unplaced}
    waiting = [one for one in sawn.project.layout.waiting if one.part not in named]
    kinds = Counter((one.part, ASIDE if one.sent else WAITS) for one in waiting)
    for (part, how), copies in kinds.items():
        yield f"{copies} × {sawn.project.job.part(part).name or part}: {how}"


def _lying_loose(sawn: Sawn, plan: Plan) -> Counter[str]:
    """Count the parts on sheets that cannot be cut: a plan knows them only as missing."""
    cut = {sheet.id for sheet in plan.sheets}
    loose = (sheet for sheet in sawn.project.layout.sheets if sheet.id not in cut)
    return Counter(placement.part for sheet in loose for placement in sheet.placements)

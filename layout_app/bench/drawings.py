"""Which drawing each sheet of the document gets."""

from layout_app.bench.judge import judge_sheet
from layout_app.document import Document
from shared.drawing import SheetDrawing, draw_loose, draw_sheet
from shared.layout import LayoutSheet


def drawing_of(document: Document, sheet: LayoutSheet) -> SheetDrawing:
    """Draw a sheet as planned, just before the selected cut, or loose when it has no cuts."""
    plan, job = document.plan, document.job
    if plan is None or not any(planned.id == sheet.id for planned in plan.sheets):
        troubled = judge_sheet(job, sheet).troubled
        problem = document.problems.get(sheet.id, "").removeprefix(f"Sheet {sheet.id}: ")
        return draw_loose(job, sheet, troubled, problem)
    return draw_sheet(plan, sheet.id, job.style, upto=_cut_on(document, sheet.id))


def _cut_on(document: Document, sheet: str) -> int | None:
    """Return the selected cut if it is one of this sheet."""
    number, plan = document.selection.cut, document.plan
    if number is None or plan is None:
        return None
    return next((c.number for c in plan.cuts if c.number == number and c.sheet == sheet), None)

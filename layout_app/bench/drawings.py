"""Which drawing each sheet of the document gets."""

from typing import NamedTuple

from layout_app.bench.judge import judge_sheet
from layout_app.document import Document
from shared.drawing import SheetDrawing, draw_loose, draw_sheet
from shared.drawing.sheet import cuts_of, tints
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Plan


class _Made(NamedTuple):
    """A drawing and what it was made from.

    ``looks`` is all that a planned sheet's drawing depends on, ``None`` of one without cuts.
    """

    plan: Plan | None
    job: Job
    sheet: LayoutSheet
    cut: int | None
    looks: object
    drawing: SheetDrawing

    def is_of(self, plan: Plan | None, job: Job, sheet: LayoutSheet, cut: int | None) -> bool:
        """Say whether it was made from these very values."""
        same = self.plan is plan and self.job is job and self.sheet is sheet
        return same and self.cut == cut


def _looks(plan: Plan | None, job: Job, sheet: str, cut: int | None) -> object:
    """Return what the drawing of a planned sheet depends on, ``None`` if it is not planned."""
    planned = next((one for one in plan.sheets if one.id == sheet), None) if plan else None
    if plan is None or planned is None:
        return None
    lies = tuple(one for one in plan.placements if one.sheet == sheet)
    falls = tuple(one for one in plan.offcuts if one.sheet == sheet)
    return planned, lies, falls, cuts_of(plan, sheet), cut, plan.parts, tints(plan), job.style


class Drawings:
    """Draws the sheets of a document, and remembers each while it looks the same."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._made: dict[str, _Made] = {}

    def of(self, sheet: LayoutSheet) -> SheetDrawing:
        """Draw a sheet as planned, just before the selected cut, or loose if it has no cuts."""
        plan, job, cut = self._document.plan, self._document.job, self._cut_on(sheet.id)
        old = self._made.get(sheet.id)
        if old is None or not old.is_of(plan, job, sheet, cut):
            looks = _looks(plan, job, sheet.id, cut)
            same = old is not None and looks is not None and old.looks == looks
            drawing = old.drawing if old is not None and same else self._draw(sheet, cut)
            old = _Made(plan, job, sheet, cut, looks, drawing)
            self._made[sheet.id] = old
        return old.drawing

    def _draw(self, sheet: LayoutSheet, cut: int | None) -> SheetDrawing:
        plan, job = self._document.plan, self._document.job
        if plan is not None and any(planned.id == sheet.id for planned in plan.sheets):
            return draw_sheet(plan, sheet.id, job.style, upto=cut)
        problem = self._document.problems.get(sheet.id, "").removeprefix(f"Sheet {sheet.id}: ")
        return draw_loose(job, sheet, judge_sheet(job, sheet).troubled, problem)

    def _cut_on(self, sheet: str) -> int | None:
        """Return the selected cut if it is one of this sheet."""
        number, plan = self._document.selection.cut, self._document.plan
        if number is None or plan is None:
            return None
        return next((c.number for c in plan.cuts if c.number == number and c.sheet == sheet), None)

"""Which drawing each sheet of the document gets."""

from dataclasses import replace
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
    cuts: "_Cuts"
    looks: object
    drawing: SheetDrawing

    def is_of(self, plan: Plan | None, job: Job, sheet: LayoutSheet, cuts: "_Cuts") -> bool:
        """Say whether it was made from these very values."""
        same = self.plan is plan and self.job is job and self.sheet is sheet
        return same and self.cuts == cuts


class _Cuts(NamedTuple):
    """Cuts of one sheet: the selected one, and those that are ticked."""

    selected: int | None
    made: frozenset[int]


def _looks(plan: Plan | None, job: Job, sheet: str, cuts: _Cuts) -> object:
    """Return what the drawing of a planned sheet depends on, ``None`` if it is not planned."""
    planned = next((one for one in plan.sheets if one.id == sheet), None) if plan else None
    if plan is None or planned is None:
        return None
    lies = tuple(one for one in plan.placements if one.sheet == sheet)
    falls = tuple(one for one in plan.offcuts if one.sheet == sheet)
    return planned, lies, falls, cuts_of(plan, sheet), cuts, plan.parts, tints(plan), job.style


class Drawings:
    """Draws the sheets of a document, and remembers each while it looks the same."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._made: dict[str, _Made] = {}

    def of(self, sheet: LayoutSheet) -> SheetDrawing:
        """Draw a sheet as planned, just before the selected cut, or loose if it has no cuts.

        Tags of ticked cuts are done.
        """
        plan, job, cuts = self._document.plan, self._document.job, self._cuts_on(sheet.id)
        old = self._made.get(sheet.id)
        if old is None or not old.is_of(plan, job, sheet, cuts):
            looks = _looks(plan, job, sheet.id, cuts)
            same = old is not None and looks is not None and old.looks == looks
            drawing = old.drawing if old is not None and same else self._draw(sheet, cuts)
            old = _Made(plan, job, sheet, cuts, looks, drawing)
            self._made[sheet.id] = old
        return old.drawing

    def _draw(self, sheet: LayoutSheet, cuts: _Cuts) -> SheetDrawing:
        plan, job = self._document.plan, self._document.job
        if plan is not None and any(planned.id == sheet.id for planned in plan.sheets):
            drawing = draw_sheet(plan, sheet.id, job.style, upto=cuts.selected)
            done = (
                replace(tag, done=True) if tag.number in cuts.made else tag for tag in drawing.tags
            )
            return replace(drawing, tags=tuple(done))
        problem = self._document.problems.get(sheet.id, "").removeprefix(f"Sheet {sheet.id}: ")
        return draw_loose(job, sheet, judge_sheet(job, sheet).troubled, problem)

    def _cuts_on(self, sheet: str) -> _Cuts:
        """Return the selected cut if it is one of this sheet, and those of it that are ticked."""
        document, plan = self._document, self._document.plan
        mine = (
            {cut.number for cut in plan.cuts if cut.sheet == sheet} if plan is not None else set()
        )
        number = document.selection.cut
        made = mine.intersection(document.progress.made)
        return _Cuts(number if number in mine else None, frozenset(made))

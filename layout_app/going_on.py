"""What cannot be while cuts are ticked: planned from the pieces on hand, if the maker wants it."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject

from layout_app.adoption import without_claims
from layout_app.asking_bar import AskingBar
from layout_app.commands import JobChange
from layout_app.document import Consequence, Document
from layout_app.mistake_commands import PlanTheRest, plan_the_rest
from layout_app.project import Project
from layout_app.replanning import half_done
from layout_app.sawing import named
from layout_app.settling import settle
from layout_app.wording import MOST_NAMED
from shared.job import Job
from shared.plan import Placement, Plan
from shared.squaring import squared

REPLAN, LEAVE = "Replan from here", "Leave it so"
MADE_ANOTHER_WAY = (
    "Ticked cuts stay as they were sawn, so this cannot change under them. Replan the rest from the"
    " pieces on hand, with the change?"
)


class ChangeTheRest(PlanTheRest):
    """A change of the job that the cuts made bar, for the rest: one step with planning it."""

    def __init__(self, document: Document, step: JobChange, plan: Plan) -> None:
        super().__init__(document, f"{step.text()}, and replan the rest", plan, {})
        self._step = step

    def change(self, project: Project) -> Project:
        """Turn what lies there into stock, sawn as it was, and carry the rest over."""
        rest = super().change(project)
        job = _as_left(project.job, rest.job, squared(self._step.alter(rest.job)))
        layout = settle(rest.job, job, rest.layout).layout
        return without_claims(replace(rest, job=job, layout=layout))


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


def change_the_rest(doc: Document, step: JobChange) -> bool:
    """Make a change that the cuts made bar, for the rest; say why not if a blank is half done."""
    if doc.plan is None:
        return False
    reason = half_done(doc.project, doc.plan, {})
    if reason:
        doc.said.emit(reason)
        return False
    return doc.push(ChangeTheRest(doc, step, doc.plan))


def left_begun_sheets(doc: Document) -> list[Placement]:
    """Return what lay on begun sheets before the last change, and lies nowhere now."""
    waits = {(one.part, one.copy) for one in doc.layout.waiting if not one.sent}
    begun = doc.progress.sheets
    return [
        one
        for sheet in doc.before_edit.project.layout.sheets
        for one in sheet.placements
        if sheet.id in begun and (one.part, one.copy) in waits
    ]


class GoingOn(QObject):
    """Asks, there and then, whether the rest is to be planned from the pieces on hand."""

    def __init__(self, document: Document, bar: AskingBar, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._bar = document, bar
        self._asked = ""
        document.refused.connect(self._offer_change)
        document.edited.connect(self._follow)

    def _offer_change(self, step: object) -> None:
        """Ask about a change that cuts which are made bar."""
        if isinstance(step, JobChange) and self._document.progress.made:
            self._ask(MADE_ANOTHER_WAY, lambda: change_the_rest(self._document, step))

    def _follow(self, consequence: Consequence) -> None:
        """Ask about parts that left a begun sheet; what was asked before is over."""
        if self._asked and self._bar.sentence == self._asked:
            self._bar.hide()
        self._asked = ""
        planning = consequence in {Consequence.PLAN_ANEW, Consequence.PLAN_TOUCHED}
        left = left_begun_sheets(self._document) if planning else []
        if left:
            self._ask(_no_room(self._document.job, left), self._plan_the_rest)

    def _plan_the_rest(self) -> None:
        plan_the_rest(self._document, {})

    def _ask(self, sentence: str, act: Callable[[], object]) -> None:
        def do() -> None:
            act()

        self._asked = sentence
        self._bar.ask(sentence, [(REPLAN, do), (LEAVE, self._bar.hide)])


def _no_room(job: Job, left: list[Placement]) -> str:
    names = [named(job, one) for one in left]
    more = len(names) - MOST_NAMED
    others = f" and {more} more" if more > 0 else ""
    fits = "fits" if len(names) == 1 else "fit"
    return (
        f"{', '.join(names[:MOST_NAMED])}{others} no longer {fits} on the sheet already begun."
        " Replan the rest from the pieces on hand?"
    )

"""Planning the rest from what lies there, as one undo step."""

from layout_app.document.commands import Change
from layout_app.document.document import Consequence, Document
from layout_app.model.project import Project
from layout_app.model.replan import Corrections, half_done, replanned
from layout_app.model.sawing import Sawn
from shared.plan import Plan

TICKED_SINCE = (
    "Cuts were ticked since the rest was planned anew: untick them before you take it back."
)


class PlanTheRest(Change):
    """What is sawn becomes history, what lies there stock; the rest is planned anew.

    It carries the ticks of both its sides, so it is undone only while no other is set.
    """

    def __init__(self, document: Document, text: str, plan: Plan, corrections: Corrections) -> None:
        super().__init__(document, text)
        self._plan, self._corrections = plan, corrections
        self._seen = document.progress

    def change(self, project: Project) -> Project:
        """Turn what lies there into stock."""
        return replanned(project, self._plan, self._corrections)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan the rest."""
        del before, after
        return Consequence.PLAN_ANEW

    def refusal(self) -> str:
        """Say that ticks were set since."""
        return "" if self._document.progress == self._seen else TICKED_SINCE

    def rebased(self, sawn: Sawn) -> Sawn:
        """Return a side with the ticks it had."""
        return sawn

    def _swap(self, sawn: Sawn, consequence: Consequence) -> None:
        super()._swap(sawn, consequence)
        self._seen = self._document.progress


def plan_the_rest(doc: Document, corrections: Corrections) -> bool:
    """Plan anew from what lies there; say why not if a blank is half brought to size."""
    if doc.plan is None:
        return False
    reason = half_done(doc.project, doc.plan, corrections)
    if reason:
        doc.said.emit(reason)
        return False
    wrong = list(corrections)
    text = f"plan the rest: {wrong[0]} came out wrong" if wrong else "plan the rest from here"
    return doc.push(PlanTheRest(doc, text, doc.plan, corrections))

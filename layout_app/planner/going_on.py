"""What cannot be while cuts are ticked, or takes more sheets, planned from the pieces on hand.

Only if the maker wants it: that is asked.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TypeAlias

from PySide6.QtCore import QObject

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.document.replan_rest import change_the_rest, plan_the_rest
from layout_app.look.asking_bar import AskingBar
from layout_app.model.pieces_on_hand import ThingKind, things
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw
from layout_app.model.words.shop_asked import REPLAN, about_barred, about_made
from layout_app.model.words.wording import MOST_NAMED, counted
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from shared.job import Job
from shared.plan import Placement, Plan

Act: TypeAlias = Callable[[], object]
LEAVE = "Leave it so"


def left_begun_sheets(doc: Document) -> list[Placement]:
    """Return what lay on begun sheets before the last change, and lies nowhere now."""
    waits = {one.key for one in doc.layout.waiting if not one.sent}
    begun = doc.progress.sheets
    return [
        one
        for sheet in doc.before_edit.project.layout.sheets
        for one in sheet.placements
        if sheet.id in begun and one.key in waits
    ]


def more_taken(before: Plan, project: Project, plan: Plan) -> dict[str, int]:
    """Count, by material, the sheets that a plan takes beyond an earlier one.

    Only of materials of which the sheets that are begun have left pieces: to plan the rest from
    them may save some.
    """
    left = {
        thing.origin.material
        for thing in things(project, plan)
        if thing.origin is not None and thing.kind in {ThingKind.PIECE, ThingKind.OFFCUT}
    }
    more = _whole_sheets(plan) - _whole_sheets(before)
    return {material: sheets for material, sheets in more.items() if material in left}


def _whole_sheets(plan: Plan) -> Counter[str]:
    return Counter(sheet.material for sheet in plan.sheets if not sheet.piece)


class GoingOn(QObject):
    """Asks, there and then, whether the rest is to be planned from the pieces on hand."""

    def __init__(
        self,
        document: Document,
        planning: Planning,
        planner: PlannerProcess,
        bar: AskingBar,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._bar = document, planning, bar
        self._asked = ""
        self._before: Plan | None = None
        """What was planned before the take-off asked for more, while nothing is answered."""
        self._pushed: Sawn | None = None
        """What was shown before the step that is being taken."""
        document.asks = self._offer_change
        document.pushing.connect(self._note)
        document.edited.connect(self._follow)
        document.leaving.connect(self._forget)
        planner.done.connect(self._look)

    def _note(self) -> None:
        self._pushed = self._document.sawn

    def _offer_change(self, edit: Edit) -> bool:
        """Ask about a change that made cuts bar; say whether it is of a kind to be asked about.

        One that only tells them another way can be made as well: then they were made so.
        """
        doc = self._document
        if edit.alter is None or not doc.progress.made:
            return False
        ahead = edit.after if isinstance(edit.after, Sawn) else saw(edit.after)
        retold = replace(edit, after=ahead, retells=True)
        can_be = doc.may_push(retold)
        asked = about_made(doc.sawn, ahead) if can_be else about_barred(doc.sawn, ahead)
        always: list[tuple[str, Act]] = [(asked.always, partial(doc.push, retold))]
        answers = always if can_be else []
        answers.append((asked.replan, partial(change_the_rest, doc, edit)))
        self._show(asked.sentence, [*answers, (asked.keep, self._leave)])
        return True

    def _follow(self, consequence: Consequence) -> None:
        """Ask about parts that left a begun sheet; what was asked before is over.

        Whether changed parts take more sheets is seen once they are planned.
        """
        if self._asked and self._bar.sentence == self._asked:
            self._bar.hide()
        self._asked = ""
        planning = consequence in {Consequence.PLAN_ANEW, Consequence.PLAN_TOUCHED}
        left = left_begun_sheets(self._document) if planning else []
        if left:
            self._ask(_no_room(self._document.job, left), self._plan_the_rest)
        waits_for = self._waits_for(consequence, planning=planning)
        self._before = None if left else waits_for

    def _waits_for(self, consequence: Consequence, *, planning: bool) -> Plan | None:
        """Return the plan to hold the one that is being made against; ``None`` for none."""
        pushed, self._pushed = self._pushed, None
        now = self._document.project
        if consequence is Consequence.STOP or not now.progress.made:
            return None
        if not planning:
            return self._before if self._planning.running else None
        if self._before is not None or pushed is None or pushed.problems:
            return self._before
        return pushed.plan if pushed.project.job.parts != now.job.parts else None

    def _look(self) -> None:
        """Ask about the sheets that changed parts take, once the plan of them is made."""
        before, plan, project = self._before, self._document.plan, self._document.project
        if before is None or plan is None or self._planning.running or self._document.problems:
            return
        more = more_taken(before, project, plan)
        if not more:
            self._before = None
        elif not (self._asked and self._bar.sentence == self._asked and self._bar.isVisible()):
            self._ask(_takes_more(more), self._plan_the_rest, keys=False)

    def _forget(self) -> None:
        self._before = self._pushed = None

    def _plan_the_rest(self) -> None:
        plan_the_rest(self._document, {})

    def _leave(self) -> None:
        self._before = None
        self._bar.hide()

    def _ask(self, sentence: str, act: Act, *, keys: bool = True) -> None:
        """Ask whether to replan."""
        self._show(sentence, [(REPLAN, act), (LEAVE, self._leave)], keys=keys)

    def _show(
        self, sentence: str, answers: Sequence[tuple[str, Act]], *, keys: bool = True
    ) -> None:
        self._asked = sentence
        self._bar.ask(sentence, [(words, partial(_do, act)) for words, act in answers], keys=keys)


def _do(act: Act) -> None:
    act()


def _takes_more(more: Mapping[str, int]) -> str:
    sheets = ", ".join(
        f"{counted(number, 'more sheet')} of {material}" for material, number in more.items()
    )
    return (
        f"This takes {sheets}, with what is begun left as it lies."
        " Replan the rest from the pieces on hand?"
    )


def _no_room(job: Job, left: list[Placement]) -> str:
    names = [job.named(one.key) for one in left]
    more = len(names) - MOST_NAMED
    others = f" and {more} more" if more > 0 else ""
    fits = "fits" if len(names) == 1 else "fit"
    return (
        f"{', '.join(names[:MOST_NAMED])}{others} no longer {fits} on the sheet already begun."
        " Replan the rest from the pieces on hand?"
    )

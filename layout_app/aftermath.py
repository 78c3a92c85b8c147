"""Once the rest is planned anew: which parts need stock that was not needed before."""

from collections.abc import Iterator

from PySide6.QtCore import QObject

from layout_app.asking_bar import AskingBar
from layout_app.document import Document
from layout_app.lying_about import touched
from layout_app.mistake_commands import PlanTheRest
from layout_app.planner_process import PlannerProcess
from layout_app.sawing import named
from layout_app.wording import counted, unplaced_sentences
from shared.job import Job
from shared.plan import Plan

MOST_NAMED = 6


def sheets_to_come(plan: Plan | None, begun: frozenset[str]) -> int:
    """Count the sheets of a plan that nobody has cut yet; pieces are none."""
    sheets = plan.sheets if plan is not None else ()
    return sum(not sheet.piece and sheet.id not in begun for sheet in sheets)


def need_words(job: Job, plan: Plan | None, before: int) -> str:
    """Say what of a plan made after a mistake needs more stock; ``""`` if nothing does.

    ``before`` is how many whole sheets were still to be cut when it was made.
    """
    if plan is None:
        return "From what lies there nothing can be cut."
    return " ".join(_needs(job, plan, before))


def _needs(job: Job, plan: Plan, before: int) -> Iterator[str]:
    if plan.unplaced:
        yield f"Not all can be cut from what lies there. {'. '.join(unplaced_sentences(plan))}."
    whole = [sheet.id for sheet in plan.sheets if not sheet.piece]
    more = len(whole) - before
    if more > 0:
        last = set(whole[-more:])
        names = [named(job, one) for one in plan.placements if one.sheet in last]
        others = len(names) - MOST_NAMED
        ends = f" and {others} more" if others > 0 else ""
        yield (
            f"This takes {counted(more, 'more sheet')} than was planned, for"
            f" {', '.join(names[:MOST_NAMED])}{ends}."
        )


class Aftermath(QObject):
    """Waits for the plan that follows a mistake, and says what it needs."""

    def __init__(
        self, document: Document, planner: PlannerProcess, bar: AskingBar, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._document, self._bar = document, bar
        self._before = 0
        self._waits = False
        document.pushing.connect(self._note)
        planner.done.connect(self._tell)

    def _note(self, step: object) -> None:
        """Count what is to come before the rest is planned anew."""
        self._waits = isinstance(step, PlanTheRest)
        if self._waits:
            self._before = sheets_to_come(self._document.plan, touched(self._document.project))

    def _tell(self) -> None:
        if not self._waits:
            return
        self._waits = False
        words = need_words(self._document.job, self._document.plan, self._before)
        if words:
            self._bar.say(words)

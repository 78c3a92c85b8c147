"""Once the rest is planned anew: which parts need stock that was not needed before."""

from collections import Counter
from collections.abc import Collection, Iterator
from typing import NamedTuple

from PySide6.QtCore import QObject

from layout_app.document.document import Document
from layout_app.document.edit import Step
from layout_app.look.asking_bar import AskingBar
from layout_app.model.pieces_on_hand import touched
from layout_app.model.words.wording import MOST_NAMED, counted, unplaced_sentences
from layout_app.planner.process import PlannerProcess
from shared.finding import called
from shared.geometry import Rect
from shared.job import Job
from shared.plan import Plan, PlanSheet


def sheets_to_come(plan: Plan | None, begun: frozenset[str] = frozenset()) -> list[PlanSheet]:
    """Return the sheets of a plan that nobody has cut yet; pieces are none."""
    sheets = plan.sheets if plan is not None else ()
    return [sheet for sheet in sheets if not sheet.piece and sheet.id not in begun]


class Kind(NamedTuple):
    """Sheets of a material that are the maker's own already, or that are bought."""

    material: str
    owned: bool


def _kind(sheet: PlanSheet, owned: Collection[str]) -> Kind:
    return Kind(sheet.material, sheet.stock in owned)


class Before(NamedTuple):
    """What was planned before the mistake: the plan, and the sheets of it that were begun."""

    plan: Plan | None = None
    begun: frozenset[str] = frozenset()

    def more_of(self, plan: Plan, owned: Collection[str]) -> dict[Kind, int]:
        """Count, by kind, the sheets that a later plan takes beyond those still to come.

        ``owned`` are the ids of the rows that need not be bought; what is bought comes first.
        """
        were = Counter(_kind(one, owned) for one in sheets_to_come(self.plan, self.begun))
        now = Counter(_kind(one, owned) for one in sheets_to_come(plan))
        return dict(sorted((now - were).items(), key=lambda item: item[0].owned))

    def new_in(self, plan: Plan, kind: Kind, owned: Collection[str]) -> list[PlanSheet]:
        """Return the sheets of a kind on which a later plan lays parts otherwise."""
        lay = {_lies(self.plan, sheet) for sheet in sheets_to_come(self.plan, self.begun)}
        mine = (sheet for sheet in sheets_to_come(plan) if _kind(sheet, owned) == kind)
        return [sheet for sheet in mine if _lies(plan, sheet) not in lay]


def _lies(plan: Plan | None, sheet: PlanSheet) -> frozenset[tuple[str, int, Rect]]:
    """Return what lies where on a sheet, whatever its number."""
    placements = plan.placements if plan is not None else ()
    return frozenset((p.part, p.copy, p.rect) for p in placements if p.sheet == sheet.id)


def need_words(job: Job, plan: Plan | None, before: Before) -> str:
    """Say what of a plan made after a mistake needs more stock; ``""`` if nothing does."""
    if plan is None:
        return "Nothing can be cut from the pieces on hand."
    return " ".join(_needs(job, plan, before))


def _needs(job: Job, plan: Plan, before: Before) -> Iterator[str]:
    if plan.unplaced:
        yield (
            f"Not all can be cut from the pieces on hand. {'. '.join(unplaced_sentences(plan))}."
        )
    owned = {row.id for row in job.stock if row.at_hand is not None}
    for kind, more in before.more_of(plan, owned).items():
        last = {sheet.id: sheet for sheet in before.new_in(plan, kind, owned)[-more:]}
        names = [job.named(one.key) for one in plan.placements if one.sheet in last]
        others = len(names) - MOST_NAMED
        parts = ", ".join(names[:MOST_NAMED]) + (f" and {others} more" if others > 0 else "")
        if not kind.owned:
            sheets = f"{counted(more, 'more sheet')} of {kind.material}"
            yield f"This takes {sheets} than was planned, to be bought, for {parts}."
            continue
        sheets = counted(more, "more sheet of yours", "more sheets of yours")
        rows = dict.fromkeys(called(job.stock_row(sheet.stock)) for sheet in last.values())
        yield (
            f"This takes {sheets} ({', '.join(rows)}, {kind.material}) than was planned, for"
            f" {parts}; nothing has to be bought for that."
        )


class Aftermath(QObject):
    """Waits for the plan that follows a mistake, and says what it needs as long as that is true."""

    def __init__(
        self, document: Document, planner: PlannerProcess, bar: AskingBar, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._document, self._bar = document, bar
        self._before = Before()
        self._step: Step | None = None
        self._said = ""
        document.pushing.connect(self._note)
        document.leaving.connect(self._leave)
        document.layout_changed.connect(self._put_away_if_stale)
        document.saved_state.changed.connect(self._put_away_if_stale)
        planner.done.connect(self._tell)

    def _note(self, step: Step) -> None:
        """Keep what was planned before the rest is planned anew."""
        self._step = step if step.brings_ticks else None
        if self._step is not None:
            self._before = Before(self._document.plan, touched(self._document.project))

    def _leave(self) -> None:
        """Wait for nothing more: another project is opened."""
        self._step, self._said = None, ""

    def _tell(self) -> None:
        words = "" if self._said else self._words()
        if words:
            self._said = words
            self._bar.say(words)

    def _words(self) -> str:
        """Say what the plan needs; ``""`` once the mistake is not the last step any more."""
        stack = self._document.undo_stack
        if self._step is None or stack.command(stack.index() - 1) is not self._step:
            return ""
        return need_words(self._document.job, self._document.plan, self._before)

    def _put_away_if_stale(self) -> None:
        """Take the sentence away once it is not true any more."""
        if self._said and self._words() != self._said:
            if self._bar.sentence == self._said:
                self._bar.hide()
            self._said = ""

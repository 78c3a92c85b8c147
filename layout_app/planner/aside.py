"""Plans made aside from what is shown: one sheet tidied, or a better plan as an offer.

The planner makes them when it has nothing else to do; any change of the maker's ends that.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model import layout_edits
from layout_app.model.locks import Held, given_back, laid_by_hand
from layout_app.model.merge_plan import with_layout
from layout_app.model.project import Project
from layout_app.model.rank import worth
from layout_app.model.sawing import Sawn, saw
from layout_app.model.words.choice_words import offer_words
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from layout_app.planner.run import PlannerRun
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Plan
from solver.wire import Budget

TIDY = Budget(time_s=0.7, workers=1)
"""So short that the answer is there after a second."""
OFFER = Budget(time_s=6.0, workers=1)
QUIET_MS = 1500
"""So long nothing happens before all sheets are planned aside."""
TIDY_ALREADY = "Sheet {} lies as well as it can be laid."
STANDS = "Nothing better found: the plan stands."
NOT_TIDIED = "Sheet {} could not be laid better."
BEING_TIDIED = "Sheet {} is being tidied; Esc leaves it as it lies."
LEFT_AS_IT_LIES = "Sheet {} stays as it lies."


def without_sheet(project: Project, sheet: LayoutSheet) -> Project:
    """Return a project in which only that sheet's parts are to be planned, on one like it.

    All other sheets stay, and what waits goes on waiting.
    """
    others = tuple(replace(one, yours=True) for one in project.layout.sheets if one is not sheet)
    used = Counter(one.stock for one in others if one.placements)
    used[sheet.stock] += 1
    stock = tuple(replace(row, at_hand=used[row.id]) for row in project.job.stock)
    lies = {one.key for one in sheet.placements}
    waiting = tuple(
        replace(one, sent=one.key not in lies)
        for one in layout_edits.set_aside(project.job, project.layout, sorted(lies)).waiting
    )
    layout = replace(project.layout, sheets=others, waiting=waiting, holds=())
    return replace(project, job=replace(project.job, stock=stock), layout=layout)


class Aside(QObject):
    """Has plans made that are not shown; keeps the best of a run and says when it is over."""

    free = Signal()
    """The planner is done with a plan aside, or with a look."""

    def __init__(
        self, document: Document, planning: Planning, planner: PlannerProcess, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._planner = document, planning, planner
        self._best: Sawn | None = None
        self._then: Callable[[Sawn | None], None] | None = None
        self._run: PlannerRun | None = None
        planner.tried.connect(self._keep)
        planner.tried_all.connect(self._end)
        planner.looked.connect(self.free)
        document.edited.connect(self.cancel)
        document.leaving.connect(self.cancel)

    @property
    def busy(self) -> bool:
        """Whether it waits for a plan that the planner has not been called away from."""
        return self._then is not None and self._run is not None and not self._run.over

    def plan(self, project: Project, limits: Budget, then: Callable[[Sawn | None], None]) -> None:
        """Plan a project aside; ``then`` takes the last plan, ``None`` if there is none."""
        self.cancel()
        self._then, self._best = then, None
        self._run = self._planner.plan_aside(project, limits)

    def cancel(self) -> None:
        """Forget it; the planner is free for something else."""
        self._then = None
        if self._run is not None and not self._run.over:
            self._planner.cancel()
            self._planning.order_if_needed()

    def _keep(self, sawn: Sawn) -> None:
        self._best = sawn

    def _end(self) -> None:
        then, self._then = self._then, None
        if then is not None:
            then(self._best)
        self._planning.order_if_needed()
        self.free.emit()


class Tidying(QObject):
    """Lays the parts of one sheet anew, as one step of the maker's, if that is better.

    What comes while something is in the hand is held back until it is let go.
    """

    changed = Signal()
    """It begins, or it is over."""

    def __init__(self, document: Document, aside: Aside, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._aside = document, aside
        self._sheet = ""
        self._held_back: tuple[str, Sawn | None, Project] | None = None
        document.edited.connect(self._forget)
        document.leaving.connect(self._forget)
        document.gestures.changed.connect(self._take_soon)
        document.gestures.let_go.connect(self._take_soon)

    def tidy(self, sheet: str) -> bool:
        """Begin; say why not if it cannot be."""
        document = self._document
        old = document.layout.sheet(sheet)
        reasons = (document.held.bars(one.key) for one in old.placements)
        reason = next(filter(None, reasons), "")
        if reason or not old.placements:
            document.said.emit(reason or f"Nothing lies on sheet {sheet}.")
            return False
        project = without_sheet(document.project, old)
        document.said.emit(BEING_TIDIED.format(sheet))
        self._aside.plan(project, TIDY, lambda sawn: self._take(sheet, sawn))
        self._note(sheet)
        return True

    @property
    def under_way(self) -> bool:
        """Whether the planner is at it."""
        return bool(self._sheet) and self._aside.busy

    def stop(self) -> bool:
        """Leave the sheet as it lies; say no if none is being tidied."""
        if not self.under_way:
            return False
        sheet = self._sheet
        self._aside.cancel()
        self._note("")
        self._document.said.emit(LEFT_AS_IT_LIES.format(sheet))
        return True

    def _note(self, sheet: str) -> None:
        self._sheet = sheet
        self.changed.emit()

    def _forget(self) -> None:
        """Forget what came and what comes: the maker has changed something."""
        self._held_back = None
        if self._sheet:
            self._note("")

    def _take_soon(self) -> None:
        """Take what was held back, after what the hand does when it lets go."""
        QTimer.singleShot(0, self, self._take_held_back)

    def _take_held_back(self) -> None:
        if self._held_back is None or self._document.gestures.in_hand:
            return
        (sheet, sawn, asked), self._held_back = self._held_back, None
        if same_layout(asked, self._document.project):
            self._take(sheet, sawn)

    def _take(self, sheet: str, sawn: Sawn | None) -> None:
        document = self._document
        self._note("")
        if document.gestures.in_hand:
            self._held_back = sheet, sawn, document.project
            return
        after = None if sawn is None else self._tidied(sheet, sawn)
        if after is None:
            document.said.emit(NOT_TIDIED.format(sheet))
            return
        before = document.plan
        better = after.plan is not None and sheet not in after.problems
        if before is not None and better and sheet not in document.problems:
            assert after.plan is not None
            better = worth(document.job, after.plan) < worth(document.job, before)
        if better:
            document.push(Edit(f"tidy sheet {sheet}", after, Consequence.PLAN_ON))
        else:
            document.said.emit(TIDY_ALREADY.format(sheet))

    def _tidied(self, sheet: str, sawn: Sawn) -> Sawn | None:
        """Return what would be shown, if all parts of the sheet have found room on one."""
        document = self._document
        old = document.layout.sheet(sheet)
        wanted = {one.key for one in old.placements}
        for new in sawn.project.layout.sheets:
            laid = {one.key for one in new.placements}
            if laid == wanted and new.stock == old.stock and new.tree is not None:
                layout = layout_edits.with_tree(document.job, document.layout, sheet, new.tree)
                return saw(with_layout(document.project, layout))
        return None


class Offering(QObject):
    """Offers a better plan of all that may be planned, where sheets shown were left as they lay.

    Sheets laid out by hand take part in it, but for begun and locked ones. That the plan stands
    after a run which the maker asked for is said only where nothing better is offered.
    """

    changed = Signal()

    def __init__(
        self, document: Document, planning: Planning, aside: Aside, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._aside = document, planning, aside
        self._offered: Sawn | None = None
        self._asked: Project | None = None
        self._ended = self._owes_answer = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(QUIET_MS)
        self._soon.timeout.connect(self._begin)
        planning.changed.connect(self._follow)
        planning.stood.connect(self._answer)
        document.edited.connect(self._forget)
        document.leaving.connect(self._forget)
        document.layout_changed.connect(self._wait)
        aside.free.connect(self._wait)

    @property
    def sentence(self) -> str:
        """What is offered and what it saves, ``""`` for nothing."""
        document, plan = self._document, None if self._offered is None else self._offered.plan
        if plan is None:
            return ""
        all_cut = all(one.tree is not None for one in document.layout.sheets if one.placements)
        mine = [sheet.id for sheet in laid_by_hand(document.project)]
        return offer_words(document.job, plan, document.plan, mine, all_cut=all_cut)

    @property
    def pending(self) -> bool:
        """Whether a better plan is being looked for, or about to be."""
        return self._soon.isActive() or self._aside.busy

    def take(self) -> bool:
        """Show the plan that is offered, as one step."""
        offered, self._offered = self._offered, None
        self.changed.emit()
        if offered is None or not self._document.shows(offered.project):
            return False
        after = replace(offered.project, progress=self._document.progress)
        return self._document.push(Edit("use the better plan", after, Consequence.STOP))

    def end(self) -> None:
        """Offer nothing more: the window is closed."""
        self._soon.stop()
        self._ended = True
        self._aside.cancel()

    def _forget(self) -> None:
        """Take the offer back; what lies there later, even the same again, is planned anew."""
        self._asked, self._owes_answer = None, False
        if self._offered is not None:
            self._offered = None
            self.changed.emit()
        self._wait()

    def _follow(self) -> None:
        """Wait for a run to end; one that has begun gives its own answer."""
        self._owes_answer = self._owes_answer and not self._planning.running
        self._wait()

    def _answer(self) -> None:
        """Say that the plan stands, at once or as soon as no offer can come any more."""
        self._owes_answer = self._offered is None
        if not (self._may_offer and self._may_ask(self._document.project)):
            self._say_it_stands()

    def _say_it_stands(self) -> None:
        if self._owes_answer:
            self._owes_answer = False
            self._document.said.emit(STANDS)

    @property
    def _may_offer(self) -> bool:
        """Whether anything shown was left as it lay that could be planned again."""
        mine = laid_by_hand(self._document.project)
        return not self._ended and (bool(mine) or self._planning.partial)

    def _wait(self) -> None:
        """Begin when all is quiet for a while, and there is something to beat."""
        if self._may_offer:
            self._soon.start()
        else:
            self._soon.stop()

    def _begin(self) -> None:
        project = self._document.project
        if self._is_busy:
            self._wait()
        elif self._may_ask(project):
            limits = replace(self._planning.limits, trade=False)
            limits = limits if self._planning.partial else OFFER
            self._aside.plan(given_back(project), limits, lambda sawn: self._take(project, sawn))
            self._wait()  # the planner may be called away before it has answered
        else:
            self._say_it_stands()
        self.changed.emit()

    @property
    def _is_busy(self) -> bool:
        at_work = self._planning.running or self._planning.at_work
        return at_work or self._aside.busy or self._document.gestures.under_way

    def _may_ask(self, project: Project) -> bool:
        """Say whether it is another layout than the last that was answered for."""
        sent = any(one.sent for one in project.layout.waiting)
        return not sent and not same_layout(self._asked, project)

    def _take(self, asked: Project, sawn: Sawn | None) -> None:
        shown = self._document.plan
        if not same_layout(asked, self._document.project):
            return
        self._asked = asked
        if sawn is not None and sawn.plan is not None and self._keeps_locks(sawn):
            job = self._document.job
            if self._document.problems or shown is None or _beats(job, sawn.plan, shown):
                self._offered, self._owes_answer = sawn, False
                self.changed.emit()
            elif self._planning.partial:
                self._document.take_bounds(sawn.project.proof)
        self._say_it_stands()

    def _keeps_locks(self, sawn: Sawn) -> bool:
        """Whether all of a plan can be cut, and what is locked lies in it as it does now."""
        now, then = self._document.held.in_force, Held(sawn.project).in_force
        return not sawn.problems and set(now) <= set(then)


def _beats(job: Job, plan: Plan, shown: Plan) -> bool:
    """Whether a plan takes less stock, or breaks fewer figures.

    Less sawing alone is not worth asking for.
    """
    return worth(job, plan).before_sawing < worth(job, shown).before_sawing


def same_layout(one: Project | None, other: Project) -> bool:
    """Whether the same parts lie in the same places, for the same job, of the same opening."""
    if one is None or one.opening != other.opening:
        return False
    return one.job == other.job and _lie(one) == _lie(other)


def _lie(project: Project) -> tuple[object, ...]:
    sheets = ((sheet.id, sheet.yours, sheet.placements) for sheet in project.layout.sheets)
    return (*sheets, project.layout.holds, project.progress.sheets)

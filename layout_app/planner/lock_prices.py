"""What each lock costs: cuts are counted at once, stock is planned aside when all is quiet.

Nothing is said that was not found so, nor of another layout than the one it was found for.
"""

from collections.abc import Iterator, Mapping
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from layout_app.document.document import Document
from layout_app.document.edit_locks import release_holds
from layout_app.model import lock_costs
from layout_app.model.cost import Costing
from layout_app.model.lock_costs import LockCost
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.model.words.lock_words import lock_sentence, sign_words
from layout_app.planner.aside import Aside, Offering, same_layout
from layout_app.planner.live import Planning
from shared.layout import Hold
from shared.proof_rule import is_conditional
from solver.wire import Budget

QUIET_MS: Final = 700
"""So long nothing happens before locks are priced."""
LIMITS: Final = Budget(time_s=4.0, workers=1)
MOST_PLANNED: Final = 6
"""So many locks are each planned without, at most."""


class LockPrices(QObject):
    """Knows what the locks of the layout that is shown cost."""

    changed = Signal()
    found = Signal(object)
    """A `LockCost` of sheets or money: it was planned, and is worth a question."""

    def __init__(
        self,
        document: Document,
        planning: Planning,
        aside: Aside,
        offering: Offering,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._document, self._planning = document, planning
        self._aside, self._offering = aside, offering
        self._of: Project | None = None
        """The project that is priced, or being priced."""
        self._costs: dict[tuple[Hold, ...], LockCost] = {}
        self._ahead: list[tuple[Hold, ...]] = []
        """Locks that are still to be planned without."""
        self._together: LockCost | None = None
        """What they cost together, where none is known yet to cost it alone."""
        self._ended = False
        self._soon = QTimer(self, singleShot=True, interval=QUIET_MS)
        self._soon.timeout.connect(self._go_on)
        document.layout_changed.connect(self._follow)
        document.job_changed.connect(self._follow)
        document.leaving.connect(self._forget)
        planning.changed.connect(self._wait)
        aside.free.connect(self._wait)
        document.gestures.let_go.connect(self._wait)

    @property
    def costs(self) -> tuple[LockCost, ...]:
        """What is known, the stock first."""
        return tuple(sorted(self._costs.values(), key=lambda one: (-one.price, -one.sheets)))

    @property
    def words(self) -> Mapping[Hold, str]:
        """What is said beside the sign of each lock that costs something."""
        return {cost.holds[0]: said for cost in self.costs if (said := sign_words(cost))}

    def sentence(self, cost: LockCost) -> str:
        """Say in a sentence what a lock costs."""
        return lock_sentence(self._document.job, cost)

    def unlock(self, cost: LockCost) -> bool:
        """Take the locks away that cost it, as one step; planning follows."""
        return cost in self._costs.values() and release_holds(self._document, cost.holds)

    def end(self) -> None:
        """Price nothing more: the window is closed."""
        self._ended = True
        self._soon.stop()

    def _follow(self) -> None:
        """Forget what was found once parts lie otherwise."""
        if not same_layout(self._of, self._document.project):
            self._forget()
        self._wait()

    def _forget(self) -> None:
        self._of, self._together, self._ahead = None, None, []
        if self._costs:
            self._costs = {}
            self.changed.emit()

    def _wait(self) -> None:
        due = self._of is None or bool(self._ahead)
        if due and not self._ended and self._document.held.in_force:
            self._soon.start()
        else:
            self._soon.stop()

    @property
    def _is_busy(self) -> bool:
        at_work = self._planning.running or self._planning.at_work
        others = self._offering.pending or self._aside.busy
        return at_work or others or self._document.gestures.under_way

    def _go_on(self) -> None:
        """Count what can be counted, then plan without one lock after the other."""
        if self._document.plan is None or self._document.problems:
            return  # what there is to price comes with another layout
        if self._is_busy:
            self._soon.start()
        elif self._of is None:
            self._count()
            self._wait()
        elif self._ahead:
            self._plan(self._ahead[0])

    def _count(self) -> None:
        sawn, costing = self._document.sawn, Costing(self._document.sawn)
        self._of = sawn.project
        found = [lock_costs.counted(costing, hold) for hold in self._document.held.in_force]
        self._costs = {cost.holds: cost for cost in found if cost is not None}
        self._ahead = list(self._to_plan(sawn))
        if self._costs:
            self.changed.emit()

    def _to_plan(self, sawn: Sawn) -> Iterator[tuple[Hold, ...]]:
        """Yield the locks to plan without: first all at once, since one alone saves no more.

        None where no plan at all takes less.
        """
        proof = sawn.project.proof
        if proof.proven and not is_conditional(proof.rule):
            return
        holds = [
            hold
            for hold in self._document.held.in_force
            if lock_costs.matters(sawn.project, [hold])
        ]
        if holds:
            yield tuple(holds)

    def _plan(self, holds: tuple[Hold, ...]) -> None:
        asked = self._document.project
        project = lock_costs.without(asked, holds)
        self._aside.plan(project, LIMITS, lambda other: self._take(asked, holds, other))

    def _take(self, asked: Project, holds: tuple[Hold, ...], other: Sawn | None) -> None:
        """Note what was found; if all locks together cost something, ask of each alone."""
        if not same_layout(asked, self._document.project) or holds not in self._ahead:
            return
        self._ahead.remove(holds)
        cost = lock_costs.planned(self._document.sawn, holds, other)
        if cost is not None and len(holds) > 1:
            self._together = cost
            self._ahead = [(hold,) for hold in holds[:MOST_PLANNED]]
        elif cost is not None:
            self._together = None
            self._note(cost)
        elif not self._ahead and self._together is not None:
            self._note(self._together)
        self._wait()

    def _note(self, cost: LockCost) -> None:
        self._costs[cost.holds] = cost
        self.changed.emit()
        self.found.emit(cost)

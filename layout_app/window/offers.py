"""What is offered besides the plan: a better one, a tidier sheet, advice, a tick taken back."""

from functools import partial

from PySide6.QtCore import QObject, Signal

from layout_app.document.document import Document
from layout_app.document.ticks import all_of, untick
from layout_app.look.asking_bar import AskingBar
from layout_app.model.lock_costs import LockCost
from layout_app.planner.advice import Looking
from layout_app.planner.after_replan import Aftermath
from layout_app.planner.aside import Aside, Offering, Tidying
from layout_app.planner.going_on import GoingOn
from layout_app.planner.left import WhereLeft
from layout_app.planner.live import Planning
from layout_app.planner.lock_prices import LockPrices
from layout_app.planner.process import PlannerProcess
from shared.layout import Hold


class Offers(QObject):
    """Holds whoever offers something to the maker; nothing of it happens by itself."""

    def __init__(
        self,
        document: Document,
        planning: Planning,
        planner: PlannerProcess,
        bar: AskingBar,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self.taking_back = TakingBack(document, self)
        self.looking = Looking(document, planning, planner, self)
        self._aftermath = Aftermath(document, planner, bar, self)
        self._where_left = WhereLeft(document, planning, planner, self)
        self._going_on = GoingOn(document, planning, planner, bar, self)
        self.aside = Aside(document, planning, planner, self)
        self.tidying = Tidying(document, self.aside, self)
        self.offering = Offering(document, planning, self.aside, self)
        self.locks = LockPrices(document, planning, self.aside, self.offering, self)
        self._asking = AskingOfLocks(self.locks, bar, self)

    def end(self) -> None:
        """Offer nothing more: the window is closed."""
        self.locks.end()
        self.offering.end()


class AskingOfLocks(QObject):
    """Says of a lock that costs stock what it costs, with "unlock" beside it; once of each."""

    def __init__(self, prices: LockPrices, bar: AskingBar, parent: QObject) -> None:
        super().__init__(parent)
        self._prices, self._bar = prices, bar
        self._kept: set[tuple[Hold, ...]] = set()
        self._asked = ""
        prices.found.connect(self._ask)
        prices.changed.connect(self._take_back)

    def _ask(self, cost: LockCost) -> None:
        if cost.holds in self._kept or not self._bar.isHidden():
            return
        self._kept.add(cost.holds)
        self._asked = self._prices.sentence(cost)
        keep = "Keep the lock" if len(cost.holds) == 1 else "Keep the locks"
        unlock = partial(self._unlock, cost)
        answers = (("&Unlock", unlock), (keep, self._bar.hide))
        self._bar.ask(self._asked, answers, keys=False)

    def _unlock(self, cost: LockCost) -> None:
        self._prices.unlock(cost)

    def _take_back(self) -> None:
        """Ask no more about what is no longer so."""
        if self._asked not in map(self._prices.sentence, self._prices.costs):
            self._bar.take_back(self._asked)
            self._asked = ""


class TakingBack(QObject):
    """Knows the ticks that were set in this opening and still stand, and takes back the newest.

    It never sets a tick: one that was taken away says that a cut is not made.
    """

    said = Signal(str, bool)
    """A sentence that tells what was ticked or unticked, and whether it was ticked."""
    changed = Signal()
    """There is something to take back now, or no more."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._set: list[tuple[int, ...]] = []
        document.ticks_set.connect(self._take)

    @property
    def possible(self) -> bool:
        """Whether any tick of this opening stands."""
        return bool(self._newest())

    def do(self) -> None:
        """Take back what was ticked last of all that still is; again, what was ticked before."""
        untick(self._document, self._newest())

    def _newest(self) -> tuple[int, ...]:
        """Return the cuts ticked together last that are still ticked, without those that are not.

        Ticked cuts keep their numbers, whatever becomes of the plan.
        """
        made = set(self._document.progress.made)
        standing = (tuple(n for n in numbers if n in made) for numbers in reversed(self._set))
        return next(filter(None, standing), ())

    def _take(self, numbers: tuple[int, ...], ticked: bool) -> None:
        gone = set(numbers)
        others = (tuple(n for n in before if n not in gone) for before in self._set)
        self._set = [*filter(None, others), *([numbers] if ticked else [])]
        words = f"{all_of(numbers)} {'ticked' if ticked else 'not ticked any more'}."
        self.said.emit(words[0].upper() + words[1:], ticked)
        self.changed.emit()

    def forget(self) -> None:
        """Take nothing back: another project is shown."""
        self._set = []
        self.changed.emit()

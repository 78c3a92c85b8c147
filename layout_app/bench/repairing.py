"""A repair of a sheet that can't be cut: looked for in idle moments, shown before it is taken."""

import time
from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer

from layout_app.bench.bubble import Bubble
from layout_app.bench.interaction import GestureHand, Interaction
from layout_app.bench.showing_repair import RepairShown
from layout_app.document.edit_repair import RepairCosts, repair_sheet
from layout_app.model.repairing import Repair, repairs
from layout_app.model.staying_locked import StayingLocked
from layout_app.model.words.cost_words import cost_lines
from layout_app.model.words.repair_words import repair_words

SLICE_S = 0.008
"""So long is looked for repairs before the window has its turn again."""
LOCKED = "What is locked stays: unlock some of it and ask again."
AGAINST = "Against its last cuts:"
KEYS = "Return or a click on it takes it, R shows the next, Esc leaves it."


class Repairing(Interaction):
    """Shows one repair of a sheet after the other; nothing moves until one is taken."""

    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, hand: GestureHand, sheet: str) -> None:
        super().__init__(hand)
        self.sheet = sheet
        self.found: list[Repair] = []
        """The repairs that are known, the least change first."""
        self.at: int | None = None
        """Which of them is shown."""
        self._ahead: Iterator[Repair | None] | None = repairs(hand.document.project, sheet)
        self._costs = RepairCosts(hand.document, sheet)
        self._wanted = 0
        self._view: RepairShown | None = None
        self._bubble = Bubble(hand.scene.theme)
        self._soon = QTimer(hand.scene, singleShot=True, interval=0)
        self._soon.timeout.connect(self._look)
        self._then = QTimer(hand.scene, singleShot=True, interval=0)
        self._then.timeout.connect(self._price)
        self.show(self._bubble)
        self._soon.start()

    @property
    def shown(self) -> Repair | None:
        """The repair that is shown."""
        return None if self.at is None else self.found[self.at]

    @property
    def words(self) -> str:
        """What is said beside it."""
        return self._bubble.words

    def appear(self) -> None:
        """Say what goes on until a repair is known."""
        self._say((f"Looking for a repair of sheet {self.sheet} …", "Esc leaves it."), good=True)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Show the next repair with R, the one before with Shift+R."""
        if key != Qt.Key.Key_R:
            return False
        self.step(-1 if modifiers & Qt.KeyboardModifier.ShiftModifier else 1)
        return True

    def step(self, by: int = 1) -> None:
        """Show the next repair; after the last one the first again."""
        if self.at is not None:
            self._wanted = max(0, self.at + by)
            self._show_wanted()

    def takes(self, point: QPointF) -> bool:
        """Say whether a press takes the repair: one on what is shown of it does."""
        return self._view is not None and self._view.contains(point)

    def finish(self) -> None:
        """Take the repair that is shown."""
        if self.shown is not None:
            repair_sheet(self.hand.document, self.shown)

    def clear(self) -> None:
        """Take everything off the bench, and look for no more."""
        for timer in (self._soon, self._then):
            timer.stop()
            timer.deleteLater()
        self._ahead = None
        self._undraw()
        super().clear()

    def _look(self) -> None:
        """Look on for some milliseconds; show what was waited for once it is known."""
        until = time.perf_counter() + SLICE_S
        while self._ahead is not None and time.perf_counter() < until:
            try:
                one = next(self._ahead)
            except StopIteration:
                self._ahead = None
            else:
                self.found += [one] if one is not None else []
        if self._wanted != self.at:
            self._show_wanted()
        if self._ahead is not None:
            self._soon.start()

    def _show_wanted(self) -> None:
        """Show the repair that is wanted once it is known; after the last one the first."""
        if self._wanted >= len(self.found) and self._ahead is not None:
            return  # it is still looked for
        if not self.found:
            self._say_none()
            return
        self._wanted %= len(self.found)
        if self.at != self._wanted:
            self.at = self._wanted
            self._draw(self.found[self.at])

    def _say_none(self) -> None:
        """Say that there is no repair, and what is wrong with the sheet."""
        self._wanted, self.at = 0, None
        document = self.hand.document
        why = document.problems.get(self.sheet, "").removeprefix(f"Sheet {self.sheet}: ")
        none = f"No repair of sheet {self.sheet} was found by moving parts or setting some aside."
        if not why:
            none = f"Sheet {self.sheet} can be cut as it lies."
        locked = bool(why) and bool(StayingLocked(document.project, self.sheet).copies)
        self._say((none, why, LOCKED if locked else "", "Esc leaves it."), good=False)

    def _draw(self, repair: Repair) -> None:
        """Show where parts would go, and say it; what it costs is said a moment later."""
        self._undraw()
        self._view = RepairShown(self.hand, repair)
        self.hand.screen.reveal(self._view.place)
        self._tell(repair)
        self._then.start()

    def _price(self) -> None:
        """Say besides what the repair that is shown costs: the first time all has to be sawn."""
        repair = self.shown
        cost = None if repair is None else self._costs.of(repair)
        if repair is not None and cost is not None:
            costs = cost_lines(cost, self.hand.document.job.style)
            self._tell(repair, (f"{AGAINST} {costs[0]}", *costs[1:]))

    def _tell(self, repair: Repair, costs: Sequence[str] = ()) -> None:
        document = self.hand.document
        words = repair_words(document.job, document.layout, repair)
        self._say((words, *costs, KEYS), good=True, beside=self._view)

    def _undraw(self) -> None:
        if self._view is not None:
            self._view.clear()
            self._view = None

    def _say(self, lines: Sequence[str], *, good: bool, beside: RepairShown | None = None) -> None:
        """Say something beside what is shown, else at the corner of the sheet."""
        hand = self.hand
        self._bubble.say(tuple(filter(None, lines)), good=good)
        if beside is not None:
            seen = beside.place.intersected(hand.screen.sight)
            hand.put_bubble(self._bubble, seen.bottomLeft(), beside.taken)
            return
        stand = hand.sheets.stand(self.sheet)
        sheet = QRectF(stand.x, stand.y, stand.length, stand.width)
        hand.put_bubble(self._bubble, sheet.intersected(hand.screen.sight).center())

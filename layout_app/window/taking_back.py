"""What was ticked last is said, and taken back by key and mouse: ticks go back, newest first."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from layout_app.document.document import Document
from layout_app.document.ticks import all_of, untick

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


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


def can_take_back(window: "MainWindow") -> bool:
    """A tick of this opening stands, and no gesture is under way."""
    return window.taking_back.possible and not window.document.gestures.under_way


def take_back(window: "MainWindow") -> None:
    """Take back the last tick that stands."""
    window.taking_back.do()

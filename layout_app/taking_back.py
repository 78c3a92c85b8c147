"""The last tick is said, and can be taken back by key and mouse."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from layout_app.document import Document
from layout_app.ticks import all_of, tick, untick

if TYPE_CHECKING:
    from layout_app.main_window import MainWindow


class TakingBack(QObject):
    """Knows which cuts were ticked or unticked last, as long as their numbers mean the same."""

    said = Signal(str)
    """A sentence that tells what was ticked or unticked."""
    changed = Signal()
    """There is something to take back now, or no more."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._numbers: tuple[int, ...] = ()
        self._ticked = False
        document.ticks_set.connect(self._take)
        document.layout_changed.connect(self._drop_if_other)

    @property
    def possible(self) -> bool:
        """Whether the last ticks can be taken back."""
        return bool(self._numbers)

    def do(self) -> None:
        """Untick what was ticked last, or tick again what was unticked."""
        if self.possible:
            (untick if self._ticked else tick)(self._document, self._numbers)

    def _take(self, numbers: tuple[int, ...], ticked: bool) -> None:
        self._numbers, self._ticked = numbers, ticked
        words = f"{all_of(numbers)} {'ticked' if ticked else 'not ticked any more'}."
        self.said.emit(words[0].upper() + words[1:])
        self.changed.emit()

    def _drop_if_other(self) -> None:
        """Ticked cuts keep their numbers; others may have got new ones."""
        if not (self._ticked and set(self._numbers) <= set(self._document.progress.made)):
            self.forget()

    def forget(self) -> None:
        """Take nothing back: another project is shown, or the cuts are others."""
        self._numbers = ()
        self.changed.emit()


def can_take_back(window: "MainWindow") -> bool:
    """A tick was just set or taken away, and no gesture is under way."""
    return window.taking_back.possible and not window.document.gesture


def take_back(window: "MainWindow") -> None:
    """Take the last tick back."""
    window.taking_back.do()

"""Garbage is collected on the window's thread, and not while something is in the hand.

Python collects on whichever thread happens to make the next object. Were that the thread that
hears the planner, it would end objects of Qt that belong to the window, which brings the whole
program down now and then.
"""

import gc
from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QObject, QTimer

EVERY_MS: Final = 2000


class Collecting(QObject):
    """Takes collecting over from Python as long as it lives.

    Parameters
    ----------
    busy
        Says that the maker must not be kept waiting now.
    """

    def __init__(self, busy: Callable[[], bool], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._busy = busy
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self.collect)
        self._timer.start()

    def collect(self) -> None:
        """Collect the oldest generation that Python itself would collect by now."""
        if self._busy():
            return
        counts, thresholds = gc.get_count(), gc.get_threshold()
        due = [place for place in range(3) if counts[place] > thresholds[place]]
        if due:
            gc.collect(due[-1])

    def end(self) -> None:
        """Give collecting back to Python."""
        self._timer.stop()
        gc.enable()

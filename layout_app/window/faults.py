"""What breaks inside the program is said to the maker; work goes on.

Qt has nobody to pass an exception on to: one that leaves a slot, an event's method or a thread
would be a few lines on a terminal that no maker has open.
"""

import sys
import threading
import time
import traceback
from pathlib import Path
from types import TracebackType
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.document.document import Document
from layout_app.look.asking_bar import AskingBar
from layout_app.window.files import Files

AGAIN_S: Final = 2.0
"""A fault that comes again sooner is the same event, such as a window painted anew."""
GOES_ON: Final = "Your work is still here, but look at what was just done."


class Faults(QObject):
    """Hears exceptions nobody has caught, on any thread, from `start` to `end`."""

    told = Signal(str)
    """A sentence for the maker; the traceback is on standard error."""
    _heard = Signal(str)

    def __init__(
        self, document: Document, files: Files, bar: AskingBar, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._files, self._bar = document, files, bar
        self._last: dict[str, float] = {}
        self._sentence = ""
        self._before = sys.excepthook, threading.excepthook, sys.unraisablehook
        self._heard.connect(self._tell, Qt.ConnectionType.QueuedConnection)
        files.copied.connect(self._take_copy)

    def start(self) -> None:
        """Hear whatever nobody catches."""
        self._before = sys.excepthook, threading.excepthook, sys.unraisablehook
        sys.excepthook = self._take
        threading.excepthook = self._take_of_thread
        sys.unraisablehook = self._take_unraisable

    def end(self) -> None:
        """Leave uncaught exceptions to those who heard them before."""
        sys.excepthook, threading.excepthook, sys.unraisablehook = self._before

    def _take(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, Exception) and not self._is_new(error):
            return
        self._before[0](kind, error, trace)

    def _take_of_thread(self, told: threading.ExceptHookArgs) -> None:
        if told.exc_value is None or self._is_new(told.exc_value):
            self._before[1](told)

    def _take_unraisable(self, told: "sys.UnraisableHookArgs") -> None:
        if told.exc_value is None or self._is_new(told.exc_value):
            self._before[2](told)

    def _is_new(self, error: BaseException) -> bool:
        """Have a fault told, unless it comes again and again."""
        words, now = words_of(error), time.monotonic()
        last, self._last[words] = self._last.get(words), now
        if last is not None and now - last < AGAIN_S:
            return False
        self._heard.emit(words)
        return True

    @Slot(str)
    def _tell(self, words: str) -> None:
        """Say it, and keep a copy of what is not on disk."""
        self._sentence = f"{words} {GOES_ON}"
        if self._document.saved_state.modified:
            self._files.keep_copy(self._document.project)
        self._bar.say(self._sentence, keys=False)
        self.told.emit(self._sentence)

    def _take_copy(self, sentence: str) -> None:
        self._bar.say(f"{self._sentence} {sentence}", keys=False)


def words_of(error: BaseException) -> str:
    """Name a fault and its place in the program, on one line."""
    said = " ".join(f"{type(error).__name__}: {error}".split()).rstrip(": ")
    frames = traceback.extract_tb(error.__traceback__)
    place = f", {Path(frames[-1].filename).name} line {frames[-1].lineno}" if frames else ""
    return f"A fault of Ripfirst was met ({said}{place})."

"""The collector at every event, and a look at windows that holds none of them."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QEvent, QObject
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

EVERY = 20


class Collects(QObject):
    """Collects what is young before every event of the program, and all before every 20th."""

    def __init__(self) -> None:
        super().__init__()
        self._events = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Collect, and let the event pass."""
        del watched, event
        self._events += 1
        gc.collect(0 if self._events % EVERY else 2)
        return False


@contextmanager
def collecting(app: QApplication) -> Iterator[None]:
    """Collect at every event, once what is on the screen stands there."""
    app.processEvents()
    collects = Collects()
    app.installEventFilter(collects)
    yield
    app.removeEventFilter(collects)


def let_time_pass(app: QApplication) -> None:
    """Let events come, each with its collection, though nothing else happens."""
    for _ in range(8):
        app.postEvent(app, QEvent(QEvent.Type.User))
        app.processEvents()
        app.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def stands(title: str) -> bool:
    """Say whether a window with such a title is on the screen."""
    windows = QApplication.topLevelWidgets()
    return any(title in one.windowTitle() for one in windows if one.isVisible())


def press(title: str, *keys: int) -> None:
    """Press keys one after the other in the window with such a title."""
    for key in keys:
        for window in QApplication.topLevelWidgets():
            if window.isVisible() and title in window.windowTitle():
                QTest.keyClick(window, key)
                break
        else:
            raise LookupError(title)
        del window
        let_time_pass(QApplication.instance())

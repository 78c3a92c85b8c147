"""What several tests of the window begin with."""

import gc
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import getCppPointer

from layout_app.look.theme import Theme
from layout_app.panels.left_region import LeftRegion
from layout_app.planner import line
from tests.layout_app.small_job import document


@pytest.fixture
def left(qtbot: QtBot) -> Iterator[LeftRegion]:
    """Return the left region of a planned document, in a window that has the keys."""
    doc = document()
    region = LeftRegion(doc, Theme.light())
    region.resize(700, 700)
    qtbot.addWidget(region)
    region.show()
    region.activateWindow()
    qtbot.waitUntil(region.isActiveWindow)
    yield region
    doc.undo_stack.clear()


@pytest.fixture(autouse=True)
def _windows_go_with_their_test(qapp: QApplication) -> Iterator[None]:
    """Delete what a test has shown: windows that stay are styled, told and collected ever after.

    Only an event loop would do so, and most tests have none. It is asked for first, so that it
    ends last, when other fixtures have closed their windows. A theme goes with them: under a
    style sheet the windows of all tests that follow would take twice as long to make.
    """
    before = _shown()
    yield
    for window in QApplication.topLevelWidgets():
        if getCppPointer(window) not in before and window.parent() is None:
            window.deleteLater()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    if qapp.styleSheet():
        qapp.setStyleSheet("")
        qapp.setPalette(QPalette())


@pytest.fixture(autouse=True)
def _planners_are_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Kill the planner of a window that closes, which else has a while to end by itself."""
    monkeypatch.setattr(line, "ENDS_S", 0.0)


def _shown() -> set[tuple[int, ...]]:
    return {getCppPointer(window) for window in QApplication.topLevelWidgets()}


@pytest.fixture(scope="session", autouse=True)
def _documents_go_before_the_program(qapp: QApplication) -> Iterator[None]:
    """Collect what tests have left while there still is a program for it to belong to.

    What they have put on the clipboard of no screen would be asked for its formats when Python
    has ended (seen with PySide6 6.11.3); that of a real screen is handed over.
    """
    yield
    qapp.clipboard().clear()
    gc.collect()

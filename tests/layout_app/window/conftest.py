"""A window with the small job, for tests that begin with keys."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from layout_app.window.main_window import MainWindow
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window with the small job, which has the keys."""
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    close(made)

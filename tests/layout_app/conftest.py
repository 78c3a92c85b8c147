"""What several tests of the window begin with."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from layout_app.panels.left_region import LeftRegion
from layout_app.theme import Theme
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
    qtbot.waitUntil(region.isVisible)
    yield region
    doc.undo_stack.clear()

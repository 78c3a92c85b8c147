"""Planned again by key, a plan that stays is said to stand."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.planner.aside import STANDS
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from solver.budget.stop import Budget
from tests.layout_app.closing import close
from tests.layout_app.small_job import document

WAIT_MS = 30_000


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on the small job, planned to the end."""
    made = MainWindow(document(), limits=Budget(time_s=5.0, patience_s=0.5, workers=1))
    qtbot.addWidget(made)
    made.show()
    made.planning.start()
    qtbot.waitUntil(lambda: not made.planning.at_work, timeout=WAIT_MS)
    yield made
    close(made)


@pytest.mark.parametrize("name", ["bench.plan", "bench.anew"])
def test_nothing_better_found_is_said(window: MainWindow, qtbot: QtBot, name: str) -> None:
    """F5 and its sister with Ctrl and Shift answer once the run is over."""
    assert window.status.doing.text() != STANDS  # a run nobody asked for says nothing
    before = window.document.layout.sheets
    window.menus.actions[name].trigger()
    qtbot.waitUntil(lambda: window.status.doing.text() == STANDS, timeout=WAIT_MS)
    assert window.document.layout.sheets == before


def test_a_change_meanwhile_says_nothing(window: MainWindow, qtbot: QtBot) -> None:
    """The run that was asked for is over with it, and the plan is another."""
    said: list[str] = []
    window.document.said.connect(said.append)
    window.menus.actions["bench.plan"].trigger()
    part = window.document.job.parts[0]
    edit_parts.edit_part(window.document, replace(part, length=part.length - INCH))
    qtbot.waitUntil(lambda: not window.planning.at_work, timeout=WAIT_MS)
    assert STANDS not in said

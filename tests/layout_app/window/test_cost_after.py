"""What a step has cost is said once it is made, where there were no words beside a part before."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.bench.carrying import Carrying
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.model.cost import Costing
from layout_app.model.words.cost_words import cost_words
from layout_app.window.main_window import MainWindow
from tests.layout_app.monkey import silent_planner
from tests.layout_app.planner.test_lock_prices import project, sheet, side


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on two sides, one below the other, and no planner that answers."""
    made = MainWindow(Document(project(sheet("1", side(1), side(2)))), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def test_setting_aside_is_priced_in_the_status_line(window: MainWindow, qtbot: QtBot) -> None:
    """The second side took a rip and a crosscut; what is said is what the plans say."""
    doc = window.document
    before = doc.sawn
    assert edit_layout.set_aside(doc, [("side", 2)])
    qtbot.waitUntil(lambda: "cut" in window.status.doing.text())
    cost = Costing(before).of(doc.project)
    assert cost is not None
    assert cost == Costing(before).done(doc.sawn)
    assert window.status.doing.text() == f"Set Side 2 aside: {cost_words(cost, doc.job.style)}."
    assert cost.cuts == -2


def test_undo_says_nothing_of_cost(window: MainWindow, qtbot: QtBot) -> None:
    """What it brings back was there before."""
    doc = window.document
    assert edit_layout.set_aside(doc, [("side", 2)])
    doc.undo()
    qtbot.wait(150)
    assert "cut" not in window.status.doing.text()


def test_what_else_is_said_of_a_step_stays(window: MainWindow, qtbot: QtBot) -> None:
    """Whether it is said before the step or after it."""
    doc = window.document
    doc.said.emit("Something had to leave.")
    assert edit_layout.set_aside(doc, [("side", 2)])
    qtbot.wait(150)
    assert window.status.doing.text() == "Something had to leave."
    assert edit_layout.put_back(doc, [("side", 2)])
    assert edit_layout.set_aside(doc, [("side", 2)])
    doc.said.emit("Nothing found.")
    qtbot.wait(150)
    assert window.status.doing.text() == "Nothing found."


def test_what_was_said_beside_the_part_is_not_said_again(window: MainWindow, qtbot: QtBot) -> None:
    """A part carried by keys has its cost beside it; once it is laid down the totals are seen."""
    doc, bench = window.document, window.bench
    doc.selection.select_parts([("side", 2)])
    bench.twins.carry()
    QTest.keyClick(bench, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    carrying = bench.hand.interaction
    assert isinstance(carrying, Carrying)
    qtbot.waitUntil(lambda: bool(carrying.cost.lines))
    before = doc.sawn
    QTest.keyClick(bench, Qt.Key.Key_Return)
    assert doc.sawn is not before
    qtbot.wait(150)
    assert ": " not in window.status.doing.text()

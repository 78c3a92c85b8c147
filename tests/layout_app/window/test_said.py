"""What is said in the status line stands as long as it is true of what was done last."""

import re
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model.words.wording import BEGUN, NOT_SAWN
from layout_app.planner.process import PlannerProcess
from layout_app.window.main_window import MainWindow
from shared.layout import Scope
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import plan_of
from tests.layout_app.bench.two_sheets import document
from tests.layout_app.closing import close
from tests.layout_app.small_job import document as planned_document
from tests.layout_app.turns import take_turns

SIDE_1 = ("side", 1)


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on two sheets laid by hand; its planner is never started."""
    made = MainWindow(planner=PlannerProcess())
    qtbot.addWidget(made)
    made.show()
    made.document.open(document().project, None)
    yield made
    close(made)


def test_the_next_step_takes_away_what_was_said_before(window: MainWindow, qtbot: QtBot) -> None:
    """A part that is locked can't wait; once it is unlocked, nothing says that it is locked."""
    doc = window.document
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    assert not edit_layout.set_aside(doc, [SIDE_1])
    assert "locked" in window.status.doing.text()
    take_turns()
    doc.undo()
    take_turns()
    assert "locked" not in window.status.doing.text()


def test_what_a_step_says_of_itself_stays(window: MainWindow, qtbot: QtBot) -> None:
    """A duplicate that finds no place is left to planning, and that is said."""
    doc = window.document
    doc.said.emit("Something older.")
    assert edit_parts.duplicate(doc, [SIDE_1, ("side", 2)])
    lies = [doc.layout.find(("side", copy)) for copy in (4, 5)]
    assert lies.count(None) == 1
    words = "Planning finds a place for a copy of 2 parts."
    take_turns()
    assert window.status.doing.text() == words


def test_the_buttons_of_undo_and_redo_tell_which_step(window: MainWindow) -> None:
    """Their tips name it; without a step they tell what the button is for."""
    undo, redo = (window.menus.actions[f"edit.{name}"] for name in ("undo", "redo"))
    before = undo.toolTip()
    edit_layout.set_aside(window.document, [SIDE_1])
    assert "Undo set Side 1 aside (Ctrl+Z)" in undo.toolTip()
    window.document.undo()
    assert "Redo set Side 1 aside (Ctrl+Shift+Z)" in redo.toolTip()
    assert undo.toolTip() == before


def test_the_tip_of_the_proof_says_who_repeats_it(window: MainWindow, qtbot: QtBot) -> None:
    """What is called proven is not checked by sawing, neither here nor on paper."""
    proof = window.status.proof
    window.document.open(planned_document().project, None)
    qtbot.waitUntil(lambda: NOT_SAWN in proof.toolTip())
    assert proof.text() in proof.toolTip()
    assert BEGUN not in proof.toolTip()


def test_what_is_begun_is_said_not_to_count(window: MainWindow, qtbot: QtBot) -> None:
    """Replanned from the pieces on hand, the price is of more sheets: the tip says so."""
    doc, proof = window.document, window.status.proof
    doc.open(planned_document().project, None)
    tick(doc, [1])
    assert plan_the_rest(doc, {})
    adopt(doc, plan_of(doc.project))
    qtbot.waitUntil(lambda: BEGUN in proof.toolTip())
    assert re.match(r"(\d|no) more sheets?, \d pieces? on hand", proof.text())

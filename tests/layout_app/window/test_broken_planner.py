"""A planner that dies in mid-run, through the real window and the real process."""

import os
import signal
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.planner.process import DIED, MOST_RESTARTS, PlannerProcess
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from shared.saw import verify
from solver.budget.stop import Budget
from tests.layout_app.planner.test_planner_process import long_project
from tests.layout_app.turns import take_turns

WAIT_MS = 30_000

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window in the middle of a long run, with a plan on screen."""
    made = MainWindow(limits=Budget(time_s=60.0, workers=1))
    qtbot.addWidget(made)
    made.show()
    made.document.open(long_project(), None)
    made.planning.plan_if_needed()
    qtbot.waitUntil(lambda: made.document.plan is not None, timeout=WAIT_MS)
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def kill(window: MainWindow, qtbot: QtBot) -> None:
    """Kill the planning process, and wait until the window has seen it."""
    assert window.planning.running
    pid = window.planner.pid
    assert pid is not None
    os.kill(pid, signal.SIGKILL)
    qtbot.waitUntil(lambda: not window.planning.running, timeout=WAIT_MS)
    qtbot.waitUntil(window.status.again.isVisible, timeout=WAIT_MS)


def under_way(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until the planner itself has said something of the run."""
    qtbot.waitUntil(lambda: bool(window.planning.standing.progress), timeout=WAIT_MS)


def test_the_window_offers_to_plan_again(window: MainWindow, qtbot: QtBot) -> None:
    """Killed in mid-run, the plan stays; the offered button starts a run that gives one too."""
    before = window.document.plan
    assert before is not None
    kill(window, qtbot)
    assert window.status.doing.text() == DIED
    assert window.document.plan is not None
    assert not window.status.stop.isVisible()
    with qtbot.waitSignal(window.planner.better, timeout=WAIT_MS) as heard:
        qtbot.mouseClick(window.status.again, Qt.MouseButton.LeftButton)
        assert window.planning.running
    assert heard.args[0].plan is not None
    assert verify(heard.args[0].plan) == ()
    assert not window.status.again.isVisible()
    assert verify(window.document.plan) == ()


def test_what_you_laid_by_hand_outlives_the_planner(window: MainWindow, qtbot: QtBot) -> None:
    """A sheet of yours lies as it lay, after the death and after the run that was offered."""
    doc = window.document
    edit_layout.add_sheet(doc, "full")
    new = doc.layout.sheets[-1].id
    edit_layout.move_part(doc, "side", 1, new, 20 * INCH, 3 * INCH)
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), copies=4))
    mine = next(sheet for sheet in doc.layout.sheets if sheet.id == new)
    under_way(window, qtbot)
    kill(window, qtbot)
    assert mine in doc.layout.sheets
    with qtbot.waitSignal(window.planner.better, timeout=WAIT_MS):
        window.menus.actions["bench.again"].trigger()
    assert mine in doc.layout.sheets


@pytest.mark.parametrize("key", ["F5", "Ctrl+F5", "Tab"])
def test_the_offer_can_be_taken_by_key(window: MainWindow, qtbot: QtBot, key: str) -> None:
    """Plan, plan again, or the offered button itself when the keys have got to it."""
    kill(window, qtbot)
    with qtbot.waitSignal(window.planner.better, timeout=WAIT_MS):
        if key == "Tab":
            assert window.status.again.focusPolicy() & Qt.FocusPolicy.TabFocus
            window.status.again.setFocus(Qt.FocusReason.TabFocusReason)
            qtbot.keyClick(window.status.again, Qt.Key.Key_Space)
        else:
            control = Qt.KeyboardModifier.ControlModifier
            held = control if "Ctrl" in key else Qt.KeyboardModifier.NoModifier
            qtbot.keyClick(window, Qt.Key.Key_F5, held)
    assert not window.planning.standing.broken


DIES_UNTIL = """
import pathlib, runpy, sys
if not pathlib.Path(sys.argv[1]).exists():
    sys.exit(1)
del sys.argv[1]
runpy.run_module("solver", run_name="__main__")
"""


def test_it_can_be_run_again_however_often_it_died(qtbot: QtBot, tmp_path: Path) -> None:
    """After more deaths than restarts are made unasked, the maker's wish still starts it."""
    mended = tmp_path / "mended"
    command = (sys.executable, "-c", DIES_UNTIL, str(mended))
    window = MainWindow(planner=PlannerProcess(command), limits=Budget(time_s=60.0, workers=1))
    qtbot.addWidget(window)
    window.show()
    window.document.open(long_project(), None)
    window.planning.plan_if_needed()
    for _ in range(MOST_RESTARTS + 2):
        qtbot.waitUntil(window.status.again.isVisible, timeout=WAIT_MS)
        window.status.again.click()
        qtbot.waitUntil(lambda: window.planning.standing.broken, timeout=WAIT_MS)
    mended.touch()
    window.status.again.click()
    qtbot.waitUntil(lambda: window.document.plan is not None, timeout=WAIT_MS)
    window.document.saved_state.note_saved(window.document.project, Path("not-written"))
    assert window.close()


def test_nothing_is_offered_when_a_run_ends_by_itself(window: MainWindow, qtbot: QtBot) -> None:
    """A run that was stopped in order is no broken one."""
    window.planning.stop()
    qtbot.waitUntil(lambda: not window.planning.running, timeout=WAIT_MS)
    take_turns()
    assert not window.status.again.isVisible()
    assert not window.menus.actions["bench.again"].isEnabled()


def test_half_a_line_of_a_killed_planner_is_no_answer(qtbot: QtBot) -> None:
    """What was cut off in mid-word is left out: the window says that the planner stopped."""
    half = (
        'import sys; sys.stdin.readline(); sys.stdout.write(\'{"say":"bet\'); sys.stdout.flush()',
    )
    planner = PlannerProcess(command=(sys.executable, "-c", *half))
    said: list[str] = []
    planner.failed.connect(said.append)
    with qtbot.waitSignal(planner.failed, timeout=WAIT_MS):
        planner.plan(long_project(), Budget(time_s=60.0))
    take_turns()
    assert said == [DIED]
    planner.close()

"""Every window, drawer, question, menu and thread has an owner that holds it.

The collector runs at every event, and nothing is held by the tests but the main window, which
the program's start holds.
"""

import gc
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QPoint, Qt, QTimer
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from layout_app.planner.process import PlannerProcess
from layout_app.store.project_file import read_project, save_project
from layout_app.window.files import Files
from layout_app.window.main_window import MainWindow
from solver.budget.stop import Budget
from tests.layout_app.closing import close
from tests.layout_app.collected import collecting, let_time_pass, press, stands
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document

WAIT_MS = 20_000
MOST_PRESSES = 5
"""Cautions, the check of the sheet, rail, set-up, and the cut."""
WALK, SAFETY, ABOUT, PAGES = "At the sawhorses", "Safety cautions", "About", "Cut pack"


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication) -> Iterator[MainWindow]:
    """Return a window with the small job, its planner silent; from now on it is collected."""
    gc.freeze()  # what is no window is not gone through again and again
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    with collecting(qapp):
        yield made
    close(made)


def do(window: MainWindow, action: str) -> None:
    """Do what an action does, and let time pass."""
    window.menus.actions[action].trigger()
    let_time_pass(QApplication.instance())


def test_walk_stays_and_ticks(window: MainWindow) -> None:
    """Cautions, sheet, set-up, cut: presses tick the next cut; closed, it can be opened again."""
    for ticked in (1, 2):
        do(window, "cuts.walk")
        assert stands(WALK)
        presses = 0
        while len(window.document.progress.made) < ticked and presses < MOST_PRESSES:
            press(WALK, Qt.Key.Key_Space)
            presses += 1
        assert len(window.document.progress.made) == ticked
        press(WALK, Qt.Key.Key_Escape)
        assert not stands(WALK)


def test_questions_on_the_walk_stay(window: MainWindow) -> None:
    """Asked whether a later cut is to be unticked too, the walk takes the answer and the keys."""
    do(window, "cuts.walk")
    while window.document.progress.made != (1, 2):
        press(WALK, Qt.Key.Key_Space)
    while window.document.selection.cut != 1:
        press(WALK, Qt.Key.Key_Left)
    press(WALK, Qt.Key.Key_U)
    answer = QApplication.focusWidget()
    assert answer is not None
    assert answer.window().windowTitle().startswith(WALK)
    answer.click()
    del answer
    let_time_pass(QApplication.instance())
    assert window.document.progress.made == ()
    focus = QApplication.focusWidget()
    assert focus is not None
    assert focus.objectName() == "walk"


@pytest.mark.parametrize(("action", "title"), [("help.safety", SAFETY), ("help.about", ABOUT)])
def test_notes_stay_and_stand_once(window: MainWindow, action: str, title: str) -> None:
    """A note stays till Esc, asked for twice it stands once, and it can be opened again."""
    for _ in range(2):
        do(window, action)
        do(window, action)
        assert sum(title in one.windowTitle() for one in QApplication.topLevelWidgets()) == 1
        press(title, Qt.Key.Key_Escape)
        assert not stands(title)


def test_preview_stays_while_it_is_looked_at(window: MainWindow, qapp: QApplication) -> None:
    """Time passes in the preview's own loop; then it is closed with its key."""
    seen: list[bool] = []

    def look() -> None:
        let_time_pass(qapp)
        seen.append(stands(PAGES))
        press(PAGES, Qt.Key.Key_Escape)

    QTimer.singleShot(0, look)
    do(window, "paper.preview")
    assert seen == [True]
    assert not stands(PAGES)


@pytest.mark.parametrize(
    ("action", "drawer"),
    [
        ("paper.save", lambda window: window.drawers.paper),
        ("cuts.today", lambda window: window.drawers.lying),
        ("bench.advice", lambda window: window.drawers.advice),
    ],
)
def test_drawers_stay(
    window: MainWindow, action: str, drawer: Callable[[MainWindow], QWidget]
) -> None:
    """A drawer that was opened stays open."""
    window.sequence.toggle_tick(1)
    do(window, action)
    assert drawer(window).isVisible()


def test_questions_stay_till_they_are_answered(window: MainWindow) -> None:
    """What is asked below the cards and across the window waits for its answer."""
    window.sequence.toggle_tick(3)
    answered: list[str] = []
    window.bar.ask("Well?", [("Yes", lambda: answered.append("yes"))])
    let_time_pass(QApplication.instance())
    window.bar.answers[0].click()
    assert answered == ["yes"]
    question = window.sequence.ticking.question(window.sequence.cards)
    assert question is not None
    question.buttons[0].click()
    assert 3 in window.document.progress.made


@pytest.mark.parametrize("name", ["bench", "table"])
def test_menus_of_the_right_button_stay(window: MainWindow, name: str) -> None:
    """A menu stays open until it is closed."""
    port = (window.bench if name == "bench" else window.left.parts).viewport()
    at, reason = QPoint(20, 20), QContextMenuEvent.Reason.Mouse
    QApplication.sendEvent(port, QContextMenuEvent(reason, at, port.mapToGlobal(at)))
    let_time_pass(QApplication.instance())
    menu = QApplication.activePopupWidget()
    assert menu is not None
    menu.close()


def test_threads_and_planner_live_as_long_as_the_window(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path
) -> None:
    """Files are read and written and a job is planned; with the window its threads end."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, document().project)
    gc.freeze()
    window = MainWindow(planner=PlannerProcess(), limits=Budget(time_s=0.0))
    qtbot.addWidget(window)
    window.show()
    with collecting(qapp):
        window.planner.start()
        window.projects.open(path)
        qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
        window.menus.actions["bench.plan"].trigger()
        qtbot.waitUntil(
            lambda: window.document.plan is not None and not window.planner.running, timeout=WAIT_MS
        )
        names = {one.name.split("_")[0] for one in threading.enumerate()}
        assert {"planner: talk", "planner: judge", "planner: listen", "files"} <= names
        window.sequence.toggle_tick(1)
        qtbot.waitUntil(lambda: window.document.saved_state.is_done(1), timeout=WAIT_MS)
    assert read_project(path).progress.made == (1,)
    close(window)
    names = {one.name.split("_")[0] for one in threading.enumerate()}
    assert not {name for name in names if name.startswith(("planner", "files"))}


def test_work_under_way_on_files_ends_well(qtbot: QtBot, tmp_path: Path) -> None:
    """What was begun is done before the thread ends, though nobody waited for it."""
    path = tmp_path / "trial.ripfirst.json"
    files = Files()
    files.save(document().project, path)
    files.close()
    assert path.exists()


def test_all_objects_hang_on_the_window(qtbot: QtBot) -> None:
    """What Python holds of Qt, with the walk, a note and all drawers made, the window reaches."""
    gc.freeze()
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    for action in ("cuts.walk", "help.safety", "paper.save", "bench.advice"):
        do(made, action)
    held = reached(made)
    loose = [
        type(one).__name__
        for one in gc.get_objects()
        if isinstance(one, QObject) and id(one) not in held
    ]
    close(made)
    assert loose == []


def reached(root: object) -> set[int]:
    """Return the ids of all that one object refers to, over others too, but not over modules."""
    seen, ahead = {id(root)}, [root]
    while ahead:
        for one in gc.get_referents(ahead.pop()):
            is_module = isinstance(one, dict) and "__builtins__" in one
            if id(one) not in seen and not isinstance(one, type) and not is_module:
                seen.add(id(one))
                ahead.append(one)
    return seen

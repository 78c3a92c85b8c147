"""What breaks inside the program reaches the maker, whichever way it came."""

import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.store.project_file import read_project
from layout_app.window.files import Files
from layout_app.window.main_window import MainWindow
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document, part

WAIT_MS = 20_000
SAID = "A fault of Ripfirst was met (LookupError: broken, test_faults.py line "


def break_() -> None:
    """Fail as a fault of the program would."""
    raise LookupError("broken")


class Breaks(QObject):
    """Fails when an event comes."""

    def event(self, event: QEvent) -> bool:
        """Fail."""
        del event
        break_()
        return True


def in_slot(window: MainWindow) -> None:
    """Let a slot fail."""
    QTimer.singleShot(0, window, break_)


def in_event(window: MainWindow) -> None:
    """Let the method of an event fail."""
    made = Breaks(window)
    QApplication.postEvent(made, QEvent(QEvent.Type.User))


def in_thread(window: MainWindow) -> None:
    """Let a thread fail."""
    del window
    thread = threading.Thread(target=break_)
    thread.start()
    thread.join()


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """Return a window that hears faults, as the program does, with a part typed and not saved."""
    made = MainWindow(document(), planner=silent_planner(), recovery=tmp_path / "recovery")
    qtbot.addWidget(made)
    made.show()
    edit_parts.add_parts(made.document, [part("door", "Door", (20, 10))])
    before = sys.excepthook, threading.excepthook
    sys.excepthook, threading.excepthook = sys.__excepthook__, threading.__excepthook__
    made.projects.faults.start()
    yield made
    made.projects.faults.end()
    assert sys.excepthook is sys.__excepthook__
    sys.excepthook, threading.excepthook = before
    close(made)


@pytest.mark.parametrize("breaks", [in_slot, in_event, in_thread])
def test_a_fault_is_said_and_a_copy_kept(
    window: MainWindow,
    breaks: Callable[[MainWindow], None],
    qtbot: QtBot,
    tmp_path: Path,
    capfd: pytest.CaptureFixture[str],
) -> None:
    """The bar names the fault and the copy; its trace is on standard error; work goes on."""
    breaks(window)
    qtbot.waitUntil(lambda: "A copy is kept in" in window.bar.sentence, timeout=WAIT_MS)
    assert window.bar.sentence.startswith(SAID)
    (copy,) = tmp_path.glob("recovery/*.json")
    assert str(copy) in window.bar.sentence
    assert read_project(copy).job == window.document.job
    assert "in break_" in capfd.readouterr().err
    assert edit_parts.add_parts(window.document, [part("top", "Top", (20, 10))])


def test_a_fault_that_comes_again_at_once_is_told_once(
    window: MainWindow, qtbot: QtBot, capfd: pytest.CaptureFixture[str]
) -> None:
    """Ten faults at one place, as of a window that is painted anew, are one."""
    told: list[str] = []
    window.projects.faults.told.connect(told.append)
    for _ in range(10):
        in_slot(window)
    qtbot.waitUntil(lambda: bool(told), timeout=WAIT_MS)
    QApplication.processEvents()
    assert len(told) == 1
    assert capfd.readouterr().err.count("Traceback") == 1


def test_the_walk_stops_and_says_it(window: MainWindow, qtbot: QtBot) -> None:
    """A fault is said on the walk, which hides the window's own bar."""
    window.menus.actions["cuts.walk"].trigger()
    in_slot(window)
    qtbot.waitUntil(lambda: window.bar.sentence != "", timeout=WAIT_MS)
    answer = QApplication.focusWidget()
    assert answer is not None
    assert answer.window().objectName() == "walk"
    assert answer.accessibleDescription().startswith(SAID)


def test_a_fault_in_the_work_on_files_is_said(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What breaks on the thread of files is told in the window."""
    monkeypatch.setattr(Files, "_save", lambda *_: break_())
    window.projects.save_to(tmp_path / "trial.ripfirst.json")
    qtbot.waitUntil(lambda: "LookupError: broken" in window.bar.sentence, timeout=WAIT_MS)

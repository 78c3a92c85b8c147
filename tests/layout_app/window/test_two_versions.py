"""A file that another program changes meanwhile: noticed before it is written, both offered."""

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.ticks import tick
from layout_app.planner.process import PlannerProcess
from layout_app.store.guards import Claim
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from layout_app.window.projects import Projects
from tests.layout_app.small_job import document

WAIT_MS = 20_000


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return the file of a planned project."""
    made = tmp_path / "trial.ripfirst.json"
    save_project(made, document().project)
    return made


@pytest.fixture
def window(qtbot: QtBot, path: Path) -> Iterator[MainWindow]:
    """Return a window that has the project open, and something in it that is not saved."""
    made = MainWindow(planner=PlannerProcess(), recovery=path.parent / "recovery")
    qtbot.addWidget(made)
    made.show()
    with qtbot.waitSignal(made.projects.files.claimed, timeout=WAIT_MS):
        made.projects.open(path)
    edit_job.rename_job(made.document, "Mine")
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def change(path: Path, name: str = "Theirs") -> None:
    """Save another name into the file, and leave its time as it was."""
    before, project = path.stat(), read_project(path)
    save_project(path, replace(project, job=replace(project.job, name=name)))

    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))


def answer(window: MainWindow, words: str) -> None:
    """Click on an answer."""
    button = next(one for one in window.bar.answers if words in one.text())
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def asked(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """Save, and wait for the question; their version is untouched."""
    change(path)
    window.projects.save()
    qtbot.waitUntil(window.bar.isVisible, timeout=WAIT_MS)
    assert "Another program has changed trial.ripfirst.json" in window.bar.sentence
    assert read_project(path).job.name == "Theirs"


def test_mine_is_kept_when_that_is_chosen(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """Chosen once it is written; the next save asks nothing."""
    asked(window, qtbot, path)
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        answer(window, "Keep mine")
    assert read_project(path).job.name == "Mine"
    edit_job.rename_job(window.document, "Mine too")
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.projects.save()
    assert not window.bar.isVisible()


def test_what_changed_after_the_question_is_asked_about_again(
    window: MainWindow, qtbot: QtBot, path: Path
) -> None:
    """Keeping mine writes over what was asked about, not over what came since."""
    asked(window, qtbot, path)
    change(path, "Theirs again")
    with qtbot.waitSignal(window.projects.files.changed_elsewhere, timeout=WAIT_MS):
        answer(window, "Keep mine")
    assert window.bar.isVisible()
    assert read_project(path).job.name == "Theirs again"


def test_theirs_is_opened_when_that_is_chosen(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """It is shown, and nothing was written."""
    asked(window, qtbot, path)
    with qtbot.waitSignal(window.projects.files.opened, timeout=WAIT_MS):
        answer(window, "Open theirs")
    assert window.document.job.name == "Theirs"
    assert not window.document.saved_state.modified


def test_mine_is_saved_elsewhere_when_that_is_chosen(
    window: MainWindow, qtbot: QtBot, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Both versions are there, each in its own file."""
    other = path.with_name("other.ripfirst.json")
    monkeypatch.setattr(Projects, "ask_where_to_save", lambda projects: other)
    asked(window, qtbot, path)
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        answer(window, "another name")
    assert (read_project(path).job.name, read_project(other).job.name) == ("Theirs", "Mine")


def test_ticks_go_aside_and_take_no_keys(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """They are kept elsewhere and that is said; keys stay where they are; their file stays."""
    change(path)
    window.bench.setFocus()
    tick(window.document, [1])
    qtbot.waitUntil(lambda: window.document.saved_state.is_done(1), timeout=WAIT_MS)
    (aside,) = path.parent.glob("recovery/*.json")
    assert read_project(aside).progress.made == (1,)
    assert str(aside) in window.bar.sentence
    assert not any(button.hasFocus() for button in window.bar.answers)
    assert read_project(path).progress.made == ()
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        answer(window, "Keep mine")
    assert read_project(path).progress.made == (1,)
    assert not list(path.parent.glob("recovery/*.json"))


def test_closing_does_not_go_on_without_an_answer(
    window: MainWindow, qtbot: QtBot, path: Path
) -> None:
    """Saving before the window closes asks as well; it stays open."""
    change(path)
    window.close()
    with qtbot.waitSignal(window.projects.files.changed_elsewhere, timeout=WAIT_MS):
        answer(window, "Save")
    assert window.isVisible()
    answer(window, "Keep mine")
    qtbot.waitUntil(lambda: not window.document.saved_state.modified, timeout=WAIT_MS)
    assert window.isVisible()


def test_a_file_that_is_gone_is_written_again(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """Nothing of anybody's is lost by that."""
    path.unlink()
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.projects.save()
    assert read_project(path).job.name == "Mine"


def test_links_are_one_file_to_claims(tmp_path: Path, path: Path) -> None:
    """Under another name, a link of either kind, it is refused; also once it was saved anew."""
    hard, soft = tmp_path / "hard.json", tmp_path / "soft.json"
    hard.hardlink_to(path)
    soft.symlink_to(path)
    mine, other = Claim(), Claim()
    assert mine.take(path)
    assert not other.take(hard)
    assert not other.take(soft)
    save_project(path, read_project(path))
    mine.renew()
    later = tmp_path / "later.json"
    later.hardlink_to(path)
    assert not other.take(later)
    assert other.take(hard)  # saving has made a file of its own of the one name
    mine.release()
    assert other.take(later)
    other.release()

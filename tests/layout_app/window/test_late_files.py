"""What is read or written for one project is nothing to the next, and takes nothing from it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.model.project import Project
from layout_app.store.project_file import read_project, save_project
from layout_app.window.files import Written
from layout_app.window.main_window import MainWindow
from layout_app.window.projects import Projects
from tests.layout_app.openings import PATH, other, said_window
from tests.layout_app.small_job import document, small_job

WAIT_MS = 20_000


@pytest.fixture(scope="module")
def one_window(qapp: object) -> Iterator[MainWindow]:
    """Return the window of all tests here."""
    del qapp
    with said_window() as made:
        yield made


@pytest.fixture
def window(one_window: MainWindow) -> MainWindow:
    """Return the window on the small job, planned."""
    one_window.projects.show(document().project, None)
    return one_window


def test_what_is_unsaved_is_asked_of_its_project_only(window: MainWindow) -> None:
    """ "Discard", said of the first, does not open a third when a second has come."""
    doc = window.document
    edit_job.rename_job(doc, "Changed")
    window.projects.when_kept(lambda: window.projects.show(Project(), None))
    late = window.bar.answers[1]
    assert late.text() == "Discard"
    window.projects.show(other(), PATH)
    assert not window.bar.isVisible()
    late.click()
    assert doc.job.name == "Other"


def test_an_export_that_ends_late_is_not_of_what_is_open_now(
    window: MainWindow, tmp_path: Path
) -> None:
    """It is said, but does not make the other plan one that is on paper, nor asks to replace."""
    late = window.document.sawn
    window.projects.show(other(), PATH)
    window.projects.files.exported.emit((tmp_path / "a.svg",), tmp_path, late)
    assert not window.document.saved_state.modified
    window.projects.files.in_the_way.emit((tmp_path / "a.svg",), tmp_path, late)
    assert not window.bar.isVisible()
    assert window.status.doing.text() == f"Nothing was written: a.svg stood in {tmp_path} already."


def test_work_done_while_a_file_is_read_is_asked_about(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """A file on a slow disk does not take the place of what was typed since it was asked for."""
    path = tmp_path / "slow.ripfirst.json"
    save_project(path, other())
    with qtbot.waitSignal(window.projects.files.opened, timeout=WAIT_MS):
        window.projects.open(path)
        edit_job.rename_job(window.document, "Typed meanwhile")
    assert window.document.job.name == "Typed meanwhile"
    assert [one.text() for one in window.bar.answers] == ["Save", "Discard", "Keep working"]
    window.bar.answers[1].click()
    assert window.document.job.name == "Other"


def test_only_what_was_asked_for_last_is_opened(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """A file that is read when another project has been begun since is not shown."""
    path = tmp_path / "slow.ripfirst.json"
    save_project(path, other())
    with qtbot.waitSignal(window.projects.files.opened, timeout=WAIT_MS):
        window.projects.open(path)
        window.projects.show(replace(other(), job=replace(small_job(), name="Third")), None)
    assert window.document.job.name == "Third"


def test_work_done_while_it_is_saved_is_asked_about(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Saving before another is opened does not lose what is typed while the disk is slow."""
    doc = window.document
    doc.open(doc.project, tmp_path / "first.ripfirst.json")
    edit_job.rename_job(doc, "Changed")
    window.projects.when_kept(lambda: window.projects.show(other(), None))
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.bar.answers[0].click()
        edit_job.rename_job(doc, "Typed meanwhile")
    assert doc.job.name == "Typed meanwhile"
    assert window.bar.isVisible()
    assert read_project(tmp_path / "first.ripfirst.json").job.name == "Changed"


def test_what_is_saved_meanwhile_is_asked_about_no_more(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Saved by its key while it is asked about, a project has nothing left to ask about."""
    doc = window.document
    doc.open(doc.project, tmp_path / "first.ripfirst.json")
    edit_job.rename_job(doc, "Changed")
    window.projects.when_kept(lambda: window.projects.show(other(), None))
    assert window.bar.isVisible()
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.projects.save()
    assert not window.bar.isVisible()
    assert doc.job.name == "Changed"


def test_a_late_save_leaves_the_next_project_its_own_file(window: MainWindow) -> None:
    """The signal of a save that ends after another was opened gives that one nothing."""
    late = window.document.project
    window.projects.show(other(), PATH)
    edit_job.rename_job(window.document, "Changed")
    window.projects.files.saved.emit(late, Path("first.ripfirst.json"))
    window.projects.files.written.emit(Written(late, PATH))
    assert window.document.saved_state.path == PATH
    assert window.document.saved_state.modified


def test_a_dialog_answered_for_another_project_is_no_answer(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A place chosen for the first is not written with the second, opened while it was chosen."""
    chosen = tmp_path / "first.ripfirst.json"

    def choose(_window: MainWindow) -> Path:
        window.projects.show(other(), PATH)
        return chosen

    monkeypatch.setattr(Projects, "ask_where_to_save", choose)
    window.projects.save_as()
    with qtbot.waitSignal(window.projects.files.looked, timeout=WAIT_MS):
        window.projects.files.look_for((str(chosen),))
    assert not chosen.exists()


def test_what_another_window_left_is_asked_about_until_it_is_answered(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """A file opened meanwhile takes no answer away, and unsaved work is asked about first."""
    left = tmp_path / "left.ripfirst.json"
    save_project(left, other())
    window.projects.files.left_behind.emit(((left, other()),))
    window.projects.show(Project(job=replace(small_job(), parts=())), PATH)
    assert window.bar.sentence.startswith("Other was not saved")
    edit_job.rename_job(window.document, "Changed")
    window.bar.answers[0].click()
    assert window.document.job.name == "Changed"
    assert window.bar.answers[1].text() == "Discard"
    window.bar.answers[1].click()
    assert window.document.job.name == "Other"

"""Ticks are on disk when they show: even kill -9 right after loses none."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.ticks import tick, untick
from layout_app.store import atomic
from layout_app.store.guards import lock_path
from layout_app.store.project_file import read_project, save_project
from layout_app.walk.moments import CutNow
from layout_app.walk.view import Walk
from layout_app.window.main_window import MainWindow
from layout_app.window.projects import Projects
from tests.layout_app.small_job import document

WAIT_MS = 20_000


def killed_after(path: Path, recovery: Path, count: int) -> None:
    """Let another process tick cuts, and kill it as soon as it shows the last."""
    command = [
        sys.executable,
        "-m",
        "tests.layout_app.ticker",
        str(path),
        str(recovery),
        str(count),
    ]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env=dict(os.environ)
    ) as other:
        assert other.stdout is not None
        for line in other.stdout:
            if line == f"shown {count}\n":
                other.send_signal(signal.SIGKILL)
        assert other.wait() == -signal.SIGKILL


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """Return a window that keeps ticks in a folder of the test."""
    made = MainWindow(recovery=tmp_path / "recovery")
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


@pytest.mark.skipif(os.name != "posix", reason="there is no SIGKILL")
def test_killed_right_after_a_tick_it_is_in_the_file(qtbot: QtBot, tmp_path: Path) -> None:
    """A project that has a file holds every tick that was shown, and the edits before it."""
    del qtbot
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, document().project)
    killed_after(path, tmp_path / "recovery", 3)
    assert read_project(path).progress.made == (1, 2, 3)
    assert not list(tmp_path.glob("recovery/*"))


@pytest.mark.skipif(os.name != "posix", reason="there is no SIGKILL")
def test_killed_without_a_file_the_next_window_offers_it(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Ticks of a project that was never saved are offered in place, and gone on with."""
    killed_after(Path("none"), tmp_path / "recovery", 2)
    window.projects.files.look_for_left_behind()
    qtbot.waitUntil(window.bar.isVisible, timeout=WAIT_MS)
    assert window.bar.sentence == "Trial was not saved when Ripfirst ended: 2 cuts ticked."
    QTest.mouseClick(window.bar.answers[0], Qt.MouseButton.LeftButton)
    assert window.document.progress.made == (1, 2)
    assert window.document.saved_state.modified
    tick(window.document, [3])
    qtbot.waitUntil(lambda: window.document.saved_state.is_done(3), timeout=WAIT_MS)
    (left,) = tmp_path.glob("recovery/*.json")
    assert read_project(left).progress.made == (1, 2, 3)
    window.projects.save_to(tmp_path / "kept.ripfirst.json")
    qtbot.waitUntil(lambda: not list(tmp_path.glob("recovery/*.json")), timeout=WAIT_MS)


def test_first_tick_saves_the_project(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    """The first tick brings every edit to the file; an untick is written as well."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, document().project)
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    edit_job.rename_job(window.document, "Bookcase")
    assert read_project(path).job.name == "Trial"
    tick(window.document, [1])
    assert window.document.saved_state.is_being_saved(1)
    assert not window.document.saved_state.is_done(1)
    qtbot.waitUntil(lambda: window.document.saved_state.is_done(1), timeout=WAIT_MS)
    assert read_project(path).job.name == "Bookcase"
    assert not window.document.saved_state.modified
    untick(window.document, [1])
    qtbot.waitUntil(lambda: read_project(path).progress.made == (), timeout=WAIT_MS)


def shut_out(window: MainWindow, qtbot: QtBot, path: Path) -> None:
    """Open the small project from a folder that is gone afterwards."""
    path.parent.mkdir()
    save_project(path, document().project)
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    qtbot.waitUntil(lock_path(path).exists, timeout=WAIT_MS)
    for left in path.parent.iterdir():
        left.unlink()
    path.parent.rmdir()


def test_file_that_cannot_be_written_leaves_the_tick_aside(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """When the project's folder is gone the tick is kept aside, and that is said."""
    path = tmp_path / "gone" / "trial.ripfirst.json"
    shut_out(window, qtbot, path)
    tick(window.document, [1])
    qtbot.waitUntil(lambda: window.document.saved_state.is_done(1), timeout=WAIT_MS)
    assert "cannot be written" in window.bar.sentence
    (aside,) = tmp_path.glob("recovery/*.json")
    assert read_project(aside).progress.made == (1,)


def answered(window: MainWindow, text: str) -> None:
    """Give an answer to what is asked across the window."""
    next(one for one in window.bar.answers if one.text() == text).click()


def test_discarding_leaves_ticks_aside_and_says_so(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """What no file has of the ticks is in the question, and offered at the next start."""
    shut_out(window, qtbot, tmp_path / "gone" / "trial.ripfirst.json")
    tick(window.document, [1, 2])
    qtbot.waitUntil(lambda: window.document.saved_state.is_done(2), timeout=WAIT_MS)
    assert not window.close()
    assert window.bar.sentence == (
        "This project has changes that are not saved, and 2 ticked cuts are not in its file."
        " “Discard” drops the changes; the ticks stay aside, and the next start of Ripfirst"
        " offers them."
    )
    answered(window, "Discard")
    qtbot.waitUntil(window.isHidden, timeout=WAIT_MS)
    again = MainWindow(recovery=tmp_path / "recovery")
    qtbot.addWidget(again)
    again.show()
    again.projects.files.look_for_left_behind()
    qtbot.waitUntil(again.bar.isVisible, timeout=WAIT_MS)
    assert again.bar.sentence == "Trial was not saved when Ripfirst ended: 2 cuts ticked."
    answered(again, "Throw it away")
    qtbot.waitUntil(lambda: not list(tmp_path.glob("recovery/*.json")), timeout=WAIT_MS)
    again.close()


def test_an_untick_that_no_file_has_is_in_the_question(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Dropped unsaid, the cut would count as made again."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, document().project)
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    tick(window.document, [1])
    qtbot.waitUntil(lambda: not window.document.saved_state.modified, timeout=WAIT_MS)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(atomic, "save", fails)
        untick(window.document, [1])
        qtbot.waitUntil(lambda: window.projects.safe.refused, timeout=WAIT_MS)
    assert not window.close()
    assert "1 cut is unticked but still ticked in its file" in window.bar.sentence
    answered(window, "Keep working")


def test_ticks_that_are_nowhere_on_disk_are_said_to_be_lost(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Where not even the folder aside takes them, the question says what Discard does."""
    ticked_in_vain(window, qtbot, tmp_path / "trial.ripfirst.json")
    assert not window.close()
    assert "1 ticked cut is not in its file. “Discard” drops these ticks too" in window.bar.sentence
    answered(window, "Keep working")


@pytest.mark.parametrize("known", [True, False], ids=["ticked in vain", "saved in vain"])
def test_saving_what_cannot_be_saved_asks_for_another_place_and_goes_on(
    window: MainWindow,
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    known: bool,
) -> None:
    """Nobody has to close twice; once it is saved nothing is left aside."""
    shut_out(window, qtbot, tmp_path / "gone" / "trial.ripfirst.json")
    other = tmp_path / "other.ripfirst.json"
    monkeypatch.setattr(Projects, "ask_where_to_save", lambda _: other)
    if known:
        tick(window.document, [1])
        qtbot.waitUntil(lambda: window.document.saved_state.is_done(1), timeout=WAIT_MS)
    else:
        edit_job.rename_job(window.document, "Bookcase")
    assert not window.close()
    if not known:
        answered(window, "Save")
        qtbot.waitUntil(lambda: "cannot be written" in window.bar.sentence, timeout=WAIT_MS)
    answered(window, "Save under another name…")
    qtbot.waitUntil(window.isHidden, timeout=WAIT_MS)
    assert read_project(other).progress.made == ((1,) if known else ())
    assert not list(tmp_path.glob("recovery/*.json"))


def ticked_in_vain(window: MainWindow, qtbot: QtBot, path: Path) -> str:
    """Open the small project, tick a cut where it cannot be written, and return what is said."""
    save_project(path, document().project)
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(atomic, "save", fails)
        tick(window.document, [1])
        qtbot.waitUntil(lambda: not window.document.saved_state.is_being_saved(1), timeout=WAIT_MS)
    return window.bar.sentence


def fails(*_: object) -> None:
    """Raise what nobody has thought of."""
    raise RuntimeError("nobody thought of this")


def test_whatever_goes_wrong_no_tick_stays_on_its_way(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where neither file nor folder takes it, that is said; the next tick brings both to disk."""
    path = tmp_path / "trial.ripfirst.json"
    said = ticked_in_vain(window, qtbot, path)
    assert "A fault of Ripfirst (RuntimeError: nobody thought of this)" in said
    assert "The ticks are in this window only" in said
    assert "RuntimeError" in capsys.readouterr().err
    assert window.document.saved_state.is_here_only(1)
    assert window.document.saved_state.modified
    tick(window.document, [2])
    qtbot.waitUntil(lambda: read_project(path).progress.made == (1, 2), timeout=WAIT_MS)
    qtbot.waitUntil(lambda: not window.document.saved_state.is_here_only(1), timeout=WAIT_MS)
    assert not window.bar.isVisible()


def test_the_walk_stops_where_a_tick_is_not_in_the_file(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """It stays at the cut and says why; the next press goes on."""
    save_project(tmp_path / "trial.ripfirst.json", document().project)
    ticked: list[object] = []
    window.document.not_in_file.connect(ticked.append)
    path = tmp_path / "trial.ripfirst.json"
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    walk = Walk(window.document, dark=False)
    qtbot.addWidget(walk)
    walk.show()
    while not isinstance(walk.moment, CutNow):
        walk.next()
    first = walk.moment.card.number
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(atomic, "save", fails)
        walk.next()
        qtbot.waitUntil(lambda: bool(ticked), timeout=WAIT_MS)
        qtbot.waitUntil(lambda: not window.document.saved_state.is_being_saved(1), timeout=WAIT_MS)
    assert isinstance(walk.moment, CutNow)
    assert walk.moment.card.number == first
    assert walk.status.state == "made, in this window only"
    asked = walk.ticking.question(walk.anchor)
    assert asked is not None
    assert "nobody thought of this" in asked.sentence
    asked.buttons[0].click()
    walk.next()
    assert not isinstance(walk.moment, CutNow) or walk.moment.card.number != first


def test_a_failure_that_nobody_thought_of_is_said(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Saving says it in a sentence; once it is saved, that sentence goes."""
    with monkeypatch.context() as patch:
        patch.setattr(atomic, "save", fails)
        window.projects.save_to(tmp_path / "x.json")
        qtbot.waitUntil(window.bar.isVisible, timeout=WAIT_MS)
    assert "nobody thought of this" in window.bar.sentence
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.projects.save_to(tmp_path / "x.json")
    assert not window.bar.isVisible()

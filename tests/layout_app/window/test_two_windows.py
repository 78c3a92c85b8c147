"""Two windows on one project: the second leaves the file alone, and no tick is lost."""

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.ticks import tick
from layout_app.store.guards import Claim, lock_path
from layout_app.store.project_file import read_project, save_project
from layout_app.window.frame import Banner
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
def opened(qtbot: QtBot, tmp_path: Path, path: Path) -> Iterator[Callable[[], MainWindow]]:
    """Return what opens the project in one more window."""
    windows: list[MainWindow] = []

    def one_more() -> MainWindow:
        window = MainWindow(recovery=tmp_path / "recovery")
        qtbot.addWidget(window)
        window.show()
        windows.append(window)
        with qtbot.waitSignal(window.projects.files.claimed, timeout=WAIT_MS):
            window.projects.open(path)
        return window

    yield one_more
    for window in windows:
        window.document.saved_state.note_saved(window.document.project, Path("not-written"))
        assert window.close()


Opened = Callable[[], MainWindow]


def test_second_window_says_so_in_place(opened: Opened, path: Path) -> None:
    """The first window has the file, the second a banner; no dialog is shown."""
    first, second = opened(), opened()
    assert lock_path(path).exists()
    assert not first.findChild(Banner).isVisible()
    assert second.findChild(Banner).isVisible()
    assert "read-only here" in second.findChild(Banner).sentence
    assert second.document.plan is not None


def test_second_window_saves_under_another_name(
    opened: Opened, qtbot: QtBot, path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Saving asks for a name, and from then on that file is the second window's own."""
    _, second = opened(), opened()
    other = tmp_path / "mine.ripfirst.json"
    monkeypatch.setattr(Projects, "ask_where_to_save", lambda projects: other)
    edit_job.rename_job(second.document, "Mine")
    second.projects.save()
    qtbot.waitUntil(lambda: second.document.saved_state.path == other, timeout=WAIT_MS)
    qtbot.waitUntil(lambda: not second.findChild(Banner).isVisible(), timeout=WAIT_MS)
    assert read_project(other).job.name == "Mine"
    assert read_project(path).job.name == "Trial"


def test_same_name_is_refused_with_a_sentence(opened: Opened, qtbot: QtBot, path: Path) -> None:
    """Saving over the other window's file is not done."""
    _, second = opened(), opened()
    edit_job.rename_job(second.document, "Mine")
    second.projects.save_to(path)
    qtbot.waitUntil(second.bar.isVisible, timeout=WAIT_MS)
    assert "another window has this project open" in second.bar.sentence
    assert read_project(path).job.name == "Trial"


def test_ticks_of_both_windows_are_kept(opened: Opened, qtbot: QtBot, path: Path) -> None:
    """The first window's ticks go to the file, the second's are kept aside."""
    first, second = opened(), opened()
    tick(first.document, [1, 2])
    tick(second.document, [1])
    for window, number in ((first, 2), (second, 1)):
        qtbot.waitUntil(
            lambda w=window, n=number: w.document.saved_state.is_done(n), timeout=WAIT_MS
        )
    assert read_project(path).progress.made == (1, 2)
    (aside,) = (path.parent / "recovery").glob("*.json")
    assert read_project(aside).progress.made == (1,)


def test_second_window_takes_over_once_the_first_is_closed(opened: Opened, qtbot: QtBot) -> None:
    """Opened again, it has the ticks of the first, and the file is its own."""
    first, second = opened(), opened()
    tick(first.document, [1])
    qtbot.waitUntil(lambda: first.document.saved_state.is_done(1), timeout=WAIT_MS)
    assert first.close()
    QTest.mouseClick(second.findChild(Banner).button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not second.findChild(Banner).isVisible(), timeout=WAIT_MS)
    assert second.document.progress.made == (1,)


@pytest.mark.skipif(os.name != "posix", reason="there is no SIGKILL")
def test_lock_of_a_killed_program_is_taken_over(path: Path) -> None:
    """While another process holds the lock it is refused, and once that is killed it is ours."""
    code = (
        "import sys; from pathlib import Path; from layout_app.store.guards import Claim;"
        "claim = Claim(); print(claim.take(Path(sys.argv[1])), flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", code, str(path)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "True\n"
        assert not Claim().take(path)
        other.send_signal(signal.SIGKILL)
        other.wait()
    assert lock_path(path).exists()
    mine = Claim()
    assert mine.take(path)
    mine.release()
    assert not lock_path(path).exists()


ANYONE = """
import os, sys; from pathlib import Path; from layout_app.store.guards import Claim
if os.geteuid() == 0: os.setgroups([]); os.setgid(65534); os.setuid(65534)
"""
"""Becomes somebody whom a closed folder keeps out, as it does not keep out root."""
CLOSING = """
path = Path(sys.argv[1]); claim = Claim()
path.parent.mkdir(); path.write_text("{}")
assert claim.take(path)
path.parent.chmod(0o500)
if sys.argv[2] == "stays": print("open", flush=True); sys.stdin.read()
claim.release(); assert list(path.parent.glob(".*.lock"))
assert Claim().take(path)
"""
"""Claims a file, has its folder closed to it, and lets the file go, or is killed before that."""
TAKING = """
print(Claim().take(Path(sys.argv[1])))
"""


def anyone(code: str, path: Path, word: str = "") -> "subprocess.Popen[str]":
    """Run code as somebody, with a path and a word."""
    pipes: dict[str, Any] = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE)
    command = [sys.executable, "-c", ANYONE + code, str(path), word]
    return subprocess.Popen(command, text=True, **pipes)


@pytest.fixture
def closed() -> Iterator[Path]:
    """Return a path of a file in a folder that is made by whoever is told, and closed then."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o777)
        yield Path(folder) / "closed" / "trial.ripfirst.json"
        (Path(folder) / "closed").chmod(0o700)


@pytest.mark.skipif(os.name != "posix", reason="folders are not closed so elsewhere")
@pytest.mark.parametrize("killed", [False, True])
def test_lock_that_cannot_be_removed_bars_nobody(closed: Path, killed: bool) -> None:
    """As long as its window is open it does; then neither that program nor another is barred."""
    holder = anyone(CLOSING, closed, "stays")
    assert holder.stdout is not None
    assert holder.stdout.readline() == "open\n"
    assert anyone(TAKING, closed).communicate()[0] == "False\n"
    if killed:
        holder.kill()
    _, complaints = holder.communicate()
    assert complaints == ""
    assert holder.returncode == (-signal.SIGKILL if killed else 0)
    assert list(closed.parent.glob(".*.lock"))
    said, complaints = anyone(TAKING, closed).communicate()
    assert (said, complaints) == ("True\n", "")


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_folder_that_cannot_be_written_asks_for_no_lock(path: Path) -> None:
    """A project on a read-only disk is opened as ever."""
    path.parent.chmod(0o500)
    try:
        assert Claim().take(path)
    finally:
        path.parent.chmod(0o700)

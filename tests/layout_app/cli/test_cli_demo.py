"""The command line: the demo, and the window only where there is a display."""

import subprocess
import sys
from pathlib import Path

import pytest

from layout_app.cli import main as cli
from layout_app.cli.main import main
from layout_app.document.document import Document
from layout_app.model.cut_order import is_in_order
from layout_app.model.project import Project
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import read_project
from layout_app.window import display
from shared.plan import Plan
from shared.saw import verify
from tests.layout_app.cli.test_cli import one_sentence
from tests.layout_app.store.test_store import project, written


def test_without_a_display_the_window_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command says that there is no display instead of aborting in Qt."""
    monkeypatch.setattr(cli, "trouble_showing", lambda: display.NO_DISPLAY)
    assert main([]) == 2
    assert "no display" in one_sentence(capsys)
    assert main([str(written(tmp_path, project()))]) == 2
    assert "no display" in one_sentence(capsys)


def test_a_platform_nobody_sees_is_no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    """Under Qt's offscreen platform, and on Linux without a display, no window is opened."""
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert display.trouble_showing().startswith(display.NO_DISPLAY[:-1])
    monkeypatch.delenv("QT_QPA_PLATFORM")
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert display.trouble_showing().startswith(display.NO_DISPLAY[:-1])


def test_a_display_that_does_not_answer_is_no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    """Qt aborts on a dead display; that happens in another process and is told as none."""
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.setenv("DISPLAY", ":7654")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    assert display.trouble_showing().startswith(display.NO_DISPLAY[:-1])


def demo(folder: Path, *more: str) -> int:
    """Run the demo for no time beyond the first plans."""
    return main(["demo", "--out", str(folder), "--time-limit", "0", "--workers", "1", *more])


def test_the_demo_plans_every_demo_project(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each has a folder with its project, plan and drawings, all parts placed, saw content."""
    assert demo(tmp_path / "demo", "--no-window") == 0
    said = capsys.readouterr().out
    for name in ("herbarium", "press-rack"):
        folder = tmp_path / "demo" / name
        made = read_plan(folder / "plan.json")
        assert verify(made) == ()
        assert made.unplaced == ()
        assert made.name in said
        assert {f"sheet-{one.id}.svg" for one in made.sheets} <= {f.name for f in folder.iterdir()}
        saved = read_project(folder / f"{name}.ripfirst.json")
        assert [one.id for one in saved.layout.sheets] == [one.id for one in made.sheets]
        opens_unchanged(saved, made)
        written = len(list(folder.iterdir()))
        assert f"Written: {written} files in {folder}; the project is {name}.ripfirst.json" in said


def opens_unchanged(saved: Project, made: Plan) -> None:
    """A project has its order of cuts with it, so that a window has nothing to look for."""
    doc = Document()
    doc.open(saved, None)
    assert is_in_order(doc.project)
    assert not doc.saved_state.modified
    assert doc.plan is not None
    assert doc.plan.cuts == made.cuts


def test_the_demo_opens_the_window_only_where_there_is_a_display(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a display it says so and ends well; with one it shows the first project."""
    shown: list[Path] = []

    def show(path: Path) -> int:
        shown.append(path)
        return 0

    monkeypatch.setattr(cli, "_show", show)
    monkeypatch.setattr(cli, "trouble_showing", lambda: display.NO_DISPLAY)
    assert demo(tmp_path) == 0
    assert "no display" in capsys.readouterr().out
    assert shown == []
    monkeypatch.setattr(cli, "trouble_showing", lambda: "")
    assert demo(tmp_path) == 0
    assert shown == [tmp_path / "herbarium" / "herbarium.ripfirst.json"]


CURSOR = """qt.qpa.plugin: From 6.5.0, xcb-cursor0 or libxcb-cursor0 is needed to load the Qt xcb \
platform plugin.
qt.qpa.plugin: Could not load the Qt platform plugin "xcb" in "" even though it was found.
This application failed to start because no Qt platform plugin could be initialized.
"""
ICCCM = """qt.qpa.plugin: Could not load the Qt platform plugin "xcb" in "".
Cannot load library libqxcb.so: (libxcb-icccm.so.4: cannot open shared object file: No such file)
"""
EGL = "ImportError: libEGL.so.1: cannot open shared object file: No such file or directory\n"


@pytest.mark.parametrize(
    ("said", "package"),
    [(CURSOR, "libxcb-cursor0"), (ICCCM, "libxcb-icccm4"), (EGL, "libegl1")],
)
def test_a_missing_library_is_named_with_what_qt_said_and_its_package(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    said: str,
    package: str,
) -> None:
    """The packages are those in Debian 12's lists; the words are Qt 6.11's."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("DISPLAY", ":1")
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.setattr(
        display.subprocess, "run", lambda *_, **__: subprocess.CompletedProcess([], 1, "", said)
    )
    assert main([]) == 2
    told = one_sentence(capsys)
    assert f"apt install {package})" in told
    assert "Qt says: " in told
    assert "no display" not in told


def test_the_demo_says_why_there_is_no_window(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was planned is there, and the reason is the one the window would give."""
    monkeypatch.setattr(cli, "trouble_showing", lambda: "the window lacks a library.")
    assert demo(tmp_path) == 0
    assert "No window is opened: the window lacks a library." in capsys.readouterr().out

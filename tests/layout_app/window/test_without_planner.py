"""The window beside a planner that never answers: open, save, export, close, and looks."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.paper.exporting import USUAL
from layout_app.paper.wish import ExportWish
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document, small_job
from tests.layout_app.turns import take_turns

WAIT_MS = 30_000


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on the small job, planned but in no file."""
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    yield made
    close(made)


def test_what_was_just_said_has_room(window: MainWindow, qtbot: QtBot) -> None:
    """A sentence about what just happened is read whole; the price comes back after it."""
    window.resize(1440, 900)
    status = window.status
    refusal = "Cut 11 cannot become cut 12: piece 1d does not exist before cut 11. " * 2
    window.document.said.emit(refusal)
    qtbot.waitUntil(lambda: status.doing.width() >= status.doing.sizeHint().width())
    assert not status.proof.isVisible()
    status.forget()
    assert status.proof.isVisible()


def test_the_window_does_not_jump_when_planning_begins(window: MainWindow, qtbot: QtBot) -> None:
    """The buttons of the status line come and go without moving what stands above."""
    status = window.status
    take_turns()
    heights = []
    for shown in (True, False):
        status.stop.setVisible(shown)
        status.choices.setVisible(shown)
        take_turns()
        heights.append(status.height())
    assert heights[0] == heights[1]


def test_selected_card_shows_the_state_before_its_cut(window: MainWindow) -> None:
    """A card chosen in the sequence is the cut the bench is asked to show."""
    doc = window.document
    window.sequence.cards.step(1)
    window.sequence.cards.step(1)
    assert doc.selection.cut == 2
    window.menus.actions["cuts.leave"].trigger()
    assert doc.selection.cut is None


def test_save_and_open_give_the_same_project(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """What is saved is what is opened: job, layout, cuts and proof, with nothing to plan."""
    doc = window.document
    path = tmp_path / "trial.ripfirst.json"
    with qtbot.waitSignal(window.projects.files.saved, timeout=WAIT_MS):
        window.projects.save_to(path)
    assert not doc.saved_state.modified
    assert read_project(path) == doc.project
    plan = doc.plan
    with qtbot.waitSignal(window.projects.files.opened, timeout=WAIT_MS):
        window.projects.open(path)
    assert doc.plan == plan
    assert not window.planning.running
    assert not doc.saved_state.modified
    assert window.windowTitle() == "Trial[*] — Ripfirst"


@pytest.mark.parametrize("content", ["", "{", "no json", "[]", '{"format": "else"}'])
def test_broken_file_is_said_and_nothing_is_lost(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, content: str
) -> None:
    """A file that is no project is answered with a sentence in the window; the work stays."""
    doc = window.document
    path = tmp_path / "broken.ripfirst.json"
    path.write_text(content, encoding="utf-8")
    with qtbot.waitSignal(window.projects.files.failed, timeout=WAIT_MS):
        window.projects.open(path)
    assert window.bar.isVisible()
    assert "broken.ripfirst.json" in window.bar.sentence
    assert doc.job == small_job()


def test_folder_that_cannot_be_written_keeps_the_project_unsaved(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """A failed save is said, and the project still counts as not saved."""
    doc = window.document
    with qtbot.waitSignal(window.projects.files.failed, timeout=WAIT_MS):
        window.projects.save_to(tmp_path / "no such folder" / "a.ripfirst.json")
    assert window.bar.isVisible()
    assert doc.saved_state.modified
    qtbot.waitUntil(lambda: len(window.bar.answers) == 2, timeout=WAIT_MS)
    elsewhere, away = window.bar.answers
    assert elsewhere.text() == "Save under another name…"
    away.click()
    assert not window.bar.isVisible()


def test_saving_one_name_of_a_file_that_has_several_is_said(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """The other name, a hard link as backups are made of, keeps what was there; said once."""
    path, other = tmp_path / "a.ripfirst.json", tmp_path / "backup.ripfirst.json"
    path.write_text("before", encoding="utf-8")
    other.hardlink_to(path)
    with qtbot.waitSignal(window.projects.files.parted, timeout=WAIT_MS):
        window.projects.save_to(path)
    assert "a.ripfirst.json had a second name (a hard link)" in window.status.doing.text()
    assert other.read_text(encoding="utf-8") == "before"
    with (
        qtbot.assertNotEmitted(window.projects.files.parted),
        qtbot.waitSignal(window.projects.files.saved),
    ):
        window.projects.save_to(path)


def test_drawings_are_written_off_the_window(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Plan and a drawing of each sheet come into the folder, and the window says how many."""
    doc = window.document
    assert doc.plan is not None
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.projects.files.export(doc.sawn, tmp_path, USUAL, ExportWish())
    assert {file.name for file in tmp_path.iterdir()} == {"plan.json", "sheet-1.svg"}
    assert window.status.doing.text().startswith("2 files written to")
    assert not window.bar.isVisible()


def test_close_with_changes_asks_in_the_window(window: MainWindow, qtbot: QtBot) -> None:
    """Closing with unsaved changes is answered in a bar: save, discard, or keep working."""
    assert not window.close()
    assert window.isVisible()
    assert [button.text() for button in window.bar.answers] == ["Save", "Discard", "Keep working"]
    qtbot.mouseClick(window.bar.answers[2], Qt.MouseButton.LeftButton)
    assert not window.bar.isVisible()
    assert window.isVisible()


def test_close_saves_first_when_asked_to(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    """Save in the bar writes the project, and only then closes."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=small_job()))
    with qtbot.waitSignal(window.projects.files.opened, timeout=WAIT_MS):
        window.projects.open(path)
    edit_job.rename_job(window.document, "Other name")
    window.close()
    qtbot.mouseClick(window.bar.answers[0], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not window.isVisible(), timeout=WAIT_MS)
    assert read_project(path).job.name == "Other name"


def test_discard_closes_at_once(window: MainWindow, qtbot: QtBot) -> None:
    """Discard closes without a file."""
    window.close()
    qtbot.mouseClick(window.bar.answers[1], Qt.MouseButton.LeftButton)
    assert not window.isVisible()


def test_new_project_asks_first_too(window: MainWindow, qtbot: QtBot) -> None:
    """New with unsaved changes asks; Discard empties the document."""
    doc = window.document
    window.menus.actions["project.new"].trigger()
    assert window.bar.isVisible()
    assert doc.job == small_job()
    qtbot.mouseClick(window.bar.answers[1], Qt.MouseButton.LeftButton)
    assert doc.project == window.projects.shop.new_project()
    assert doc.plan is None


def lightness(widget: QWidget) -> float:
    """Return the mean lightness of what a widget shows, 0 to 255."""
    image = widget.grab().toImage()
    spots = [(x, y) for x in range(5, image.width(), 31) for y in range(5, image.height(), 29)]
    return sum(image.pixelColor(x, y).lightness() for x, y in spots) / len(spots)


def test_lamplight_changes_every_region(window: MainWindow) -> None:
    """The dark theme reaches bench, tables and cards, and back."""
    regions = (window.left, window.bench, window.sequence)
    light = [lightness(region) for region in regions]
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.dark()
    dark = [lightness(region) for region in regions]
    assert all(day > night + 60 for day, night in zip(light, dark, strict=True))
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.light()


def test_where_it_is_narrow_the_rule_goes_before_minutes_and_cuts(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At 1024 pixels cuts and minutes stay; what it is proven for is in the tip, and is read."""
    claim = "5 sheets, 412.50: least price proven"
    whole = f"{claim} (rip first, three levels and a last trim, within the shop's limits)"
    monkeypatch.setattr("layout_app.window.status_line.proof_sentence", lambda *_: whole)
    words = "about 91 min, 66 cuts"
    monkeypatch.setattr("layout_app.window.status_line.sawing_sentence", lambda *_, **__: words)
    window.resize(1024, 700)
    window.status.refresh()
    assert window.status.proof.text() == claim
    assert window.status.sawing.isVisible()
    assert "(rip first, three levels" in window.status.proof.toolTip()
    assert window.status.plan.startswith(whole)
    window.resize(1440, 900)
    window.status.refresh()
    assert window.status.proof.text() == whole

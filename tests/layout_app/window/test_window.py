"""The real window with the real planner: edit, plan, undo, open, save, close."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.carry_over import every_copy
from layout_app.model.project import Project
from layout_app.panels.cards import NO_CUTS, NOTHING_ENTERED, no_cuts
from layout_app.paper.exporting import USUAL
from layout_app.paper.wish import ExportWish
from layout_app.planner.live import Standing
from layout_app.planner.status_words import proof_sentence, sawing_hint
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from shared.holding import frozen
from shared.job import Job
from shared.lengths import INCH
from shared.plan import Goal, MaterialProof, Proof
from shared.saw import verify
from solver.budget.stop import Limits
from solver.planning.proof_status import HELD
from tests.layout_app.small_job import document, small_job

WAIT_MS = 30_000


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on an empty project."""
    made = MainWindow(limits=Limits(time_s=20.0, patience_s=1.0, workers=1))
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def settled(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until planning has ended, and the cuts are in order."""
    qtbot.waitUntil(lambda: not window.planner.running, timeout=WAIT_MS)


def planned_window(window: MainWindow, qtbot: QtBot) -> Document:
    """Open the small job in the window and wait for its plan."""
    window.document.open(Project(job=small_job()), None)
    window.planning.plan_if_needed()
    qtbot.waitUntil(lambda: _complete(window.document), timeout=WAIT_MS)
    return window.document


def _complete(doc: Document) -> bool:
    lying = {p.key for sheet in doc.layout.sheets for p in sheet.placements}
    return doc.plan is not None and lying == set(every_copy(doc.job))


def test_what_was_just_said_has_room(window: MainWindow, qtbot: QtBot) -> None:
    """A sentence about what just happened is read whole; the price comes back after it."""
    planned_window(window, qtbot)
    settled(window, qtbot)
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
    planned_window(window, qtbot)
    settled(window, qtbot)
    status = window.status
    qtbot.wait(30)
    heights = []
    for shown in (True, False):
        status.stop.setVisible(shown)
        status.choices.setVisible(shown)
        qtbot.wait(30)
        heights.append(status.height())
    assert heights[0] == heights[1]


def test_where_nothing_can_be_cut_the_sequence_does_not_ask_for_parts() -> None:
    """Parts and sheets are there: the words lead to what stands in the way."""
    assert no_cuts(Job()) == NOTHING_ENTERED
    assert no_cuts(small_job()) == NO_CUTS


def test_opened_job_is_planned_and_proven(window: MainWindow, qtbot: QtBot) -> None:
    """A job without a layout is planned at once; one sheet is the least there can be."""
    doc = planned_window(window, qtbot)
    settled(window, qtbot)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert doc.project.proof.proven
    assert window.status.proof.text().startswith("1 sheet, 52.00: least price proven (rip first")


def test_edit_in_the_table_brings_a_new_plan(window: MainWindow, qtbot: QtBot) -> None:
    """Five more sides typed in the take-off are on sheets soon after, without another word."""
    doc = planned_window(window, qtbot)
    model = window.left.parts.rows
    model.change(model.index(1, 3), "9")
    assert doc.job.part("side").copies == 9
    qtbot.waitUntil(lambda: _complete(doc), timeout=WAIT_MS)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert doc.undo_stack.count() == 1


def test_undo_restores_without_solving(window: MainWindow, qtbot: QtBot) -> None:
    """After undo the earlier plan is shown at once, and no run is under way."""
    doc = planned_window(window, qtbot)
    settled(window, qtbot)
    before = doc.sawn
    edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=9))
    assert window.planning.running
    window.menus.actions["edit.undo"].trigger()
    assert doc.sawn is before
    assert not window.planning.running
    assert not window.planner.running
    qtbot.wait(200)
    assert doc.sawn is before


def test_your_sheet_outlives_planning(window: MainWindow, qtbot: QtBot) -> None:
    """A sheet laid by hand keeps its places through an edit; the rest is planned around it."""
    doc = planned_window(window, qtbot)
    edit_layout.add_sheet(doc, "full")
    new = doc.layout.sheets[-1].id
    edit_layout.move_part(doc, "side", 1, new, 20 * INCH, 3 * INCH)
    mine = next(sheet for sheet in doc.layout.sheets if sheet.id == new)
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), copies=12))
    qtbot.waitUntil(lambda: _complete(doc), timeout=WAIT_MS)
    assert next(sheet for sheet in doc.layout.sheets if sheet.id == new) == mine
    settled(window, qtbot)
    assert "with the other sheets as they lie" in doc.project.proof.rule


def test_what_is_held_outlives_planning(window: MainWindow, qtbot: QtBot) -> None:
    """Held with H, the last part of a strip and all before it stay where they are.

    Through nine more shelves, which are planned around them, and through Plan.
    """
    doc = planned_window(window, qtbot)
    settled(window, qtbot)
    sheet = doc.layout.sheets[0]
    held = max(sheet.placements, key=lambda one: (one.x, -one.y))
    doc.selection.select_parts([held.key])
    QTest.keyClick(window.bench, Qt.Key.Key_H)
    (hold,) = doc.held.in_force
    fast = frozen(sheet, doc.job.stock[0], doc.job.shop.kerf, [hold])
    assert len(fast) > 1
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), copies=12))
    qtbot.waitUntil(lambda: _complete(doc), timeout=WAIT_MS)
    settled(window, qtbot)
    assert set(fast) <= {one for sheet in doc.layout.sheets for one in sheet.placements}
    window.menus.actions["bench.plan"].trigger()
    settled(window, qtbot)
    assert set(fast) <= {one for sheet in doc.layout.sheets for one in sheet.placements}
    assert doc.held.in_force == (hold,)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert HELD in doc.project.proof.rule


def test_planning_everything_anew_asks_and_takes_your_sheets_back(
    window: MainWindow, qtbot: QtBot
) -> None:
    """Asked in place, it brings the wasteful layout of two sheets back to one, as a step."""
    doc = planned_window(window, qtbot)
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 20 * INCH, 3 * INCH)
    assert len(doc.layout.sheets) == 2
    before = doc.project
    window.menus.actions["bench.plan"].trigger()
    settled(window, qtbot)
    assert doc.layout.sheets == before.layout.sheets
    window.menus.actions["bench.anew"].trigger()
    assert window.bar.sentence.startswith("Plan everything anew? This plans sheets 1 and 2 again")
    assert doc.layout.sheets == before.layout.sheets
    window.bar.answers[0].click()
    qtbot.waitUntil(lambda: len(doc.layout.sheets) == 1, timeout=WAIT_MS)
    doc.undo_stack.undo()
    assert len(doc.layout.sheets) == 2
    assert all(sheet.yours for sheet in doc.layout.sheets)


def test_stop_keeps_what_was_found(window: MainWindow, qtbot: QtBot) -> None:
    """The Stop button ends planning and leaves a whole plan on screen."""
    doc = planned_window(window, qtbot)
    window.menus.actions["bench.plan"].trigger()
    assert window.status.stop.isVisible()
    qtbot.mouseClick(window.status.stop, Qt.MouseButton.LeftButton)
    settled(window, qtbot)
    assert _complete(doc)
    assert not window.status.stop.isVisible()


def test_selected_card_shows_the_state_before_its_cut(window: MainWindow, qtbot: QtBot) -> None:
    """A card chosen in the sequence is the cut the bench is asked to show."""
    doc = planned_window(window, qtbot)
    window.sequence.cards.step(1)
    window.sequence.cards.step(1)
    assert doc.selection.cut == 2
    window.menus.actions["cuts.leave"].trigger()
    assert doc.selection.cut is None


# --- files ---------------------------------------------------------------------------------


def test_save_and_open_give_the_same_project(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """What is saved is what is opened: job, layout, cuts and proof, with nothing to plan."""
    doc = planned_window(window, qtbot)
    settled(window, qtbot)
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
    doc = planned_window(window, qtbot)
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
    doc = planned_window(window, qtbot)
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
    planned_window(window, qtbot)
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
    doc = planned_window(window, qtbot)
    settled(window, qtbot)
    assert doc.plan is not None
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.projects.files.export(doc.sawn, tmp_path, USUAL, ExportWish())
    assert {file.name for file in tmp_path.iterdir()} == {"plan.json", "sheet-1.svg"}
    assert window.status.doing.text().startswith("2 files written to")
    assert not window.bar.isVisible()


def test_close_with_changes_asks_in_the_window(window: MainWindow, qtbot: QtBot) -> None:
    """Closing with unsaved changes is answered in a bar: save, discard, or keep working."""
    planned_window(window, qtbot)
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
    planned_window(window, qtbot)
    window.close()
    qtbot.mouseClick(window.bar.answers[1], Qt.MouseButton.LeftButton)
    assert not window.isVisible()


def test_new_project_asks_first_too(window: MainWindow, qtbot: QtBot) -> None:
    """New with unsaved changes asks; Discard empties the document."""
    doc = planned_window(window, qtbot)
    window.menus.actions["project.new"].trigger()
    assert window.bar.isVisible()
    assert doc.job == small_job()
    qtbot.mouseClick(window.bar.answers[1], Qt.MouseButton.LeftButton)
    assert doc.project == window.projects.shop.new_project()
    assert doc.plan is None


def test_a_new_project_ends_the_run_of_the_one_before(window: MainWindow, qtbot: QtBot) -> None:
    """No plan of what is gone is adopted into an empty project."""
    doc = planned_window(window, qtbot)
    doc.saved_state.note_saved(doc.project, Path("not-written"))
    window.planning.start()
    window.menus.actions["project.new"].trigger()
    assert not window.planning.running
    qtbot.wait(300)
    assert doc.project == window.projects.shop.new_project()


def lightness(widget: QWidget) -> float:
    """Return the mean lightness of what a widget shows, 0 to 255."""
    image = widget.grab().toImage()
    spots = [(x, y) for x in range(5, image.width(), 31) for y in range(5, image.height(), 29)]
    return sum(image.pixelColor(x, y).lightness() for x, y in spots) / len(spots)


def test_lamplight_changes_every_region(window: MainWindow, qtbot: QtBot) -> None:
    """The dark theme reaches bench, tables and cards, and back."""
    planned_window(window, qtbot)
    regions = (window.left, window.bench, window.sequence)
    light = [lightness(region) for region in regions]
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.dark()
    dark = [lightness(region) for region in regions]
    assert all(day > night + 60 for day, night in zip(light, dark, strict=True))
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.light()


# --- words of the status line ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("proof", "said"),
    [
        (
            Proof(goal=Goal.LEAST_PRICE, value=5200, bound=5200, proven=True, rule="rip first"),
            "1 sheet, 52.00: least price proven (rip first)",
        ),
        (
            Proof(goal=Goal.LEAST_PRICE, value=5200, bound=2600),
            "1 sheet, 52.00: at least 26.00, not proven least",
        ),
        (
            Proof(goal=Goal.FEWEST_SHEETS, value=1, bound=1, proven=True, rule="rip first"),
            "1 sheet, 52.00: fewest proven (rip first)",
        ),
        (Proof(), "1 sheet, 52.00: not proven"),
    ],
)
def test_proof_is_said_in_words(qapp: object, proof: Proof, said: str) -> None:
    """The sentence tells proven from not proven, and names goal, bound and rule."""
    doc = document()
    project = replace(doc.project, proof=proof)
    assert proof_sentence(project, doc.plan, Standing()) == said


def fewest_cuts(goal: Goal, *least: int, proven: bool = True) -> Proof:
    """Make a proof of materials that take at least so many cuts."""
    materials = tuple(
        MaterialProof(material=f"m{n}", goal=goal, value=1, bound=1, proven=proven, least_cuts=cuts)
        for n, cuts in enumerate(least)
    )
    return Proof(goal=goal, value=1, bound=1, proven=proven, rule="rip first", materials=materials)


@pytest.mark.parametrize(
    ("proof", "said"),
    [
        (
            fewest_cuts(Goal.FEWEST_SHEETS, 3, 4),
            "no plan on 1 sheet needs fewer than 7 (rip first)",
        ),
        (fewest_cuts(Goal.LEAST_PRICE, 3), "no plan at this price needs fewer than 3 (rip first)"),
        (fewest_cuts(Goal.FEWEST_SHEETS, 3, 0), ""),
        (fewest_cuts(Goal.FEWEST_SHEETS, 3, proven=False), ""),
        (Proof(), ""),
    ],
)
def test_fewest_cuts_are_said_only_when_known(qapp: object, proof: Proof, said: str) -> None:
    """The hint beside the cuts sums over materials, and says nothing unless each is known."""
    plan = document().plan
    assert plan is not None
    hint = sawing_hint(replace(plan, proof=proof))
    assert hint == (f"{len(plan.cuts)} cuts: {said}" if said else "")
    assert sawing_hint(None) == ""

"""Build steps in the window: taken when the keys leave them, one named step each."""

from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_app.panels.build import BuildPanel
from layout_app.store.project_file import read_project, save_project
from shared.building import BuildStep, Hardware, StepKind
from tests.layout_app.small_job import document


def test_steps_are_taken_undone_and_kept(qtbot: QtBot, tmp_path: Path) -> None:
    """Ctrl+Enter takes them, undo brings back the old text, and the file holds them."""
    doc = document()
    panel = BuildPanel(doc)
    qtbot.addWidget(panel)
    name = doc.job.parts[0].name
    panel.steps.setPlainText(f"band ({name}): front edge")
    qtbot.keyClick(panel.steps, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    wanted = BuildStep(kind=StepKind.BAND, text="front edge", parts=(doc.job.parts[0].id,))
    assert doc.project.build.steps == (wanted,)
    assert doc.undo_stack.undoText() == "change build steps"
    path = tmp_path / "a.ripfirst.json"
    save_project(path, doc.project)
    assert read_project(path).build == doc.project.build
    doc.undo()
    assert panel.steps.toPlainText() == ""
    doc.redo()
    assert panel.steps.toPlainText() == f"band ({name}): front edge"


def test_a_slip_is_said_and_stays_written(qtbot: QtBot) -> None:
    """A part there is none of changes nothing; Esc brings back what there was."""
    doc = document()
    panel = BuildPanel(doc)
    qtbot.addWidget(panel)
    panel.steps.setPlainText("band (Nobody): front")
    panel.steps.done.emit()
    assert "Nobody" in panel.fault.text()
    assert not panel.fault.isHidden()
    assert doc.project.build.steps == ()
    qtbot.keyClick(panel.steps, Qt.Key.Key_Escape)
    assert panel.steps.toPlainText() == ""
    assert panel.fault.isHidden()


def test_a_misspelt_kind_is_hinted_at_and_stays_written(qtbot: QtBot) -> None:
    """The words are taken as they were typed; the hint goes when the kind is put right."""
    doc = document()
    panel = BuildPanel(doc)
    qtbot.addWidget(panel)
    name = doc.job.parts[0].name
    assert panel.slips.isHidden()
    panel.steps.setPlainText(f"grove ({name}): 1/4 deep")
    panel.steps.done.emit()
    assert panel.steps.toPlainText() == f"grove ({name}): 1/4 deep"
    assert doc.project.build.steps == (BuildStep(text=f"grove ({name}): 1/4 deep"),)
    assert "Did you mean “groove”?" in panel.slips.text()
    assert not panel.slips.isHidden()
    assert panel.steps.accessibleDescription() == panel.slips.text()
    assert not BuildPanel(doc, panel).slips.isHidden()
    panel.steps.setPlainText(f"groove ({name}): 1/4 deep")
    panel.steps.done.emit()
    assert panel.slips.isHidden()
    assert panel.steps.accessibleDescription() == ""
    doc.undo()
    assert not panel.slips.isHidden()


def test_hints_leave_room_for_the_steps(qtbot: QtBot) -> None:
    """Three are shown, each on a line of its own, and the others counted."""
    panel = BuildPanel(document())
    qtbot.addWidget(panel)
    panel.steps.setPlainText("\n".join(["grove: 1/4"] * 8))
    panel.steps.done.emit()
    first, *_, last = panel.slips.text().splitlines()
    assert first.startswith("Line 1: “grove”")
    assert len(panel.slips.text().splitlines()) == 4
    assert last == "And 5 more."


def test_hardware_does_not_plan(qtbot: QtBot) -> None:
    """Planning hears nothing of it, and the plan stays."""
    doc = document()
    panel = BuildPanel(doc)
    qtbot.addWidget(panel)
    plan = doc.plan
    panel.hardware.setPlainText("4 × foot")
    panel.hardware.done.emit()
    assert doc.project.build.hardware == (Hardware(name="foot", count=4),)
    assert doc.plan == plan

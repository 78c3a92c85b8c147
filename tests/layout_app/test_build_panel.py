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

"""When a project counts as saved: planning what was opened is nothing the maker did."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.cli.order import in_order
from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.model.locks import asked
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.planner.status_words import NEW_PLAN
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from layout_app.window.projects import CHANGES, PLAN_ON_PAPER
from shared.layout import Layout
from solver.budget.stop import Budget, Stop
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned, small_job

WAIT_MS = 20_000
FILE = Path("trial.ripfirst.json")


@pytest.fixture
def doc(qapp: object) -> Document:
    """Return a document of a file that holds parts and sheets, but no plan."""
    del qapp
    made = Document()
    made.open(Project(job=small_job()), FILE)
    return made


def ordered(doc: Document) -> Project:
    """Return what is shown with its cuts in order."""
    asked = Stop()
    asked.ask()
    return in_order(saw(adopted(Project(job=doc.job), planned(doc.job))), asked).project


def test_a_plan_made_on_opening_is_no_change(doc: Document) -> None:
    """The plan alone is not on disk, and opening the file again makes it again."""
    adopt(doc, planned(doc.job))
    assert doc.plan is not None
    assert not doc.saved_state.modified
    assert doc.saved_state.plan_is_new


def test_an_order_found_on_opening_is_no_change(doc: Document) -> None:
    """A file with a plan whose cuts have no order yet gets one."""
    adopt(doc, planned(doc.job))
    doc.open(replace(doc.project, layout=replace(doc.layout, order=(), sawing=None)), FILE)
    assert not doc.saved_state.plan_is_new
    new = ordered(doc).layout
    layout = replace(
        doc.layout,
        sheets=new.sheets,
        order=new.order,
        sawing=new.sawing,
        least_s=new.least_s,
    )
    assert doc.adopt_order(saw(replace(doc.project, layout=layout)))
    assert doc.layout.order
    assert not doc.saved_state.modified
    assert doc.saved_state.plan_is_new


def test_an_edit_is_a_change_until_it_is_undone(doc: Document) -> None:
    """Undo leads back to what was opened, with the plan made of it."""
    adopt(doc, planned(doc.job))
    edit_job.rename_job(doc, "Other")
    assert doc.saved_state.modified
    assert not doc.saved_state.plan_is_new
    doc.undo()
    assert not doc.saved_state.modified


CHANGES_BY_HAND: tuple[Callable[[Document], object], ...] = (
    lambda doc: edit_job.rename_job(doc, "Other"),
    edit_layout.plan,
    lambda doc: doc.saved_state.note_on_paper(),
)


@pytest.mark.parametrize("act", CHANGES_BY_HAND, ids=["edit and undo", "plan all", "on paper"])
def test_a_plan_after_the_maker_did_something_is_a_change(
    doc: Document, act: Callable[[Document], object]
) -> None:
    """It came of what the maker did, or went on paper, so closing asks."""
    act(doc)
    if doc.undo_stack.canUndo():
        doc.undo()
    assert not doc.saved_state.modified
    adopt(doc, planned(doc.job))
    assert doc.saved_state.modified


def test_a_plan_of_no_file_is_a_change(qapp: object) -> None:
    """Where nothing is on disk nothing can be opened again, as with a recovered project."""
    del qapp
    for path, saved in ((None, True), (None, False), (FILE, False)):
        doc = Document()
        doc.open(Project(job=small_job()), path, saved=saved)
        adopt(doc, planned(doc.job))
        assert doc.saved_state.modified


def test_a_plan_on_paper_is_to_be_saved(doc: Document) -> None:
    """Another plan would not match the paper; once saved nothing is left to save."""
    adopt(doc, planned(doc.job))
    doc.saved_state.note_on_paper()
    assert doc.saved_state.modified
    assert doc.saved_state.plan_is_new
    doc.saved_state.note_saved(doc.project, FILE)
    assert not doc.saved_state.modified
    assert not doc.saved_state.plan_is_new


def test_ticks_are_a_change(doc: Document) -> None:
    """A tick is the maker's, whoever made the plan."""
    adopt(doc, planned(doc.job))
    tick(doc, [1])
    assert doc.progress.made == (1,)
    assert doc.saved_state.modified


def test_what_is_yours_is_never_taken_for_planning(doc: Document) -> None:
    """A part laid by hand, though planned around afterwards, is asked about."""
    adopt(doc, planned(doc.job))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 0, 0)
    assert asked(doc.project).kept
    adopt(doc, planned(doc.job))
    assert doc.saved_state.modified


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window with a real planner."""
    made = MainWindow(limits=Budget(time_s=2.0, workers=1))
    qtbot.addWidget(made)
    made.show()
    made.planner.start()
    yield made
    made.document.saved_state.note_saved(made.document.project, FILE)
    made.close()


def test_a_file_without_a_plan_opens_and_closes_without_a_question(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Planned and put in order it is said to be saved, and what is new; once on paper it asks."""
    path = tmp_path / FILE
    save_project(path, Project(job=small_job()))
    window.projects.open(path)
    doc = window.document
    qtbot.waitUntil(lambda: bool(doc.layout.order), timeout=WAIT_MS)
    qtbot.waitUntil(lambda: not window.planning.at_work, timeout=WAIT_MS)
    assert not window.isWindowModified()
    assert window.status.saved.text() == "saved, plan new"
    assert NEW_PLAN in window.status.saved.toolTip()
    assert read_project(path).layout == Layout()
    done: list[str] = []
    window.projects.when_kept(lambda: done.append("closed"))
    assert done == ["closed"]
    window.paper_work.copy_sheet()
    window.projects.when_kept(lambda: done.append("closed"))
    assert window.bar.sentence == PLAN_ON_PAPER
    edit_job.rename_job(doc, "Other")
    window.projects.when_kept(lambda: done.append("closed"))
    assert window.bar.sentence == CHANGES
    assert done == ["closed"]

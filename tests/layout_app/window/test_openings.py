"""What is asked, offered or begun for one project ends when another is opened."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QAbstractItemView
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model import layout_edits
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.panels.entry import Field
from layout_app.panels.preview import Preview
from layout_app.planner.choices import Offered
from layout_app.planner.run import Work
from layout_app.store.project_file import project_text, read_project, save_project
from layout_app.walk.view import Walk
from layout_app.window.main_window import MainWindow
from shared.changes import Change, ChangeKind
from shared.lengths import INCH
from shared.progress import Progress
from solver.outcome import Done, EndReason, choice_of
from tests.layout_app.openings import PATH, other, said_window
from tests.layout_app.planner.test_advice import suggestion
from tests.layout_app.small_job import document, planned
from tests.layout_app.turns import take_turns

WAIT_MS = 20_000


@pytest.fixture
def doc(qapp: object) -> Document:
    """Return a document of the small job, planned."""
    del qapp
    return document()


@pytest.fixture(scope="module")
def one_window(qapp: object) -> Iterator[MainWindow]:
    """Return the window of all tests here."""
    del qapp
    with said_window() as made:
        yield made


@pytest.fixture
def window(one_window: MainWindow, qtbot: QtBot) -> MainWindow:
    """Return the window on the small job, planned."""
    one_window.projects.show(document().project, None)
    one_window.activateWindow()
    qtbot.waitUntil(one_window.isActiveWindow)
    return one_window


def test_an_opening_is_in_no_file_and_makes_no_difference(doc: Document, tmp_path: Path) -> None:
    """Two openings of a project are equal and give the same file, but neither shows the other."""
    before = doc.project
    doc.open(before, None)
    assert doc.project == before
    assert not doc.shows(before)
    assert project_text(doc.project) == project_text(before)
    save_project(tmp_path / "a.ripfirst.json", doc.project)
    assert not doc.shows(read_project(tmp_path / "a.ripfirst.json"))


def test_what_is_made_of_a_project_is_still_of_its_opening(doc: Document) -> None:
    """Edits, undo, ticks and plans carry the number on."""
    before = doc.project
    edit_job.rename_job(doc, "Renamed")
    assert doc.shows(before)
    assert tick(doc, [1])
    assert doc.shows(before)
    doc.undo()
    assert before.opening == doc.project.opening > 0


def test_a_plan_of_another_opening_is_not_adopted(doc: Document) -> None:
    """A plan that comes late for the job without its layout leaves a new opening of it alone."""
    late = doc.sawn
    bare = replace(doc.project, layout=Document(Project(job=doc.job)).layout)
    doc.open(bare, None)
    doc.adopt(late)
    assert doc.plan is None
    assert not doc.adopt_order(saw(bare))


def test_a_late_save_is_not_of_what_is_open_now(doc: Document) -> None:
    """Neither the path nor what is on disk passes to the next project; nor do its ticks."""
    late = doc.project
    doc.saved_state.waits_for_disk = True
    doc.open(document().project, PATH)
    assert tick(doc, [1])
    doc.saved_state.note_saved(late, Path("first.ripfirst.json"))
    doc.saved_state.note_written(replace(late, progress=Progress(made=(1,))))
    assert doc.saved_state.path == PATH
    assert doc.saved_state.modified
    assert doc.saved_state.is_being_saved(1)
    doc.saved_state.note_written(doc.project)
    assert doc.saved_state.is_done(1)


def last_cut(doc: Document) -> int:
    """Return the number of the last cut."""
    assert doc.plan is not None
    return doc.plan.cuts[-1].number


def offered(window: MainWindow, qtbot: QtBot) -> None:
    """Give a part a sheet of its own, and let the planner lay all on one again."""
    doc = window.document
    best = planned(doc.job)
    edit_layout.add_sheet(doc, doc.job.stock[0].id)
    assert edit_layout.move_part(doc, "shelf", 1, doc.layout.sheets[-1].id, 0, 0)
    qtbot.waitUntil(lambda: window.planner.work is Work.ASIDE, timeout=WAIT_MS)
    whole = replace(doc.project, layout=layout_edits.give_back(doc.layout))
    window.planner.tried.emit(saw(adopted(whole, best)))
    window.planner.tried_all.emit()
    window.planner.cancel()
    assert window.status.offer.text().startswith("Better plan: saves 52.00, 1 sheet")


def test_an_offer_goes_with_its_project(window: MainWindow, qtbot: QtBot) -> None:
    """The button is gone, and a click that comes late puts nothing of the first into the second."""
    offered(window, qtbot)
    late = window.offers.offering.take
    window.projects.show(other(), PATH)
    assert not window.status.offer.isVisible()
    late()
    window.status.offer.click()
    assert window.document.job.name == "Other"
    assert not window.document.undo_stack.count()
    assert not window.document.saved_state.modified


def test_the_same_layout_is_offered_again(window: MainWindow, qtbot: QtBot) -> None:
    """Taken back and done again, a layout is planned anew again, and offered as before."""
    offered(window, qtbot)
    window.document.undo()
    assert not window.status.offer.isVisible()
    window.document.redo()
    qtbot.waitUntil(lambda: window.planner.work is Work.ASIDE, timeout=WAIT_MS)


def test_a_layout_is_offered_when_the_planner_was_called_away(
    window: MainWindow, qtbot: QtBot
) -> None:
    """A run begun and ended meanwhile does not end the look for a better plan for good."""
    doc = window.document
    edit_layout.add_sheet(doc, doc.job.stock[0].id)
    assert edit_layout.move_part(doc, "shelf", 1, doc.layout.sheets[-1].id, 0, 0)
    qtbot.waitUntil(lambda: window.planner.work is Work.ASIDE, timeout=WAIT_MS)
    window.planning.start()
    assert window.planner.work is not Work.ASIDE
    window.planning.cancel()
    qtbot.waitUntil(lambda: window.planner.work is Work.ASIDE, timeout=WAIT_MS)


def test_choices_go_with_their_project(window: MainWindow, qtbot: QtBot) -> None:
    """Choices of the very same job, opened anew, are none of the new opening."""
    doc, cards = window.document, window.drawers.choices
    one = choice_of(planned(doc.job), doc.job)
    renamed = tuple(replace(sheet, id=f"{sheet.id}0") for sheet in one.plan.sheets)
    two = replace(one, plan=replace(one.plan, sheets=renamed), seconds=1)
    window.planner.offered.emit(Offered(doc.project, (one, two)))
    assert window.planning.choices
    cards.toggle()
    late = cards.cards[1]
    window.projects.show(document().project, PATH)
    assert not window.planning.choices
    assert not cards.isVisible()
    assert window.sequence.isVisible()
    late.click()
    assert not doc.undo_stack.count()


def test_a_question_goes_with_its_project(window: MainWindow) -> None:
    """A cut asked about is not ticked in the next project, which has one of its number."""
    doc, about, ticking = window.document, window.sequence, window.sequence.ticking
    assert not ticking.tick(last_cut(doc), about)
    question = ticking.question(about)
    assert question is not None
    late = question.buttons[0]
    window.projects.show(other(), PATH)
    assert ticking.question(about) is None
    late.click()
    assert not doc.progress.made


def test_advice_goes_with_its_project(window: MainWindow, qtbot: QtBot) -> None:
    """A suggestion for the same job, opened anew, is not applied to it; the drawer is closed."""
    doc = window.document
    window.drawers.advice.open()
    window.planner.advised.emit(suggestion(Change(kind=ChangeKind.DROP, part="side")))
    (row,) = window.drawers.advice.suggestions
    late = row.button
    window.projects.show(document().project, PATH)
    assert not window.drawers.advice.isVisible()
    assert not window.offers.looking.heard.suggestions
    late.click()
    assert not doc.undo_stack.count()
    assert window.planner.work is not Work.ADVICE


def test_advice_is_not_applied_once_the_next_project_is_looked_at(window: MainWindow) -> None:
    """A button of the first does nothing in the second, whose own advice it is not."""
    doc = window.document
    window.drawers.advice.open()
    window.planner.advised.emit(suggestion(Change(kind=ChangeKind.DROP, part="side")))
    (row,) = window.drawers.advice.suggestions
    late = row.button
    window.projects.show(document().project, PATH)
    window.offers.looking.look()
    late.click()
    assert not doc.undo_stack.count()
    assert not window.drawers.advice.suggestions


def test_how_much_shorter_is_said_for_one_project(window: MainWindow) -> None:
    """The limit typed for one project is not the next one's."""
    window.drawers.advice.open()
    window.drawers.advice.limit.setText("2")
    window.drawers.advice.limit.returnPressed.emit()
    assert window.offers.looking.shorten_up_to == 2 * INCH
    window.projects.show(other(), PATH)
    assert window.offers.looking.shorten_up_to is None


def test_what_was_planned_in_part_is_no_matter_to_the_next(window: MainWindow) -> None:
    """A project that is opened whole is not planned aside for the sake of the one before."""
    window.planning.partial = True
    window.projects.show(other(), PATH)
    assert not window.offers.offering.pending


def test_pages_of_the_first_do_not_print_the_second(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A wish to print that comes with the next project prints nothing."""
    printed: list[str] = []

    def wished(preview: Preview) -> int:
        window.projects.show(other(), PATH)
        preview.print.click()
        return preview.result()

    monkeypatch.setattr(Preview, "exec", wished)
    monkeypatch.setattr(window.paper_work, "print", lambda: printed.append("pages"))
    window.paper_work.preview()
    assert not printed


def test_a_run_and_an_order_end_with_their_project(window: MainWindow) -> None:
    """A plan that the judge had in hand comes too late; nothing is under way."""
    doc = window.document
    late = doc.sawn
    window.planning.start()
    window.projects.show(other(), PATH)
    assert not window.planning.running
    before = doc.project
    window.planner.better.emit(late)
    window.planner.sorted.emit(late)
    window.planner.tried.emit(late)
    window.planner.tried_all.emit()
    assert doc.project is before
    assert not window.status.offer.isVisible()


def test_the_banner_after_a_mistake_goes_with_its_project(window: MainWindow) -> None:
    """What the plan after a mistake needs is not said of another project."""
    doc = window.document
    assert tick(doc, [1])
    assert plan_the_rest(doc, {})
    window.projects.show(other(), PATH)
    window.planner.done.emit(Done(reason=EndReason.PROVEN, elapsed_s=0.0))
    assert not window.bar.isVisible()


def test_what_is_typed_is_given_up_with_its_project(window: MainWindow, qtbot: QtBot) -> None:
    """A begun row, an open cell, a figure and a line of words do not come into the next one."""
    doc, parts, shop = window.document, window.left.parts, window.left.shop
    parts.rows.change(parts.rows.index(parts.rows.draft_line, 0), "Begun")
    parts.go_to("side", "name")
    parts.edit(parts.currentIndex())
    qtbot.keyClicks(parts.indexWidget(parts.currentIndex()) or parts.focusWidget(), "Typed")
    kerf = next(one for one in shop.findChildren(Field) if one.accessibleName() == "kerf")
    kerf.setText("5")
    window.left.build.steps.setPlainText("typed")
    window.projects.show(document().project, None)
    assert not parts.rows.has_draft
    assert parts.state() is not QAbstractItemView.State.EditingState
    assert kerf.commit()
    window.left.build.steps.done.emit()
    take_turns()
    assert doc.project == document().project
    assert not doc.undo_stack.count()


def test_what_is_in_the_hand_is_put_down(window: MainWindow) -> None:
    """A part that is carried when another project opens, even the same, is not laid there."""
    doc, hand = window.document, window.bench.hand
    hand.carry([("side", 1)])
    assert doc.gestures.under_way
    window.projects.show(document().project, None)
    assert not doc.gestures.under_way
    assert hand.interaction is None


def test_the_walk_ends_with_its_project(window: MainWindow, qtbot: QtBot) -> None:
    """What is walked through is the project it was begun for."""
    walk = Walk(window.document, dark=False, parent=window)
    walk.show()
    window.projects.show(other(), PATH)
    assert not walk.isVisible()


def test_corrections_go_with_their_project(window: MainWindow) -> None:
    """A piece said to be ruined is not one of the next project, which has one of its name."""
    assert tick(window.document, [1])
    begun = window.document.project
    window.drawers.lying.open_for_mistake()
    window.drawers.lying.ruined.click()
    window.projects.show(begun, PATH)
    assert window.drawers.lying.isVisible()
    assert not window.drawers.lying.right.isEnabled()


def test_another_project_is_shown_from_its_first_sheet_and_its_first_card(
    window: MainWindow,
) -> None:
    """Zoom and scrolling are of the project that is left; the next one begins as the first did."""
    bench, cards = window.bench, window.sequence.cards.horizontalScrollBar()
    wide = bench.scale_px
    bench.fit_all()
    bench.zoom(3.0)
    for bar in (bench.verticalScrollBar(), cards):
        bar.setValue(bar.maximum())
    assert (cards.value() > 0, bench.scale_px != wide) == (True, True)
    window.projects.show(other(), PATH)
    assert bench.scale_px == pytest.approx(wide)
    assert bench.verticalScrollBar().value() == bench.verticalScrollBar().minimum()
    assert cards.value() == 0

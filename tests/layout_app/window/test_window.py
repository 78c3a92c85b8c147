"""The real window with the real planner: edit, plan, hold, stop and undo; what is said of it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.model.carry_over import every_copy
from layout_app.model.cut_order import is_in_order
from layout_app.model.project import Project
from layout_app.panels.no_cards import NO_CUTS, NO_PART, NO_SHEET, NOTHING_ENTERED, no_cuts
from layout_app.planner.live import Standing
from layout_app.planner.status_words import proof_sentence, sawing_hint
from layout_app.window.main_window import MainWindow
from shared.holding import frozen
from shared.job import Job
from shared.lengths import INCH, MM
from shared.plan import Goal, MaterialProof, Proof
from shared.proof_rule import HELD
from shared.saw import verify
from solver.budget.stop import Budget
from tests.layout_app.bench.two_sheets import document as two_sheets
from tests.layout_app.small_job import document, small_job
from tests.layout_app.turns import heard_out

WAIT_MS = 30_000


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on an empty project."""
    made = MainWindow(limits=Budget(time_s=20.0, patience_s=1.0, workers=1))
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def settled(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until planning has ended, and the cuts are in order."""

    def is_done() -> bool:
        return not window.planner.running and is_in_order(window.document.project)

    qtbot.waitUntil(is_done, timeout=WAIT_MS)


def planned_window(window: MainWindow, qtbot: QtBot) -> Document:
    """Open the small job in the window and wait for its plan."""
    window.document.open(Project(job=small_job()), None)
    window.planning.plan_if_needed()
    qtbot.waitUntil(lambda: _complete(window.document), timeout=WAIT_MS)
    return window.document


def _complete(doc: Document) -> bool:
    lying = {p.key for sheet in doc.layout.sheets for p in sheet.placements}
    return doc.plan is not None and lying == set(every_copy(doc.job))


def test_where_nothing_can_be_cut_the_sequence_does_not_ask_for_parts() -> None:
    """Parts and sheets are there: the words lead to what stands in the way."""
    assert no_cuts(Project(job=Job())) == NOTHING_ENTERED
    assert no_cuts(Project(job=small_job())) == NO_CUTS


def test_where_all_is_set_aside_the_sequence_says_that_no_sheet_lies_there() -> None:
    """Nothing is said at the left then; on an empty sheet what is missing is a part."""
    doc = two_sheets()
    edit_layout.set_aside(doc, [one.key for s in doc.layout.sheets for one in s.placements])
    assert no_cuts(doc.project) == NO_SHEET
    edit_layout.add_sheet(doc, "full")
    assert no_cuts(doc.project) == NO_PART


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
    with heard_out(window.planner, qtbot):
        window.menus.actions["edit.undo"].trigger()
        assert doc.sawn is before
        assert not window.planning.running
        assert not window.planner.running
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
    QTest.keyClick(window.bench, Qt.Key.Key_L)
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


def test_a_new_project_ends_the_run_of_the_one_before(window: MainWindow, qtbot: QtBot) -> None:
    """No plan of what is gone is adopted into an empty project."""
    doc = planned_window(window, qtbot)
    doc.saved_state.note_saved(doc.project, Path("not-written"))
    window.planning.start()
    with heard_out(window.planner, qtbot):
        window.menus.actions["project.new"].trigger()
        assert not window.planning.running
    assert doc.project == window.projects.shop.new_project()


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


def test_what_stands_in_the_way_of_all_cuts_is_said_at_the_cards_and_leads_to_its_field(
    window: MainWindow, qtbot: QtBot
) -> None:
    """With an error of the shop F8 says it and opens the field, as does a click on the ground."""
    job = small_job()
    wrong = replace(job, shop=replace(job.shop, kerf=30 * MM))
    assert no_cuts(Project(job=wrong)).startswith("No cuts until this is put right: The kerf is")
    window.document.open(Project(job=wrong), None)
    walk = window.menus.actions["cuts.walk"]
    assert walk.isEnabled()
    walk.trigger()
    assert window.status.doing.text().startswith("No cuts until this is put right")
    window.left.tabs.setCurrentIndex(0)
    qtbot.mouseClick(window.sequence.cards.viewport(), Qt.MouseButton.LeftButton)
    assert window.left.shop.isVisible()
    focus = window.focusWidget()
    assert focus is not None
    assert focus.accessibleName() == "kerf"

"""The document: who wins between planner, table and hands (product.md, Who wins, 1 to 7)."""

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.model.carry_over import every_copy
from layout_app.model.locks import asked
from layout_app.model.project import Project
from layout_app.model.words.wording import sawing_words
from shared.asked import Settled
from shared.lengths import INCH, MM
from shared.parts import GrainRule, Part
from shared.plan import Goal, Plan, Proof
from shared.saw import verify
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, part, planned, small_job
from tests.layout_app.turns import take_turns

pytestmark = pytest.mark.usefixtures("qapp")


def consequences(doc: Document) -> list[Consequence]:
    """Collect what every change means for planning."""
    heard: list[Consequence] = []
    doc.edited.connect(heard.append)
    return heard


def sentences(doc: Document) -> list[str]:
    """Collect what the document says."""
    heard: list[str] = []
    doc.said.connect(heard.append)
    return heard


def lying(doc: Document) -> dict[tuple[str, int], str]:
    """Return the sheet of every copy that lies on one."""
    return {p.key: s.id for s in doc.layout.sheets for p in s.placements}


def test_plan_shown_is_accepted_by_the_saw() -> None:
    """What the document calls its plan has passed the simulated saw, and holds every copy."""
    doc = document()
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert set(lying(doc)) == set(every_copy(doc.job))
    assert doc.layout.waiting == ()


def test_adoption_is_no_undo_step() -> None:
    """A planner's result replaces the layout in place (rule 5)."""
    doc = document()
    assert doc.undo_stack.count() == 0
    assert doc.plan is not None


def test_worse_plan_is_not_adopted() -> None:
    """A plan that takes more sheets than the one shown leaves it as it is (rule 4)."""
    doc = document()
    shown = doc.plan
    assert shown is not None
    adopt(doc, spread_out(doc, shown))
    assert doc.plan == shown


def spread_out(doc: Document, plan: Plan) -> Plan:
    """Return a sound plan of the same job that needs one more sheet: one side alone on it."""
    wasteful = document()
    edit_layout.add_sheet(wasteful, "full")
    new = wasteful.layout.sheets[-1].id
    edit_layout.move_part(wasteful, "side", 1, new, 0, 0)
    assert wasteful.plan is not None
    assert len(wasteful.plan.sheets) == len(plan.sheets) + 1
    assert wasteful.job == doc.job
    return wasteful.plan


def test_nothing_is_adopted_during_a_gesture(qtbot: QtBot) -> None:
    """A result that comes while a part is dragged waits for the end of the gesture (rule 4)."""
    doc = Document(Project(job=small_job()))
    doc.gestures.under_way = True
    adopt(doc, planned(doc.job))
    assert doc.plan is None
    doc.gestures.under_way = False
    qtbot.waitUntil(lambda: doc.plan is not None, timeout=1000)


def test_gesture_that_changes_something_drops_what_came_meanwhile(qtbot: QtBot) -> None:
    """A plan made before the drop knows nothing of it, so it is not adopted afterwards."""
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    doc.gestures.under_way = True
    adopt(doc, planned(doc.job))
    edit_layout.move_part(doc, "side", 1, "1", 0, 0)
    doc.gestures.under_way = False
    take_turns()
    assert lying(doc) == {("side", 1): "1"}


def test_hands_make_a_sheet_yours_and_planning_keeps_it() -> None:
    """A sheet touched by hand stays as it lies when the rest is planned (rule 2)."""
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 2, "1", 20 * INCH, 0)
    mine = doc.layout.sheets[0]
    assert mine.yours
    assert doc.problems == {}
    result = planned_around(doc)
    adopt(doc, result)
    assert doc.layout.sheets[0] == mine
    assert set(lying(doc)) == set(every_copy(doc.job))


def planned_around(doc: Document) -> Plan:
    """Return the planner's first plan with the document's own sheets kept."""
    kept = tuple(sheet for sheet in doc.layout.sheets if sheet.yours)
    plan = run(doc.job, Budget(time_s=0.0), lambda event: None, Settled(kept=kept))
    assert plan is not None
    return plan


def test_table_edit_asks_for_a_plan_and_settles_at_once() -> None:
    """After a committed edit every copy lies soundly or waits, before the planner answers."""
    doc = document()
    heard = consequences(doc)
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), length=90 * INCH))
    assert heard == [Consequence.PLAN_TOUCHED]
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    waits = {w.key for w in doc.layout.waiting}
    assert set(lying(doc)) | waits == set(every_copy(doc.job))
    assert {key for key in lying(doc) if key[0] == "side"} == {("side", n) for n in range(1, 5)}


def test_changed_part_stays_on_your_sheet_while_it_fits() -> None:
    """On a sheet of yours a part that shrinks keeps its place and the sheet is cut anew."""
    doc = mine_alone()
    edit_parts.edit_part(doc, replace(doc.job.part("side"), width=11 * INCH))
    sheet = doc.layout.sheets[0]
    assert [(p.part, p.x, p.y, p.width) for p in sheet.placements] == [
        ("side", 20 * INCH, 0, 11 * INCH)
    ]
    assert sheet.yours
    assert doc.problems == {}


def test_changed_part_that_no_longer_fits_waits_by_name() -> None:
    """A part grown over the edge of a sheet of yours waits, and is named (rule 3)."""
    doc = mine_alone()
    heard = sentences(doc)
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=80 * INCH))
    assert lying(doc) == {}
    assert ("side", 2) in {w.key for w in doc.layout.waiting}
    assert len(heard) == 1
    assert "Side 2" in heard[0]
    assert doc.layout.sheets[0].yours


def mine_alone() -> Document:
    """Return a document whose only sheet is yours, with one side 20 in from the corner."""
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 2, "1", 20 * INCH, 0)
    return doc


def test_undo_restores_edit_and_plan_without_solving() -> None:
    """Undo shows the very plan from before the edit, and cancels the run (rule 5)."""
    doc = document()
    before = doc.sawn
    heard = consequences(doc)
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), length=28 * INCH))
    adopt(doc, planned(doc.job))
    doc.undo_stack.undo()
    assert doc.sawn is before
    assert heard[-1] is Consequence.STOP


def test_redo_brings_back_the_improvement() -> None:
    """The plan that came in after an edit belongs to the edit: redo shows it again."""
    doc = document()
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), length=28 * INCH))
    adopt(doc, planned(doc.job))
    improved = doc.sawn
    doc.undo_stack.undo()
    doc.undo_stack.redo()
    assert doc.sawn is improved
    assert doc.undo_stack.count() == 1


def test_plan_goes_around_a_layout_by_hand() -> None:
    """Plan asks the planner for the rest: no step, and the sheet stays the maker's."""
    doc = mine_alone()
    before, heard = doc.project, consequences(doc)
    edit_layout.plan(doc)
    assert heard == [Consequence.PLAN_ANEW]
    assert doc.project == before
    assert any(sheet.yours for sheet in asked(doc.project).kept)


def test_only_planning_everything_anew_takes_a_layout_by_hand_back() -> None:
    """It gives the sheets back as an undo step and asks for a plan."""
    doc = mine_alone()
    heard = consequences(doc)
    assert edit_layout.plan_anew(doc)
    assert not any(sheet.yours for sheet in doc.layout.sheets)
    assert heard == [Consequence.PLAN_ANEW]
    doc.undo_stack.undo()
    assert doc.layout.sheets[0].yours


def test_planning_anew_without_own_sheets_is_no_undo_step() -> None:
    """With nothing to take back it only asks the planner, as Plan does."""
    doc = document()
    heard = consequences(doc)
    assert not edit_layout.plan_anew(doc)
    assert heard == [Consequence.PLAN_ANEW]
    assert doc.undo_stack.count() == 0


def test_words_do_not_start_the_planner() -> None:
    """A new name changes sequence and cards, but no layout and no claim."""
    doc = document()
    layout, proof, heard = doc.layout, doc.project.proof, consequences(doc)
    edit_parts.edit_part(doc, replace(doc.job.part("side"), name="Case side"))
    assert heard == [Consequence.NOTHING]
    assert doc.layout == layout
    assert doc.project.proof == proof
    assert doc.plan is not None
    assert doc.plan.parts[0].name == "Case side"


def test_kerf_slides_the_pieces_of_your_sheets() -> None:
    """With a thinner kerf a sheet of yours keeps its cuts, and the second strip moves up.

    It began one old kerf below the first strip of 12 in, and begins one new kerf below it.
    """
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, "1", 0, 0)
    edit_layout.move_part(doc, "side", 2, "1", 0, 12 * INCH + INCH // 8)
    tree = doc.layout.sheets[0].tree
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=1 * MM))
    sheet = doc.layout.sheets[0]
    assert sheet.tree == tree
    assert sheet.yours
    assert [p.y for p in sheet.placements] == [0, 12 * INCH + MM]


def test_removed_stock_lets_its_parts_wait() -> None:
    """Without its stock row a sheet is gone, and its parts cannot be planned any more."""
    doc = document()
    edit_job.remove_stock(doc, ["full"])
    assert doc.layout.sheets == ()
    assert doc.plan is None


def test_overlap_is_said_and_kept() -> None:
    """A bad layout is kept as the maker laid it, and the sentence names both parts (rule 1)."""
    doc = mine_alone()
    edit_layout.move_part(doc, "side", 1, "1", 30 * INCH, 5 * INCH)
    assert len(lying(doc)) == 2
    assert doc.plan is None
    assert "Side 1" in doc.problems["1"]
    assert "Side 2" in doc.problems["1"]


def test_sound_sheets_are_planned_beside_a_bad_one() -> None:
    """One sheet that cannot be cut does not take the plan of the others."""
    doc = document()
    adopt(doc, planned(doc.job))
    edit_layout.add_sheet(doc, "full")
    new = doc.layout.sheets[-1].id
    edit_layout.move_part(doc, "side", 1, new, 90 * INCH, 0)
    assert set(doc.problems) == {new}
    assert doc.plan is not None
    assert new not in {sheet.id for sheet in doc.plan.sheets}
    assert sum(row.copies for row in doc.plan.unplaced) == 1


def test_bounds_do_not_spoil_the_plan_beside_a_bad_sheet() -> None:
    """A bound that comes later leaves a plan of some of the sheets one the saw accepts."""
    doc = document()
    adopt(doc, planned(doc.job))
    proof = doc.project.proof
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 90 * INCH, 0)
    doc.take_bounds(proof)
    assert doc.plan is not None
    assert verify(doc.plan) == ()


def test_claims_are_dropped_with_the_job_they_were_about() -> None:
    """A proof of the old job is not shown beside the new one."""
    doc = document()
    assert doc.project.proof.value > 0
    edit_parts.add_parts(doc, [part("foot", "Foot", (8, 4), 2)])
    assert doc.project.proof.bound == 0
    assert not doc.project.proof.proven


def with_least_cuts(proof: Proof, cuts: int) -> Proof:
    """Return a proof with a bound on the cuts of its only material."""
    (material,) = proof.materials
    return replace(proof, materials=(replace(material, least_cuts=cuts),))


@pytest.mark.parametrize(("less", "known"), [(0, True), (-1, False)])
def test_a_bound_on_cuts_stands_unless_the_plan_undercuts_it(less: int, known: bool) -> None:
    """A layout with fewer cuts than the rule allows keeps none of that claim, and is sound."""
    doc = document()
    assert doc.plan is not None
    assert doc.project.proof.proven
    cuts = len(doc.plan.cuts) - less
    doc.take_bounds(with_least_cuts(doc.project.proof, cuts))
    assert doc.plan.proof.least_cuts == (cuts if known else 0)
    assert verify(doc.plan) == ()


def test_a_dearer_layout_by_hand_loses_the_bound_on_cuts() -> None:
    """Fewest cuts were shown for the least price; at another price nothing is known."""
    doc = document()
    doc.take_bounds(with_least_cuts(doc.project.proof, 1))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 0, 0)
    assert doc.project.proof.materials[0].least_cuts == 0
    assert doc.plan is not None
    assert verify(doc.plan) == ()


def test_least_sawing_is_said_of_the_planners_sheets_only() -> None:
    """Proven later it is taken beside the same layout; a rip moved by hand loses it."""
    doc = document()
    assert doc.plan is not None
    proof = doc.plan.proof
    (material,) = proof.materials
    told = replace(proof, materials=(replace(material, least_sawing=True, best_remainder=True),))
    adopt(doc, replace(doc.plan, proof=told))
    assert sawing_words(doc.plan) == "least sawing proven, and the best offcut"
    edit_layout.set_aside(doc, [("side", 1)])
    assert doc.plan is not None
    assert "least sawing" not in sawing_words(doc.plan)
    doc.undo_stack.undo()
    assert sawing_words(doc.plan) == "least sawing proven, and the best offcut"


def test_hand_layout_is_held_against_the_bound() -> None:
    """After a move by hand the value is that of the new layout, the bound stays."""
    doc = document()
    proof = doc.project.proof
    assert (proof.goal, proof.value) == (Goal.LEAST_PRICE, 5200)
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 0, 0)
    assert doc.project.proof.value == 2 * 5200
    assert doc.project.proof.bound == proof.bound
    assert not doc.project.proof.proven


def test_modified_follows_what_is_on_disk(tmp_path: Path) -> None:
    """Undo to the saved project means nothing is left to save."""
    doc = document()
    doc.saved_state.note_saved(doc.project, tmp_path / "a.ripfirst.json")
    assert not doc.saved_state.modified
    edit_job.rename_job(doc, "Other")
    assert doc.saved_state.modified
    doc.undo_stack.undo()
    assert not doc.saved_state.modified


def test_selection_forgets_what_is_gone() -> None:
    """A selected cut beyond the new sequence, and copies no longer needed, are let go."""
    doc = document()
    doc.selection.select_parts([("side", 4), ("side", 1)])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=2))
    assert doc.selection.parts == {("side", 1)}
    assert doc.plan is not None
    doc.selection.select_cut(len(doc.plan.cuts))
    edit_parts.remove_parts(doc, ["side", "shelf"])
    assert doc.selection.cut is None


def test_selected_cut_is_followed_to_its_new_number() -> None:
    """When a sheet loses cuts, those of a sheet behind it stay selected under any number."""
    doc = document()
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, "2", 0, 0)
    assert doc.plan is not None
    chosen = doc.plan.cuts[-1]
    doc.selection.select_cut(chosen.number)
    (other,) = [sheet for sheet in doc.layout.sheets if sheet.id != chosen.sheet]
    edit_layout.set_aside(doc, [other.placements[0].key])
    assert doc.plan is not None
    assert doc.selection.cut is not None
    now = doc.plan.cuts[doc.selection.cut - 1]
    assert now.number != chosen.number
    assert replace(now, number=chosen.number) == chosen


def test_part_and_cut_are_never_selected_together() -> None:
    """Selecting one lets the other go."""
    doc = document()
    doc.selection.select_parts([("side", 1)])
    doc.selection.select_cut(1)
    assert doc.selection.parts == frozenset()
    doc.selection.select_parts([("side", 1)])
    assert doc.selection.cut is None


def test_opened_layout_that_contradicts_its_tree_is_cut_anew() -> None:
    """A file whose placements differ from its tree shows the placements, with cuts of their own."""
    doc = document()
    sheet = doc.layout.sheets[0]
    fewer = replace(sheet, placements=sheet.placements[:1])
    other = Document()
    other.open(replace(doc.project, layout=replace(doc.layout, sheets=(fewer,))), None)
    assert other.plan is not None
    assert other.plan.placements == fewer.placements[:1]


def test_grain_rule_sends_parts_that_lie_wrong_to_wait() -> None:
    """A part that may not lie along the grain any more leaves its sheet at once."""
    doc = document()
    edit_parts.set_grain_rules(doc, ["shelf"], GrainRule.ALONG_WIDTH)
    assert not any(key[0] == "shelf" for key in lying(doc))
    assert {w.part for w in doc.layout.waiting} == {"shelf"}


def test_row_with_an_error_is_left_out() -> None:
    """A part of a material without sheets does not keep the others from being planned."""
    doc = document()
    stray = Part(id="x", name="Stray", length=INCH, width=INCH, material="oak")
    edit_parts.add_parts(doc, [stray])
    assert doc.plan is not None
    assert all(w.part != "x" for w in doc.layout.waiting)

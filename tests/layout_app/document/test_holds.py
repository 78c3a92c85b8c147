"""Holds in the document: what they bar, how they stand through edits, and that none is lost."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.document import edit_job, edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.model.carry_over import opened
from layout_app.model.locks import asked
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.panels.issues import SUSPENDED, all_issues
from shared.layout import Hold, LayoutSheet, Scope
from shared.lengths import INCH
from shared.plan import Proof
from shared.proof_rule import HELD
from shared.shop import CutRule, FirstCut
from tests.layout_app.adopting import adopt
from tests.layout_app.bench.two_sheets import document

pytestmark = pytest.mark.usefixtures("qapp")

SIDE_1, SIDE_2, SHELF_1 = ("side", 1), ("side", 2), ("shelf", 1)


def said_by(doc: Document) -> list[str]:
    """Return the list that what the document says goes into."""
    said: list[str] = []
    doc.said.connect(said.append)
    return said


def meant(doc: Document) -> list[Consequence]:
    """Return the list that the consequences of edits go into."""
    heard: list[Consequence] = []
    doc.edited.connect(heard.append)
    return heard


def sheet(doc: Document, sheet_id: str) -> LayoutSheet:
    """Return a sheet of the document."""
    return doc.layout.sheet(sheet_id)


def test_holding_is_one_named_step_that_moves_nothing() -> None:
    """The layout's sheets stay the same, undo forgets the hold and redo brings it back."""
    doc = document()
    before, heard = doc.project, meant(doc)
    assert edit_locks.hold(doc, Scope.PART, [SIDE_2])
    assert doc.undo_stack.undoText() == "lock Side 2 on sheet 1"
    assert doc.layout.sheets == before.layout.sheets
    assert [(h.scope, h.sheet, h.part, h.copy) for h in doc.held.in_force] == [
        (Scope.PART, "1", "side", 2)
    ]
    doc.undo_stack.undo()
    assert doc.project == before
    doc.undo_stack.redo()
    assert len(doc.held.in_force) == 1
    assert heard == [Consequence.PLAN_ON, Consequence.STOP, Consequence.STOP]


def test_releasing_plans_anew() -> None:
    """What was held is free again, so there may be a better plan."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_1])
    heard = meant(doc)
    assert edit_locks.release(doc, None, [SIDE_2])
    assert doc.undo_stack.undoText() == "unlock the strip of Side 1 on sheet 1"
    assert doc.layout.holds == ()
    assert heard == [Consequence.PLAN_ANEW]


def test_holding_what_is_yours_is_no_matter_to_planning() -> None:
    """A sheet touched by hand stays in any case; the hold only counts once it is given back."""
    doc = document()
    edit_layout.move_part(doc, "shelf", 1, "1", 0, 20 * INCH)
    heard = meant(doc)
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_locks.release(doc, Scope.PART, [SIDE_1])
    assert heard == [Consequence.NOTHING, Consequence.NOTHING]


def test_planning_anew_takes_sheets_back_and_keeps_holds() -> None:
    """Planned anew the sheet is not yours, and what is held of it is asked to be left."""
    doc = document()
    edit_layout.move_part(doc, "shelf", 1, "1", 0, 20 * INCH)
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_layout.plan_anew(doc)
    around = asked(doc.project)
    assert [one.id for one in around.held] == ["1"]
    assert not around.kept
    assert around.holds == doc.held.in_force != ()


def test_what_the_planner_is_asked_to_leave() -> None:
    """Sheets held whole are kept; of others the strips and parts that are held."""
    doc = document()
    edit_locks.hold(doc, Scope.SHEET, [("side", 3)])
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_locks.hold(doc, Scope.PART, [("shelf", 2)])
    around = asked(doc.project)
    assert [one.id for one in around.kept] == ["2"]
    assert [one.id for one in around.held] == ["1"]
    assert [one.key for one in around.holds] == [SIDE_1]


def test_strips_and_sheets_are_held_once() -> None:
    """Two parts of one strip make one hold of it; a second press on another part releases it."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_1, SIDE_2])
    assert len(doc.layout.holds) == 1
    assert not edit_locks.hold(doc, Scope.STRIP, [SIDE_2])
    assert edit_locks.hold_or_release(doc, Scope.STRIP, [SIDE_2])
    assert doc.layout.holds == ()
    edit_locks.hold(doc, Scope.SHEET, [SIDE_1, SHELF_1, ("side", 3)])
    assert sorted(hold.sheet for hold in doc.layout.holds) == ["1", "2"]


HANDS = {
    "move": lambda doc: edit_layout.move_part(doc, *SIDE_1, "1", INCH, 30 * INCH),
    "turn": lambda doc: edit_layout.turn_parts(doc, [SIDE_1]),
    "wait": lambda doc: edit_layout.set_aside(doc, [SIDE_1, SHELF_1]),
    "resize": lambda doc: edit_parts.resize_part(doc, "side", 30 * INCH, 12 * INCH, copy=1),
    "rip": lambda doc: edit_layout.move_rip(doc, "1", 0, 1),
}
HOLDS = {
    "the part": (Scope.PART, SIDE_1, "Side 1 is locked"),
    "a part behind it": (Scope.PART, SIDE_2, "locked"),
    "its strip": (Scope.STRIP, SIDE_2, "locked"),
    "its sheet": (Scope.SHEET, SHELF_1, "Sheet 1 is locked"),
}


@pytest.mark.parametrize("hold", HOLDS)
@pytest.mark.parametrize("hand", HANDS)
def test_a_hand_does_not_move_what_is_held(hand: str, hold: str) -> None:
    """Nothing changes, and one sentence says what holds it."""
    doc = document()
    scope, key, words = HOLDS[hold]
    edit_locks.hold(doc, scope, [key])
    before, said = doc.project, said_by(doc)
    assert not HANDS[hand](doc)
    assert doc.project is before
    assert len(said) == 1
    assert words in said[0]
    edit_locks.release(doc, None, [SIDE_1])
    assert HANDS[hand](doc) or hand == "turn"


def test_free_parts_of_a_sheet_with_holds_can_be_moved() -> None:
    """The shelf moves below its strip, but not to where something is held."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_1])
    said = said_by(doc)
    assert not edit_layout.move_part(doc, *SHELF_1, "1", 81 * INCH, 0)
    assert said == ["That place is locked: unlock what lies there first."]
    assert edit_layout.move_part(doc, *SHELF_1, "1", 0, 20 * INCH)
    assert len(doc.held.in_force) == 1


def test_a_held_part_that_outgrows_its_strip_suspends_its_hold_until_it_fits_again() -> None:
    """It waits, the hold is named with its reason; edited back it lies where it was held."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    held = doc.layout.find(SHELF_1)
    shelf = doc.job.part("shelf")
    edit_parts.edit_part(doc, replace(shelf, width=11 * INCH))
    assert doc.layout.find(SHELF_1) is None
    ((hold, sentence),) = doc.held.suspended
    assert hold == doc.layout.holds[0]
    assert (
        sentence
        == "The lock of Shelf 1 on sheet 1 is not in force: it no longer fits where it was locked."
    )
    issue = next(issue for issue in all_issues(doc) if issue.code == SUSPENDED)
    assert (issue.sentence, issue.subject) == (sentence, "shelf")
    edit_parts.edit_part(doc, shelf)
    assert doc.held.suspended == ()
    assert doc.layout.find(SHELF_1) == held


def test_undo_brings_a_hold_back_into_force() -> None:
    """Undoing the edit restores part, place and hold."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    before = doc.project
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), width=11 * INCH))
    doc.undo_stack.undo()
    assert doc.project == before
    assert len(doc.held.in_force) == 1


def test_free_parts_make_way_for_a_held_part_that_grows() -> None:
    """Side 1 grows by 4 in the strip: Side 2 behind it, of the same row, no longer fits there."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    side = doc.job.part("side")
    edit_parts.edit_part(doc, replace(side, length=50 * INCH))
    lies = doc.layout.find(SIDE_1)
    assert lies is not None
    assert (lies.x, lies.y, lies.length) == (0, 0, 50 * INCH)
    assert doc.held.in_force[0].lies == lies
    assert doc.layout.find(SIDE_2) is None


def test_a_held_part_that_shrinks_stays_held() -> None:
    """It fits its strip all the more."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=30 * INCH, width=11 * INCH))
    lies = doc.layout.find(SIDE_1)
    assert lies is not None
    assert (lies.x, lies.y, lies.length) == (0, 0, 30 * INCH)
    assert len(doc.held.in_force) == 1


def test_removing_the_row_of_a_held_part_says_so() -> None:
    """The hold goes with the row, in a sentence; undo brings both back."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    before, said = doc.project, said_by(doc)
    edit_parts.remove_parts(doc, ["shelf"])
    assert doc.layout.holds == ()
    assert said == ["Shelf 1 on sheet 1 is not locked any more: its row is gone."]
    doc.undo_stack.undo()
    assert doc.project == before


def test_a_strip_stays_held_when_the_part_that_named_it_goes() -> None:
    """One copy fewer: the strip of Sides 1 and 2 was named by Side 2, and is by Side 1 now."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_2])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=1))
    (hold,) = doc.held.in_force
    assert hold.key == SIDE_1


def test_a_number_given_anew_is_not_the_sheet_that_was_held() -> None:
    """Sheet 1 loses its stock; whatever becomes sheet 1 next is another sheet."""
    doc = document()
    edit_locks.hold(doc, Scope.SHEET, [SIDE_1])
    other = replace(doc.job.stock[0], id="other", name="other sheet")
    edit_job.add_stock(doc, [other])
    edit_job.remove_stock(doc, ["full"])
    (held,) = doc.layout.holds
    assert [hold for hold, _ in doc.held.suspended] == [held]
    moved = replace(document().layout.find(SIDE_1), y=INCH)
    again = replace(doc.layout, sheets=(LayoutSheet(id="1", stock="other", placements=(moved,)),))
    assert opened(replace(doc.project, layout=again)).layout.holds == (held,)


def test_a_kerf_that_changes_takes_holds_along() -> None:
    """The pieces slide to the new kerf, and the hold remembers where its part lies now."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SIDE_2])
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 4))
    (hold,) = doc.held.in_force
    assert hold.lies is not None
    assert hold.lies.x == 40 * INCH + INCH // 4


def test_another_direction_suspends_the_hold_of_a_strip() -> None:
    """With crosscuts first there are no such strips; a whole sheet stays."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_1])
    edit_locks.hold(doc, Scope.SHEET, [("side", 3)])
    edit_job.edit_rule(doc, CutRule(first=FirstCut.CROSSCUT))
    assert [hold.scope for hold in doc.held.in_force] == [Scope.SHEET]
    assert "not cut as the rule says" in doc.held.suspended[0][1]


def test_suspended_holds_can_be_forgotten_by_selecting_their_part() -> None:
    """A part that waits can be released too."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), width=11 * INCH))
    assert edit_locks.hold_or_release(doc, Scope.PART, [SHELF_1])
    assert doc.layout.holds == ()


def test_what_cannot_be_held_is_said() -> None:
    """Side 2 laid over Side 1: the sheet cannot be cut, so nothing on it can be held."""
    doc = document()
    edit_layout.move_part(doc, *SIDE_2, "1", 10 * INCH, 0)
    said = said_by(doc)
    assert not edit_locks.hold(doc, Scope.PART, [SIDE_1])
    assert said == [
        "The lock of Side 1 on sheet 1 is not in force: its sheet cannot be cut as it lies."
    ]
    assert not edit_locks.hold(doc, Scope.PART, [("rail", 1)])


def test_a_plan_that_moves_what_is_held_is_not_shown() -> None:
    """The planner proposes; a hold wins."""
    doc = document()
    plan = doc.plan
    assert plan is not None
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    before = doc.project
    moved = document()
    edit_layout.move_rip(moved, "1", 0, 1)
    edit_layout.set_aside(moved, [("shelf", 2)])
    edit_layout.put_back(moved, [("shelf", 2)])
    assert moved.plan is not None
    without = replace(moved.plan, unplaced=())
    assert adopted(doc.project, without).layout.holds == before.layout.holds
    adopt(doc, without)
    assert doc.layout == before.layout


def test_a_bound_proven_around_holds_is_forgotten_when_they_are_released() -> None:
    """It says nothing of what is possible without them."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    doc.take_bounds(Proof(value=2, bound=2, rule=f"rip first, {HELD}"))
    edit_locks.hold(doc, Scope.PART, [("side", 3)])
    assert doc.project.proof.bound == 2
    edit_locks.release(doc, None, [SIDE_1])
    assert doc.project.proof == Proof()


OPERATIONS = ("hold", "release", "toggle", "undo", "redo")
KEYS = (SIDE_1, SIDE_2, SHELF_1, ("side", 3), ("shelf", 2), ("rail", 1))


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(OPERATIONS),
            st.sampled_from(Scope),
            st.lists(st.sampled_from(KEYS), min_size=1, max_size=3, unique=True),
        ),
        max_size=12,
    )
)
def test_holding_and_releasing_at_random_is_undone_exactly(
    steps: list[tuple[str, Scope, list[tuple[str, int]]]],
) -> None:
    """Undo and redo show the very projects again that were there, and only holds ever change."""
    doc = document()
    sheets, shown = doc.layout.sheets, [doc.project]
    for what, scope, keys in steps:
        _do(doc, what, scope, keys)
        shown[doc.undo_stack.index() :] = (
            [doc.project] if what not in ("undo", "redo") else shown[doc.undo_stack.index() :]
        )
        assert doc.project == shown[doc.undo_stack.index()]
        assert doc.layout.sheets == sheets
        assert not doc.held.suspended
    _unwind(doc, shown)


def _do(doc: Document, what: str, scope: Scope, keys: list[tuple[str, int]]) -> None:
    if what == "hold":
        edit_locks.hold(doc, scope, keys)
    elif what == "release":
        edit_locks.release(doc, scope, keys)
    elif what == "toggle":
        edit_locks.hold_or_release(doc, scope, keys)
    elif what == "undo":
        doc.undo_stack.undo()
    else:
        doc.undo_stack.redo()


def _unwind(doc: Document, shown: list[Project]) -> None:
    while doc.undo_stack.canUndo():
        doc.undo_stack.undo()
        assert doc.project == shown[doc.undo_stack.index()]
    while doc.undo_stack.canRedo():
        doc.undo_stack.redo()
        assert doc.project == shown[doc.undo_stack.index()]


def test_a_hold_written_by_hand_remembers_its_place_once_opened() -> None:
    """A file may leave out how the part lies; from then on the hold is bound to that place."""
    project = document().project
    hold = Hold(scope=Scope.PART, sheet="1", part="side", copy=1)
    read = opened(replace(project, layout=replace(project.layout, holds=(hold,))))
    assert read.layout.holds[0].lies == project.layout.find(SIDE_1)


def test_parts_held_elsewhere_on_the_sheet_stay_when_one_is_put_back() -> None:
    """The shelf grows, waits and comes back, while the strip of the sides stays held."""
    doc = document()
    edit_locks.hold(doc, Scope.STRIP, [SIDE_1])
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    before = [doc.layout.find(key) for key in (SIDE_1, SIDE_2, SHELF_1)]
    shelf = doc.job.part("shelf")
    edit_parts.edit_part(doc, replace(shelf, width=40 * INCH))
    assert [hold.scope for hold in doc.held.in_force] == [Scope.STRIP]
    edit_parts.edit_part(doc, shelf)
    assert [doc.layout.find(key) for key in (SIDE_1, SIDE_2, SHELF_1)] == before
    assert len(doc.held.in_force) == 2


def test_suspended_holds_can_be_forgotten_all_at_once() -> None:
    """Those in force stay."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), width=11 * INCH))
    assert edit_locks.release_holds(doc, [hold for hold, _ in doc.held.suspended])
    assert [hold.key for hold in doc.layout.holds] == [SIDE_1]
    assert not any(issue.code == SUSPENDED for issue in all_issues(doc))

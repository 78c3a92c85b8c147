"""Several parts in the hand: they keep their places to each other, and are one step of undo."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from layout_app.bench.band import Band
from layout_app.document import edit_layout, edit_locks
from layout_app.document.judging_many import judge_all
from layout_app.model.carried import Cargo, CarriedPart, lifted
from shared.layout import Scope
from tests.layout_app.bench.conftest import LEFT, NONE
from tests.layout_app.bench.two_sheets import inches, lay

Key = Qt.Key
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
SIDE_1, SIDE_2, SHELF_1, SIDE_3, RAIL = (
    ("side", 1),
    ("side", 2),
    ("shelf", 1),
    ("side", 3),
    ("rail", 1),
)
ON_SIDE_1, ON_SHELF_1 = ("1", 10, 6), ("1", 15, 17)


def select(maker, *copies):
    """Select copies, as Ctrl and clicks do."""
    maker.doc.selection.select_parts(copies)


def test_several_parts_are_dragged_within_a_sheet(maker):
    """Dragged by one of them, 24 in down to the far edge, both go: one step, taken back by one."""
    before = maker.doc.project
    select(maker, SIDE_1, SHELF_1)
    maker.drag(ON_SIDE_1, ("1", 10, 6 + 25.7))
    # Together they are 22 1/8 wide, so they lie 48 - 22 1/8 = 25 7/8 from the reference edge.
    assert maker.corner(*SIDE_1) == ("1", 0, inches("207/8"))
    assert maker.corner(*SHELF_1) == ("1", 0, inches("207/8") + inches("97/8"))
    assert maker.doc.undo_stack.undoText() == "move 2 parts"
    assert maker.steps == 1
    maker.doc.undo()
    assert maker.doc.project == before


def test_several_parts_are_dragged_to_another_sheet(maker):
    """They snap together: the first of them behind what lies there, the other beside it."""
    select(maker, SIDE_1, SIDE_2)
    maker.drag(ON_SIDE_1, ("2", 10.2, 6 + 22.4))
    assert maker.corner(*SIDE_1) == ("2", 0, inches("89/4"))
    assert maker.corner(*SIDE_2) == ("2", inches("321/8"), inches("89/4"))
    assert maker.doc.layout.sheets[1].tree is not None
    assert maker.steps == 1


def test_parts_of_two_sheets_move_alike_each_on_its_own(maker):
    """While the one in the hand stays on its sheet, the other stays on its own."""
    select(maker, SHELF_1, ("shelf", 2))
    maker.drag(ON_SHELF_1, ("1", 15 + 39.4, 17))
    assert maker.corner(*SHELF_1) == ("1", inches("321/8"), inches("97/8"))
    assert maker.corner("shelf", 2) == ("2", inches("321/8"), inches("97/8"))
    assert [sheet.yours for sheet in maker.doc.layout.sheets] == [True, True]


def test_several_parts_are_dragged_to_the_waiting_place(maker):
    """Both wait, as one step."""
    select(maker, SIDE_1, SHELF_1)
    maker.drag(ON_SIDE_1, QPoint(maker.port.width() + 40, 300))
    assert maker.corner(*SIDE_1) is None
    assert maker.corner(*SHELF_1) is None
    assert maker.doc.undo_stack.undoText() == "set 2 parts aside"
    assert maker.steps == 1


def test_several_waiting_parts_are_dragged_onto_a_sheet(maker):
    """Tokens chosen with Ctrl are taken together, beside each other, one kerf between them."""
    edit_layout.set_aside(maker.doc, [SHELF_1])
    steps = maker.steps
    tokens = maker.view.shelf.tokens
    spots = [tokens.visualItemRect(tokens.item(row)).center() for row in range(2)]
    QTest.mouseClick(tokens.viewport(), LEFT, NONE, spots[0])
    QTest.mousePress(tokens.viewport(), LEFT, CONTROL, spots[1])
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(maker.at("1", 0.4, 30)))
    for step in range(1, 9):
        QTest.mouseMove(tokens.viewport(), spots[1] + (end - spots[1]) * step / 8)
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)
    rail, shelf = maker.corner(*RAIL), maker.corner(*SHELF_1)
    assert rail is not None
    assert shelf is not None
    assert rail[2] == shelf[2]
    # The rail is 20 in long.
    assert shelf[1] - rail[1] in {inches(20) + inches("1/8"), -inches(30) - inches("1/8")}
    assert maker.steps == steps + 1


def test_escape_lays_all_back(maker):
    """After Escape nothing has changed and nothing can be undone."""
    before = maker.doc.layout
    select(maker, SIDE_1, SHELF_1)
    maker.drag(ON_SIDE_1, ("1", 55, 30), drop=False)
    maker.key(Key.Key_Escape)
    maker.release(maker.at("1", 55, 30))
    assert maker.doc.layout == before
    assert maker.steps == 0


def test_the_verdict_is_of_all_that_is_carried(maker):
    """The one in the hand lies well, the other beyond the edge: that is said, and of which."""
    select(maker, SIDE_2, SHELF_1)
    maker.drag(ON_SHELF_1, ("1", 80, 17), drop=False)
    assert maker.words == "Side 2 reaches over the edge of the sheet."
    assert not maker.view.hand.interaction.verdict.good
    maker.go(maker.at(*ON_SHELF_1))
    assert maker.words == "fits and can be cut"
    maker.key(Key.Key_Escape)


def test_what_is_held_is_not_dragged_along(maker):
    """One of them is held: all stay, and it is said why."""
    edit_locks.hold(maker.doc, Scope.PART, [SHELF_1])
    before, steps = maker.doc.layout, maker.steps
    select(maker, SIDE_2, SHELF_1)
    maker.drag(("1", 60, 6), ("1", 60, 30))
    assert maker.doc.layout == before
    assert maker.steps == steps
    assert any("Shelf 1 is locked" in words for words in maker.said)


def test_several_parts_turn_in_the_hand(maker):
    """Turned as a block, rows become columns: beside each other, no longer below."""
    select(maker, SHELF_1, SIDE_1)
    maker.drag(ON_SHELF_1, ("1", 50, 30), drop=False)
    maker.key(Key.Key_T)
    lie = {one.key: one for one in maker.view.hand.interaction.placements()}
    shelf, side = lie[SHELF_1], lie[SIDE_1]
    assert (shelf.turned, side.turned) == (True, True)
    assert shelf.x - side.x == inches("97/8")
    assert shelf.y == side.y
    maker.key(Key.Key_Escape)


def test_arrows_move_several_parts_as_one_step(maker):
    """Down by the finest step: both by the same way."""
    select(maker, SIDE_1, SHELF_1)
    maker.view.setFocus()
    maker.key(Key.Key_Down)
    fine = inches("1/32")
    assert maker.corner(*SIDE_1) == ("1", 0, fine)
    assert maker.corner(*SHELF_1) == ("1", 0, inches("97/8") + fine)
    assert maker.steps == 1
    assert maker.doc.undo_stack.undoText() == "move 2 parts"


def test_several_parts_are_carried_by_keys(maker):
    """Enter takes both up, PageDown lays them on the next sheet where both fit: one step."""
    select(maker, SIDE_1, SIDE_2)
    maker.view.setFocus()
    maker.key(Key.Key_Return)
    maker.key(Key.Key_PageDown)
    assert maker.words == "fits and can be cut"
    maker.key(Key.Key_Return)
    one, other = maker.corner(*SIDE_1), maker.corner(*SIDE_2)
    assert one[0] == other[0] == "2"
    assert (other[1] - one[1], other[2] - one[2]) == (inches("321/8"), 0)
    assert maker.steps == 1


def test_a_click_on_one_of_several_selects_it(maker):
    """A press keeps the selection for a drag; let go where it was pressed, only it is selected."""
    select(maker, SIDE_1, SHELF_1)
    maker.press(maker.at(*ON_SHELF_1))
    assert maker.doc.selection.parts == {SIDE_1, SHELF_1}
    maker.release(maker.at(*ON_SHELF_1))
    assert maker.doc.selection.parts == {SHELF_1}


def test_a_band_selects_what_it_touches(maker):
    """From free stock over both shelves' sheet: the side and the shelf, not the second side."""
    maker.drag(("1", 36, 40), ("1", 20, 10))
    assert maker.doc.selection.parts == {SIDE_1, SHELF_1}
    assert maker.steps == 0


@pytest.mark.parametrize(
    ("held", "then"), [(SHIFT, {SIDE_2, SHELF_1, SIDE_1}), (CONTROL, {SIDE_2, SIDE_1})]
)
def test_a_band_with_a_key_held_adds_or_toggles(maker, held, then):
    """Over side 1 and the shelf: with Shift both are selected as well, with Ctrl the shelf not."""
    select(maker, SIDE_2, SHELF_1)
    maker.press(maker.at("1", 36, 40), held)
    maker._pointer = maker.at("1", 36, 40)
    maker.go(maker.at("1", 25, 10))
    assert isinstance(maker.view.hand.interaction, Band)
    maker.release(maker.at("1", 25, 10))
    assert maker.doc.selection.parts == then


def test_a_click_with_shift_adds(maker):
    """A second click with Shift on the same part changes nothing."""
    select(maker, SIDE_1)
    for _ in range(2):
        maker.press(maker.at(*ON_SHELF_1), SHIFT)
        maker.release(maker.at(*ON_SHELF_1))
        assert maker.doc.selection.parts == {SIDE_1, SHELF_1}


def test_a_click_with_control_toggles_when_it_is_let_go(maker):
    """The press alone selects nothing yet, since a drag may come of it."""
    select(maker, SIDE_1)
    for then in ({SIDE_1, SHELF_1}, {SIDE_1}):
        before = maker.doc.selection.parts
        maker.press(maker.at(*ON_SHELF_1), CONTROL)
        assert maker.doc.selection.parts == before
        maker.release(maker.at(*ON_SHELF_1))
        assert maker.doc.selection.parts == then


def test_a_drag_with_control_on_the_press_carries_that_part(maker):
    """What is not selected is carried alone, what is selected with all others."""
    select(maker, SIDE_1)
    maker.press(maker.at(*ON_SHELF_1), CONTROL)
    maker._pointer = maker.at(*ON_SHELF_1)
    maker.go(maker.at("1", 60, 30))
    assert [one.key for one in maker.view.hand.interaction.cargo.pieces] == [SHELF_1]
    assert maker.doc.selection.parts == {SHELF_1}
    maker.key(Key.Key_Escape)
    maker.release(maker.at("1", 60, 30))


def test_escape_leaves_one_state_after_the_other(maker):
    """Drawing first, then the sheet before a cut; the selection is what is left last."""
    select(maker, SIDE_1)
    maker.view.hand.draw_on("1")
    maker.key(Key.Key_Escape)
    assert not maker.view.hand.draws
    assert maker.doc.selection.parts == {SIDE_1}
    maker.doc.selection.select_cut(1)
    maker.key(Key.Key_Escape)
    assert maker.doc.selection.cut is None
    select(maker, SIDE_1)
    maker.key(Key.Key_Escape)
    assert not maker.doc.selection.parts


def test_escape_ends_a_band(maker):
    """The selection stays as the press has left it."""
    maker.drag(("1", 36, 40), ("1", 20, 10), drop=False)
    maker.key(Key.Key_Escape)
    maker.release(maker.at("1", 20, 10))
    assert maker.doc.selection.parts == frozenset()


@pytest.mark.parametrize("copies", [[("side", 1)], [("side", 1), ("shelf", 1)]])
def test_what_does_not_move_leaves_no_step(maker, copies):
    """Parts laid where they lie are no change."""
    lying = [maker.view.hand.document.layout.find(copy) for copy in copies]
    assert not edit_layout.move_parts(maker.doc, lying)
    assert maker.steps == 0


def test_the_grain_of_several_parts_is_one_step(maker):
    """G on two parts: one step, and one undo."""
    before = maker.doc.project
    select(maker, SIDE_1, SHELF_1)
    maker.view.setFocus()
    maker.key(Key.Key_G)
    assert maker.steps == 1
    maker.doc.undo()
    assert maker.doc.project == before


places = st.tuples(st.integers(-(10**6), 10**6), st.integers(-(10**6), 10**6))


@given(st.lists(places, min_size=1, max_size=6), places)
def test_a_cargo_keeps_its_offsets(corners, at):
    """Laid anywhere, all lie from the first as they lay; turned twice, it is the same cargo."""
    lying = [lay("side", i + 1, "1", 0, 0) for i, _ in enumerate(corners)]
    lying = [replace(one, x=x, y=y) for one, (x, y) in zip(lying, corners, strict=True)]
    cargo = lifted(lying[0], lying[1:])
    laid = cargo.placements("2", *at)
    for one, old in zip(laid, lying, strict=True):
        assert (one.x - laid[0].x, one.y - laid[0].y) == (old.x - lying[0].x, old.y - lying[0].y)
    assert cargo.flipped().flipped() == cargo


@given(st.lists(st.tuples(*[st.integers(0, 40)] * 2, *[st.integers(1, 20)] * 2), max_size=6))
def test_a_turned_cargo_overlaps_no_more_than_before(boxes):
    """Rows become columns: two that were apart stay apart, and by the same distances."""
    pieces = [
        CarriedPart(part="p", copy=n, home="1", dx=x, dy=y, length=a, width=b, turned=False)
        for n, (x, y, a, b) in enumerate(boxes)
    ]
    cargo = Cargo(pieces=tuple(pieces))
    before = [one.rect(0, 0) for one in cargo.pieces]
    after = [one.rect(0, 0) for one in cargo.flipped().pieces]
    for i, one in enumerate(before):
        for j, other in enumerate(before):
            assert one.overlaps(other) == after[i].overlaps(after[j])


@pytest.mark.parametrize("others", [(), (SHELF_1,), (SIDE_3,)])
def test_the_part_that_is_wrong_is_named_among_several(maker, others):
    """A side turned across the grain: alone it is clear, with others in the hand it is named."""
    doc = maker.doc
    lying = {one.key: one for sheet in doc.layout.sheets for one in sheet.placements}
    side = lying[SIDE_2]
    across = replace(side, turned=True, length=side.width, width=side.length, y=0)
    verdict = judge_all(doc, [*(lying[other] for other in others), across])
    assert not verdict.good
    assert "against the grain" in verdict.words
    assert ("Side 2" in verdict.words) is bool(others)

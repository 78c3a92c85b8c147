"""What lies in the way of a part is pushed aside: Ctrl while dragging, P while carrying."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from layout_app.bench.giving_way import AsideShown
from layout_app.document import edit_layout, edit_locks, edit_parts
from shared.layout import Scope
from tests.layout_app.bench.conftest import NONE
from tests.layout_app.bench.two_sheets import KERF, inches
from tests.layout_app.doing import SHELF_1, SIDE_1, SIDE_2

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
Key = Qt.Key


def on_bench(maker):
    """Return where parts are shown that give way, as part, copy, x and y."""
    found = [one for one in maker.view.bench.items() if isinstance(one, AsideShown)]
    return [(one.part, one.copy, one.x, one.y) for one in found[0].shown] if found else []


def drag_over(maker, point, *, held=CTRL):
    """Drag shelf 1, with a key held, so that its corner is at a point of sheet 1; hold it there."""
    goal = maker.at("1", point[0] + 3, point[1] + 15 - 12.125)
    maker.drag(("1", 3, 15), goal, drop=False, held=held)
    return goal


def test_a_part_dragged_with_ctrl_pushes_what_lies_behind(maker):
    """A shelf, 30 long, before two sides in 96: no room is left along, so their strip goes down."""
    before = maker.doc.project
    goal = drag_over(maker, (0, 0))
    hand = maker.view.hand.interaction
    assert hand.verdict.good
    strip = inches("81/8")  # 10 1/8: the shelf and a kerf
    assert on_bench(maker) == [("side", 1, 0, strip), ("side", 2, inches("321/8"), strip)]
    maker.release(goal)
    assert maker.corner(*SHELF_1) == ("1", 0, 0)
    assert maker.corner(*SIDE_1) == ("1", 0, strip)
    assert maker.doc.undo_stack.undoText() == "move Shelf 1 and push 2 parts"
    assert maker.doc.problems == {}
    maker.doc.undo()
    assert maker.doc.project == before
    assert on_bench(maker) == []


def test_without_ctrl_nothing_gives_way(maker):
    """The same drag says what is in the way, and shows nothing pushed."""
    drag_over(maker, (5, 3), held=NONE)
    assert not maker.view.hand.interaction.verdict.good
    assert on_bench(maker) == []
    maker.key(Key.Key_Escape)


def test_ctrl_counts_as_soon_as_it_is_pressed_and_no_longer_than_it_is_held(maker):
    """The pointer need not move for that."""
    drag_over(maker, (5, 3), held=NONE)
    QTest.keyPress(maker.view, Key.Key_Control)
    assert maker.view.hand.interaction.verdict.good
    assert on_bench(maker)
    QTest.keyRelease(maker.view, Key.Key_Control)
    assert not maker.view.hand.interaction.verdict.good
    assert on_bench(maker) == []
    maker.key(Key.Key_Escape)


def test_p_pushes_while_keys_carry(maker):
    """Shift and the arrows bring the shelf to the corner; P makes the sides go down a strip."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.key(Key.Key_Return)
    maker.key(Key.Key_P)
    for _ in range(9):
        maker.key(Key.Key_Up, SHIFT)
    assert maker.view.hand.interaction.verdict.good
    assert {key[:2] for key in on_bench(maker)} == {SIDE_1, SIDE_2}
    maker.key(Key.Key_Return)
    assert maker.corner(*SHELF_1) == ("1", 0, 0)
    assert maker.corner(*SIDE_1) == ("1", 0, inches("81/8"))
    assert maker.steps == 1


def test_why_nothing_gives_way_is_said(maker):
    """A locked side stays, and nothing is shown to move."""
    edit_locks.hold(maker.doc, Scope.PART, [SIDE_2])
    goal = drag_over(maker, (5, 3))
    before = maker.doc.project
    assert on_bench(maker) == []
    assert maker.view.hand.interaction.giving_way.words == ("cannot push: Side 1 is locked",)
    maker.release(goal)
    assert maker.doc.project == before


def test_an_edge_dragged_with_ctrl_pushes_what_lies_behind(maker):
    """Sides some 45 long: the second goes 5 on; 14 wide besides, and the shelf goes 2 down."""
    maker.doc.selection.select_parts([SIDE_1])
    before = maker.doc.project
    goal = maker.at("1", 45, 14)
    maker.drag(("1", 40, 12), goal, drop=False, held=CTRL)
    length, width = (side + KERF for side in maker.view.hand.interaction.size)
    after = {one[:2]: one[2:] for one in on_bench(maker)}
    assert after == {SIDE_2: (length, 0), SHELF_1: (0, width)}
    maker.release(goal)
    assert maker.corner(*SIDE_1) == ("1", 0, 0)
    assert maker.corner(*SIDE_2) == ("1", length, 0)
    assert maker.corner(*SHELF_1) == ("1", 0, width)
    assert maker.doc.job.part("side").length == length - KERF > inches(44)
    assert maker.doc.problems == {}
    assert maker.steps == 1
    maker.doc.undo()
    assert maker.doc.project == before


def test_a_size_typed_makes_what_lies_behind_give_way(maker):
    """On a sheet laid out by hand the sides stay, and what gave way is named."""
    edit_layout.move_part(maker.doc, *SHELF_1, "1", inches(1), inches("97/8"))
    edit_parts.edit_part(maker.doc, replace(maker.doc.job.part("side"), length=inches(45)))
    assert maker.corner(*SIDE_1) == ("1", 0, 0)
    assert maker.corner(*SIDE_2) == ("1", inches("361/8"), 0)
    assert maker.corner(*SHELF_1) == ("1", inches(1), inches("97/8"))
    assert maker.said[-1] == "Side 2 gave way."
    assert maker.doc.problems == {}

"""Resizing, turning, grain rules, waiting and moving rips, by mouse, key and menu."""

import pytest
from PySide6.QtCore import QPoint, Qt

from layout_app.bench.resizing import finished
from shared.parts import Bands, GrainRule, Part
from tests.layout_app.bench.two_sheets import inches

ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
SHELF_1, SIDE_1, SIDE_2 = ("1", 15, 17), ("1", 10, 6), ("1", 60, 6)


def part(maker, part_id):
    """Return a part as the document has it now."""
    return maker.doc.job.part(part_id)


def test_the_right_edge_resizes_the_part_and_all_its_copies(maker):
    """Dragged to line up with the sides' end at 40, the shelf becomes 40 long, on both sheets."""
    maker.click(*SHELF_1)
    maker.drag(("1", 30, 17), ("1", 39.6, 17))
    assert part(maker, "shelf").length == inches(40)
    lengths = {p.length for s in maker.doc.layout.sheets for p in s.placements if p.part == "shelf"}
    assert lengths == {inches(40)}
    assert maker.steps == 1
    maker.doc.undo_stack.undo()
    assert part(maker, "shelf").length == inches(30)


def test_a_free_edge_stops_at_the_finest_step(maker):
    """Where nothing is near, the new width is a whole number of 1/32 in."""
    maker.click(*SHELF_1)
    bottom = float(inches("97/8") + inches(10)) / inches(1)
    maker.drag(("1", 15, bottom), ("1", 15, 31.3))
    assert part(maker, "shelf").width % (inches(1) // 32) == 0
    assert inches(18) < part(maker, "shelf").width < inches(20)


def test_a_band_is_added_to_the_size_that_is_sawn(maker):
    """A rail sawn 3 7/8 wide is 4 wide with its band; resized to be sawn 10, it is 10 1/8."""
    maker.doc.selection.select_parts([("rail", 1)])
    for key in (Qt.Key.Key_Return, Qt.Key.Key_PageDown, Qt.Key.Key_Return):
        maker.key(key)
    # It lies at 30 1/8, 12 1/8 beside a shelf that ends at 22 1/8: in line with that.
    maker.drag(("1", 35, 12.125 + 3.875), ("1", 35, 21.9))
    assert part(maker, "rail").width == inches("81/8")


def test_the_allowance_of_a_fit_part_is_no_part_of_its_size():
    """A blank of 20 1/8 (20 less 1/8 of band, 1/4 to fit), made 1 longer, is for a part of 21."""
    front = Part(
        id="f",
        name="Front",
        length=inches(20),
        width=inches(6),
        material="ply",
        bands=Bands(left=inches("1/8")),
        fit_allowance=inches("1/4"),
    )
    assert front.cut_length == inches("161/8")
    assert finished(front, (inches("169/8"), front.cut_width)) == (inches(21), inches(6))


def test_escape_cancels_resizing(maker):
    """Escape leaves the part as it was."""
    maker.click(*SHELF_1)
    maker.drag(("1", 30, 17), ("1", 38, 17), drop=False)
    assert maker.view.hand.busy
    maker.key(Qt.Key.Key_Escape)
    assert part(maker, "shelf").length == inches(30)
    assert maker.steps == 0


def test_alt_shift_arrows_resize_by_the_finest_step(maker):
    """The twin of an edge: each key makes the part 1/32 in longer, wider, shorter."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Right, ALT | SHIFT)
    assert part(maker, "shelf").length == inches(30) + inches("1/32")
    maker.key(Qt.Key.Key_Down, ALT | SHIFT)
    assert part(maker, "shelf").width == inches(10) + inches("1/32")
    maker.doc.undo_stack.undo()
    maker.doc.undo_stack.undo()
    assert part(maker, "shelf").length == inches(30)


def test_t_turns_the_selected_part(maker):
    """The shelf may lie either way; it turns about its corner, one step of undo."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_T)
    assert maker.view.hand.document.layout.find(("shelf", 1)).turned
    assert maker.steps == 1
    maker.doc.undo_stack.undo()
    assert not maker.view.hand.document.layout.find(("shelf", 1)).turned


def test_t_does_not_turn_a_part_against_the_grain(maker):
    """The side's grain runs along its length: it stays, and the maker is told why."""
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_T)
    assert maker.steps == 0
    assert "grain" in maker.said[0]


def test_g_goes_through_the_grain_rules(maker):
    """From along length to along width, to either, and back; each is a step."""
    maker.click(*SIDE_1)
    rules = []
    for _ in range(3):
        maker.key(Qt.Key.Key_G)
        maker.doc.selection.select_parts([("side", 1)])
        rules.append(part(maker, "side").grain_rule)
    assert rules == [GrainRule.ALONG_WIDTH, GrainRule.EITHER, GrainRule.ALONG_LENGTH]
    assert maker.steps == 3
    for _ in range(3):
        maker.doc.undo_stack.undo()
    assert part(maker, "side").grain_rule is GrainRule.ALONG_LENGTH


def test_w_lets_the_selected_parts_wait(maker):
    """Two selected parts wait after one key, as one step."""
    maker.click(*SHELF_1)
    maker.press(maker.at(*SIDE_1), Qt.KeyboardModifier.ControlModifier)
    maker.release(maker.at(*SIDE_1))
    assert maker.doc.selection.parts == {("shelf", 1), ("side", 1)}
    maker.key(Qt.Key.Key_W)
    assert maker.corner("shelf", 1) is None
    assert maker.corner("side", 1) is None
    assert maker.steps == 1
    maker.doc.undo_stack.undo()
    assert maker.corner("side", 1) == ("1", 0, 0)


def tag_point(maker, sheet, number):
    """Return the point of the view over a cut's tag."""
    item = maker.view.scene().sheet_item(sheet)
    tag = next(t for t in item.writing(maker.view.scale_px).tags if t.tag.number == number)
    return maker.at(sheet, 0, 0) + QPoint(round(tag.x), round(tag.y))


def strips(maker):
    """Return the widths of the strips of sheet 1 in eighths of an inch."""
    return [piece.size // inches("1/8") for piece in maker.doc.layout.sheets[0].tree.pieces]


def test_a_rip_moves_when_its_tag_is_dragged(maker):
    """Cut 2 saws the shelf's strip off; dragged above cut 1 that strip comes first."""
    assert strips(maker) == [96, 80]
    point = tag_point(maker, "1", 2)
    maker.drag(point, point - QPoint(0, round(20 * 25.4 * maker.view.scale_px)))
    assert strips(maker) == [80, 96]
    assert maker.corner("shelf", 1) == ("1", 0, 0)
    assert maker.corner("side", 1) == ("1", 0, inches("81/8"))
    assert maker.steps == 1
    maker.doc.undo_stack.undo()
    assert strips(maker) == [96, 80]


def test_a_rip_that_is_dragged_back_stays(maker):
    """Let go where it was, a rip makes no step."""
    point = tag_point(maker, "1", 2)
    maker.drag(point, point + QPoint(0, 25))
    assert strips(maker) == [96, 80]
    assert maker.steps == 0


def test_alt_down_moves_the_strip_of_the_selected_part_later(maker):
    """The side's strip goes behind the shelf's; Alt+Up brings it back."""
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_Down, ALT)
    assert strips(maker) == [80, 96]
    maker.key(Qt.Key.Key_Up, ALT)
    assert strips(maker) == [96, 80]
    maker.key(Qt.Key.Key_Up, ALT)
    assert maker.steps == 2


def test_alt_up_moves_the_selected_rip_earlier_and_keeps_it_selected(maker):
    """Cut 2 becomes cut 1 and stays selected; nothing comes before cut 1."""
    maker.doc.selection.select_cut(2)
    maker.key(Qt.Key.Key_Up, ALT)
    assert strips(maker) == [80, 96]
    assert maker.doc.selection.cut == 1
    maker.key(Qt.Key.Key_Up, ALT)
    assert maker.steps == 1


def action(menu, text):
    """Return the action of a menu that has this text, keys left aside."""
    every = [*menu.actions(), *(a for s in menu.actions() if s.menu() for a in s.menu().actions())]
    return next(one for one in every if one.text().split("\t")[0] == text)


def test_the_menu_of_a_part_sets_its_grain_rule(maker):
    """The rule it has is ticked; another one is set for all its copies."""
    menu = maker.view.menu_at(maker.at(*SIDE_1))
    assert action(menu, "Along length").isChecked()
    action(menu, "Either").trigger()
    assert part(maker, "side").grain_rule is GrainRule.EITHER
    maker.doc.undo_stack.undo()
    assert part(maker, "side").grain_rule is GrainRule.ALONG_LENGTH


def test_the_menu_of_a_part_turns_it_where_the_grain_allows(maker):
    """Turn is there for the shelf, and greyed for the side."""
    assert not action(maker.view.menu_at(maker.at(*SIDE_1)), "Turn").isEnabled()
    action(maker.view.menu_at(maker.at(*SHELF_1)), "Turn").trigger()
    assert maker.view.hand.document.layout.find(("shelf", 1)).turned


def test_the_menu_lets_a_part_wait(maker):
    """*Set aside* takes the part under the pointer from its sheet."""
    action(maker.view.menu_at(maker.at(*SHELF_1)), "Set aside").trigger()
    assert maker.corner("shelf", 1) is None


@pytest.mark.parametrize("place", [("1", 90, 17), ("1", 15, 17)])
def test_the_menu_of_a_strip_moves_its_rip(maker, place):
    """On a fall or a part of the second strip, earlier is there and puts it first."""
    action(maker.view.menu_at(maker.at(*place)), "Move rip earlier").trigger()
    assert strips(maker) == [80, 96]


def test_the_menu_of_a_tag_moves_its_rip(maker):
    """The right button on a rip's tag selects the cut and offers the two ways."""
    menu = maker.view.menu_at(tag_point(maker, "1", 1))
    action(menu, "Move rip later").trigger()
    assert strips(maker) == [80, 96]


def test_shift_and_arrows_move_the_selected_part_from_stop_to_stop(maker):
    """Down from 12 1/8: behind the rip at 22 1/8, then the far edge, 48 - 10 = 38; two steps."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Down, SHIFT)
    assert maker.corner("shelf", 1) == ("1", 0, inches("89/4"))
    maker.key(Qt.Key.Key_Down, SHIFT)
    assert maker.corner("shelf", 1) == ("1", 0, inches(38))
    maker.doc.undo_stack.undo()
    maker.doc.undo_stack.undo()
    assert maker.corner("shelf", 1) == ("1", 0, inches("97/8"))


def test_arrows_move_it_by_the_finest_step(maker):
    """An arrow goes 1/32 in, the finest step of the maker's units."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Down)
    assert maker.corner("shelf", 1) == ("1", 0, inches("97/8") + inches("1/32"))


def test_tab_goes_from_part_to_part_and_leaves_after_the_last(maker):
    """In reading order over the sheets; what lies on none is gone through in the tray."""
    maker.doc.selection.clear()
    seen = []
    while maker.view.twins.select_next(1):
        seen.extend(maker.doc.selection.parts)
    assert seen == [
        ("side", 1),
        ("side", 2),
        ("shelf", 1),
        ("side", 3),
        ("shelf", 2),
    ]
    assert maker.view.twins.select_next(-1)
    assert maker.doc.selection.parts == {("side", 3)}


def test_tab_is_a_key_of_the_bench(maker):
    """A real Tab key selects the first part."""
    maker.view.setFocus()
    maker.key(Qt.Key.Key_Tab)
    assert maker.doc.selection.parts == {("side", 1)}

"""A part is carried by real mouse and key events; every gesture is one step of undo."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.bubble import Bubble
from layout_app.bench.overlays import Ghost
from layout_app.document import edit_layout
from layout_app.model.sawing import saw
from shared.plan import Proof
from tests.layout_app.bench.conftest import LEFT, NONE
from tests.layout_app.bench.two_sheets import ON_1, inches

SHELF_1, SHELF_2, SIDE_1 = ("1", 15, 17), ("2", 15, 17), ("1", 10, 6)


def test_a_part_snaps_in_line_with_its_neighbour(maker):
    """Dropped at about x 39, the shelf lies exactly in line with the side at x 40 1/8."""
    maker.drag(SHELF_1, ("1", 15 + 39.4, 17))
    assert maker.corner("shelf", 1) == ("1", inches("321/8"), inches("97/8"))


def test_a_part_snaps_to_the_far_edge_of_the_sheet(maker):
    """Dropped near the end, the shelf ends exactly where the sheet ends: 96 - 30 = 66."""
    maker.drag(SHELF_1, ("1", 15 + 65.5, 17))
    assert maker.corner("shelf", 1) == ("1", inches(66), inches("97/8"))


def test_a_part_snaps_one_kerf_behind_another(maker):
    """Behind the side that ends at 40, the shelf begins at 40 1/8, along the reference edge."""
    maker.drag(("2", 15, 17), ("2", 15 + 40.5, 5))
    assert maker.corner("shelf", 2) == ("2", inches("321/8"), 0)


def test_a_drag_is_one_step_of_undo(maker):
    """Undo brings the whole layout back, and so does redo what was done."""
    before = maker.doc.layout
    maker.drag(SHELF_1, ("1", 55, 17))
    after = maker.doc.layout
    assert maker.steps == 1
    maker.doc.undo_stack.undo()
    assert maker.doc.layout == before
    maker.doc.undo_stack.redo()
    assert maker.doc.layout == after


def test_the_sheet_becomes_yours_and_is_sawn_anew(maker):
    """A moved part makes its sheet yours; the plan has the part where it was dropped."""
    maker.drag(SHELF_1, ("1", 55, 17))
    assert [sheet.yours for sheet in maker.doc.layout.sheets] == [True, False]
    lies = next(p for p in maker.doc.plan.placements if p.key == ("shelf", 1))
    assert (lies.x, lies.y) == maker.corner("shelf", 1)[1:]


def test_a_part_goes_to_another_sheet(maker):
    """Dragged to sheet 2, the shelf leaves sheet 1 and lies exactly where it snapped."""
    maker.drag(SHELF_1, ("2", 15 + 30, 17))
    assert maker.corner("shelf", 1) == ("2", inches("241/8"), inches("97/8"))
    assert len(maker.doc.layout.sheets[0].placements) == len(ON_1) - 1
    maker.doc.undo_stack.undo()
    assert maker.corner("shelf", 1) == ("1", 0, inches("97/8"))


def shelf_point(maker):
    """Return a point of the view over the waiting place."""
    return QPoint(maker.port.width() + 40, 300)


def test_a_part_dragged_to_the_waiting_place_waits(maker):
    """Let go over the waiting place, the part lies nowhere, as sent; undo brings it back."""
    maker.drag(SHELF_1, shelf_point(maker))
    waiting = {one.key: one.sent for one in maker.doc.layout.waiting}
    assert waiting == {("shelf", 1): True, ("rail", 1): False}
    assert maker.view.shelf.tokens.count() == 2
    maker.doc.undo_stack.undo()
    assert maker.corner("shelf", 1) == ("1", 0, inches("97/8"))
    assert maker.view.shelf.tokens.count() == 1


def test_a_waiting_part_is_dragged_onto_a_sheet(maker):
    """The rail, sawn 3 7/8 wide for its band, is dragged off the shelf and snaps."""
    tokens = maker.view.shelf.tokens
    start = tokens.visualItemRect(tokens.item(0)).center()
    place = maker.at("2", 40.7, 0.5)
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(place))
    QTest.mousePress(tokens.viewport(), LEFT, NONE, start)
    for step in range(1, 9):
        QTest.mouseMove(tokens.viewport(), start + (end - start) * step / 8)
    assert maker.view.hand.busy
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)
    assert maker.corner("rail", 1) == ("2", inches("321/8"), inches(0))
    assert maker.doc.layout.waiting == ()
    assert tokens.count() == 0
    maker.doc.undo_stack.undo()
    assert maker.corner("rail", 1) is None


def test_escape_cancels_a_drag(maker):
    """After Escape nothing has changed and nothing can be undone."""
    before = maker.doc.layout
    maker.drag(SHELF_1, ("1", 55, 30), drop=False)
    maker.key(Qt.Key.Key_Escape)
    assert not maker.view.hand.busy
    maker.release(maker.at("1", 55, 30))
    assert maker.doc.layout == before
    assert maker.steps == 0


def test_nothing_is_adopted_while_a_part_is_in_the_hand(maker):
    """The document knows of the gesture from its first to its last moment."""
    assert not maker.doc.gestures.under_way
    maker.drag(SHELF_1, ("1", 55, 30), drop=False)
    assert maker.doc.gestures.under_way
    maker.release(maker.at("1", 55, 30))
    assert not maker.doc.gestures.under_way


def test_a_click_selects_and_moves_nothing(maker):
    """A press without a drag selects the part."""
    maker.click(*SHELF_1)
    assert maker.doc.selection.parts == {("shelf", 1)}
    assert maker.steps == 0


def test_let_go_off_the_bench_the_part_stays(maker):
    """Below the bench, where other things of the window are, it stays; the maker is told so."""
    maker.drag(SHELF_1, QPoint(300, maker.port.height() + 40))
    assert maker.corner("shelf", 1) == ("1", 0, inches("97/8"))
    assert maker.said == ["Shelf 1 stays: it was let go off the bench."]


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (("1", 55, 17), "fits and can be cut"),
        (("1", 35, 6), "overlaps Side 1, Side 2"),
        (("1", 96.2, 30), "off the sheet"),
    ],
)
def test_the_verdict_is_said_while_the_part_is_in_the_hand(maker, place, words):
    """Beside the pointer stands at once whether the part may lie there."""
    maker.drag(SHELF_1, place, drop=False)
    assert maker.words == words
    assert maker.view.hand.interaction.verdict.good is (words == "fits and can be cut")


def test_parts_that_lock_each_other_are_named(maker):
    """Four parts round a gap, each end at another's side: no cut runs from edge to edge.

    The classical pinwheel; two sides lie along, two shelves stand across.
    """
    edit_layout.move_part(maker.doc, "shelf", 2, "2", 0, inches("97/8"), True)
    edit_layout.move_part(maker.doc, "side", 2, "2", inches("81/8"), inches("241/8"))
    maker.drag(SHELF_1, ("1", 60, 30), drop=False)
    maker.key(Qt.Key.Key_T)
    # Turned, it is held 4 7/8 in from its left and 15 in from its top: corner at 40 1/8, 0.
    maker.go(maker.at("2", 45, 15))
    assert maker.words == "no cut from edge to edge parts it from Side 3, Shelf 2, Side 2"
    maker.release(maker.at("2", 45, 15))
    sheet, x, y = maker.corner("shelf", 1)
    assert (sheet, y) == ("2", 0)
    assert x % inches("1/32") == 0
    assert abs(x - inches("321/8")) < inches("1/8")
    assert maker.doc.layout.sheets[1].tree is None
    maker.doc.undo_stack.undo()
    assert maker.doc.layout.sheets[1].tree is not None


def test_a_part_nearer_than_the_kerf_is_told(maker):
    """Carried finely by keys to 1/16 in of the side above, the shelf is too near for the saw."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Return)
    for _ in range(2):
        maker.key(Qt.Key.Key_Up)
    assert maker.words == "too near Side 1 for the kerf"


def test_a_bad_drop_is_kept_and_named(maker):
    """An overlap is kept as the maker laid it, its sheet without cuts, and can be undone."""
    maker.drag(SHELF_1, ("1", 35, 6))
    assert maker.doc.layout.sheets[0].tree is None
    item = maker.view.scene().sheet_item("1")
    troubled = {box.copy_key for box in item.drawing.boxes if box.problem}
    assert troubled == {("shelf", 1), ("side", 1), ("side", 2)}
    assert "overlap" in item.drawing.problem
    maker.doc.undo_stack.undo()
    assert maker.doc.problems == {}


def test_a_part_turns_in_the_hand(maker):
    """T during a drag turns the shelf, whose rule is either; it lies turned when dropped."""
    maker.drag(SHELF_1, ("1", 60, 22), drop=False)
    maker.key(Qt.Key.Key_T)
    maker.release(maker.at("1", 60, 22))
    lies = maker.view.hand.document.layout.find(("shelf", 1))
    assert (lies.turned, lies.length, lies.width) == (True, inches(10), inches(30))
    assert maker.steps == 1


def test_a_part_turned_against_the_grain_is_told(maker):
    """The side's grain runs along its length; turned in the hand it is against the grain."""
    maker.drag(SIDE_1, ("1", 20, 35), drop=False)
    maker.key(Qt.Key.Key_T)
    assert maker.words == "against the grain: it runs along length"


def test_enter_carries_the_selected_part_by_keys(maker):
    """Enter takes it up, Shift and arrows go from stop to stop, Enter lays it down: one step."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Return)
    maker.key(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert maker.steps == 0
    maker.key(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    maker.key(Qt.Key.Key_Return)
    assert maker.steps == 1
    # Stops of a length of 30 beside sides that end at 40 and 80 1/8: 10, then 40 1/8.
    assert maker.corner("shelf", 1) == ("1", inches("321/8"), inches("97/8"))


def test_page_down_carries_a_part_to_the_next_sheet(maker):
    """On the next sheet the part takes the first place where it fits and can be cut."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Return)
    maker.key(Qt.Key.Key_PageDown)
    assert maker.words == "fits and can be cut"
    maker.key(Qt.Key.Key_Return)
    assert maker.corner("shelf", 1) == ("2", inches("321/8"), 0)


def test_escape_lays_a_carried_part_back(maker):
    """Escape ends carrying by keys without a step."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_Return)
    maker.key(Qt.Key.Key_Right)
    maker.key(Qt.Key.Key_Escape)
    assert maker.steps == 0
    assert not maker.doc.gestures.under_way


def test_a_waiting_part_is_carried_by_keys(maker):
    """Selected on the shelf, a part is taken up with Enter and laid on the first sheet."""
    maker.doc.selection.select_parts([("rail", 1)])
    maker.key(Qt.Key.Key_Return)
    maker.key(Qt.Key.Key_PageDown)
    maker.key(Qt.Key.Key_Return)
    assert maker.corner("rail", 1) == ("1", inches("241/8"), inches("97/8"))


def test_the_bench_scrolls_on_while_a_part_is_held_at_its_edge(maker, qtbot):
    """Held at the lower edge, the part is carried over sheets that were out of sight."""
    maker.view.resize(900, 360)
    point = QPoint(300, maker.port.height() - 3)
    maker.drag(SHELF_1, point, drop=False)
    bar = maker.view.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.value() == bar.maximum())
    maker.key(Qt.Key.Key_Escape)
    assert maker.steps == 0


def test_a_drag_leaves_no_timer_behind(maker):
    """After ten drags the hand has as many timers as before."""
    QApplication.processEvents()
    before = len(maker.view.hand.findChildren(QTimer))
    for _ in range(10):
        maker.drag(("1", 10, 6), ("1", 11, 30), drop=False)
        maker.key(Qt.Key.Key_Escape)
        maker.release(maker.at("1", 11, 30))
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert len(maker.view.hand.findChildren(QTimer)) == before


def test_an_order_found_after_the_press_does_not_end_the_drag(maker):
    """What is adopted between press and first move is held back until the part is let go."""
    found = replace(maker.doc.project.layout, least_s=0)
    better = saw(replace(maker.doc.project, layout=found))
    start, end = maker.at("1", 15, 17), maker.at("1", 15 + 39.4, 17)
    maker.press(start)
    assert maker.doc.adopt_order(better)
    maker.doc.adopt(better)
    assert maker.view.hand.pressed
    maker._pointer = start
    maker.go(end)
    assert maker.view.hand.busy
    maker.release(end)
    assert maker.steps == 1
    assert not maker.doc.gestures.pressed


def test_what_came_while_a_button_was_held_is_shown_after_a_click(maker, qtbot):
    """A click without a drag lets the plan in that came meanwhile."""
    better = saw(replace(maker.doc.project, proof=Proof(bound=7)))
    maker.press(maker.at("1", 15, 17))
    maker.doc.adopt(better)
    assert maker.doc.project.proof != better.project.proof
    maker.release(maker.at("1", 15, 17))
    qtbot.waitUntil(lambda: maker.doc.project.proof.bound == 7)


def bubbles(maker):
    """Return what the bubbles on the bench say."""
    return [one.words for one in maker.view.bench.items() if isinstance(one, Bubble)]


def ghosts(maker):
    """Return where ghosts lie in the scene."""
    items = maker.view.bench.items()
    return [one.boundingRect() for one in items if isinstance(one, Ghost)]


def test_what_keys_take_up_is_seen_before_it_moves(maker):
    """The verdict stands there at once, and the part where it lies."""
    maker.doc.selection.select_parts([("shelf", 1)])
    maker.key(Qt.Key.Key_Return)
    (words,) = bubbles(maker)
    assert words.endswith("Shelf 1")
    (ghost,) = ghosts(maker)
    assert ghost.intersects(maker.view.bench.rects_of([("shelf", 1)])[0])


def test_a_waiting_part_that_keys_take_up_is_said_to_be_in_the_hand(maker):
    """It lies nowhere yet: there are words in sight, and no part in a corner of the bench."""
    maker.doc.selection.select_parts([("rail", 1)])
    maker.key(Qt.Key.Key_Return)
    (words,) = bubbles(maker)
    assert words == "stays in the tray Rail"
    (bubble,) = (one for one in maker.view.bench.items() if isinstance(one, Bubble))
    assert maker.view.sight.contains(bubble.covers(maker.view.scale_px).center())
    assert all(ghost.isEmpty() for ghost in ghosts(maker))
    maker.key(Qt.Key.Key_Right)
    assert maker.view.hand.interaction.held.sheet == "1"


@pytest.mark.parametrize("key", [Qt.Key.Key_W, Qt.Key.Key_Delete])
def test_a_part_is_taken_off_its_sheet_with_a_key(maker, key):
    """It waits and is not lost, as one step, whichever of the two keys is pressed."""
    before = maker.doc.job
    maker.doc.selection.select_parts([("shelf", 1)])
    maker.key(key)
    assert maker.corner("shelf", 1) is None
    assert maker.doc.undo_stack.undoText() == "set Shelf 1 aside"
    assert maker.doc.job == before
    assert maker.steps == 1

"""An edge moved over a neighbour: all stay where they lie, and what letting go means is said.

As with a part dropped over a neighbour, the sheet is the maker's and can't be cut yet.
"""

from PySide6.QtCore import Qt

from layout_app.document import close_up, edit_layout, edit_parts
from layout_app.model.words.left_words import where_words
from tests.layout_app.bench.two_sheets import inches
from tests.layout_app.doing import SHELF_1, SIDE_1, SIDE_2

Key, SHIFT = Qt.Key, Qt.KeyboardModifier.ShiftModifier
SIDE_3 = ("side", 3)
SHELVES = (SHELF_1, ("shelf", 2))


def lying(maker, *copies):
    """Return the corners of copies, with their sheets."""
    return [maker.corner(*copy) for copy in copies]


def bubble(maker):
    """Return what is said at the edge in the hand."""
    return maker.view.hand.interaction._bubble.words


def drag_over(maker, *, drop=True):
    """Make side 1 some 50 long with the mouse, over side 2, which begins at 40 1/8."""
    maker.doc.selection.select_parts([SIDE_1])
    goal = maker.at("1", 50, 6)
    maker.drag(("1", 40, 6), goal, drop=drop)
    return goal


def test_an_edge_dropped_over_a_neighbour_moves_nothing(maker):
    """Sides some 50 long overlap on sheet 1, lie alone on sheet 2: one step, taken back exactly."""
    before = maker.doc.project
    lay = lying(maker, SIDE_1, SIDE_2, SIDE_3, *SHELVES)
    drag_over(maker)
    assert lying(maker, SIDE_1, SIDE_2, SIDE_3, *SHELVES) == lay
    assert maker.doc.job.part("side").length > inches(49)
    sheet = maker.doc.layout.sheet("1")
    assert (sheet.yours, sheet.tree) == (True, None)
    assert list(maker.doc.problems) == ["1"]
    assert sheet.known_cuts is not None  # the drawing of what could be cut last is kept
    assert maker.steps == 1
    assert not maker.said
    maker.doc.undo()
    assert maker.doc.project == before


def test_keys_keep_all_where_it_lies_too(maker):
    """E, and stops to the right until the far edge is beyond where side 2 begins."""
    lay = lying(maker, SIDE_1, SIDE_2, SHELF_1)
    maker.doc.selection.select_parts([SIDE_1])
    maker.view.setFocus()
    maker.key(Key.Key_E)
    while maker.view.hand.interaction.rect.right <= inches("321/8"):
        maker.key(Key.Key_Right, SHIFT)
    maker.key(Key.Key_Return)
    assert lying(maker, SIDE_1, SIDE_2, SHELF_1) == lay
    assert list(maker.doc.problems) == ["1"]


def test_what_overlaps_is_parted_by_closing_up(maker):
    """Sides 45 long fit beside each other in 96: pushed apart, the sheet can be cut again."""
    edit_parts.resize_part(maker.doc, "side", inches(45), inches(12), copy=1)
    assert list(maker.doc.problems) == ["1"]
    assert close_up.close_up(maker.doc, "1")
    assert maker.doc.problems == {}
    assert maker.corner(*SIDE_2) == ("1", inches("361/8"), 0)


def test_all_stays_where_pushing_makes_no_room(maker):
    """Two of 60 and a kerf are more than 96: with what lies behind to be pushed, it stays so."""
    lay = lying(maker, SIDE_1, SIDE_2, SHELF_1)
    edit_parts.resize_part(maker.doc, "side", inches(60), inches(12), copy=1, push=True)
    assert lying(maker, SIDE_1, SIDE_2, SHELF_1) == lay
    assert list(maker.doc.problems) == ["1"]


def test_what_letting_go_means_is_said_while_dragging(maker):
    """The words tell that all stay; they come true."""
    goal = drag_over(maker, drop=False)
    assert "all of sheet 1 stay where they lie: it can't be cut yet" in bubble(maker)
    maker.release(goal)
    assert list(maker.doc.problems) == ["1"]


def test_what_no_longer_fits_another_sheet_by_hand_is_named(maker, qtbot):
    """On sheet 2, laid out by hand, a shelf begins 12 1/8 down: sides of 14 have no room there."""
    edit_layout.move_part(maker.doc, "shelf", 2, "2", inches(1), inches("97/8"))
    maker.doc.selection.select_parts([SIDE_1])
    goal = maker.at("1", 20, 14)
    maker.drag(("1", 20, 12), goal, drop=False)
    qtbot.waitUntil(lambda: "Side 3" in bubble(maker))
    assert "Side 3 leaves sheet 2, to be planned anew" in bubble(maker)
    maker.release(goal)
    assert maker.corner(*SIDE_1) == ("1", 0, 0)
    assert maker.corner(*SIDE_3) is None
    assert maker.said == ["Side 3 no longer fits where it lay: it is planned anew."]


def test_a_size_for_which_no_sheet_is_large_enough_is_not_taken(maker):
    """Drawn below the sheet a side would be wider than 48: it stays as it was, and that is said."""
    before = maker.doc.project
    assert not edit_parts.resize_part(maker.doc, "side", inches(40), inches(50), copy=1)
    assert maker.doc.project == before
    assert maker.said[-1].startswith("Not resized: Side")


def test_where_it_was_planned_is_told_as_it_is(maker):
    """By the sheets, and what lies nowhere."""
    layout = maker.doc.layout
    said = where_words(maker.doc.job, layout, [SIDE_3, ("rail", 1)])
    assert said == (
        "Rail is not placed: it no longer fits where it lay."
        " Side 3 moved to sheet 2: it no longer fits where it lay."
    )

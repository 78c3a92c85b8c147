"""The tray: any number is taken off it and put back, by pointer and by keys."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from layout_app.bench.shelf import THIN_PX, TrayGhost
from layout_app.bench.slips import CHOOSER_PX
from layout_app.bench.tokens import STACK, TAKEN
from layout_app.bench.tray_menu import tray_menu
from layout_app.document import edit_layout
from layout_app.model.carried import called
from layout_app.model.off_sheets import stacks
from shared.plan import ASIDE, Unplaced
from tests.layout_app.bench.two_sheets import JOB, document, inches

RAIL, SHELF_1, SHELF_2 = ("rail", 1), ("shelf", 1), ("shelf", 2)
SIDES = [("side", 1), ("side", 2), ("side", 3)]
LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def row_of(maker, part):
    """Return the row of the token of a part."""
    tokens = maker.view.shelf.tokens
    rows = range(tokens.count())
    return next(row for row in rows if tokens.item(row).data(STACK).part.id == part)


def slip_of(maker, part):
    """Return where the token of a part is."""
    tokens = maker.view.shelf.tokens
    return tokens.visualItemRect(tokens.item(row_of(maker, part)))


def press_button(maker, part, *, more):
    """Click on a button of a token: one more, or one fewer."""
    slip, half = slip_of(maker, part), CHOOSER_PX // 2
    corner = slip.bottomRight() - QPoint(half, half) if more else slip.bottomLeft()
    at = corner if more else corner + QPoint(half, -half)
    QTest.mouseClick(maker.view.shelf.tokens.viewport(), LEFT, NONE, at)


def ghost_of(maker):
    """Return what shows over the tray what is in the hand."""
    return maker.view.shelf.findChild(TrayGhost)


def over_tray(maker):
    """Return a point of the view over the tray."""
    return QPoint(maker.view.shelf.x() - maker.port.x() + THIN_PX // 2, 300)


def test_a_slip_says_how_many_are_set_aside_and_how_many_not_placed():
    """Two of three sides are set aside, one has no place, for a reason; of set aside none is."""
    doc = document()
    edit_layout.set_aside(doc, SIDES)
    edit_layout.put_back(doc, SIDES[2:])
    need = "needs one more sheet of birch ply: those at hand are used up"
    known = Unplaced(part="side", copies=1, need=need), Unplaced(part="rail", copies=1, need=ASIDE)
    side, rail = stacks(doc.job, doc.layout, known)
    assert (side.number, side.reason) == ("2 set aside, 1 not placed", need)
    assert (rail.number, rail.reason) == ("1 not placed", "")


def test_the_buttons_of_a_slip_say_how_many_are_selected(maker):
    """More stops at all of them, fewer at one; a part alone has no buttons."""
    edit_layout.set_aside(maker.doc, SIDES)
    for more, number in ((True, 2), (True, 3), (True, 3), (False, 2)):
        press_button(maker, "side", more=more)
        assert maker.doc.selection.parts == set(SIDES[:number])
    press_button(maker, "rail", more=True)
    assert maker.doc.selection.parts == {RAIL}


def test_keys_take_more_or_fewer_and_carry_them(maker):
    """Plus, minus and asterisk; Return takes them up, and the arrows then are the bench's."""
    edit_layout.set_aside(maker.doc, SIDES)
    tokens = maker.view.shelf.tokens
    tokens.setFocus()
    tokens.setCurrentRow(row_of(maker, "side"))
    for key, number in (
        (Qt.Key.Key_Plus, 2),
        (Qt.Key.Key_Minus, 1),
        (Qt.Key.Key_Asterisk, 3),
        (Qt.Key.Key_Minus, 2),
    ):
        QTest.keyClick(tokens, key)
        assert maker.doc.selection.parts == set(SIDES[:number])
    QTest.keyClick(tokens, Qt.Key.Key_Return)
    assert maker.view.hasFocus()
    assert maker.view.hand.interaction.taken.keys == tuple(SIDES[:2])
    maker.key(Qt.Key.Key_PageDown)
    maker.key(Qt.Key.Key_Return)
    assert [maker.corner(*key) is None for key in SIDES] == [False, False, True]
    assert maker.doc.undo_stack.undoText() == "move 2 parts"


def test_several_tokens_go_together_with_their_numbers(maker):
    """Two sides and the rail are dragged off at once, and stay selected after the drop."""
    edit_layout.set_aside(maker.doc, SIDES)
    press_button(maker, "side", more=True)
    tokens = maker.view.shelf.tokens
    control = Qt.KeyboardModifier.ControlModifier
    at = slip_of(maker, "rail").topLeft() + QPoint(20, 12)
    QTest.mouseClick(tokens.viewport(), LEFT, control, at)
    assert maker.doc.selection.parts == {RAIL, *SIDES[:2]}
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(maker.at("2", 2, 25)))
    QTest.mousePress(tokens.viewport(), LEFT, NONE, at)
    QTest.mouseMove(tokens.viewport(), at - QPoint(30, 0))
    QTest.mouseMove(tokens.viewport(), end)
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)
    assert all(maker.corner(*key)[0] == "2" for key in (RAIL, *SIDES[:2]))
    assert maker.doc.selection.parts == {RAIL, *SIDES[:2]}


def test_what_is_put_back_are_those_that_are_taken(maker):
    """Shift+W puts back as many as the slip says; all go back with the button, as one step."""
    edit_layout.set_aside(maker.doc, SIDES)
    press_button(maker, "side", more=True)
    maker.view.twins.put_back()
    assert maker.view.shelf.aside == SIDES[2:]
    before = maker.steps
    QTest.mouseClick(maker.view.shelf.back, LEFT)
    assert maker.view.shelf.aside == []
    assert maker.steps == before + 1
    assert not maker.view.shelf.back.isVisible()


def test_a_part_no_plan_has_placed_can_be_set_aside(maker):
    """W in the tray leaves it aside: planning looks for no place for it any more."""
    maker.doc.selection.select_parts([RAIL])
    tokens = maker.view.shelf.tokens
    tokens.setFocus()
    QTest.keyClick(tokens, Qt.Key.Key_W)
    assert maker.view.shelf.aside == [RAIL]
    assert maker.doc.undo_stack.undoText() == "set Rail aside"


@pytest.mark.parametrize("key", [None, Qt.Key.Key_W])
def test_what_is_in_the_hand_is_seen_over_the_tray(maker, key):
    """By pointer and by keys a slip over the tray says what it is and that it will be set aside."""
    if key is None:
        maker.drag(("1", 15, 17), over_tray(maker), drop=False)
    else:
        maker.doc.selection.select_parts([SHELF_1])
        maker.key(Qt.Key.Key_Return)
        maker.key(key)
    ghost = ghost_of(maker)
    assert ghost.isVisible()
    assert maker.view.shelf.rect().contains(ghost.geometry())
    assert (ghost.lines.name, ghost.lines.number) == ("Shelf 1", "will be set aside")
    maker.key(Qt.Key.Key_Escape)
    assert not ghost.isVisible()
    assert maker.corner(*SHELF_1) is not None


def test_an_empty_tray_is_an_edge_that_opens_for_a_drag(maker):
    """Wide for the pointer while that is over it, over the sheets, which stay as they are."""
    edit_layout.move_part(maker.doc, *RAIL, "2", inches(50), inches(30))
    shelf = maker.view.shelf
    shelf._settling.timeout.emit()
    assert shelf.width() == THIN_PX
    assert not shelf.tokens.isVisible()
    port = maker.port.geometry()
    maker.drag(("1", 15, 17), over_tray(maker), drop=False)
    assert shelf.width() > 100
    assert maker.port.geometry() == port
    maker.go(maker.at("1", 15, 17))
    assert shelf.width() == THIN_PX
    maker.go(over_tray(maker))
    maker.release(over_tray(maker))
    assert shelf.aside == [SHELF_1]
    assert shelf.width() > 100
    assert shelf.tokens.isVisible()


def test_the_menu_of_the_tray_offers_what_can_be_done(maker):
    """Of the tokens that are selected; of an empty choice only what needs none."""
    edit_layout.set_aside(maker.doc, SIDES)
    press_button(maker, "side", more=True)

    def enabled():
        menu = tray_menu(maker.view.shelf, maker.view.twins, maker.view)
        rows = [one for one in menu.actions() if one.text() and one.isEnabled()]
        return [one.text().split("\t")[0] for one in rows]

    assert enabled() == [
        "Carry with the arrow keys",
        "Take one more",
        "Take one fewer",
        "Take all of it",
        "Select all that is here",
        "Put back",
        "Put all back",
    ]
    maker.doc.selection.clear()
    assert enabled() == ["Select all that is here", "Put all back"]


def test_the_keys_do_not_fall_out_of_a_tray_that_empties(maker):
    """From the button to the list, while something is there; from an edge to the bench."""
    edit_layout.set_aside(maker.doc, [SHELF_1])
    shelf = maker.view.shelf
    shelf.back.setFocus()
    QTest.keyClick(shelf.back, Qt.Key.Key_Space)
    assert shelf.tokens.hasFocus()
    for key, y in ((RAIL, 30), (SHELF_1, 35)):
        edit_layout.move_part(maker.doc, *key, "2", inches(50), inches(y))
    shelf._settling.timeout.emit()
    assert maker.view.hasFocus()


def test_tab_goes_on_where_a_part_was_set_aside(maker):
    """The part after it is next, or the one before it; nobody has to begin anew."""
    order = []
    for _ in range(3):
        maker.view.twins.select_next(1)
        order.append(maker.view.twins.only)
    maker.doc.selection.select_parts([order[1]])
    maker.key(Qt.Key.Key_W)
    assert maker.view.twins.only == order[1]
    maker.view.twins.select_next(1)
    assert maker.view.twins.only == order[2]
    maker.key(Qt.Key.Key_W)
    maker.view.twins.select_next(-1)
    assert maker.view.twins.only == order[0]
    assert not maker.view.twins.select_next(-1)


def test_all_in_the_tray_is_selected_at_once(maker):
    """Every copy of every token, as their slips say."""
    edit_layout.set_aside(maker.doc, SIDES)
    tokens = maker.view.shelf.tokens
    tokens.select_every()
    assert maker.doc.selection.parts == {RAIL, *SIDES}
    assert tokens.item(row_of(maker, "side")).data(TAKEN) == 3


def test_many_copies_are_taken_up_in_rows_that_fit_a_sheet():
    """Three sides of 40 on a sheet of 96: two in a row and one below, a kerf between them.

    By hand: 40 + 1/8 + 40 is 80 1/8, and one more would be 120 1/4; turned, 12 + 1/8 + 12 + 1/8
    + 12 is 36 1/4, one row.
    """
    flat = called(JOB, SIDES)
    assert [(one.dx, one.dy) for one in flat.pieces] == [
        (0, 0),
        (inches(40) + inches("1/8"), 0),
        (0, inches(12) + inches("1/8")),
    ]
    assert [(one.dx, one.dy) for one in flat.flipped().pieces] == [
        (0, 0),
        (inches(12) + inches("1/8"), 0),
        (2 * (inches(12) + inches("1/8")), 0),
    ]

"""The waiting place: what is selected there is what is selected everywhere."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from layout_app.bench.tokens import STACK
from layout_app.document import edit_layout, edit_parts
from tests.layout_app.bench.two_sheets import inches

RAIL, SHELF_1, SIDE_1 = ("rail", 1), ("shelf", 1), ("side", 1)
LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def marked(maker):
    """Return the parts whose tokens are marked as selected."""
    return [item.data(STACK).part.id for item in maker.view.shelf.tokens.selectedItems()]


def click_token(maker, row):
    """Click on a token."""
    tokens = maker.view.shelf.tokens
    at = tokens.visualItemRect(tokens.item(row)).center()
    QTest.mouseClick(tokens.viewport(), LEFT, NONE, at)


def test_a_token_is_marked_only_while_its_part_is_selected(maker):
    """A part selected on a sheet takes the mark from the token; a click gives it back."""
    click_token(maker, 0)
    assert (marked(maker), maker.doc.selection.parts) == (["rail"], {RAIL})
    maker.click("1", 20, 6)
    assert (marked(maker), maker.doc.selection.parts) == ([], {SIDE_1})
    click_token(maker, 0)
    assert (marked(maker), maker.doc.selection.parts) == (["rail"], {RAIL})
    maker.key(Qt.Key.Key_Escape)
    assert marked(maker) == []


def test_a_waiting_part_selected_elsewhere_is_marked(maker):
    """The table or an undo selects a waiting copy: its token shows it; one on a sheet has none."""
    maker.doc.selection.select_parts([RAIL, SIDE_1])
    assert marked(maker) == ["rail"]


def test_arrow_keys_select_tokens(maker):
    """Whoever goes through the tokens with keys selects their parts."""
    edit_layout.set_aside(maker.doc, [SHELF_1])
    tokens = maker.view.shelf.tokens
    order = [tokens.item(row).data(STACK).part.id for row in range(tokens.count())]
    click_token(maker, 0)
    QTest.keyClick(tokens, Qt.Key.Key_Down)
    assert marked(maker) == order[1:]
    assert {part for part, _ in maker.doc.selection.parts} == set(order[1:])


def test_the_mark_and_the_place_stay_when_something_else_changes(maker):
    """A step on a sheet lists the waiting parts anew: the same is marked, nothing scrolls."""
    keys = [SIDE_1, ("side", 2), ("side", 3), SHELF_1, ("shelf", 2)]
    edit_layout.set_aside(maker.doc, keys)
    maker.view.resize(maker.view.width(), 160)
    tokens = maker.view.shelf.tokens
    click_token(maker, 0)
    bar = tokens.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    before = bar.value(), marked(maker)
    edit_parts.resize_part(maker.doc, "rail", inches(21), inches(4))
    assert (bar.value(), marked(maker)) == before

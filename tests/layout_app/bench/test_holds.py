"""Holding on the bench by key, menu and mouse."""

import pytest
from PySide6.QtCore import Qt

from layout_app.bench.interaction import HeldFast
from layout_app.bench.keys_and_menus import part_menu
from shared.layout import Scope

SHIFT = Qt.KeyboardModifier.ShiftModifier
SHELF_1, SIDE_1 = ("1", 15, 17), ("1", 10, 6)


def scopes(maker):
    """Return what is held."""
    return [hold.scope for hold in maker.doc.held.in_force]


def test_h_holds_the_selected_part_and_releases_it(maker):
    """Two presses are two steps of undo; nothing has moved."""
    before = maker.doc.layout.sheets
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_L)
    assert scopes(maker) == [Scope.PART]
    maker.key(Qt.Key.Key_L)
    assert scopes(maker) == []
    assert maker.steps == 2
    assert maker.doc.layout.sheets == before


def test_shift_h_holds_the_strip(maker):
    """The strip of the selected part, with the other side in it."""
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_L, SHIFT)
    assert scopes(maker) == [Scope.STRIP]
    assert maker.doc.held.holders(("side", 2))


def test_a_held_part_cannot_be_dragged(maker):
    """It stays, and the sentence stands at the pointer while the button is down."""
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_L)
    before = maker.corner("side", 1)
    maker.drag(SIDE_1, ("1", 20, 35), drop=False)
    assert isinstance(maker.view.hand.interaction, HeldFast)
    maker.release(maker.at("1", 20, 35))
    assert maker.corner("side", 1) == before
    assert maker.said == ["Side 1 is locked: unlock it first (L)."]
    assert maker.steps == 1


@pytest.mark.parametrize("key", ["Return", "Right", "W", "T"])
def test_no_key_moves_a_held_part(maker, key):
    """Arrow, carry, wait and turn say why not."""
    maker.click(*SHELF_1)
    maker.key(Qt.Key.Key_L)
    before = maker.corner("shelf", 1)
    maker.key(getattr(Qt.Key, f"Key_{key}"))
    assert maker.corner("shelf", 1) == before
    assert not maker.view.hand.busy
    assert maker.said == ["Shelf 1 is locked: unlock it first (L)."]


def test_a_part_in_the_hand_may_not_go_where_something_is_held(maker):
    """The words at the pointer say so before it is let go."""
    maker.click(*SIDE_1)
    maker.key(Qt.Key.Key_L, SHIFT)
    maker.drag(SHELF_1, ("1", 70, 8), drop=False)
    assert "locked" in maker.words
    maker.key(Qt.Key.Key_Escape)


def test_the_menu_of_a_part_holds_and_releases(maker):
    """What is held is ticked, and Release is there once something is."""
    maker.click(*SIDE_1)
    menu = part_menu(maker.view.hand, maker.view.twins, ("side", 1), maker.view)
    found = {action.text().split("\t")[0]: action for action in menu.actions()}
    assert not found["Unlock"].isEnabled()
    found["Lock strip"].trigger()
    again = part_menu(maker.view.hand, maker.view.twins, ("side", 1), maker.view)
    now = {action.text().split("\t")[0]: action for action in again.actions()}
    assert [name for name in found if now[name].isChecked()] == ["Lock strip"]
    now["Unlock"].trigger()
    assert scopes(maker) == []

"""Edges moved with keys: by the finest step and to stops, far and near, kept or left."""

from PySide6.QtCore import Qt

from layout_app.document import edit_locks
from shared.layout import Scope
from tests.layout_app.bench.two_sheets import inches

Key, SHIFT = Qt.Key, Qt.KeyboardModifier.ShiftModifier
SHELF_1 = ("shelf", 1)


def press(maker, *keys):
    """Select the first shelf, and press keys; those with a true second part with Shift."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.view.setFocus()
    for key, *held in keys:
        maker.key(key, SHIFT if held else Qt.KeyboardModifier.NoModifier)


def size(maker):
    """Return L and W of the shelves."""
    part = maker.doc.job.part("shelf")
    return part.length, part.width


def test_arrows_move_the_far_edges_as_one_step(maker):
    """Twice to the right, once up: 1/32 in each; one step, taken back at once."""
    before = maker.doc.project
    press(maker, (Key.Key_E,), (Key.Key_Right,), (Key.Key_Right,), (Key.Key_Up,))
    assert maker.steps == 0
    maker.key(Key.Key_Return)
    assert size(maker) == (inches("481/16"), inches("319/32"))
    assert maker.steps == 1
    maker.doc.undo()
    assert maker.doc.project == before


def test_shift_goes_to_the_next_stop(maker):
    """To the right: as long as a side, 40 in; the end of the side above lies there, too."""
    press(maker, (Key.Key_E,), (Key.Key_Right, True), (Key.Key_Return,))
    assert size(maker) == (inches(40), inches(10))


def test_e_takes_the_near_edges(maker):
    """The top edge goes down 1/32 in: the part is narrower, and begins there."""
    press(maker, (Key.Key_E,), (Key.Key_E,), (Key.Key_Down,), (Key.Key_Return,))
    assert size(maker) == (inches(30), inches("319/32"))
    assert maker.corner(*SHELF_1) == ("1", 0, inches("389/32"))


def test_escape_and_a_lock_change_nothing(maker):
    """Left with Esc it is as it was; a locked part is not taken, and it is said why."""
    press(maker, (Key.Key_E,), (Key.Key_Right,), (Key.Key_Escape,))
    assert maker.steps == 0
    assert not maker.view.hand.busy
    edit_locks.hold(maker.doc, Scope.PART, [SHELF_1])
    press(maker, (Key.Key_E,))
    assert not maker.view.hand.busy
    assert "locked" in maker.said[-1]

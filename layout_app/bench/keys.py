"""Which key does what on the bench when no gesture is under way."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from layout_app.model.snapping import Way
from shared.layout import Scope

if TYPE_CHECKING:
    from layout_app.bench.view import BenchView

Key = Qt.Key
Modifier = Qt.KeyboardModifier
ARROWS = {
    Key.Key_Left: (Way.X, False),
    Key.Key_Right: (Way.X, True),
    Key.Key_Up: (Way.Y, False),
    Key.Key_Down: (Way.Y, True),
}


def act_on(bench: "BenchView", key: Key, modifiers: Modifier) -> bool:
    """Do what a key asks for; say whether it was one of the bench's."""
    modifiers &= ~Modifier.KeypadModifier
    if key in ARROWS:
        return _arrow(bench, key, modifiers)
    if modifiers & (Modifier.ControlModifier | Modifier.AltModifier):
        return False
    shifted = bool(modifiers & Modifier.ShiftModifier)
    if key == Key.Key_H:
        return bench.twins.hold(Scope.STRIP if shifted else Scope.PART)
    do = _letters(bench).get(key)
    if do is None:
        return False
    do()
    return True


def _letters(bench: "BenchView") -> dict[Key, Callable[[], object]]:
    twins = bench.twins
    return {
        Key.Key_T: twins.turn,
        Key.Key_G: twins.cycle_grain,
        Key.Key_S: twins.swap,
        Key.Key_C: twins.close_up,
        Key.Key_W: twins.let_wait,
        Key.Key_Delete: twins.let_wait,
        Key.Key_Return: twins.carry,
        Key.Key_Enter: twins.carry,
        Key.Key_Escape: bench.hand.document.selection.clear,
        Key.Key_Plus: partial(bench.zoom, 1.2),
        Key.Key_Equal: partial(bench.zoom, 1.2),
        Key.Key_Minus: partial(bench.zoom, 1 / 1.2),
        Key.Key_0: bench.fit_width,
        Key.Key_9: bench.fit_all,
        Key.Key_Z: bench.zoom_to_selection,
    }


def _arrow(bench: "BenchView", key: Key, modifiers: Modifier) -> bool:
    """Move a rip with Alt, resize with Alt and Shift, else move the part: finely with Shift.

    With Control and Shift the edge nearer the reference corner moves the way of the arrow.
    """
    way, onward = ARROWS[key]
    fine = bool(modifiers & Modifier.ShiftModifier)
    if modifiers & Modifier.ControlModifier:
        near = modifiers == Modifier.ControlModifier | Modifier.ShiftModifier
        return near and bench.twins.resize(way, larger=not onward, near=True)
    if modifiers & Modifier.AltModifier:
        return (
            bench.twins.resize(way, larger=onward)
            if fine
            else bench.twins.move_rip(1 if onward else -1)
        )
    return bench.twins.nudge(way, onward=onward, fine=fine)

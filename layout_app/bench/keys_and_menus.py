"""The keys and the menus of the right button on the bench, both made of the same twins."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QMenu, QWidget

from layout_app.bench.hand import Hand
from layout_app.bench.interaction import ARROWS
from layout_app.bench.paper_view import PaperView
from layout_app.bench.twins import Twins
from layout_app.document import close_up, edit_layout, edit_locks, edit_parts
from layout_app.model import layout_edits
from layout_app.model.locks import KEYS, is_held, on
from shared.layout import Scope
from shared.parts import Copy, GrainRule

Key = Qt.Key
Modifier = Qt.KeyboardModifier


def act_on(view: PaperView, twins: Twins, key: Key, modifiers: Modifier) -> bool:
    """Do what a key asks for when no gesture is under way; say whether it was the bench's."""
    modifiers &= ~Modifier.KeypadModifier
    if key in ARROWS:
        return _arrow(twins, key, modifiers)
    if modifiers & (Modifier.ControlModifier | Modifier.AltModifier):
        return False
    shifted = bool(modifiers & Modifier.ShiftModifier)
    if key == Key.Key_L:
        return twins.hold(Scope.STRIP if shifted else Scope.PART)
    do = _letters(view, twins).get(key)
    if do is None:
        return False
    do()
    return True


def _letters(view: PaperView, twins: Twins) -> dict[Key, Callable[[], object]]:
    return {
        Key.Key_T: twins.turn,
        Key.Key_G: twins.cycle_grain,
        Key.Key_S: twins.swap,
        Key.Key_C: twins.close_up,
        Key.Key_R: twins.repair,
        Key.Key_W: twins.set_aside,
        Key.Key_Delete: twins.set_aside,
        Key.Key_E: twins.take_edges,
        Key.Key_Return: twins.carry,
        Key.Key_Enter: twins.carry,
        Key.Key_Escape: twins.leave,
        Key.Key_Plus: partial(view.zoom, 1.2),
        Key.Key_Equal: partial(view.zoom, 1.2),
        Key.Key_Minus: partial(view.zoom, 1 / 1.2),
        Key.Key_0: view.fit_width,
        Key.Key_9: view.fit_all,
        Key.Key_Z: view.zoom_to_selection,
    }


def _arrow(twins: Twins, key: Key, modifiers: Modifier) -> bool:
    """Move a rip with Alt, resize with Alt and Shift, else move the part: to a stop with Shift.

    With Control and Shift the edge nearer the reference corner moves the way of the arrow.
    """
    way, onward = ARROWS[key]
    shifted = bool(modifiers & Modifier.ShiftModifier)
    if modifiers & Modifier.ControlModifier:
        near = modifiers == Modifier.ControlModifier | Modifier.ShiftModifier
        return near and twins.resize(way, larger=not onward, near=True)
    if modifiers & Modifier.AltModifier:
        return twins.resize(way, larger=onward) if shifted else twins.move_rip(1 if onward else -1)
    return twins.nudge(way, onward=onward, fine=not shifted)


def part_menu(hand: Hand, twins: Twins, copy: Copy, parent: QWidget) -> QMenu:
    """Return what can be done to a part and the strip it lies in."""
    doc, lies = hand.document, hand.document.layout.find(copy) is not None
    menu = QMenu(parent)
    turn = add_row(menu, "Turn", "T", twins.turn)
    turn.setEnabled(lies and layout_edits.may_turn(doc.job, doc.layout, copy))
    grain = menu.addMenu("Grain rule (G)")
    group = QActionGroup(grain)
    for rule in GrainRule:
        words = rule.value[0].upper() + rule.value[1:]
        action = add_row(grain, words, "", partial(twins.set_grain, rule))
        action.setCheckable(True)
        action.setChecked(doc.job.part(copy[0]).grain_rule is rule)
        group.addAction(action)
    add_row(menu, "Swap two parts", "S", twins.swap).setEnabled(len(twins.selected) == 2)
    add_row(menu, "Close up the sheet", "C", twins.close_up).setEnabled(lies)
    there = doc.layout.find(copy)
    repair = add_row(menu, "Repair the sheet", "R", twins.repair)
    repair.setEnabled(there is not None and there.sheet in hand.broken)
    add_row(menu, "Name and sizes", "F2", twins.edit)
    add_row(menu, "Duplicate", "Ctrl+D", partial(edit_parts.duplicate, doc, doc.selection.parts))
    if lies:
        add_row(menu, "Set aside", "W", twins.set_aside)
    else:
        sent = any(one.sent and one.key == copy for one in doc.layout.waiting)
        back = partial(edit_layout.put_back, doc, [copy])
        add_row(menu, "Put back", "Shift+W", back).setEnabled(sent)
    add_row(menu, "Carry with the arrow keys", "Return", twins.carry)
    add_row(menu, "Resize with the arrow keys", "E", twins.take_edges).setEnabled(lies)
    menu.addSeparator()
    _add_holds(menu, hand, twins, copy)
    if lies:
        menu.addSeparator()
        add_rip_moves(menu, twins)
    return menu


def rip_menu(twins: Twins, parent: QWidget) -> QMenu:
    """Return what can be done to the selected rip."""
    menu = QMenu(parent)
    add_rip_moves(menu, twins)
    return menu


def sheet_menu(hand: Hand, sheet: str, ground: Sequence[QAction], parent: QWidget) -> QMenu:
    """Return what can be done to a sheet, wherever nothing lies, and on the ground."""
    menu, doc = QMenu(parent), hand.document
    filled = bool(doc.layout.sheet(sheet).placements)
    add_row(menu, "Draw a part", "D", partial(hand.draw_on, sheet))
    add_row(menu, "Close up", "C", partial(close_up.close_up, doc, sheet)).setEnabled(filled)
    repair = add_row(menu, "Repair this sheet", "R", partial(hand.repair, sheet))
    repair.setEnabled(sheet in hand.broken)
    add_row(menu, "Tidy this sheet", "", partial(hand.tidied.emit, sheet)).setEnabled(filled)
    add_row(menu, "Remove sheet", "", partial(edit_layout.remove_sheet, doc, sheet))
    menu.addSeparator()
    menu.addActions(ground)
    return menu


def ground_menu(hand: Hand, ground: Sequence[QAction], parent: QWidget) -> QMenu:
    """Return what can be done where no sheet lies."""
    menu = QMenu(parent)
    draw = add_row(menu, "Draw a part", "D", hand.draw_on)
    draw.setEnabled(bool(hand.document.layout.sheets))
    menu.addActions(ground)
    return menu


def strip_menu(
    hand: Hand, sheet: str, index: int, ground: Sequence[QAction], parent: QWidget
) -> QMenu:
    """Return what can be done to a strip that holds no part at the pointer."""
    menu, doc = sheet_menu(hand, sheet, ground, parent), hand.document
    menu.addSeparator()
    last = len(hand.sheets.first_pieces(sheet)) - 1
    for text, by in (("Move rip earlier", -1), ("Move rip later", 1)):
        move = partial(edit_layout.move_rip, doc, sheet, index, index + by)
        add_row(menu, text, "", move).setEnabled(0 <= index + by <= last)
    menu.addSeparator()
    whole = [
        hold for hold in doc.held.in_force if hold.scope is Scope.SHEET and hold.sheet == sheet
    ]
    if whole:
        add_row(menu, "Unlock sheet", "", partial(edit_locks.release_holds, doc, whole))
    else:
        add_row(menu, "Lock sheet", "", partial(edit_locks.hold_sheet, doc, sheet))
    return menu


def _add_holds(menu: QMenu, hand: Hand, twins: Twins, copy: Copy) -> None:
    """Add what holds a part, its strip or its sheet, and what releases it."""
    doc = hand.document
    lies = hand.document.layout.find(copy) is not None
    for scope in Scope.PART, Scope.STRIP, Scope.SHEET:
        action = add_row(menu, f"Lock {scope}", KEYS[scope], partial(twins.hold, scope))
        action.setCheckable(True)
        action.setChecked(is_held(doc.held, scope, copy))
        action.setEnabled(lies)
    holds = on(doc.layout, doc.held, None, [copy])
    add_row(menu, "Unlock", "", twins.release).setEnabled(bool(holds))


def add_rip_moves(menu: QMenu, twins: Twins) -> None:
    """Add the two ways a rip can move."""
    add_row(menu, "Move rip earlier", "Alt+Up", partial(twins.move_rip, -1))
    add_row(menu, "Move rip later", "Alt+Down", partial(twins.move_rip, 1))


def add_row(menu: QMenu, text: str, keys: str, do: Callable[[], object]) -> QAction:
    """Add an action; its keys are only shown, they work on the bench itself."""

    def run(checked: bool = False) -> None:
        do()

    action = menu.addAction(f"{text}\t{keys}" if keys else text)
    action.triggered.connect(run)
    return action

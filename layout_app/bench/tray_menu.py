"""The menu of the tray, for its tokens and where none lies."""

from functools import partial

from PySide6.QtWidgets import QMenu, QWidget

from layout_app.bench.keys_and_menus import add_row
from layout_app.bench.shelf import PUT_ALL_BACK, Shelf
from layout_app.bench.twins import Twins


def tray_menu(shelf: Shelf, twins: Twins, parent: QWidget) -> QMenu:
    """Return what can be done to the tokens that are selected, and to the tray."""
    menu, tokens = QMenu(parent), shelf.tokens
    chosen = frozenset(twins.selected)
    here = [stack for stack in shelf.stacks if chosen.intersection(stack.copies)]
    taken = sum(len(chosen.intersection(stack.copies)) for stack in here)
    most = sum(len(stack.copies) for stack in here)
    add_row(menu, "Carry with the arrow keys", "Return", tokens.lifted.emit).setEnabled(taken > 0)
    menu.addSeparator()
    add_row(menu, "Take one more", "+", partial(tokens.take, 1)).setEnabled(taken < most)
    add_row(menu, "Take one fewer", "-", partial(tokens.take, -1)).setEnabled(taken > len(here))
    add_row(menu, "Take all of it", "*", partial(tokens.take, None)).setEnabled(taken < most)
    every = add_row(menu, "Select all that is here", "Ctrl+A", tokens.select_every)
    every.setEnabled(bool(shelf.stacks))
    menu.addSeparator()
    add_row(menu, "Set aside", "W", twins.set_aside).setEnabled(bool(twins.not_aside))
    back = add_row(menu, "Put back", "Shift+W", twins.put_back)
    back.setEnabled(not chosen.isdisjoint(shelf.aside))
    add_row(menu, PUT_ALL_BACK, "Ctrl+Shift+W", shelf.put_all_back).setEnabled(bool(shelf.aside))
    return menu

"""Menus of the right button away from the bench: tables, cards, and what waits.

They show the actions of the bar of menus that concern what is selected there; copies of parts
have the menu they have on the bench.
"""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QMenu

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

TAKE_OFF: Final = (
    *("edit.card", "edit.remove", ""),
    *("edit.part", "edit.paste"),
)
STOCK: Final = (
    *("edit.card", "bench.sheet", "edit.remove", ""),
    *("edit.sheet", "edit.paste"),
)
CUTS: Final = (
    *("cuts.tick", "cuts.walk", "cuts.mistake", ""),
    *("cuts.earlier", "cuts.later", "cuts.rip_earlier", "cuts.rip_later", "cuts.restore"),
)
"""Ids of actions; an empty one draws a line."""


def offer_menus(window: "MainWindow") -> None:
    """Let the right button and the menu key show a menu wherever something can be selected."""
    left, sequence = window.left, window.sequence
    for view, names in (
        (left.parts, TAKE_OFF),
        (left.stock, STOCK),
        (sequence.cards, CUTS),
        (sequence.table, CUTS),
    ):
        _offer(view, partial(_of_actions, window, view, names))
    for listed in (left.placements, window.bench.shelf.tokens):
        _offer(listed, partial(_of_copies, window))


def show_menu(window: "MainWindow") -> None:
    """Show the menu of what has the keys, as the menu key does."""
    view = QApplication.focusWidget()
    if view is None or not window.isAncestorOf(view):
        return
    port = view.viewport() if isinstance(view, QAbstractScrollArea) else view
    at, reason = port.rect().center(), QContextMenuEvent.Reason.Keyboard
    QApplication.sendEvent(port, QContextMenuEvent(reason, at, port.mapToGlobal(at)))


def _offer(view: QAbstractScrollArea, made: Callable[[], QMenu | None]) -> None:
    def show(at: QPoint) -> None:
        menu = made()
        if menu is not None:
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(view.viewport().mapToGlobal(at))

    view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
    view.customContextMenuRequested.connect(show)


def _of_actions(
    window: "MainWindow", view: QAbstractScrollArea, names: tuple[str, ...]
) -> QMenu | None:
    if window.document.gestures.under_way:
        return None
    menu = QMenu(view)
    for name in names:
        if name:
            menu.addAction(window.actions_by_id[name])
        else:
            menu.addSeparator()
    return menu


def _of_copies(window: "MainWindow") -> QMenu | None:
    """Return the menu of the selected copies, as on the bench; ``None`` if there are none."""
    chosen = window.document.selection.parts
    if not chosen or window.document.gestures.under_way:
        return None
    return window.bench.menu_of_keys()[1]

"""Menus of the right button away from the bench: tables and cards.

They show the actions of the bar of menus that concern what is selected there; copies of parts
have the menu they have on the bench.
"""

from collections.abc import Callable
from functools import partial
from typing import Final

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QContextMenuEvent
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QMenu, QWidget

from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.sequence_panel import SequencePanel

TAKE_OFF: Final = (
    *("edit.card", "edit.cut", "edit.copy", "edit.remove", ""),
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


def offer_menus(
    document: Document,
    actions: dict[str, QAction],
    left: LeftRegion,
    bench: BenchView,
    sequence: SequencePanel,
) -> None:
    """Let the right button and the menu key show a menu wherever something can be selected."""
    for view, names in (
        (left.parts, TAKE_OFF),
        (left.stock, STOCK),
        (sequence.cards, CUTS),
        (sequence.table, CUTS),
    ):
        _offer(
            view,
            partial(
                _of_actions, document, view, [actions[name] if name else None for name in names]
            ),
        )
    _offer(left.placements, partial(_of_copies, document, bench))


def show_menu(window: QWidget) -> None:
    """Show the menu of what has the keys in a window, as the menu key does."""
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
    document: Document, view: QAbstractScrollArea, actions: list[QAction | None]
) -> QMenu | None:
    if document.gestures.under_way:
        return None
    menu = QMenu(view)
    for action in actions:
        if action is not None:
            menu.addAction(action)
        else:
            menu.addSeparator()
    return menu


def _of_copies(document: Document, bench: BenchView) -> QMenu | None:
    """Return the menu of the selected copies, as on the bench; ``None`` if there are none."""
    if not document.selection.parts or document.gestures.under_way:
        return None
    return bench.menu_of_keys()[1]

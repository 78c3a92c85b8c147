"""How the window is put together: its regions, menus and tools, from the table of actions."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QMenu,
    QSizePolicy,
    QSplitter,
    QToolBar,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.look.window_settings import ACROSS, DOWN
from layout_app.panels.advice import HEIGHTS
from layout_app.window.actions.look_actions import RECENT_MENU
from layout_app.window.actions.row import BENCH, ActionRow
from layout_app.window.actions.table import ACTIONS
from layout_app.window.recent_menu import RecentMenu
from layout_app.window.tool_buttons import Follows

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

SIZE = (1440, 900)
LEFT_LEAST = 376
GROUND = ("bench.sheet", "bench.plan", "bench.anew", "bench.whole", "bench.all")
"""Actions that the menu of the empty ground offers."""
TOOLBAR = ("bench.plan", "bench.turn", "bench.grain", "bench.wait", "edit.undo", "edit.redo")


def arrange(window: "MainWindow") -> None:
    """Put the regions of the window in their places."""
    window.resize(*SIZE)
    window.setMinimumSize(760, 520)
    page = QWidget(window)
    page.setObjectName("page")
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    column.addWidget(window.banner)
    column.addWidget(window.bar)
    column.addWidget(_across(window), 1)
    window.setCentralWidget(page)
    window.statusBar().setSizeGripEnabled(False)
    window.statusBar().addWidget(window.status, 1)


def make_actions(window: "MainWindow", do: Callable[[], None]) -> dict[str, QAction]:
    """Put all actions into the menus and return them by their ids; each calls ``do``."""
    menus: dict[str, QMenu] = {}
    made: dict[str, QAction] = {}
    for row in ACTIONS:
        made[row.id] = _make_action(window, row, do)
        menu = _menu(window, menus, row.menu)
        menu.addAction(made[row.id])
        if row.ends_group:
            menu.addSeparator()
    return made


def make_recent_menu(window: "MainWindow") -> None:
    """Let the menu of recent projects say which they are."""
    menu = next(one for one in window.findChildren(QMenu) if one.objectName() == RECENT_MENU)
    RecentMenu(window.keeping, window.actions_by_id, menu)


def make_toolbar(window: "MainWindow") -> tuple[Label, Label]:
    """Add the bar of tools; return what says the goal and what says the units."""
    bar = QToolBar("Tools", window)
    bar.setMovable(False)
    bar.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
    names = {row.id: row.text.replace("&", "") for row in ACTIONS}
    for name in TOOLBAR:
        bar.addAction(window.actions_by_id[name])
        button = bar.widgetForAction(window.actions_by_id[name])
        if isinstance(button, QToolButton):
            button.setAccessibleName(names[name])
            Follows(button)
    bar.widgetForAction(window.actions_by_id["bench.plan"]).setObjectName("chief")
    goal, units = Cutting(parent=bar), Label(parent=bar)
    goal.setText("Least price, then least sawing")
    space = QWidget(bar)
    space.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
    for label in (goal, units):
        label.setObjectName("quiet")
    for widget in (goal, space, units):
        bar.addWidget(widget)
    window.addToolBar(bar)
    return goal, units


def _across(window: "MainWindow") -> QSplitter:
    """Return the tables beside the bench and what stands below it."""
    window.left.setMinimumWidth(LEFT_LEAST)
    right = QSplitter(Qt.Orientation.Vertical, window)
    right.setObjectName(DOWN)
    right.addWidget(window.bench)
    right.addWidget(window.advice)
    right.addWidget(_below(window))
    right.setStretchFactor(0, 1)
    right.setSizes([560, HEIGHTS[1], 290])
    right.setChildrenCollapsible(False)
    across = QSplitter(Qt.Orientation.Horizontal, window)
    across.setObjectName(ACROSS)
    across.addWidget(window.left)
    across.addWidget(right)
    across.setStretchFactor(0, 3)
    across.setStretchFactor(1, 7)
    across.setSizes([432, 1008])
    across.setChildrenCollapsible(False)
    return across


def _below(window: "MainWindow") -> QWidget:
    """Return what stands below the bench: the cut sequence, or a drawer instead."""
    below = QWidget(window)
    column = QVBoxLayout(below)
    column.setContentsMargins(0, 0, 0, 0)
    drawers = (window.choices, window.lying, window.paper)
    for drawer in drawers:
        column.addWidget(drawer)
        for other in drawers:
            if other is not drawer:
                drawer.opened.connect(other.hide)
        drawer.opened.connect(window.sequence.hide)
        drawer.closed.connect(window.sequence.show)
    column.addWidget(window.sequence)
    return below


def _make_action(window: "MainWindow", row: ActionRow, do: Callable[[], None]) -> QAction:
    action = QAction(row.text, window)
    action.setObjectName(row.id)
    action.setIconText(row.text.replace("&", "").rstrip("…"))
    action.setStatusTip(row.tip)
    action.setToolTip(f"{row.tip} ({row.shortcut})" if row.shortcut else row.tip)
    action.setData(row.id)
    action.setCheckable(row.checked is not None)
    if row.shortcut:
        action.setShortcut(QKeySequence(row.shortcut))
    if row.where == BENCH:
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        for place in (window.bench, window.left.placements):
            place.addAction(action)
    action.triggered.connect(do)
    return action


def _menu(window: "MainWindow", menus: dict[str, QMenu], path: str) -> QMenu:
    """Return a menu by its path, made when first asked for."""
    if path not in menus:
        above, _, name = path.rpartition("/")
        parent = _menu(window, menus, above) if above else window.menuBar()
        made = parent.addMenu(name)
        made.setObjectName(path)
        made.setToolTipsVisible(True)
        menus[path] = made
    return menus[path]

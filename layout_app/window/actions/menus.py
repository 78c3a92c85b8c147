"""The bar of menus: an action of Qt for each row, in step with what is shown."""

from collections.abc import Iterable
from typing import Any

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QWidget

from layout_app.document.document import Document
from layout_app.look.as_typed import in_menu, tip
from layout_app.window.actions.row import BENCH, WINDOW, ActionRow, Bound


class Menus(QObject):
    """Makes the actions, does what they do, and says when they can be used.

    To be made before all else of a window: Qt destroys it first then, so that it asks nothing of
    what is destroyed after it.

    Attributes
    ----------
    actions, rows
        Actions as Qt has them, and what is known of them, by their ids in the order of the menus.
    """

    def __init__(self, window: QMainWindow, document: Document) -> None:
        super().__init__(window)
        self._window, self._document = window, document
        self._menus: dict[tuple[str, ...], QMenu] = {}
        self.rows: dict[str, Bound[Any]] = {}
        self.actions: dict[str, QAction] = {}

    def fill(self, rows: Iterable[Bound[Any]], on_bench: tuple[QWidget, ...]) -> None:
        """Fill the bar; ``on_bench`` is where the keys of the bench work, the drawing first."""
        self.rows = {one.row.id: one for one in rows}
        self.actions = {name: self._make(one.row, on_bench) for name, one in self.rows.items()}
        for name, one in self.rows.items():
            menu = self.menu(*filter(None, (one.menu, one.row.submenu)))
            menu.addAction(self.actions[name])
            if one.row.ends_group:
                menu.addSeparator()
        document = self._document
        for signal in (
            document.undo_stack.indexChanged,
            document.selection.changed,
            document.gestures.changed,
            document.job_changed,
            document.layout_changed,
            document.progress_changed,
        ):
            signal.connect(self.refresh)

    def menu(self, *path: str) -> QMenu:
        """Return a menu by its titles from the bar on, made when first asked for."""
        if path not in self._menus:
            above = self.menu(*path[:-1]) if path[:-1] else self._window.menuBar()
            made = self._menus[path] = above.addMenu(path[-1])
            made.setToolTipsVisible(True)
        return self._menus[path]

    def refresh(self) -> None:
        """Show which actions can be used now, which have a tick, and which step undo is about."""
        gesture = self._document.gestures.under_way
        for name, action in self.actions.items():
            action.setEnabled(self.rows[name].enabled(gesture=gesture))
            action.setChecked(bool(self.rows[name].checked()))
        stack = self._document.undo_stack
        self._name_step("edit.undo", "&Undo", stack.undoText())
        self._name_step("edit.redo", "&Redo", stack.redoText())

    def _name_step(self, name: str, word: str, step: str) -> None:
        action, row = self.actions[name], self.rows[name].row
        action.setText(f"{word} {in_menu(step)}".rstrip())
        said = f"{word.replace('&', '')} {step}" if step else row.tip
        action.setToolTip(tip(f"{said} ({row.shortcut})"))

    def _make(self, row: ActionRow[Any], on_bench: tuple[QWidget, ...]) -> QAction:
        action = QAction(row.text, self._window)
        action.setObjectName(row.id)
        action.setIconText(row.text.replace("&", "").rstrip("…"))
        action.setStatusTip(row.tip)
        action.setToolTip(f"{row.tip} ({row.shortcut})" if row.shortcut else row.tip)
        action.setData(row.id)
        action.setCheckable(row.checked is not None)
        action.setShortcuts([QKeySequence(key) for key in (row.shortcut, row.also) if key])
        if row.where != WINDOW:
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            for place in on_bench if row.where == BENCH else on_bench[:1]:
                place.addAction(action)
        action.triggered.connect(self._do)
        return action

    def _do(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            row = self.rows[action.objectName()]
            row.do()
            action.setChecked(bool(row.checked()))  # Qt takes the tick of what held already away

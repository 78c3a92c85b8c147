"""Buttons of the bar of tools that show their action without holding on to it ever more.

A `QToolButton` takes over its default action anew each time the action changes. In Qt 6.11 it
connects to the action once more whenever it does, so that memory and the work of each change grow
as long as the window is open (seen with PySide6 6.11.3: one receiver of ``changed()`` more each
time). Here the button is told what changed, and nothing is taken over again.
"""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QToolButton


class Follows(QObject):
    """Shows on a button what its default action is now; lives as long as the button."""

    def __init__(self, button: QToolButton) -> None:
        super().__init__(button)
        button.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the news of a change instead of the button."""
        if event.type() != QEvent.Type.ActionChanged or not isinstance(watched, QToolButton):
            return False
        _show(watched, watched.defaultAction())
        return True


def _show(button: QToolButton, action: QAction) -> None:
    button.setText(action.iconText().replace("&", "&&"))
    button.setToolTip(action.toolTip())
    button.setCheckable(action.isCheckable())
    button.setChecked(action.isChecked())
    button.setEnabled(action.isEnabled())

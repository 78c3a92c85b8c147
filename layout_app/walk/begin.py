"""Beginning the walk from the window."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from layout_app.walk.view import Walk

if TYPE_CHECKING:
    from layout_app.main_window import MainWindow


def begin_walk(window: "MainWindow") -> None:
    """Show the walk on the whole screen; one that is open comes to the front."""
    for open_one in window.findChildren(Walk):
        open_one.raise_()
        open_one.activateWindow()
        return
    walk = Walk(window.document, dark=window.theme.is_dark, parent=window)
    walk.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    walk.left.connect(window.activateWindow)
    walk.showFullScreen()

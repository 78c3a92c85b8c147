"""Beginning the walk from the window, and coming back to it."""

from typing import TYPE_CHECKING, Final

from PySide6.QtWidgets import QWidget

from layout_app.walk.view import Walk

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

WALK: Final = "walk"
"""Name under which the walk is held."""


def begin_walk(window: "MainWindow") -> None:
    """Show the walk on the whole screen; one that is open comes to the front.

    A run of the planner ends with the best so far: what is sawn from changes under nobody's
    hands. However the walk ends, the window's next key goes to the bench, where none ticks a cut.
    """

    def make() -> Walk:
        walk = Walk(window.document, dark=window.theme.is_dark, parent=window)
        walk.left.connect(window.activateWindow)
        window.faults.told.connect(walk.stop)
        return walk

    if window.planning.running:
        window.planning.stop()
    window.bench.setFocus()
    window.beside.show(WALK, make, QWidget.showFullScreen)


def follow_walk(window: "MainWindow") -> None:
    """Leave ticks to the walk while it is open; give the keys to the bench when it is gone."""
    walking = window.beside.is_open(WALK)
    if window.sequence.walking and not walking:
        window.bench.setFocus()
    window.sequence.walking = walking

"""Keys pressed on the walk, and which cut is shown then."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from layout_app.walk.moments import (
    CutNow,
)
from layout_app.walk.view import Walk


def press(walk: Walk, key: Qt.Key) -> None:
    """Press a key once."""
    QTest.keyClick(walk, key)


def begin(walk: Walk) -> None:
    """Go on from the cautions to the first cut."""
    while not isinstance(walk.moment, CutNow):
        press(walk, Qt.Key.Key_Space)


def number(walk: Walk) -> int | None:
    """Return the number of the cut that is shown."""
    return walk.moment.card.number if isinstance(walk.moment, CutNow) else None

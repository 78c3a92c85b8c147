"""Alt does without snapping, and its release opens no menu in the midst of a gesture."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.window.main_window import MainWindow
from tests.layout_app.bench.conftest import LEFT, NONE, Maker
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.monkey import close, silent_planner

ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window with two sheets on its bench."""
    made = MainWindow(document(), planner=silent_planner())
    made.resize(1300, 900)
    made.show()
    qtbot.waitExposed(made)
    made.bench.setFocus()
    yield made
    close(made)


def alt(window: MainWindow) -> None:
    """Press Alt and let it go."""
    QTest.keyPress(window.bench, Qt.Key.Key_Alt, ALT)
    QTest.keyRelease(window.bench, Qt.Key.Key_Alt)


def menu_is_chosen(window: MainWindow) -> bool:
    """Say whether the menu bar has taken the keys."""
    return window.menuBar().activeAction() is not None


def move(window: MainWindow, at: QPointF, modifiers: Qt.KeyboardModifier) -> None:
    """Move the pointer over the bench, the left button and a key held."""
    port = window.bench.viewport()
    event = QMouseEvent(
        QEvent.Type.MouseMove, at, port.mapToGlobal(at), Qt.MouseButton.NoButton, LEFT, modifiers
    )
    QApplication.sendEvent(port, event)


def test_alt_alone_belongs_to_the_menu_bar(window: MainWindow) -> None:
    """Without a gesture it chooses the first menu, so that the next test can fail."""
    alt(window)
    assert menu_is_chosen(window)


def test_alt_in_a_gesture_does_not(window: MainWindow) -> None:
    """Pressed and let go while a part is dragged, it leaves the menu bar alone."""
    maker = Maker(window.bench, window.document)
    maker.drag(("1", 15, 17), ("1", 40, 30), drop=False)
    alt(window)
    assert not menu_is_chosen(window)
    assert window.bench.hand.busy
    maker.key(Qt.Key.Key_Escape)


def test_with_alt_a_part_lies_where_it_is_held(window: MainWindow) -> None:
    """A shelf dragged to some 3/4 in beside a line snaps to it, but not with Alt."""
    found = []
    for modifiers in (NONE, ALT):
        maker = Maker(window.bench, window.document)
        maker.drag(("1", 15, 17), ("1", 40, 30), drop=False)
        move(window, QPointF(maker.at("1", 15 + 65.5, 32)), modifiers)
        maker.release(maker.at("1", 15 + 65.5, 32))
        lies = window.document.layout.find(("shelf", 1))
        assert lies is not None
        found.append(lies.x)
        window.document.undo()
    assert found[0] == inches(66)
    assert found[1] != inches(66)
    assert abs(found[1] - inches("131/2")) < inches("1/2")

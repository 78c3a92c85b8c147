"""The buttons of the bar of tools show their actions, and hold on to them once only."""

import pytest
from PySide6.QtCore import SIGNAL
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QToolBar, QToolButton
from pytestqt.qtbot import QtBot

from layout_app.planner.process import PlannerProcess
from layout_app.window.frame import TOOLBAR, Follows
from layout_app.window.main_window import MainWindow
from tests.layout_app.small_job import document

OFTEN = 50


@pytest.fixture
def bar(qtbot: QtBot) -> QToolBar:
    """Return a bar with one action, shown."""
    made = QToolBar()
    qtbot.addWidget(made)
    made.addAction(QAction("&Turn", made))
    Follows(button_of(made))
    made.show()
    return made


def button_of(bar: QToolBar) -> QToolButton:
    """Return the first button of a bar."""
    button = bar.widgetForAction(bar.actions()[0])
    assert isinstance(button, QToolButton)
    return button


def told(action: QAction) -> int:
    """Return how many are told when an action changes."""
    return action.receivers(SIGNAL("changed()"))


def test_a_change_is_told_to_as_many_as_before(qtbot: QtBot) -> None:
    """However often actions of the window change: Qt's own buttons would be told more each time."""
    window = MainWindow(document(), planner=PlannerProcess())
    qtbot.addWidget(window)
    actions = [window.menus.actions[name] for name in TOOLBAR]
    before = [told(action) for action in actions]
    for index in range(OFTEN):
        for action in actions:
            action.setEnabled(index % 2 == 0)
    assert [told(action) for action in actions] == before


def test_a_button_shows_what_its_action_is_now(bar: QToolBar) -> None:
    """Its words, its tip, whether it can be used, whether it is down."""
    action, button = bar.actions()[0], button_of(bar)
    action.setText("Saw && &glue")
    assert button.text() == "Saw && glue"  # one ampersand as it is painted
    action.setToolTip("both")
    assert button.toolTip() == "both"
    for enabled in (False, True):
        action.setEnabled(enabled)
        assert button.isEnabled() is enabled
    action.setCheckable(True)
    for down in (True, False):
        action.setChecked(down)
        assert button.isChecked() is down


def test_a_press_does_what_the_action_does_once(bar: QToolBar) -> None:
    """Also after many changes."""
    action, done = bar.actions()[0], []
    action.triggered.connect(lambda: done.append("turned"))
    for index in range(OFTEN):
        action.setEnabled(index % 2 == 1)
    button_of(bar).click()
    assert done == ["turned"]

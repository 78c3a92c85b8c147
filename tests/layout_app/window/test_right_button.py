"""The right button and the menu key, wherever something can be selected."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QMenu
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.panels.left_region import PLACES
from layout_app.panels.sequence import STAMP
from layout_app.planner.process import PlannerProcess
from layout_app.window.main_window import MainWindow
from tests.layout_app.bench.two_sheets import document
from tests.layout_app.closing import close

RIGHT, NONE = Qt.MouseButton.RightButton, Qt.KeyboardModifier.NoModifier


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a shown window on two sheets laid by hand; its planner is never started."""
    made = MainWindow(planner=PlannerProcess())
    qtbot.addWidget(made)
    made.document.open(document().project, None)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    yield made
    close(made)


def opened(view: QAbstractScrollArea, at: QPoint) -> list[str]:
    """Return what the menu says that a right click at a place opens; it is closed again."""
    QTest.mousePress(view.viewport(), RIGHT, NONE, at)
    view.customContextMenuRequested.emit(at)
    return shown()


def opened_in_tray(window: MainWindow, at: QPoint) -> list[str]:
    """Return what the menu says that a right click at a place of the tray opens."""
    port = window.bench.shelf.tokens.viewport()
    QTest.mousePress(port, RIGHT, NONE, at)
    mouse = QContextMenuEvent.Reason.Mouse
    QApplication.sendEvent(port, QContextMenuEvent(mouse, at, port.mapToGlobal(at)))
    return shown()


def shown() -> list[str]:
    """Return what the menu that is open says, and close it."""
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    texts = [one.text().split("\t")[0].replace("&", "") for one in menu.actions() if one.text()]
    menu.close()
    return texts


def test_a_row_of_the_take_off_has_a_menu(window: MainWindow) -> None:
    """The row under the pointer is selected; it can be removed, or another typed."""
    table = window.left.parts
    rows = range(table.model().rowCount())
    rects = [table.visualRect(table.model().index(row, 0)) for row in rows]
    names = [table.model().index(row, 0).data() for row in rows]
    texts = opened(table, rects[names.index("Shelf")].center())
    assert {part for part, _ in window.document.selection.parts} == {"shelf"}
    assert {"Remove rows", "Go to the card", "Type a part"} <= set(texts)
    assert window.menus.actions["edit.remove"].isEnabled()


def test_a_card_has_a_menu_and_the_right_button_ticks_nothing(window: MainWindow) -> None:
    """The cut under the pointer is selected; on its stamp only the left button ticks it."""
    cards = window.sequence.cards
    stamp = cards.card_rect(2).topLeft() + STAMP.center().toPoint()
    for _ in range(2):
        texts = opened(cards, stamp)
    assert window.document.selection.cut == 2
    assert "Cut later" in texts
    assert not window.document.saved_state.is_done(2)


def test_what_waits_and_the_table_of_copies_have_the_menu_of_the_bench(
    window: MainWindow,
) -> None:
    """A part set aside can be put back from the tray, and from the table."""
    edit_layout.set_aside(window.document, [("shelf", 1)])
    tokens = window.bench.shelf.tokens
    row = next(n for n in range(tokens.count()) if tokens.item(n).text().startswith("Shelf"))
    texts = opened_in_tray(window, tokens.visualItemRect(tokens.item(row)).center())
    assert window.document.selection.parts == {("shelf", 1)}
    assert "Put back" in texts
    window.left.tabs.setCurrentIndex(PLACES)
    QApplication.processEvents()
    table = window.left.placements
    assert "Put back" in opened(table, table.visualRect(table.currentIndex()).center())


def test_a_key_opens_the_menu_of_what_has_the_keys(window: MainWindow) -> None:
    """Shift+F10 does what the menu key does: on the bench, and on a table."""
    window.document.selection.select_parts([("shelf", 1)])
    for view, words in ((window.bench, "Turn"), (window.left.parts, "Remove rows")):
        view.setFocus()
        window.menus.actions["edit.menu"].trigger()
        assert words in shown()

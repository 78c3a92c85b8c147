"""The offer beside the pace in the form of the shop: by mouse and keys, one step, undone."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.panels.left_region import SHOP
from layout_app.panels.pace_heard import PaceStrip
from layout_app.panels.shop import ShopPanel
from layout_app.window.main_window import MainWindow
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.panels.shop_forms import entry
from tests.layout_app.timed_job import long_document, saw_at


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the long job, sawn by a maker who is slower at set-ups and lifts."""
    del qtbot
    made = long_document()
    saw_at(made, setup_s=75, lift_s=40)
    return made


@pytest.fixture
def panel(doc: Document, qtbot: QtBot) -> ShopPanel:
    """Return the form of its shop."""
    made = ShopPanel(doc)
    qtbot.addWidget(made)
    made.resize(360, 900)
    made.show()
    return made


def strip(panel: ShopPanel) -> PaceStrip:
    """Return the offer."""
    return panel.findChildren(PaceStrip)[0]


def _box(box: QWidget) -> QPoint:
    """Return where the mouse ticks a box."""
    return QPoint(8, box.height() // 2)


def test_taking_over_is_one_step(panel: ShopPanel, doc: Document) -> None:
    """Both boxes ticked; Space on the button; the fields show it; undo offers it again."""
    shown, before = strip(panel), doc.undo_stack.count()
    assert shown.words == "Your pace, from 44 cuts timed at the saw:"
    assert [box.text().split(" (")[0] for box in shown.boxes] == [
        "a set-up about 75 s, not 60",
        "a lift about 40 s, not 20",
    ]
    assert all(box.isChecked() for box in shown.boxes)
    QTest.keyClick(shown.take, Qt.Key.Key_Space)
    assert (doc.job.shop.setup_s, doc.job.shop.lift_s) == (75, 40)
    assert doc.undo_stack.count() == before + 1
    assert doc.undo_stack.undoText() == "take over the pace"
    assert entry(panel, "seconds for a set-up").text() == "75"
    assert shown.words == ""
    assert not shown.take.isVisible()
    doc.undo()
    assert (doc.job.shop.setup_s, doc.job.shop.lift_s) == (60, 20)
    assert len(shown.boxes) == 2
    assert shown.take.isVisible()


def test_one_that_is_not_ticked_is_declined(panel: ShopPanel, doc: Document) -> None:
    """Only the lift is taken over; the set-up is not asked about again; none, and no button.

    What becomes of the set-up is said.
    """
    said = list[str]()
    doc.said.connect(said.append)
    shown = strip(panel)
    setup, lift = shown.boxes
    QTest.mouseClick(lift, Qt.MouseButton.LeftButton, pos=_box(lift))
    QTest.mouseClick(setup, Qt.MouseButton.LeftButton, pos=_box(setup))
    assert not shown.take.isEnabled()
    QTest.mouseClick(lift, Qt.MouseButton.LeftButton, pos=_box(lift))
    QTest.mouseClick(shown.take, Qt.MouseButton.LeftButton)
    assert (doc.job.shop.setup_s, doc.job.shop.lift_s) == (60, 40)
    assert [one.figure for one in doc.progress.declined] == ["setup_s"]
    assert said == [
        "Pace taken over; Ctrl+Z takes it back."
        " Not taken: a set-up; offered again after eight more cuts."
    ]
    assert shown.words == ""


def test_not_now_leaves_the_shop(panel: ShopPanel, doc: Document) -> None:
    """Declined, it is gone, also for whoever opens the form anew; the shop is as it was."""
    shop = doc.job.shop
    QTest.mouseClick(strip(panel).leave, Qt.MouseButton.LeftButton)
    assert doc.job.shop == shop
    assert strip(panel).words == ""
    again = ShopPanel(doc, panel)
    again.show()
    assert strip(again).words == ""


@pytest.fixture
def window(doc: Document, qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window with the sawn job, which has the keys, its shop in front."""
    made = MainWindow(doc, planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    made.left.tabs.setCurrentIndex(SHOP)
    yield made
    close(made)


@pytest.mark.parametrize("answer", ["take", "leave"])
def test_ctrl_z_after_an_answer_is_that_of_the_window(
    window: MainWindow, doc: Document, answer: str
) -> None:
    """Space on a button, which goes: the keys stay at its place, and Ctrl+Z undoes the step."""
    [shown] = window.left.shop.findChildren(PaceStrip)
    shop = doc.job.shop
    edit_job.edit_shop(doc, replace(shop, metre_s=20))
    pressed = shown.take if answer == "take" else shown.leave
    pressed.setFocus()
    QTest.keyClick(pressed, Qt.Key.Key_Space)
    assert not pressed.isVisible()
    assert QApplication.focusWidget() is shown
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert doc.job.shop == (replace(shop, metre_s=20) if answer == "take" else shop)


def test_kinds_that_wait_are_said_while_cuts_are_ahead(qtbot: QtBot) -> None:
    """Few cuts: nothing is offered, and how many there are of each kind so far is said."""
    doc = long_document()
    made = ShopPanel(doc)
    qtbot.addWidget(made)
    made.show()
    assert strip(made).not_told == ""
    saw_at(doc, up_to=12)
    strip(made).refresh()
    assert strip(made).words == ""
    assert "cuts so far, 8 are needed" in strip(made).not_told
    saw_at(doc)
    strip(made).refresh()
    assert strip(made).not_told == "", "all are made: nothing is to come"

"""Name and sizes typed where a part lies: by double click and F2, taken, left, refused."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_locks
from layout_app.document.ticks import tick
from layout_app.panels.in_place import InPlace
from shared.layout import Scope
from tests.layout_app.bench.conftest import LEFT
from tests.layout_app.bench.two_sheets import inches

Key = Qt.Key
SHELF_1, ON_SHELF_1 = ("shelf", 1), ("1", 15, 17)


@pytest.fixture
def editor(maker):
    """Return what opens over the maker's bench."""
    maker.view.activateWindow()
    return InPlace(maker.doc, maker.view)


def double_click(maker, sheet, x, y):
    """Click twice on a place, as Qt tells it."""
    point = maker.at(sheet, x, y)
    maker.click(sheet, x, y)
    QTest.mouseDClick(maker.port, LEFT, pos=point)
    maker.release(point)


def press(*keys):
    """Press keys, or type texts, wherever the keys are."""
    for key in keys:
        send = QTest.keyClicks if isinstance(key, str) else QTest.keyClick
        send(QApplication.focusWidget(), key)


def test_a_double_click_opens_it_over_the_part(maker, editor):
    """It covers the middle of the part, has the keys, and says that both copies change."""
    double_click(maker, *ON_SHELF_1)
    assert editor.isVisible()
    assert QApplication.focusWidget() is editor.name
    middle = maker.view.mapFromScene(maker.view.bench.rects_of([SHELF_1])[0].center())
    assert editor.geometry().contains(middle + maker.port.geometry().topLeft())
    assert editor.note.text() == "Changes all 2 copies."


def test_f2_and_enter_change_name_and_sizes_in_one_step(maker, editor):
    """31.5 in and 10 1/2: the part stays where it lies, its sheet is laid out by hand."""
    maker.doc.selection.select_parts([SHELF_1])
    before = maker.doc.project
    maker.view.twins.edit()
    press("Top", Key.Key_Tab, "31.5", Key.Key_Tab, "10 1/2", Key.Key_Return)
    part = maker.doc.job.part("shelf")
    assert (part.name, part.length, part.width) == ("Top", inches("63/2"), inches("21/2"))
    assert maker.corner(*SHELF_1) == ("1", 0, inches("97/8"))
    assert maker.doc.layout.sheet("1").yours
    assert maker.steps == 1
    assert not editor.isVisible()
    assert maker.view.hasFocus()
    maker.doc.undo()
    assert maker.doc.project == before


def test_escape_leaves_all_as_it_was(maker, editor):
    """Nothing becomes of what was typed, and the bench has the keys again."""
    before = maker.doc.project
    double_click(maker, *ON_SHELF_1)
    press("Top", Key.Key_Tab, "99", Key.Key_Escape)
    assert maker.doc.project == before
    assert not editor.isVisible()
    assert maker.view.hasFocus()


def test_what_cannot_be_read_is_said_and_stays(maker, editor):
    """No step is made until it can be read."""
    double_click(maker, *ON_SHELF_1)
    press(Key.Key_Tab, "ten", Key.Key_Return)
    assert editor.isVisible()
    assert editor.length.question.sentence
    assert maker.steps == 0
    editor.length.selectAll()
    press("31", Key.Key_Return)
    assert maker.doc.job.part("shelf").length == inches(31)


def test_a_click_elsewhere_takes_what_is_typed(maker, editor):
    """As in a table; the click itself selects what lies there."""
    double_click(maker, *ON_SHELF_1)
    press("Top")
    maker.view.setFocus(Qt.FocusReason.MouseFocusReason)
    assert maker.doc.job.part("shelf").name == "Top"
    assert not editor.isVisible()


def test_a_locked_part_keeps_its_size_and_says_why(maker, editor):
    """Its name can be changed."""
    edit_locks.hold(maker.doc, Scope.PART, [SHELF_1])
    double_click(maker, *ON_SHELF_1)
    press("Top", Key.Key_Tab, "31", Key.Key_Return)
    assert "locked" in editor.length.question.sentence
    editor.length.selectAll()
    press("30", Key.Key_Return)
    part = maker.doc.job.part("shelf")
    assert (part.name, part.length) == ("Top", inches(30))


@pytest.mark.parametrize("asked", [True, False])
def test_a_size_that_made_cuts_bar_is_asked_about_or_said(maker, editor, asked):
    """Where the bar asks, the fields go, and say nothing besides; nothing is changed."""
    doc = maker.doc
    tick(doc, [cut.number for cut in doc.plan.cuts])
    doc.asks = lambda _edit: asked
    double_click(maker, *ON_SHELF_1)
    press(Key.Key_Tab, "31", Key.Key_Return)
    assert editor.isVisible() is not asked
    assert asked or "is made" in editor.length.question.sentence
    assert maker.steps == 0


def test_a_second_press_that_moves_is_a_drag(maker, editor):
    """A double click that is held and pulled carries the part, and opens nothing."""
    maker.click(*ON_SHELF_1)
    start, end = maker.at(*ON_SHELF_1), maker.at("1", 60, 30)
    maker.view.hand.press(maker.view.mapToScene(start), twice=True)
    maker._pointer = start
    maker.go(end)
    assert maker.view.hand.busy
    maker.release(end)
    assert not editor.isVisible()

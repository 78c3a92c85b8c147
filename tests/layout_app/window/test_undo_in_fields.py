"""Ctrl+Z in a field: undoes what is being typed; once that was taken, the step it became."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from layout_app.panels.entry import Field
from layout_app.panels.left_region import SHOP
from layout_app.window.main_window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
REDO = [(Qt.Key.Key_Y, CTRL), (Qt.Key.Key_Z, CTRL | SHIFT)]


def field_of(window: MainWindow, name: str) -> Field:
    """Return a field of the shop, which has the keys."""
    window.left.tabs.setCurrentIndex(SHOP)
    field = next(one for one in window.findChildren(Field) if one.accessibleName() == name)
    field.setFocus()
    field.selectAll()
    return field


@pytest.mark.parametrize(("key", "held"), REDO)
@pytest.mark.parametrize("name", ["seconds for a lift", "rail beyond the cut, both ends together"])
def test_undo_takes_back_what_was_taken_over(
    window: MainWindow, name: str, key: Qt.Key, held: Qt.KeyboardModifier
) -> None:
    """After Return Ctrl+Z undoes the step, though the field has the keys; redo takes it again."""
    shop, field = window.document.job.shop, field_of(window, name)
    was = field.text()
    QTest.keyClicks(field, "35")
    QTest.keyClick(field, Qt.Key.Key_Return)
    changed, now = window.document.job.shop, field.text()
    assert changed != shop
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert (window.document.job.shop, field.text(), field.hasFocus()) == (shop, was, True)
    QTest.keyClick(field, key, held)
    assert (window.document.job.shop, field.text(), field.hasFocus()) == (changed, now, True)


@pytest.mark.parametrize(("key", "held"), REDO)
def test_undo_takes_back_what_is_being_typed(
    window: MainWindow, key: Qt.Key, held: Qt.KeyboardModifier
) -> None:
    """Before Return it undoes the typing, and redo types it again; no step is taken by either."""
    field = field_of(window, "seconds for a lift")
    QTest.keyClicks(field, "31")
    QTest.keyClick(field, Qt.Key.Key_Return)
    shop, was = window.document.job.shop, field.text()
    QTest.keyClicks(field, "9")
    typed = field.text()
    assert typed != was
    QTest.keyClick(field, key, held)
    assert field.text() == typed
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert (field.text(), window.document.job.shop) == (was, shop)
    QTest.keyClick(field, key, held)
    assert (field.text(), window.document.job.shop) == (typed, shop)


def test_what_cannot_be_read_is_still_being_typed(window: MainWindow) -> None:
    """A refused text is undone in the field first, then the step before it."""
    shop, field = window.document.job.shop, field_of(window, "seconds for a lift")
    QTest.keyClicks(field, "31")
    QTest.keyClick(field, Qt.Key.Key_Return)
    changed = window.document.job.shop
    field.selectAll()
    QTest.keyClicks(field, "-5")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert field.question is not None
    for _ in range(4):
        if field.text() == "31":
            break
        assert window.document.job.shop == changed
        QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert field.text() == "31"
    assert window.document.job.shop == changed
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert window.document.job.shop == shop


def test_what_is_typed_as_it_was_leaves_nothing_to_undo(window: MainWindow) -> None:
    """Return on the text that holds is an end of typing too: undo goes to the step before."""
    shop, field = window.document.job.shop, field_of(window, "seconds for a lift")
    for _ in range(2):
        field.selectAll()
        QTest.keyClicks(field, "31")
        QTest.keyClick(field, Qt.Key.Key_Return)
    assert window.document.job.shop != shop
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert window.document.job.shop == shop

"""Cells of the bench as a table, as a test reads, types and chooses in them."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from layout_app.panels.entry import Entry
from layout_app.panels.placements_table import FIELDS, PlacementsTable
from layout_app.panels.widgets import Chooser
from shared.parts import Copy

NAMES = [field.heading for field in FIELDS]


def said_in(table: PlacementsTable, key: Copy, name: str) -> str:
    """Return what a cell says."""
    line = table.placements.line_of(key)
    assert line is not None
    return str(table.model().index(line, NAMES.index(name)).data())


def open_cell(table: PlacementsTable, key: Copy, name: str) -> QWidget:
    """Open a cell with Enter."""
    line = table.placements.line_of(key)
    assert line is not None
    table.setCurrentIndex(table.model().index(line, NAMES.index(name)))
    QTest.keyClick(table, Qt.Key.Key_Return)
    kind = Chooser if FIELDS[NAMES.index(name)].choices else Entry
    (editor,) = (one for one in table.findChildren(kind) if one.isVisible())
    return editor


def type_in(table: PlacementsTable, key: Copy, name: str, text: str) -> QWidget:
    """Type a text into a cell."""
    editor = open_cell(table, key, name)
    QTest.keyClicks(editor, text)
    QTest.keyClick(editor, Qt.Key.Key_Return)
    QApplication.processEvents()
    return editor


def choose(table: PlacementsTable, key: Copy, name: str, text: str) -> QWidget:
    """Choose a text from the list of a cell."""
    editor = open_cell(table, key, name)
    assert isinstance(editor, Chooser)
    QApplication.processEvents()
    editor.hidePopup()
    editor.setCurrentText(text)
    editor.activated.emit(editor.currentIndex())
    QApplication.processEvents()
    return editor

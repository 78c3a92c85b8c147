"""Cells of the tables, as a test opens and types in them."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.table import RowTable

ENTER, TAB, ESC = Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape
PART, LENGTH, WIDTH, NUMBER, GRAIN, BANDS = range(6)


def doc_of(region: LeftRegion) -> Document:
    """Return the document behind a region."""
    return region.parts.rows.document


def open_cell(qtbot: QtBot, table: RowTable, line: int, column: int) -> Entry:
    """Open a cell and return its editor."""
    index = table.rows.index(line, column)
    table.setCurrentIndex(index)
    table.edit(index)
    qtbot.waitUntil(lambda: editor_of(table) is not None)
    editor = editor_of(table)
    assert editor is not None
    return editor


def editor_of(table: RowTable) -> Entry | None:
    """Return the entry that is open, if there is one."""
    found = [one for one in table.findChildren(Entry) if one.isVisible()]
    return found[-1] if found else None


def type_in(qtbot: QtBot, editor: QWidget, text: str, key: Qt.Key = ENTER) -> None:
    """Replace what an editor holds and press a key."""
    assert isinstance(editor, Entry)
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, key)

"""The bench as a table: what it says, what writing in it does, and what it tells of changes."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.entry import Entry
from layout_app.panels.placements_table import FIELDS, PlacementsTable
from layout_app.panels.widgets import Chooser
from shared.layout import Scope
from shared.lengths import Length, LengthStyle, Unit
from shared.stock import Stock
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.placements import NAMES, choose, said_in, type_in

SIDE_1, SIDE_2, SHELF_1, RAIL = ("side", 1), ("side", 2), ("shelf", 1), ("rail", 1)
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def table(qtbot: QtBot) -> PlacementsTable:
    """Return the table of two sheets laid by hand."""
    doc = document()
    made = PlacementsTable(doc, Theme.light())
    qtbot.addWidget(made)
    made.resize(700, 400)
    made.show()
    made.activateWindow()
    made.setFocus()
    qtbot.waitExposed(made)
    doc.setParent(made)
    return made


def doc_of(table: PlacementsTable) -> Document:
    """Return the document behind a table."""
    doc = table.parent() or table.findChild(Document)
    assert isinstance(doc, Document)
    return doc


def test_one_row_a_copy_says_where_it_lies(table: PlacementsTable) -> None:
    """Side 2 lies at 40 1/8 in along sheet 1; the rail waits and has no place."""
    assert table.model().rowCount() == 6
    assert [said_in(table, SIDE_2, name) for name in NAMES] == [
        *("Side", "2", "1", "40 1/8", "0", "no", "no", "40", "12", "as planned"),
    ]
    assert [said_in(table, RAIL, name) for name in NAMES] == [
        *("Rail", "1", "", "", "", "", "", "20", "4", "not placed"),
    ]


def test_places_are_running_positions(table: PlacementsTable) -> None:
    """With a trim of 1/2 in at the short edge the shelf at x 0 lies 1/2 in before the sheet."""
    doc = doc_of(table)
    row = doc.job.stock_row("full")
    edit_job.edit_stock(doc, _trimmed(row, inches("1/2")))
    edit_layout.move_part(doc, "rail", 1, "1", inches(50), inches(20))
    assert said_in(table, RAIL, "x") == "49 1/2"
    type_in(table, RAIL, "x", "50")
    lies = doc.layout.find(RAIL)
    assert lies is not None
    assert lies.x == inches("101/2")


def _trimmed(row: Stock, start: Length) -> Stock:
    return replace(row, trims=replace(row.trims, start=start))


def test_a_place_that_cannot_be_read_keeps_the_cell_open(table: PlacementsTable) -> None:
    """A word is no length: the sentence stands below the cell, and nothing moves."""
    before = doc_of(table).project
    editor = type_in(table, SIDE_1, "y", "low")
    assert isinstance(editor, Entry)
    assert editor.question is not None
    assert doc_of(table).project == before


def test_a_digit_begins_to_type_a_place(table: PlacementsTable, qtbot: QtBot) -> None:
    """The first digit opens the cell and stands in it; a letter does not open it."""
    line = table.placements.line_of(SHELF_1)
    assert line is not None
    table.setCurrentIndex(table.model().index(line, NAMES.index("y")))
    qtbot.keyClick(table, Qt.Key.Key_B)
    assert not table.findChildren(Entry)
    qtbot.keyClick(table, Qt.Key.Key_2)
    (editor,) = table.findChildren(Entry)
    assert editor.text() == "2"
    qtbot.keyClicks(editor, "0")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    lies = doc_of(table).layout.find(SHELF_1)
    assert lies is not None
    assert lies.y == inches(20)


def test_the_list_of_sheets_ends_with_waiting(table: PlacementsTable) -> None:
    """Chosen from the list, a side waits and says who sent it; chosen again it comes back."""
    editor = choose(table, SIDE_2, "sheet", "set aside")
    assert isinstance(editor, Chooser)
    assert [editor.itemText(i) for i in range(editor.count())] == ["1", "2", "set aside"]
    assert said_in(table, SIDE_2, "state") == "set aside"
    choose(table, SIDE_2, "sheet", "2")
    assert said_in(table, SIDE_2, "sheet") == "2"
    assert said_in(table, SIDE_2, "state") == "laid by hand"


def test_what_is_held_is_named_by_how_much(table: PlacementsTable) -> None:
    """Holding Side 2 holds what lies before it in its strip; its sheet can be held besides."""
    choose(table, SIDE_2, "locked", "part")
    assert said_in(table, SIDE_2, "locked") == "part"
    assert said_in(table, SIDE_1, "locked") == "with another"
    assert said_in(table, SHELF_1, "locked") == "no"
    choose(table, SIDE_2, "locked", "sheet")
    assert said_in(table, SIDE_2, "locked") == "part, sheet"
    assert said_in(table, SHELF_1, "locked") == "sheet"
    choose(table, SIDE_2, "locked", "no")
    assert said_in(table, SIDE_2, "locked") == "no"
    assert doc_of(table).layout.holds == ()


def test_what_is_held_stays_and_that_is_said(table: PlacementsTable) -> None:
    """A held side does not move by typing either; the document says which key releases it."""
    doc = doc_of(table)
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    said: list[str] = []
    doc.said.connect(said.append)
    type_in(table, SIDE_1, "x", "3")
    assert said == ["Side 1 is locked: unlock it first (L)."]
    assert said_in(table, SIDE_1, "x") == "0"


def test_trouble_is_said_of_those_that_make_it(table: PlacementsTable) -> None:
    """Laid over Side 2, Side 1 overlaps it; the shelf has no part in that but can't be cut."""
    type_in(table, SIDE_1, "x", "20")
    assert said_in(table, SIDE_1, "state") == "overlaps Side 2"
    assert said_in(table, SIDE_2, "state") == "overlaps Side 1"
    assert said_in(table, SHELF_1, "state") == "its sheet can't be cut"


def test_only_rows_that_changed_are_told(table: PlacementsTable) -> None:
    """A shelf moved on sheet 2 makes that sheet yours: its two rows are told, no other."""
    spy, reset = QSignalSpy(table.model().dataChanged), QSignalSpy(table.model().modelReset)
    edit_layout.move_part(doc_of(table), "shelf", 2, "2", inches(1), inches("97/8"))
    told = {
        line
        for i in range(spy.count())
        for line in range(spy.at(i)[0].row(), spy.at(i)[1].row() + 1)
    }
    assert told == {table.placements.line_of(("side", 3)), table.placements.line_of(("shelf", 2))}
    assert reset.count() == 0


def test_selection_is_shared_both_ways(table: PlacementsTable, qtbot: QtBot) -> None:
    """Rows select copies; copies selected elsewhere select their rows; other lengths keep them."""
    doc = doc_of(table)
    doc.selection.select_parts([SHELF_1, SIDE_2])
    assert _chosen(table) == {SHELF_1, SIDE_2}
    table.selectRow(table.placements.line_of(RAIL) or 0)
    assert doc.selection.parts == {RAIL}
    edit_job.edit_style(doc, replace(LengthStyle(), unit=Unit.MM))
    assert said_in(table, SIDE_2, "x") == "1019.2"
    assert _chosen(table) == doc.selection.parts == {RAIL}


def _chosen(table: PlacementsTable) -> set[tuple[str, int]]:
    return {table.placements.key_at(i.row()) for i in table.selectionModel().selectedRows()}


def test_cells_say_what_they_are(table: PlacementsTable) -> None:
    """A screen reader hears the heading with the text, and what an open cell is for."""
    line = table.placements.line_of(SIDE_2) or 0
    said = [
        table.model().index(line, c).data(Qt.ItemDataRole.AccessibleTextRole)
        for c in range(len(FIELDS))
    ]
    assert said[:4] == ["part: Side", "copy: 2", "sheet: 1", "x: 40 1/8"]
    assert table.accessibleName() == "Bench as a table"
    assert type_in(table, SIDE_2, "x", "low").accessibleName() == "x"


def test_a_table_nobody_sees_waits(table: PlacementsTable) -> None:
    """Hidden it reads nothing; shown again it shows what holds and is selected now."""
    doc = doc_of(table)
    table.hide()
    edit_layout.move_part(doc, "rail", 1, "2", inches(50), inches(20))
    doc.selection.select_parts([RAIL])
    assert said_in(table, RAIL, "sheet") == ""
    table.show()
    assert said_in(table, RAIL, "sheet") == "2"
    assert _chosen(table) == {RAIL}

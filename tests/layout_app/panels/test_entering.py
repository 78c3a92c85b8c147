"""Typing rows with keys only: where the cursor goes, and what is wrong when."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.rows_model import ISSUE_ROLE
from layout_app.panels.table import RowTable
from shared.check import check_job
from shared.job import Job
from shared.lengths import INCH
from shared.parts import GrainRule
from tests.layout_app.small_job import small_job
from tests.layout_app.tables import ENTER, ESC, GRAIN, LENGTH, NUMBER, PART, TAB, doc_of, editor_of

DELETE, BACKSPACE = Qt.Key.Key_Delete, Qt.Key.Key_Backspace
CTRL = Qt.KeyboardModifier.ControlModifier
MATERIAL = 7


@pytest.fixture
def empty(qtbot: QtBot) -> Iterator[LeftRegion]:
    """Return the left region of a project in which nothing stands yet."""
    region = LeftRegion(Document(Project(job=Job())), Theme.light())
    region.resize(700, 700)
    qtbot.addWidget(region)
    region.show()
    region.activateWindow()
    qtbot.waitUntil(region.isVisible)
    yield region
    doc_of(region).undo_stack.clear()


def press(*keys: Qt.Key | str) -> None:
    """Press keys, or type texts, wherever the cursor is."""
    for key in keys:
        target = QApplication.focusWidget()
        if isinstance(key, str):
            QTest.keyClicks(target, key)
        else:
            QTest.keyClick(target, key)


def cell(table: RowTable) -> tuple[int, int]:
    """Return line and column of the cursor."""
    return table.currentIndex().row(), table.currentIndex().column()


@pytest.mark.parametrize("key", [ENTER, TAB])
def test_a_list_is_typed_row_by_row(empty: LeftRegion, key: Qt.Key) -> None:
    """Name, L, W, quantity and the next name: one press of Enter, or of Tab, behind each cell."""
    typed = [(f"Part {n}", n * INCH, 2 * n * INCH, n) for n in range(1, 6)]
    empty.type_part()
    for name, length, width, copies in typed:
        cells = (name, f"{length // INCH}", f"{width // INCH}", f"{copies}")
        press(*(one for text in cells for one in (text, key)))
    parts = doc_of(empty).job.parts
    assert [(one.name, one.length, one.width, one.copies) for one in parts] == typed
    assert cell(empty.parts) == (empty.parts.rows.draft_line, PART)
    assert editor_of(empty.parts) is QApplication.focusWidget()


def test_tab_goes_back_the_way_it_came(left: LeftRegion) -> None:
    """Shift+Tab from the new name leads to the quantity of the row above."""
    left.type_part()
    press(Qt.Key.Key_Backtab)
    assert cell(left.parts) == (2, NUMBER)
    press(TAB)
    assert cell(left.parts) == (left.parts.rows.draft_line, PART)


def test_tab_behind_nothing_leaves_the_table(left: LeftRegion) -> None:
    """In a new row in which nothing is typed, Tab after the quantity goes on in the window."""
    left.type_part()
    press(TAB, TAB, TAB, TAB)
    assert not left.parts.isAncestorOf(QApplication.focusWidget())
    assert QApplication.focusWidget() is not left.parts
    assert len(doc_of(left).job.parts) == 2


def test_enter_on_nothing_ends_typing(left: LeftRegion) -> None:
    """Enter in an empty new name closes the cell, and the keys stay in the table."""
    left.type_part()
    press(ENTER)
    assert editor_of(left.parts) is None
    assert QApplication.focusWidget() is left.parts


def test_a_first_row_goes_where_its_cells_lie(empty: LeftRegion) -> None:
    """Before any sheet nothing asks for a material; the first sheet gives its own to the parts."""
    empty.type_part()
    press("Side", ENTER, "30", ENTER, "12", ENTER)
    assert cell(empty.parts)[1] == NUMBER
    press(ENTER)
    part = doc_of(empty).job.parts[0]
    assert (part.material, part.copies) == ("", 1)
    press(ESC)
    empty.type_sheet()
    press("full sheet", ENTER, "96", ENTER, "48", ENTER, "birch", ENTER, "3/4", ENTER)
    press("52", ENTER, ENTER)
    assert doc_of(empty).job.stock[0].material == "birch"
    assert doc_of(empty).job.parts[0].material == "birch"
    doc_of(empty).undo()
    assert doc_of(empty).job.parts[0].material == ""


def test_a_first_part_takes_the_only_material(empty: LeftRegion) -> None:
    """With one sheet there, a part is of its material without being asked."""
    empty.type_sheet()
    press("full sheet", TAB, "96", TAB, "48", TAB, "oak", TAB, "18 mm", TAB, TAB, TAB, ESC)
    empty.type_part()
    press("Side", TAB, "30", TAB, "12", TAB, "2", TAB)
    assert doc_of(empty).job.parts[0].material == "oak"


def test_nothing_is_wrong_with_a_row_before_it_is_left(left: LeftRegion) -> None:
    """What is missing in a new row is no mistake until the cursor leaves it; then it is named."""
    before = check_job(doc_of(left).job)
    left.type_part()
    press("Cleat", ENTER, ENTER)
    line = left.parts.rows.draft_line
    assert not any(left.parts.rows.index(line, at).data(ISSUE_ROLE) for at in range(4))
    assert check_job(doc_of(left).job) == before
    press(ENTER, ENTER)
    assert left.parts.rows.index(line, LENGTH).data(ISSUE_ROLE)
    assert {one.field for one in check_job(doc_of(left).job)} >= {"length", "width"}
    assert cell(left.parts) == (line + 1, PART)


def test_one_sentence_says_that_there_are_no_sheets(empty: LeftRegion) -> None:
    """Parts typed before the first sheet are not wrong one by one."""
    empty.type_part()
    for name in ("Side", "Shelf"):
        press(name, ENTER, "30", ENTER, "12", ENTER, ENTER)
    assert [one.code for one in check_job(doc_of(empty).job)] == ["job-no-stock"]


@pytest.mark.parametrize("key", [ENTER, TAB])
def test_the_cursor_stays_on_a_row_that_goes_elsewhere(left: LeftRegion, key: Qt.Key) -> None:
    """Another material moves a row below another heading; the cursor goes with it."""
    table = left.parts
    table.setCurrentIndex(table.rows.index(2, MATERIAL))
    table.setFocus()
    press(ENTER)
    QApplication.focusWidget().selectAll()
    press("oak", key)
    line = table.rows.line_of("shelf")
    assert line == 3
    assert cell(table) == (line, MATERIAL + (key == TAB))
    assert table.isAncestorOf(QApplication.focusWidget()) or table.hasFocus()
    assert table.chosen() == ["shelf"]


def test_delete_empties_the_cell(left: LeftRegion) -> None:
    """Delete takes what is in the cell and leaves the row: a size, then a note, then the grain."""
    table, doc = left.parts, doc_of(left)
    table.setFocus()
    for column, key in ((LENGTH, DELETE), (PART, BACKSPACE), (NUMBER, DELETE), (GRAIN, DELETE)):
        table.setCurrentIndex(table.rows.index(1, column))
        press(key)
    side = doc.job.part("side")
    assert (side.length, side.name, side.copies) == (0, "", 1)
    assert side.grain_rule is GrainRule.ALONG_LENGTH
    assert len(doc.job.parts) == 2
    assert cell(table) == (1, GRAIN)
    assert doc.undo_stack.count() == 3


def test_rows_go_as_rows(left: LeftRegion) -> None:
    """Ctrl+Backspace takes the row the cursor is in; Delete takes several that are selected."""
    table, doc = left.parts, doc_of(left)
    table.setFocus()
    table.setCurrentIndex(table.rows.index(1, LENGTH))
    QTest.keyClick(table, BACKSPACE, CTRL)
    assert [one.id for one in doc.job.parts] == ["shelf"]
    doc.undo()
    table.selectAll()
    press(DELETE)
    assert doc.job.parts == ()
    assert doc.undo_stack.count() == 1


@pytest.mark.parametrize(("key", "beside"), [(TAB, 1), (Qt.Key.Key_Backtab, -1)])
def test_tab_leaves_an_open_list_with_what_is_marked(
    left: LeftRegion, qtbot: QtBot, key: Qt.Key, beside: int
) -> None:
    """In an open list, arrows mark and Tab takes what is marked and goes on, either way."""
    table = left.parts
    table.setFocus()
    table.setCurrentIndex(table.rows.index(1, GRAIN))
    press(ENTER)
    (box,) = table.findChildren(QComboBox)
    qtbot.waitUntil(lambda: box.view().isVisible())
    QTest.keyClick(box.view(), Qt.Key.Key_Down)
    QTest.keyClick(box.view(), key)
    assert doc_of(left).job.part("side").grain_rule is GrainRule.ALONG_WIDTH
    assert cell(table) == (1, GRAIN + beside)
    assert not box.view().isVisible()


def test_esc_leaves_an_editor_and_keeps_the_cursor(left: LeftRegion) -> None:
    """Esc gives the old size back; the keys are in the table, on the same cell."""
    table = left.parts
    table.setFocus()
    table.setCurrentIndex(table.rows.index(1, LENGTH))
    press(ENTER, "77", ESC)
    assert doc_of(left).job == small_job()
    assert QApplication.focusWidget() is table
    assert cell(table) == (1, LENGTH)

"""Tab and F6 through the whole window: every region is reached, and the way comes round."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.window.main_window import MainWindow
from layout_app.window.regions import Regions
from shared.lengths import INCH
from tests.layout_app.small_job import document

TAB, BACKTAB, F6 = Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_F6
SHIFT = Qt.KeyboardModifier.ShiftModifier
MOST = 90
"""Presses of Tab once round: 7 copies of parts on the bench, at most 16 cells of a row or 66
fields and ways back to common practice in the shop, and a dozen other places."""


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return the window with a planned job."""
    made = MainWindow(document())
    qtbot.addWidget(made, before_close_func=lambda one: one.document.undo_stack.setClean())
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isVisible)
    yield made
    made.planner.close()


def regions_of(window: MainWindow) -> Regions:
    """Return what goes round the regions of a window."""
    return window.findChild(Regions)


def regions_on_the_way(window: MainWindow, key: Qt.Key) -> list[QWidget]:
    """Press a key until the way comes round, and return the regions that were reached."""
    first, reached = QApplication.focusWidget(), []
    for _ in range(MOST):
        QTest.keyClick(QApplication.focusWidget(), key)
        reached.append(regions_of(window).of(QApplication.focusWidget()))
        if QApplication.focusWidget() is first:
            break
    assert QApplication.focusWidget() is first
    return reached


@pytest.mark.parametrize("key", [TAB, BACKTAB])
@pytest.mark.parametrize("tab", range(5))
def test_tab_goes_round_the_window(window: MainWindow, tab: int, key: Qt.Key) -> None:
    """From each tab of the left region Tab reaches bench, sequence and status line, and returns."""
    window.left.tabs.setCurrentIndex(tab)
    window.left.tabs.tabBar().setFocus()
    window.left.parts.setCurrentIndex(window.left.parts.rows.index(1, 0))
    reached = regions_on_the_way(window, key)
    assert {window.left, window.bench, window.sequence, window.status} == {*reached} - {None}


@pytest.mark.parametrize("key", [TAB, BACKTAB])
def test_what_scrolls_shows_that_tab_came_to_it(window: MainWindow, key: Qt.Key) -> None:
    """Bench, tray, cards and tables have a ring round them; fields show it themselves."""
    window.left.tabs.tabBar().setFocus()
    QApplication.processEvents()  # all is laid out
    for _ in range(MOST):
        QTest.keyClick(QApplication.focusWidget(), key)
        here, line = QApplication.focusWidget(), regions_of(window).line
        assert line.isVisible() is isinstance(here, QAbstractScrollArea)
        if line.isVisible():
            assert line.pos() == here.mapTo(window, QPoint(0, 0))
            assert line.size() == here.size()
            assert not line.mask().contains(line.rect().center())


def test_tab_from_the_tray_leaves_the_bench_as_it_is(window: MainWindow) -> None:
    """Either way it goes on at once; parts on sheets are gone through on the bench itself."""
    document = window.document
    first, other = document.layout.sheets[0].placements[:2]
    edit_layout.set_aside(document, [other.key])
    for key in (TAB, BACKTAB):
        document.selection.select_parts([first.key])
        window.bench.shelf.tokens.setFocus()
        QTest.keyClick(window.bench.shelf.tokens, key)
        assert not window.bench.shelf.tokens.hasFocus()
        assert document.selection.parts == {first.key}


def test_keys_that_fell_to_a_place_are_not_shown(window: MainWindow) -> None:
    """What takes the keys because a button is gone has no line: nobody pressed Tab."""
    gone = QPushButton(window)
    QWidget.setTabOrder(gone, window.bench)
    gone.show()
    gone.setFocus()
    gone.hide()
    assert window.bench.hasFocus()
    assert not regions_of(window).line.isVisible()


def test_tab_leaves_the_cuts_as_a_table(window: MainWindow) -> None:
    """The cut sequence as a table has rows to choose: Tab goes on at once, either way."""
    window.sequence.switch()
    assert window.sequence.table.hasFocus()
    QTest.keyClick(window.sequence.table, TAB)
    assert not window.sequence.table.hasFocus()
    window.sequence.table.setFocus()
    QTest.keyClick(window.sequence.table, BACKTAB)
    assert not window.sequence.table.hasFocus()


def test_tab_goes_along_a_row_and_leaves_at_its_ends(window: MainWindow) -> None:
    """Fifteen columns: from the first cell 14 presses reach the last one, and one more leaves."""
    table = window.left.parts
    table.setCurrentIndex(table.rows.index(1, 0))
    table.setFocus()
    last = table.rows.columnCount() - 1
    for _ in range(last):
        QTest.keyClick(table, TAB)
        assert table.hasFocus()
    assert table.currentIndex().column() == last
    QTest.keyClick(table, TAB)
    assert not table.hasFocus()
    table.setCurrentIndex(table.rows.index(1, 0))
    table.setFocus()
    QTest.keyClick(table, BACKTAB)
    assert not table.hasFocus()


def test_f6_goes_to_the_tray_while_something_lies_there(window: MainWindow) -> None:
    """From the bench to the tray and on; its button keeps nobody from the bench itself."""
    first = window.document.layout.sheets[0].placements[0]
    edit_layout.set_aside(window.document, [first.key])
    QApplication.processEvents()
    window.bench.shelf.back.setFocus()
    window.left.parts.setFocus()
    seen = []
    for _ in range(3):
        QTest.keyClick(QApplication.focusWidget(), F6)
        seen.append(QApplication.focusWidget())
    assert seen[0] is window.bench
    assert window.bench.shelf.isAncestorOf(seen[1])
    assert window.sequence.isAncestorOf(seen[2])


def test_the_keys_are_somewhere_from_the_start(window: MainWindow) -> None:
    """On the bench of a project that is laid out, and else in the empty row of the parts."""
    assert window.focusWidget() is window.bench
    empty = MainWindow()
    assert empty.focusWidget() is empty.left.parts
    empty.planner.close()
    empty.deleteLater()


def test_f6_goes_round_the_regions(window: MainWindow) -> None:
    """F6 goes from the tables to bench, sequence and status line, Shift+F6 the other way."""
    window.left.parts.setFocus()
    order = [window.bench, window.sequence, window.status, window.left]
    seen = []
    for _ in order:
        QTest.keyClick(QApplication.focusWidget(), F6)
        seen.append(regions_of(window).of(QApplication.focusWidget()))
        assert regions_of(window).line.isVisible()
    assert seen == order
    assert window.left.parts.hasFocus(), "a region gives the keys to where they were"
    back = []
    for _ in order:
        QTest.keyClick(QApplication.focusWidget(), F6, SHIFT)
        back.append(regions_of(window).of(QApplication.focusWidget()))
    assert back == [window.status, window.sequence, window.bench, window.left]


def test_f6_reaches_what_is_asked(window: MainWindow) -> None:
    """A question across the window is a region of its own while it is shown."""
    window.bar.say("Something to read.")
    window.bench.setFocus()
    QTest.keyClick(window.bench, F6, SHIFT)
    QTest.keyClick(QApplication.focusWidget(), F6, SHIFT)
    assert window.bar.isAncestorOf(QApplication.focusWidget())


def test_the_line_goes_where_the_keys_go_by_themselves(window: MainWindow) -> None:
    """The line above a region is taken away once the keys are in another one."""
    window.left.parts.setFocus()
    QTest.keyClick(window.left.parts, F6)
    assert regions_of(window).line.isVisible()
    window.left.parts.setFocus()
    assert not regions_of(window).line.isVisible()


def test_what_is_typed_is_saved_before_it_is_left(window: MainWindow) -> None:
    """Saving begins with taking the row that is being typed."""
    window.left.type_part()
    for text in ("Cleat", "20"):
        QTest.keyClicks(QApplication.focusWidget(), text)
        QTest.keyClick(QApplication.focusWidget(), TAB)
    QTest.keyClicks(QApplication.focusWidget(), "6")
    window.left.take_typed()
    cleat = window.document.job.parts[-1]
    assert (cleat.name, cleat.length, cleat.width) == ("Cleat", 20 * INCH, 6 * INCH)
    assert window.left.parts.hasFocus()


def test_tab_on_an_empty_bench_goes_to_what_leads_on(window: MainWindow) -> None:
    """From the bench to its two buttons, and from there to the tray; each is pressed by keys."""
    bench = window.bench
    bench.setFocus()
    bench.twins.select_all()
    QTest.keyClick(bench, Qt.Key.Key_W)
    said = []
    for _ in range(3):
        QTest.keyClick(QApplication.focusWidget(), TAB)
        said.append(QApplication.focusWidget())
    assert [one.text() for one in said[:2] if isinstance(one, QPushButton)] == [
        "Lay out a sheet (Ctrl+Shift+N)",
        "Put all back (Ctrl+Shift+W)",
    ]
    assert said[2] is bench.shelf.tokens
    QTest.keyClick(said[0], Qt.Key.Key_Space)
    assert len(window.document.layout.sheets) == 1
    assert not bench.empty.isVisible()

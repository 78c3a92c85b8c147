"""Wheel, edges and cursors: what is seen of the bench, and what the pointer says there."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.edge_scrolling import TICK_MS, WAIT_MS
from layout_app.bench.view import BenchView
from layout_app.document import edit_locks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from shared.layout import Scope
from tests.layout_app.bench.conftest import LEFT, NONE

Cursor = Qt.CursorShape
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
SHELF_1 = ("1", 15, 17)
TICKS = WAIT_MS // TICK_MS + 2
NOT_TOLD = QPoint()


@pytest.fixture
def near(maker):
    """Return the maker with the bench looked at from so near that it scrolls both ways."""
    maker.view.resize(700, 500)
    maker.view.zoom(2.0)
    for bar in bars(maker):
        bar.setValue((bar.minimum() + bar.maximum()) // 2)
    return maker


def bars(maker):
    """Return the bars of the bench, sideways and up and down."""
    return maker.view.horizontalScrollBar(), maker.view.verticalScrollBar()


def values(maker):
    """Return how far the bench is scrolled."""
    return [bar.value() for bar in bars(maker)]


def turn(maker, turned, held=NONE, pixels=NOT_TOLD):
    """Turn the wheel over the middle of the bench, in eighths of a degree or in pixels."""
    at = QPointF(maker.port.rect().center())
    to = QPointF(maker.port.mapToGlobal(at.toPoint()))
    phase = Qt.ScrollPhase.NoScrollPhase
    event = QWheelEvent(at, to, pixels, turned, Qt.MouseButton.NoButton, held, phase, False)
    QApplication.sendEvent(maker.port, event)


def test_the_wheel_scrolls_down_and_with_shift_sideways(near):
    """One notch toward the maker: down; with Shift to the right; with Ctrl it does not scroll."""
    x, y = values(near)
    turn(near, QPoint(0, -120))
    down = values(near)[1] - y
    assert down > 0
    assert values(near)[0] == x
    turn(near, QPoint(0, -120), SHIFT)
    assert values(near) == [x + down, y + down]


def test_the_wheel_with_control_zooms_at_the_pointer(near):
    """What lies under the pointer stays there, to a pixel."""
    middle = near.port.rect().center()
    before, scale = near.view.mapToScene(middle), near.view.scale_px
    turn(near, QPoint(0, 120), CONTROL)
    assert near.view.scale_px > scale
    off = near.view.mapFromScene(before) - middle
    assert abs(off.x()) <= 1
    assert abs(off.y()) <= 1


def test_a_trackpad_scrolls_by_its_pixels_both_ways(near):
    """As far as the fingers went, slanting too."""
    x, y = values(near)
    turn(near, QPoint(-8, -24), pixels=QPoint(-5, -13))
    assert values(near) == [x + 5, y + 13]


@pytest.mark.parametrize(("side", "way"), [((-1, 0), 0), ((1, 0), 0), ((0, -1), 1), ((0, 1), 1)])
def test_all_four_edges_scroll_and_a_way_back_stops_it(near, side, way):
    """After a moment near an edge it scrolls that way only, and no further as the pointer turns."""
    port, edges = near.port.rect(), near.view._edges
    near.press(port.center())
    near._pointer = port.center()
    at = QPoint(
        port.center().x() + side[0] * (port.width() // 2 - 6),
        port.center().y() + side[1] * (port.height() // 2 - 6),
    )
    near.go(at)
    start = values(near)
    edges.tick()
    assert values(near) == start
    for _ in range(TICKS):
        edges.tick()
    gone = [now - then for now, then in zip(values(near), start, strict=True)]
    assert gone[way] * side[way] > 0
    assert gone[1 - way] == 0
    near.go(at - QPoint(4 * side[0], 4 * side[1]), steps=1)
    stopped = values(near)
    for _ in range(2 * TICKS):
        edges.tick()
    assert values(near) == stopped
    near.release(at)
    assert not edges.active


def test_nearer_the_edge_it_scrolls_faster(near):
    """A pixel off the edge it goes farther in the same time than 25 pixels off it."""
    gone = []
    for off in (25, 1):
        near.press(near.port.rect().center())
        near._pointer = near.port.rect().center()
        near.go(QPoint(near.port.width() // 2, near.port.height() - off))
        for _ in range(TICKS):
            near.view._edges.tick()
        start = values(near)[1]
        for _ in range(10):
            near.view._edges.tick()
        gone.append(values(near)[1] - start)
        near.key(Qt.Key.Key_Escape)
        near.release(near.port.rect().center())
        bars(near)[1].setValue(bars(near)[1].minimum())
    assert 0 < gone[0] < gone[1]


def test_over_the_tray_nothing_scrolls(near):
    """On its way there a part passes the right edge; there it rests as long as it likes."""
    near.press(near.port.rect().center())
    near._pointer = near.port.rect().center()
    near.go(QPoint(near.port.width() + 40, 200))
    start = values(near)
    for _ in range(2 * TICKS):
        near.view._edges.tick()
    assert values(near) == start
    near.key(Qt.Key.Key_Escape)
    near.release(QPoint(near.port.width() + 40, 200))


def shape(maker, at):
    """Return the cursor once the pointer has come to a point of the view."""
    QTest.mouseMove(maker.port, at)
    return maker.port.cursor().shape()


def test_the_cursor_says_what_a_press_would_do(maker):
    """Over a part, its ends when it is selected, a tag, free ground, and when it is locked."""
    middle, end = maker.at(*SHELF_1), maker.at("1", 30, 20)
    assert shape(maker, middle) is Cursor.OpenHandCursor
    assert shape(maker, maker.at("1", 60, 40)) is Cursor.ArrowCursor
    maker.doc.selection.select_parts([("shelf", 1)])
    assert shape(maker, end) is Cursor.SizeHorCursor
    edit_locks.hold(maker.doc, Scope.PART, [("shelf", 1)])
    assert shape(maker, end + QPoint(1, 0)) is Cursor.ForbiddenCursor
    assert shape(maker, middle) is Cursor.ArrowCursor
    maker.view.hand.draw_on("1")
    assert shape(maker, middle + QPoint(1, 0)) is Cursor.CrossCursor


def test_the_cursor_says_what_is_being_done(maker):
    """Carried over a sheet and off the sheets, and the paper in the hand."""
    maker.drag(SHELF_1, ("1", 50, 30), drop=False)
    assert maker.port.cursor().shape() is Cursor.ClosedHandCursor
    maker.go(maker.at("1", 50, 80 + 1000))
    assert maker.port.cursor().shape() is Cursor.ForbiddenCursor
    maker.key(Qt.Key.Key_Escape)
    maker.release(maker.at("1", 50, 30))
    QTest.keyPress(maker.view, Qt.Key.Key_Space)
    assert maker.port.cursor().shape() is Cursor.OpenHandCursor
    QTest.mousePress(maker.port, LEFT, NONE, maker.at(*SHELF_1))
    assert maker.port.cursor().shape() is Cursor.ClosedHandCursor
    QTest.mouseRelease(maker.port, LEFT, NONE, maker.at(*SHELF_1))
    QTest.keyRelease(maker.view, Qt.Key.Key_Space)
    assert maker.steps == 0


def test_no_bars_stand_over_an_empty_bench(qtbot):
    """There is nothing to scroll to."""
    view = BenchView(Document(), Theme.light())
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.show()
    assert not view.horizontalScrollBar().isVisible()
    assert not view.verticalScrollBar().isVisible()


def test_the_sheet_in_sight_is_the_one_most_is_seen_of(maker):
    """From the top the first, scrolled down the second."""
    maker.view.resize(900, 420)
    assert maker.view.sheet_in_sight == "1"
    bars(maker)[1].setValue(bars(maker)[1].maximum())
    assert maker.view.sheet_in_sight == "2"

"""Distances are shown while something is in the hand; words keep off each other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtTest import QTest

from layout_app.bench.bubble import Bubble
from layout_app.bench.measures import Board, Measures
from layout_app.bench.words_place import LEASH_PX, Trail, place
from layout_app.model.stops import SnapGround, Way, gaps, running
from shared.geometry import Rect
from shared.lengths import LengthStyle

SHEET = Rect(x=10, y=5, length=200, width=100)
PORT = QRectF(0, 0, 800, 600)
WORDS = QRectF(14, 14, 200, 50)


def ground(*others):
    """Return a sheet with trims of 10 and 5 and parts on it."""
    return SnapGround(usable=SHEET, others=others, kerf=3)


def box(x, y, length, width):
    """Return a rectangle."""
    return Rect(x=x, y=y, length=length, width=width)


def test_gaps_are_those_to_the_nearest_neighbours_or_the_edge():
    """Between parts at its left and right, the far edge 105 below and nothing but an edge above."""
    one = box(60, 40, 30, 20)
    others = box(10, 45, 20, 5), box(35, 30, 12, 20), box(100, 50, 10, 40), box(150, 40, 5, 5)
    found = {(gap.way, gap.start, gap.end) for gap in gaps(one, ground(*others))}
    assert found == {
        (Way.X, 47, 60),
        (Way.X, 90, 100),
        (Way.Y, 5, 40),
        (Way.Y, 60, 105),
    }


def test_no_gap_is_told_where_something_overlaps():
    """A part that lies over another along x has no gap along x."""
    one = box(60, 40, 30, 20)
    assert {gap.way for gap in gaps(one, ground(box(80, 45, 30, 5)))} == set()
    assert {gap.way for gap in gaps(one, ground(box(80, 70, 30, 5)))} == {Way.X, Way.Y}


def test_running_positions_are_measured_from_the_trimmed_corner():
    """The corner at 60, 40 lies 50 along and 35 across from the trimmed corner at 10, 5."""
    found = {one.way: one.length for one in running(box(60, 40, 30, 20), ground())}
    assert found == {Way.X: 50, Way.Y: 35}
    assert running(box(5, 40, 30, 20), ground()) == ()


points = st.tuples(st.floats(50, 750), st.floats(50, 550))


@given(st.lists(points, max_size=12))
def test_words_never_lie_on_words(places):
    """What finds no free place beside its line is not written."""
    board = Board(PORT, 1.0, LengthStyle())
    for index, (x, y) in enumerate(places):
        board.write(QLineF(x, y, x + 40, y), "12 3/4", QPointF(x, y), along_x=index % 2 == 0)
    plates = [one.plate for one in board.written]
    for index, one in enumerate(plates):
        assert PORT.contains(one)
        assert not any(one.intersects(other) for other in plates[index + 1 :])


@pytest.mark.parametrize("way", [(50, 40), (-50, 40), (50, -40), (-50, -40)])
def test_words_stand_behind_the_drag(way):
    """Where there is room they lie on the side the pointer has come from."""
    at = QPointF(400, 300)
    words = WORDS.translated(place(at, WORDS, PORT, QPointF(*way)))
    assert (words.center().x() - at.x()) * way[0] < 0
    assert (words.center().y() - at.y()) * way[1] < 0


@given(points, points, st.lists(points, max_size=4))
def test_words_lie_in_sight_and_off_the_pointer(at, way, taken):
    """At every place, whatever is written around."""
    plates = [QRectF(x, y, 60, 20) for x, y in taken]
    spot = QPointF(*at)
    words = WORDS.translated(place(spot, WORDS, PORT, QPointF(*way), plates))
    assert PORT.adjusted(-1, -1, 1, 1).contains(words)
    assert not words.contains(spot)


def test_words_keep_off_what_is_written_where_the_drag_came_from():
    """Another place is found, that covers none of it."""
    at, way = QPointF(400, 300), QPointF(50, 40)
    usual = WORDS.translated(place(at, WORDS, PORT, way))
    plate = QRectF(usual.center(), usual.center() + QPointF(20, 10))
    words = WORDS.translated(place(at, WORDS, PORT, way, [plate]))
    assert not words.intersects(plate)


def test_a_tremor_does_not_change_the_way_of_a_drag():
    """After 200 px to the right, 5 px back are still a way to the right."""
    trail = Trail()
    for x in range(0, 201, 10):
        trail.way(QPointF(x, 0))
    assert trail.way(QPointF(195, 0)).x() > 0
    assert abs(trail.way(QPointF(195, 0)).x()) <= LEASH_PX


def test_distances_are_written_while_a_part_is_dragged(maker):
    """In the maker's fractions: x and y of the corner and the gaps; the bubble covers none."""
    maker.drag(("1", 15, 17), ("1", 55, 30), drop=False)
    hand = maker.view.hand
    items = hand.interaction._shown
    measures = next(one for one in items if isinstance(one, Measures))
    bubble = next(one for one in items if isinstance(one, Bubble))
    assert any(words.startswith("x ") for words in measures.words)
    assert any(words.startswith("y ") for words in measures.words)
    assert len(measures.words) >= 5
    scale = hand.screen.scale_px
    covered = QRectF(
        bubble.pos().x() + bubble.bounds.x() / scale,
        bubble.pos().y() + bubble.bounds.y() / scale,
        bubble.bounds.width() / scale,
        bubble.bounds.height() / scale,
    )
    assert not any(covered.intersects(plate) for plate in measures.plates)
    QTest.keyClick(maker.view, Qt.Key.Key_Escape)
    assert hand.interaction is None

"""What the hand aims at is reached: places that can be cut go before nearer ones that cannot."""

from dataclasses import replace
from random import Random

import pytest
from PySide6.QtCore import QPoint, Qt

from layout_app.bench.showing_cargo import FITS_HERE
from layout_app.document import edit_layout
from layout_app.model.landing import Field, Snapped, kept_inside
from layout_app.model.rooms import rooms
from layout_app.model.snapping import next_stop, snap_end
from layout_app.model.stops import LineKind, SnapGround, Way
from shared.geometry import Rect
from shared.shop import Axis
from shared.tree import Piece, Place, Run
from tests.layout_app.bench.two_sheets import KERF, inches

SHEET = Rect(x=0, y=0, length=inches(96), width=inches(48))
REACH = inches(2)
SHELF = ("1", 15, 17)


def rect(x, y, length, width):
    """Return a rectangle from inches."""
    return Rect(x=inches(x), y=inches(y), length=inches(length), width=inches(width))


def ground(*others, **more):
    """Return a sheet of 96 x 48 with other parts on it."""
    return SnapGround(usable=SHEET, others=others, kerf=KERF, **more)


def best(dropped, on, home=None) -> Snapped:
    """Return the best place there is for a part."""
    return next(Field(dropped, on).landings(dropped, REACH, home))


def test_a_kerf_counts_beside_the_part_only():
    """A part 30 below it draws none; one on the same height does, though it is farther away."""
    far, beside = rect(0, 40, "41/2", 5), rect(0, 0, 20, 10)
    found = best(rect("171/8", 0, 10, 5), ground(rect(0, 0, 20, 5), far))
    assert found.rect.x == inches("161/8")
    found = best(rect("163/8", 2, 10, 5), ground(beside, far))
    assert found.rect == rect("161/8", 0, 10, 5)
    assert {one.kind for one in found.guides} == {LineKind.KERF, LineKind.EDGE}
    assert {one.by for one in found.guides} == {beside, None}


def test_no_place_that_is_taken_is_named():
    """Between 20 and 31, a kerf each side, a part of 10 3/4 has one place: all others overlap."""
    left, right = rect(0, 0, 20, 10), rect(31, 0, 20, 10)
    gap = rect("161/8", 0, "43/4", 10)
    rng = Random(5)
    for _ in range(50):
        by = (rng.randint(-REACH, REACH) for _ in range(2))
        x, y = next(by) + gap.x, next(by)
        found = best(replace(gap, x=x, y=y), ground(left, right, rect(0, "81/8", 90, 10)))
        assert found.rect == gap


def test_where_a_part_was_taken_from_goes_before_all():
    """Within reach of its place it goes back there, with another stop much nearer."""
    home = rect("85/4", "7/2", 10, 5)
    found = best(rect("81/4", "9/4", 10, 5), ground(rect(0, 0, 20, 40)), home)
    assert (found.rect, found.home) == (home, True)
    assert not best(rect("81/4", "9/4", 10, 5), ground(rect(0, 0, 20, 40))).home


def test_a_part_stays_on_its_sheet_unless_half_of_it_is_pulled_off():
    """A third beyond the edge it lies at the edge; six tenths beyond it is let go."""
    assert kept_inside(rect(90, 20, 9, 5), SHEET) == rect(87, 20, 9, 5)
    assert kept_inside(rect(90, 20, 15, 5), SHEET) == rect(90, 20, 15, 5)
    assert kept_inside(rect(-3, -2, 9, 5), SHEET) == rect(0, 0, 9, 5)


def test_all_free_corners_of_a_sheet_are_found():
    """One part in the corner: beside it and below it, and in the corners of the sheet."""
    found = {
        (one.rect.x, one.rect.y)
        for one in Field(rect(50, 30, 10, 5), ground(rect(0, 0, 20, 10))).corners()
    }
    beside, below = (inches("161/8"), 0), (0, inches("81/8"))
    ends = {(x, y) for x in (0, inches(86)) for y in (0, inches(43))} - {(0, 0)}
    assert found >= {beside, below} | ends


def test_rooms_join_what_is_free_side_by_side():
    """A strip with a part, one in the hand and waste behind it: both are one room, the fall too."""
    lying = Run(
        axis=Axis.CROSSCUT,
        pieces=(
            Piece(size=30, place=Place(part="a", copy=1)),
            Piece(size=20, place=Place(part="b", copy=1)),
        ),
    )
    tree = Run(axis=Axis.RIP, pieces=(Piece(size=10, run=lying),))
    whole = Rect(x=0, y=0, length=100, width=50)
    assert rooms(tree, whole, 2) == [
        Rect(x=54, y=0, length=46, width=10),
        Rect(x=0, y=12, length=100, width=38),
    ]
    assert rooms(tree, whole, 2, {("b", 1)})[0] == Rect(x=32, y=0, length=68, width=10)
    assert rooms(tree, whole, 2, {("a", 1), ("b", 1)}) == [whole]


def offered(maker):
    """Return the outline of the nearest place while a part is carried."""
    return maker.view.hand.interaction._shows._offer


@pytest.fixture
def held_over_sides(maker, qtbot):
    """Return a maker who holds a shelf over two sides, where it cannot lie."""
    maker.drag(SHELF, ("1", 60, 6), drop=False)
    qtbot.waitUntil(lambda: offered(maker).words == FITS_HERE)
    return maker


def test_where_nothing_fits_the_nearest_place_is_taken_by_a_key(held_over_sides):
    """N lays it there, a tremor of the pointer does not take it away again."""
    maker = held_over_sides
    maker.key(Qt.Key.Key_N)
    assert maker.view.hand.interaction.verdict.good
    maker.go(maker._pointer + QPoint(3, 2))
    maker.release(maker._pointer)
    assert maker.corner("shelf", 1) == ("1", inches(66), inches("97/8"))
    assert not maker.doc.problems


def test_a_drop_on_the_words_of_the_nearest_place_lays_it_there(held_over_sides):
    """The part goes there as soon as the pointer is on them."""
    maker = held_over_sides
    middle = offered(maker).plate.center()
    maker.go(maker.view.mapFromScene(middle))
    assert maker.view.hand.interaction.verdict.good
    maker.release(maker.view.mapFromScene(middle))
    assert maker.corner("shelf", 1) == ("1", inches(66), inches("97/8"))
    assert not maker.doc.problems


def test_a_drop_over_others_stays_where_the_hand_is(held_over_sides):
    """Nothing jumps: it lies on the two sides, and the sheet says so."""
    maker = held_over_sides
    maker.release(maker._pointer)
    sheet, x, y = maker.corner("shelf", 1)
    assert sheet == "1"
    assert abs(x - inches(45)) < inches("1/4")
    assert abs(y - inches("9/8")) < inches("1/4")
    assert maker.doc.problems


def test_what_stops_a_part_is_said(maker):
    """In the far corner the edge of the sheet, beside a side a kerf from it, then its old place."""
    maker.drag(SHELF, ("1", 81, 43), drop=False)
    assert "edge of the sheet" in maker.view.hand.interaction._shows._measures.words
    maker.go(maker.at("1", 62, 17.3))
    assert "a kerf from Side 2" in maker.view.hand.interaction._shows._measures.words
    maker.go(maker.at("1", 15.4, 17.3))
    assert "back in its place" in maker.view.hand.interaction._shows._bubble.words


def test_keys_go_to_the_next_stop_that_can_be_cut(maker):
    """From the lower strip up, with two sides in the way: over them no stop is taken."""
    edit_layout.move_part(maker.doc, "shelf", 1, "1", inches("321/8"), inches(30))
    maker.doc.selection.select_parts([("shelf", 1)])
    maker.view.setFocus()
    for _ in range(3):
        maker.key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
        if maker.corner("shelf", 1)[2] <= inches("97/8"):
            break
        assert not maker.doc.problems
    assert maker.corner("shelf", 1)[2] == inches("97/8")


def test_stops_and_ends_that_cannot_be_cut_are_passed_over():
    """The stop 10 ahead is refused, so the next is; of two ends in reach the farther, too."""
    on, one = ground(rect(40, 20, 20, 5)), rect(0, 0, 10, 5)
    refused = inches("239/8")
    stop = next_stop(one, on, Way.X, onward=True, can_be_cut=lambda there: there.x != refused)
    assert stop == inches(40)
    long = rect(0, 20, "79/2", 5)
    assert snap_end(long, on, Way.X, REACH, far=True).right == inches("319/8")
    on = replace(on, running_x=(inches(39),))
    ended = snap_end(
        long, on, Way.X, REACH, far=True, can_be_cut=lambda it: it.right < inches(39.5)
    )
    assert ended.right == inches(39)

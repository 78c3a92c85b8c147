"""Snapping is exact to the tick and leaves no gap the saw cannot make good use of."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout_app.model.landing import Guide
from layout_app.model.snapping import SnapGround, Way, frame_of, next_stop, snap_size
from layout_app.model.stops import LineKind
from shared.geometry import Rect
from tests.layout_app.bench.landed import snap
from tests.layout_app.bench.two_sheets import KERF, inches

SHEET = Rect(x=0, y=inches("1/4"), length=inches(96), width=inches(47))
REACH = inches(1)


def rect(x, y, length, width):
    """Return a rectangle from inches."""
    return Rect(x=inches(x), y=inches(y), length=inches(length), width=inches(width))


def ground(*others, step=1):
    """Return a sheet with a near trim of 1/4 and other parts on it."""
    return SnapGround(usable=SHEET, others=others, kerf=KERF, step=step)


def test_a_part_snaps_to_the_trimmed_edges():
    """Near the corner it lies on the start edge and on the trimmed reference edge."""
    snapped = snap(rect("1/2", "3/4", 20, 5), ground(), REACH).rect
    assert (snapped.x, snapped.y) == (0, inches("1/4"))


def test_a_part_snaps_one_kerf_from_a_neighbour():
    """Behind a part that ends at 20 it begins at 20 1/8; before one at 60 it ends at 59 7/8."""
    left, right = rect(0, "1/4", 20, 5), rect(60, "1/4", 20, 5)
    behind = snap(rect("81/4", "1/4", 10, 5), ground(left, right), REACH).rect
    before = snap(rect("199/4", "1/4", 10, 5), ground(left, right), REACH).rect
    assert behind.x == inches("161/8")
    assert before.right == inches("479/8")


def test_a_part_snaps_in_line():
    """Its far edge comes in line with that of a part in another strip."""
    snapped = snap(rect("99/8", 20, 10, 5), ground(rect(3, "1/4", 20, 5)), REACH)
    assert snapped.rect.right == inches(23)


def test_out_of_reach_a_part_lies_on_the_finest_step():
    """Where nothing is near, the place is a whole number of steps from the usable corner."""
    free = Rect(x=inches(40) + 777, y=inches(20) + 333, length=inches(10), width=inches(5))
    step = inches("1/32")
    snapped = snap(free, ground(step=step), REACH).rect
    assert (snapped.x % step, (snapped.y - SHEET.y) % step) == (0, 0)
    assert abs(snapped.x - free.x) <= step


def test_without_reach_a_bad_gap_is_still_left():
    """Held free of snapping, a part 3/16 behind another still moves to one kerf from it."""
    part = rect(0, "1/4", 20, 5)
    snapped = snap(rect("323/16", "1/4", 10, 5), ground(part), 0).rect
    assert snapped.x == inches("161/8")


def gaps(one, others, way):
    """Return the gaps to what lies beside a rectangle, by plain arithmetic."""
    for other in others:
        if way == "x" and one.y < other.bottom and other.y < one.bottom:
            yield max(other.x - one.right, one.x - other.right)
        if way == "y" and one.x < other.right and other.x < one.right:
            yield max(other.y - one.bottom, one.y - other.bottom)


@given(st.integers(0, 300), st.integers(0, 96 * 8), st.integers(0, 16))
def test_one_neighbour_never_leaves_a_bad_gap(offset, eighths, reach):
    """Beside one part the gap is none, one kerf, or two and more, wherever it is dropped."""
    other = rect(30, 10, 20, 10)
    x = inches(1) * eighths // 8 + offset * 100
    dropped = Rect(x=x, y=inches(12), length=inches(8), width=inches(4))
    snapped = snap(dropped, ground(other), inches("1/8") * reach).rect
    for gap in gaps(snapped, [other], "x"):
        assert gap < 0 or gap == KERF or gap >= 2 * KERF


@given(
    st.lists(st.tuples(st.integers(0, 80), st.integers(1, 40)), max_size=5),
    st.tuples(st.integers(0, 96 * 16), st.integers(0, 48 * 16)),
)
def test_what_snaps_is_exact(corners, place):
    """A part either keeps its size and lies on whole steps, or on a line drawn from others."""
    others = tuple(rect(x, y, 10, 4) for x, y in corners)
    dropped = Rect(
        x=inches("1/16") * place[0],
        y=inches("1/16") * place[1],
        length=inches(12),
        width=inches(6),
    )
    step = inches("1/32")
    found = snap(dropped, ground(*others, step=step), REACH).rect
    assert (found.length, found.width) == (dropped.length, dropped.width)
    lines = {0, inches(96)} | {
        at for o in others for edge in (o.x, o.right) for at in (edge, edge - KERF, edge + KERF)
    }
    assert found.x % step == 0 or found.x in lines or found.right in lines


def test_the_next_stop_goes_through_all_good_places():
    """From the start: before the part at 40 with a kerf, in line with it, behind it, the end."""
    ground_ = ground(rect(40, 20, 20, 5))
    at, stops = rect(0, "1/4", 10, 5), []
    while (stop := next_stop(at, ground_, Way.X, onward=True)) is not None:
        stops.append(stop)
        at = Rect(x=stop, y=at.y, length=at.length, width=at.width)
    # 40 - 1/8 - 10, 40, 60 - 10, 60 + 1/8, 96 - 10
    expected = ("239/8", 40, 50, "481/8", 86)
    assert stops == [inches(place) for place in expected]
    assert next_stop(at, ground_, Way.X, onward=False) == inches("481/8")


def test_an_edge_snaps_to_the_room_before_a_neighbour():
    """Resized towards a part at 60, the edge stops one kerf before it."""
    grown = snap_size(rect(0, 5, "119/2", 10), ground(rect(60, 5, 20, 10)), Way.X, REACH)
    assert grown.right == inches("479/8")


def test_an_edge_snaps_to_an_equal_size():
    """Resized to nearly the length of another part, it takes that length."""
    grown = snap_size(rect(5, 5, "79/4", 10), ground(rect(50, 30, 20, 10)), Way.X, inches("1/2"))
    assert grown.length == inches(20)


def test_a_part_snaps_to_a_strip_as_wide_as_another_part():
    """Dropped at y 4 3/8 the part of 5 goes to where its far edge is that of a part of 9."""
    other = rect(60, "1/4", 20, 9)
    snapped = snap(rect(5, "35/8", 10, 5), ground(other), inches("1/4"))
    # The strip begins at the trimmed reference edge, at 1/4: 1/4 + 9 - 5 = 4 1/4.
    assert snapped.rect.y == inches("17/4")


def test_a_part_snaps_to_a_strip_of_equal_width_behind_another():
    """Behind a part that ends at 20, with a kerf: 20 1/8 + 9 - 5 = 24 1/8."""
    before, like = rect(0, "1/4", 30, "79/4"), rect(60, 30, 20, 9)
    snapped = snap(rect(5, 24, 10, 5), ground(before, like), inches("1/4"))
    assert snapped.rect.y == inches("193/8")
    assert LineKind.EQUAL in {guide.kind for guide in snapped.guides}


@given(st.integers(-8, 8), st.booleans())
def test_a_part_snaps_to_running_positions(eighths, begins):
    """With a rip at 30 it ends there, or begins a kerf behind it: 30 - 5 = 25, or 30 1/8."""
    rip = inches(30)
    at = rip + KERF if begins else rip - inches(5)
    dropped = Rect(x=inches(20), y=at + inches("1/16") * eighths, length=inches(8), width=inches(5))
    lines = SnapGround(usable=SHEET, others=(), kerf=KERF, running_y=(rip,))
    snapped = snap(dropped, lines, inches("5/8"))
    assert snapped.rect.y == at
    assert Guide(way=Way.Y, at=at if begins else rip, kind=LineKind.RUNNING) in snapped.guides


@given(
    st.lists(st.tuples(*[st.integers(0, 30)] * 2, *[st.integers(2, 12)] * 2), min_size=1),
    st.tuples(st.integers(-20, 400), st.integers(-20, 200)),
)
def test_a_block_moves_as_one(boxes, to):
    """The frame keeps its size, and lies where all gaps of its parts are good, or on a stop."""
    pieces = tuple(
        Rect(x=inches(x), y=inches(y), length=inches(a), width=inches(b)) for x, y, a, b in boxes
    )
    frame = frame_of(pieces)
    there = Rect(
        x=inches("1/4") * to[0],
        y=inches("1/4") * to[1],
        length=frame.length,
        width=frame.width,
    )
    by_x, by_y = there.x - frame.x, there.y - frame.y
    moved_there = tuple(
        Rect(x=one.x + by_x, y=one.y + by_y, length=one.length, width=one.width) for one in pieces
    )
    snapped = snap(there, ground(), REACH, moved_there).rect
    assert (snapped.length, snapped.width) == (frame.length, frame.width)
    for way, gap in ((Way.X, snapped.x - SHEET.x), (Way.Y, snapped.y - SHEET.y)):
        assert not 0 < gap < 2 * KERF, way


@pytest.mark.parametrize("edges", ["left near", "left far", "right near", "right far"])
def test_a_part_aimed_into_a_corner_lies_in_it(edges):
    """Of 100 drops within reach of the corner all lie in it, whatever else is to snap to."""
    rng, part = Random(11), rect(0, "1/4", 10, 5)
    full = SnapGround(
        usable=SHEET,
        others=(rect(40, 20, "41/4", "21/4"), rect("93/2", 35, "21/2", "11/2")),
        kerf=KERF,
        running_x=tuple(inches(one) for one in ("3/4", "21/2", "191/2", "213/4")),
        running_y=tuple(inches(one) for one in ("1", "23/4", "93/2", "189/4")),
    )
    x = SHEET.x if "left" in edges else SHEET.right - part.length
    y = SHEET.y if "near" in edges else SHEET.bottom - part.width
    for _ in range(100):
        by_x, by_y = (rng.randint(-REACH, REACH) for _ in range(2))
        dropped = Rect(x=x + by_x, y=y + by_y, length=part.length, width=part.width)
        snapped = snap(dropped, full, REACH).rect
        assert (snapped.x, snapped.y) == (x, y)


def test_a_corner_that_is_taken_takes_no_part():
    """Beside a narrow part in the corner another lies a kerf behind it, not on top of it."""
    narrow = rect(0, "1/4", "1/2", 20)
    snapped = snap(rect("3/4", "1/2", 20, 5), ground(narrow), REACH).rect
    assert (snapped.x, snapped.y) == (inches("5/8"), inches("1/4"))


def test_a_corner_with_a_defect_takes_no_part():
    """A part keeps clear of what it must miss in the corner; it may touch it."""
    bad = Rect(x=0, y=SHEET.y, length=inches("1/2"), width=inches("1/2"))
    marked = SnapGround(usable=SHEET, others=(), kerf=KERF, bad=(bad,))
    snapped = snap(rect("3/8", "1/4", 20, 5), marked, inches("1/4")).rect
    assert snapped.x == inches("1/2")

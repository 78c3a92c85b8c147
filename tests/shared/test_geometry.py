"""Rectangles share inside, share border, or neither; checked against Shapely's predicates."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from shared.geometry import Rect

SIDES = st.integers(1, 6)
CORNERS = st.integers(-4, 4)
RECTS = st.builds(Rect, x=CORNERS, y=CORNERS, length=SIDES, width=SIDES)


def rect(x: int, y: int, length: int, width: int) -> Rect:
    """Return a rectangle from four numbers."""
    return Rect(x=x, y=y, length=length, width=width)


def polygon(one: Rect) -> Polygon:
    """Return the same rectangle as a polygon of Shapely, a general geometry library."""
    return box(one.x, one.y, one.x + one.length, one.y + one.width)


def test_edges_and_area() -> None:
    """A rectangle of 5 x 3 at (2, 1) ends at 7 and 4 and holds 15."""
    one = rect(2, 1, 5, 3)
    assert (one.right, one.bottom, one.area) == (7, 4, 15)


def test_area_is_exact() -> None:
    """A sheet of 2440 x 1220 mm has more square ticks than a float can tell apart."""
    one = rect(0, 0, 2440 * 40_000, 1220 * 40_000 + 1)
    assert one.area == 97_600_000 * 48_800_001
    assert one.area != one.area - 1 == float(one.area - 1)


@pytest.mark.parametrize(
    ("other", "overlaps", "touches"),
    [
        (rect(4, 0, 2, 2), False, True),
        (rect(0, 4, 2, 2), False, True),
        (rect(4, 4, 2, 2), False, True),
        (rect(5, 0, 2, 2), False, False),
        (rect(3, 3, 2, 2), True, False),
        (rect(1, 1, 2, 2), True, False),
        (rect(-1, -1, 9, 9), True, False),
    ],
    ids=["right of", "below", "at the corner", "apart", "across", "inside", "around"],
)
def test_touching_has_a_name(other: Rect, overlaps: bool, touches: bool) -> None:
    """To border on something is not to overlap it."""
    one = rect(0, 0, 4, 4)
    assert (one.overlaps(other), one.touches(other)) == (overlaps, touches)


@given(one=RECTS, other=RECTS)
def test_overlap_is_as_in_shapely(one: Rect, other: Rect) -> None:
    """Two overlap if their insides meet; the order does not matter."""
    insides_meet = polygon(one).intersection(polygon(other)).area > 0
    assert one.overlaps(other) is other.overlaps(one) is insides_meet


@given(one=RECTS, other=RECTS)
def test_touch_is_as_in_shapely(one: Rect, other: Rect) -> None:
    """Two touch if they share border only."""
    border_only = polygon(one).touches(polygon(other))
    assert one.touches(other) is other.touches(one) is border_only


@given(one=RECTS, other=RECTS)
def test_contains_is_as_in_shapely(one: Rect, other: Rect) -> None:
    """One contains the other if it covers it, borders allowed."""
    assert one.contains(other) is polygon(one).covers(polygon(other))


@given(one=RECTS, other=RECTS)
def test_common_is_as_in_shapely(one: Rect, other: Rect) -> None:
    """What two rectangles share is the polygon Shapely finds, or nothing where it has none."""
    common = one.common(other)
    found = polygon(one).intersection(polygon(other))
    assert (common is None) is (found.area == 0)
    assert common is None or polygon(common).equals(found)

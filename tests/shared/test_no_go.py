"""Bad places of a sheet: corners, names, what keeps clear, and what they leave."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.geometry import Rect
from shared.lengths import MM
from shared.no_go import Corner, at_corner, barred_by, covers, place_name
from shared.stock import NoGo, Stock

SHEET = Stock(
    id="full",
    name="Full sheet",
    material="birch",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)

small = st.builds(
    Rect,
    x=st.integers(-3, 12),
    y=st.integers(-3, 12),
    length=st.integers(1, 8),
    width=st.integers(1, 8),
)


@pytest.mark.parametrize(
    ("corner", "at"),
    [
        (Corner.TOP_LEFT, (0, 0)),
        (Corner.TOP_RIGHT, (2240, 0)),
        (Corner.BOTTOM_LEFT, (0, 1120)),
        (Corner.BOTTOM_RIGHT, (2240, 1120)),
    ],
)
def test_a_corner_lies_in_its_corner(corner: Corner, at: tuple[int, int]) -> None:
    """A damaged corner of L 200 x W 100 begins where the sheet's edges leave room for it."""
    bad = at_corner(SHEET, corner, 200 * MM, 100 * MM)
    assert (bad.x, bad.y) == (at[0] * MM, at[1] * MM)
    assert SHEET.whole.contains(bad.rect)
    assert place_name(bad, SHEET.whole) == "damaged corner"


@pytest.mark.parametrize(
    ("at", "name"),
    [((0, 500), "damaged edge"), ((500, 0), "damaged edge"), ((500, 500), "knot or flaw")],
)
def test_a_place_is_named_by_where_it_lies(at: tuple[int, int], name: str) -> None:
    """What touches one edge is a damaged edge, what touches none a knot or flaw."""
    bad = NoGo(x=at[0] * MM, y=at[1] * MM, length=50 * MM, width=50 * MM)
    assert place_name(bad, SHEET.whole) == name


@pytest.mark.parametrize(
    ("show_only", "show", "barred"),
    [(False, False, True), (False, True, True), (True, False, False), (True, True, True)],
)
def test_who_keeps_clear(show_only: bool, show: bool, barred: bool) -> None:
    """A place kept out of show faces only takes a part whose face is hidden."""
    bad = NoGo(x=0, y=0, length=50 * MM, width=50 * MM, show_only=show_only)
    part = Rect(x=40 * MM, y=40 * MM, length=500 * MM, width=300 * MM)
    assert (barred_by((bad,), part, show=show) is bad) is barred


def test_touching_a_bad_place_is_allowed() -> None:
    """A part may lie against a bad place."""
    bad = NoGo(x=0, y=0, length=50 * MM, width=50 * MM)
    beside = Rect(x=50 * MM, y=0, length=500 * MM, width=300 * MM)
    assert barred_by((bad,), beside, show=True) is None


@given(st.lists(small, max_size=5), small)
def test_cover_against_counting(rects: list[Rect], whole: Rect) -> None:
    """Rectangles hide another just when each of its unit squares lies in one of them."""
    cells = product(range(whole.x, whole.right), range(whole.y, whole.bottom))
    units = (Rect(x=x, y=y, length=1, width=1) for x, y in cells)
    assert covers(rects, whole) is all(any(r.contains(u) for r in rects) for u in units)

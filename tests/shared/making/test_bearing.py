"""Each side of a cut stays put on its bearers, before the cut and after it.

A body stands if its centre of gravity is over the convex hull of what bears it (statics); hull
and centre are reckoned by Shapely, which the project does not use.
"""

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon, box

from shared.lengths import MM
from shared.making.bearing import FALLS, under

STUD = 38
"""Width in mm of a bearer: a stud on its edge (published: 1 1/2 in, 38 mm)."""


@given(st.integers(20 * MM, 2800 * MM), st.integers(100, 2800))
def test_the_centre_of_a_side_is_over_its_bearers(wide: int, long: int) -> None:
    """And no bearer lies in the blade's path, or beyond the side."""
    side = box(0, 0, wide / MM, long)
    half = min(STUD, wide / MM) / 2
    laid = MultiPolygon([box(at / MM - half, 0, at / MM + half, long) for at in under(wide)])
    assert laid.convex_hull.buffer(1e-3).contains(side.centroid)
    assert side.buffer(1e-3).contains(laid)


@given(st.integers(FALLS, 2800 * MM))
def test_a_bearer_is_near_the_line_and_near_the_other_end(wide: int) -> None:
    """Within 100 mm (4 in): the blade is not pinched, and nobody's weight tips the far end."""
    at = under(wide)
    assert min(at) <= 100 * MM
    assert max(at) >= wide - 100 * MM

"""Each side of a cut stays put on its bearers, before the cut and after it.

A body stands if its centre of gravity is over the convex hull of what bears it (statics); hull
and centre are reckoned by Shapely, which the project does not use.
"""

from itertools import pairwise

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


@given(st.integers(FALLS, 5600 * MM))
def test_a_sheet_sags_little_between_its_bearers(wide: int) -> None:
    """A sheet of 18 mm chipboard on two supports leans at its ends by w L^3 / 24 E I (beam theory).

    Published: 650 kg/m3, modulus of elasticity 2 GPa for chipboard (EN 12369-1 has 1.6 to 2.1).
    Over the thickness that is what a kerf of 2.2 mm closes by, from both sides of the line: less
    than a quarter of it.
    """
    at = sorted(under(wide))
    span = max((after - one for one, after in pairwise(at)), default=0) / (1000 * MM)
    load, stiff = 650 * 9.81 * 0.018, 2e9 * 0.018**3 / 12
    leans = load * span**3 / (24 * stiff)
    assert 2 * leans * 18 < 2.2 / 4

"""Sheets out of square: the skew from measured diagonals, and the trims that mend it."""

from dataclasses import replace
from decimal import Decimal, localcontext
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from shared.job import Job
from shared.lengths import INCH, METRE, MM, Length
from shared.shop import Shop
from shared.squaring import BEYOND_KERF, skew, squared, with_trims
from shared.stock import Stock, Trims

SHEET = Stock(
    id="full",
    name="Full sheet",
    material="birch",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)
KERF = 22 * MM // 10
DIAGONALS = 4 * MM
"""Of a sheet whose short edge is off by 2.24 mm: 4 mm x 2728 mm / (2 x 2440 mm)."""

sides = st.integers(300 * MM, 3100 * MM)


def row(kerf: Length = KERF, **changes: Any) -> Stock:
    """Return the sheet as a job has it with some changes."""
    job = Job(stock=(replace(SHEET, **changes),), shop=Shop(kerf=kerf))
    return squared(job).stock[0]


def diagonals(length: Length, width: Length, shift: Length) -> tuple[Decimal, Decimal]:
    """Measure a parallelogram whose short edges are ``width`` long and off by ``shift``."""
    with localcontext(prec=60):
        height = (Decimal(width) ** 2 - Decimal(shift) ** 2).sqrt()
        one, other = Decimal(length + shift), Decimal(length - shift)
        return (one**2 + height**2).sqrt(), (other**2 + height**2).sqrt()


def test_an_eighth_on_four_by_eight() -> None:
    """Diagonals 1/8 in apart on 48 x 96 tilt the 48-in end by 0.070 in (computed, PS 1 limit)."""
    off = skew(96 * INCH, 48 * INCH, INCH // 8)
    assert round(off / INCH, 3) == 0.070
    assert round(off / MM, 1) == 1.8


def test_two_millimetres_to_the_metre() -> None:
    """What EN 312 allows, 2 mm/m, is 2.44 mm on a 1220 end: some 4.4 mm between diagonals."""
    long, short = diagonals(2440 * MM, 1220 * MM, 2440 * MM // 1000)
    assert round((long - short) / MM, 1) == Decimal("4.4")
    assert round(skew(2440 * MM, 1220 * MM, round(long - short)) / MM, 2) == 2.44


@given(sides, sides, st.integers(0, 50))
def test_skew_against_exact_geometry(length: Length, width: Length, share: int) -> None:
    """The skew is that of the parallelogram that was measured, to a tick or a thousandth."""
    shift = width * share // 2500
    long, short = diagonals(length, width, shift)
    found = skew(length, width, round(long - short))
    # A diagonal difference rounded to a tick is off by half of one; D / 2L carries it over.
    least = shift - 1 - width // length
    assert least <= found <= shift + shift // 1000 + 3 + width // length


@given(sides, sides, st.integers(0, 20 * MM))
def test_the_order_of_the_diagonals_is_no_matter(length: Length, width: Length, d: Length) -> None:
    """A difference of either sign gives the same skew."""
    assert skew(length, width, -d) == skew(length, width, d)


@given(sides, sides, st.integers(1, 10 * MM), st.sampled_from((0, KERF, INCH // 8)))
def test_what_the_trims_leave_is_square(
    length: Length, width: Length, shift: Length, kerf: Length
) -> None:
    """The usable rectangle lies in the parallelogram, whichever way it leans, with stock to cut."""
    long, short = diagonals(length, width, shift)
    difference = round(long - short) + 1
    mended = row(kerf, length=length, width=width, diagonals=difference)
    trims, height = mended.trims, int((Decimal(width) ** 2 - Decimal(shift) ** 2).sqrt())
    for lean in (shift, -shift):
        outline = [(0, 0), (length, 0), (length + lean, height), (lean, height)]
        sheet = shapely.Polygon(outline).buffer(2)  # two ticks, a twenty-thousandth of a mm
        assert sheet.covers(shapely.box(trims.start, 0, length - trims.end, height))
        blade = shapely.box(trims.start - kerf - BEYOND_KERF, 0, trims.start, height)
        assert sheet.covers(blade)


def test_trims_are_set_to_what_can_be_set() -> None:
    """Trims go up to the next 0.1 mm, or 1/64 in on a sheet measured in inches."""
    metric = row(diagonals=DIAGONALS)
    assert metric.trims == Trims(start=65 * MM // 10, end=23 * MM // 10)  # 6.44 and 2.24
    inches = row(INCH // 8, length=96 * INCH, width=48 * INCH, diagonals=INCH // 8)
    # 0.0699 in makes 5/64; with 1/8 and 2 mm (0.0787 in) it is 0.2736 in, which makes 18/64.
    assert inches.trims == Trims(start=18 * INCH // 64, end=5 * INCH // 64)


def test_larger_trims_stay() -> None:
    """A start trim of 12 mm holds the squaring cut already; near and far trims are no matter."""
    wanted = Trims(near=8 * MM, far=3 * MM, start=12 * MM)
    assert row(diagonals=DIAGONALS, trims=wanted).trims == replace(wanted, end=23 * MM // 10)


def test_a_square_sheet_has_the_trims_that_were_wanted() -> None:
    """Once the diagonals turn out equal, the trims are those the maker asked for."""
    wanted = Trims(near=8 * MM, start=3 * MM)
    mended = row(diagonals=DIAGONALS, trims=wanted)
    assert mended.trims != wanted
    job = Job(stock=(replace(mended, diagonals=0),), shop=Shop(kerf=KERF))
    assert squared(job).stock[0] == replace(SHEET, trims=wanted)


def test_trims_that_are_asked_for_anew_hold() -> None:
    """Who changes the trims of a row out of square has them from then on."""
    mended = row(diagonals=DIAGONALS)
    new = with_trims(mended, Trims(start=20 * MM, end=20 * MM))
    assert squared(Job(stock=(new,))).stock[0].trims == Trims(start=20 * MM, end=20 * MM)


@given(st.integers(-5 * MM, 5 * MM), st.sampled_from((0, KERF, INCH // 8)))
def test_squaring_twice_is_squaring_once(difference: Length, kerf: Length) -> None:
    """A job that is squared stays as it is, and goes with the kerf of now, not of before."""
    job = squared(Job(stock=(replace(SHEET, diagonals=difference),), shop=Shop(kerf=kerf)))
    assert squared(job) is job
    finer = squared(replace(job, shop=Shop(kerf=MM)))
    assert finer == squared(Job(stock=(replace(SHEET, diagonals=difference),), shop=Shop(kerf=MM)))


@pytest.mark.parametrize("size", [(0, MM), (MM, 0), (-METRE, METRE)])
def test_a_sheet_of_no_size_has_no_skew(size: tuple[Length, Length]) -> None:
    """Nothing is divided by a length of 0."""
    assert skew(*size, MM) == 0

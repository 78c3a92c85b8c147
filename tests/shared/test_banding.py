"""Edge bands and what is bought, against worked examples and sums by hand."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.banding import FOOT, ROLLS, BandNeed, band_needs
from shared.job import Job
from shared.lengths import INCH, MM, Length
from shared.parts import Bands, Part
from shared.shopping import shopping
from shared.stock import Stock
from shared.units import Unit
from tests import strategies
from tests.shared.small_plan import PLAN, SHEET


def _part(size: tuple[Length, Length], bands: Bands, copies: int) -> Part:
    length, width = size
    return Part(
        id="p", name="", length=length, width=width, material="ply", bands=bands, copies=copies
    )


def test_six_shelves_with_a_front_edge() -> None:
    """Worked example B1 of the workshop notes: 278 5/8 in, 290 5/8 in cut, a roll of 50 ft.

    290 5/8 in are 24.22 ft: a roll of 25 ft leaves 9 3/8 in, too thin a margin; 10 % ask for 50.
    """
    shelf = _part((46 * INCH + 7 * INCH // 16, 12 * INCH), Bands(bottom=INCH // 32), 6)
    (need,) = band_needs([shelf], Unit.INCH)
    assert need.strips == 6
    assert need.net == 278 * INCH + 5 * INCH // 8
    assert need.cut == 290 * INCH + 5 * INCH // 8
    assert Fraction(need.cut, FOOT) == pytest.approx(24.22, abs=0.005)
    assert 25 * FOOT - need.cut == 9 * INCH + 3 * INCH // 8
    assert (need.rolls, need.roll) == (1, 50 * FOOT)


def test_four_doors_with_all_edges() -> None:
    """Worked example B2 of the workshop notes: 7152 mm, 7792 mm cut, a roll of 10 m."""
    all_round = Bands(top=MM, bottom=MM, left=MM, right=MM)
    (need,) = band_needs([_part((597 * MM, 297 * MM), all_round, 4)], Unit.MM)
    assert need.strips == 16
    assert need.net == 7152 * MM
    assert need.cut == 7792 * MM
    assert (need.rolls, need.roll) == (1, 10_000 * MM)


def test_each_thickness_is_bought_apart() -> None:
    """A part with two kinds of band needs two rolls; bare edges need none."""
    two = _part((500 * MM, 300 * MM), Bands(top=2 * MM, left=MM // 2), 1)
    thin, thick = band_needs([two, _part((900 * MM, 90 * MM), Bands(), 9)], Unit.MM)
    assert (thin.thickness, thin.net) == (MM // 2, 300 * MM)
    assert (thick.thickness, thick.net) == (2 * MM, 500 * MM)


def test_more_than_the_longest_roll_takes_several() -> None:
    """48 edges of 2.4 m: 117.12 m cut, 128.832 m with waste: three rolls of 50 m."""
    (need,) = band_needs([_part((2400 * MM, 300 * MM), Bands(top=MM), 48)], Unit.MM)
    assert need.with_waste == 128_832 * MM
    assert (need.rolls, need.roll) == (3, 50_000 * MM)


SIDES = st.integers(20 * MM, 2500 * MM)
PARTS = st.lists(
    st.builds(_part, st.tuples(SIDES, SIDES), strategies.bands(), st.integers(1, 30)), max_size=4
)


def _by_thickness(needs: tuple[BandNeed, ...]) -> dict[Length, BandNeed]:
    return {need.thickness: need for need in needs}


@given(parts=PARTS, unit=st.sampled_from(Unit))
def test_every_banded_edge_is_counted_once(parts: list[Part], unit: Unit) -> None:
    """Strips and their length add up to those of all edges of all copies, none of bare ones."""
    edges: Counter[Length] = Counter()
    long: Counter[Length] = Counter()
    for part in parts:
        for edge in ("top", "bottom", "left", "right"):
            band = getattr(part.bands, edge)
            edges[band] += part.copies
            long[band] += part.copies * (part.length if edge in {"top", "bottom"} else part.width)
    needs = _by_thickness(band_needs(parts, unit))
    assert {one: need.strips for one, need in needs.items()} == {
        b: n for b, n in edges.items() if b
    }
    assert {one: need.net for one, need in needs.items()} == {b: n for b, n in long.items() if b}


@given(parts=PARTS, unit=st.sampled_from(Unit))
def test_rolls_are_enough_and_no_more(parts: list[Part], unit: Unit) -> None:
    """What is bought is at least a tenth more than is cut; one roll less would be too little."""
    for need in band_needs(parts, unit):
        assert need.cut >= need.net + need.strips * 25 * MM
        assert 10 * need.with_waste >= 11 * need.cut > 10 * (need.with_waste - 1)
        assert need.roll in ROLLS[unit]
        assert need.rolls * need.roll >= need.with_waste
        assert (need.rolls - 1) * need.roll < need.with_waste
        if need.rolls == 1:
            assert all(roll < need.with_waste for roll in ROLLS[unit] if roll < need.roll)


@given(parts=PARTS, more=PARTS, unit=st.sampled_from(Unit))
def test_more_parts_never_need_less(parts: list[Part], more: list[Part], unit: Unit) -> None:
    """No thickness of band gets shorter when parts come to a job."""
    after = _by_thickness(band_needs([*parts, *more], unit))
    for before in band_needs(parts, unit):
        assert after[before.thickness].with_waste >= before.with_waste


@given(
    at_hand=st.sampled_from((None, 1, 3, 9)), price=st.integers(0, 99_999), sheets=st.integers(1, 9)
)
def test_owned_sheets_are_taken_others_bought(at_hand: int | None, price: int, sheets: int) -> None:
    """A row with a number at hand is owned; the price counts every sheet a plan takes."""
    row = Stock(
        id="s",
        name="",
        material=SHEET.material,
        length=SHEET.length,
        width=SHEET.width,
        thickness=SHEET.thickness,
        price=price,
        at_hand=at_hand,
    )
    other = replace(row, id="t", price=7)
    taken = tuple(replace(SHEET, id=str(number)) for number in range(sheets))
    lying = replace(SHEET, id="rest", piece="1a")
    found = shopping(Job(stock=(row, other)), replace(PLAN, sheets=(*taken, lying)))
    (line,) = found.sheets
    assert (line.stock.id, line.used) == ("s", sheets)
    assert line.buy == (sheets if at_hand is None else 0)
    assert found.price == line.price == sheets * price


@settings(max_examples=20)
@given(job=strategies.jobs())
def test_bands_are_those_of_the_jobs_parts(job: Job) -> None:
    """Whatever a plan leaves out: bands are bought for all parts of the take-off."""
    found = shopping(job, replace(PLAN, sheets=()))
    assert found.bands == band_needs(job.parts, job.style.unit)
    assert (found.sheets, found.price) == ((), 0)

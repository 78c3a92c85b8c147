"""What sheets count: given prices, prices by area, and area alone; worked out by hand."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.costs import Basis, Costs, Spent, costs_of, spent, value_of
from shared.lengths import FOOT, INCH, METRE, MM
from shared.plan import Goal
from shared.stock import AreaPrice, AreaUnit, Stock
from tests.solver.some_jobs import PLY, job, sheet

FULL = sheet("full", price=6_400)
HALF = sheet("half", 48 * INCH)
REST = sheet("rest", 30 * INCH, 20 * INCH, at_hand=1)


def costs(*rows: Stock, by_area: int | None = None, per: AreaUnit = AreaUnit.SQUARE_FOOT) -> Costs:
    """Return the costs of the rows of one material."""
    given = () if by_area is None else (AreaPrice(material=PLY, price=by_area, per=per),)
    return costs_of(replace(job(*rows), area_prices=given), PLY)


def test_a_blank_price_is_that_of_the_cheapest_row_by_area() -> None:
    """Half of 64.00, as the dearer third sheet does not matter; the offcut costs nothing."""
    dear = sheet("dear", 32 * INCH, price=3_000)
    found = costs(FULL, HALF, REST, dear)
    assert found.each == {"full": 6_400, "half": 3_200, "rest": 0, "dear": 3_000}
    assert found.prices == {"full": 6_400, "half": 0, "rest": 0, "dear": 3_000}
    assert (found.basis, found.goal, found.like) == (Basis.DERIVED, Goal.LEAST_COST, FULL)


def test_a_given_price_by_area_comes_before_that_of_a_row() -> None:
    """16 sq ft at 2.10 are 33.60, money that was given; priced sheets cost their price."""
    found = costs(FULL, HALF, REST, by_area=210)
    assert found.each == {"full": 6_400, "half": 3_360, "rest": 0}
    assert found.prices == found.each
    assert (found.basis, found.goal) == (Basis.BY_AREA, Goal.LEAST_PRICE)


def test_a_price_for_a_square_metre() -> None:
    """2.44 x 1.22 m are 2.9768 m2; at 20.00 that is 59.536, rounded up to 59.54."""
    board = sheet("board", 2440 * MM, 1220 * MM)
    assert costs(board, by_area=2_000, per=AreaUnit.SQUARE_METRE).each == {"board": 5_954}
    assert tuple(unit.square_ticks for unit in AreaUnit) == (FOOT**2, METRE**2)


def test_where_all_that_is_bought_has_a_price_nothing_goes_by_area() -> None:
    """An offcut without a price costs nothing, not its area."""
    found = costs(FULL, REST, by_area=210)
    assert (found.basis, found.goal) == (Basis.GIVEN, Goal.LEAST_PRICE)
    assert found.each == {"full": 6_400, "rest": 0}


def test_a_price_of_nothing_is_a_price() -> None:
    """Free boards stay free beside boards that cost something."""
    free = sheet("free", price=0)
    assert costs(FULL, free).each == {"full": 6_400, "free": 0}


@pytest.mark.parametrize("price", [None, 0])
def test_without_prices_area_decides(price: int | None) -> None:
    """In square millimetres, rounded up (a square inch is 645.16); what is owned counts nothing."""
    rows = [replace(row, price=price) for row in (FULL, HALF, REST)]
    found = costs(*rows)
    assert found.each == {"full": 2_972_898, "half": 1_486_449, "rest": 0}
    assert {*found.prices.values()} == {0}
    assert (found.basis, found.goal) == (Basis.AREA, Goal.LEAST_AREA)
    assert found.rack == {"full": 0, "half": 0, "rest": 387_096}  # 600 sq in


def test_where_all_is_owned_the_area_taken_decides() -> None:
    """Nothing has to be bought, so the least is taken off the rack."""
    assert costs(REST, replace(HALF, at_hand=2)).each == {"rest": 387_096, "half": 1_486_449}


def test_an_offcut_with_a_price_says_what_others_cost_where_nothing_else_does() -> None:
    """600 sq in for 6.00; the full sheet of 4608 sq in counts 46.08."""
    found = costs(replace(FULL, price=None), replace(REST, price=600))
    assert found.each == {"full": 4_608, "rest": 600}


def test_pieces_on_the_sawhorses_count_nothing() -> None:
    """They are paid for with their sheet."""
    piece = replace(REST, id="piece 1a", piece="1a", price=None)
    what = job(FULL, piece)
    assert costs_of(what, PLY).each == {"full": 6_400}
    assert spent(what, ["full", "piece 1a"]) == Spent(money=6_400)


def test_money_area_and_rack_are_told_apart() -> None:
    """Two materials, of which one has prices, and an offcut."""
    oak = sheet("oak", 10 * MM, 10 * MM, material="oak")
    what = job(FULL, REST, oak)
    assert spent(what, ["full", "rest", "oak"]) == Spent(money=6_400, area=100, rack=387_096)
    assert value_of(what, (FULL, REST, oak), Goal.LEAST_PRICE) == 6_400
    assert value_of(what, (FULL, REST, oak), Goal.LEAST_AREA) == 100
    assert value_of(what, (FULL, REST, oak), Goal.FEWEST_SHEETS) == 3


@given(st.integers(1, 10 * METRE), st.integers(1, 5 * METRE), st.integers(2, 9))
def test_a_sheet_never_counts_more_than_its_parts_would(length: int, width: int, by: int) -> None:
    """Rounding up makes the fewest of equal stock the cheapest, by area and by price."""
    whole, part = sheet("whole", length * by, width), sheet("part", length, width)
    for found in (costs(whole, part), costs(whole, part, by_area=210)):
        assert found.each["whole"] <= by * found.each["part"]

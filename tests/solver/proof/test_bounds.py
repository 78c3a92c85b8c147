"""Area, dual feasible functions, and prices that stock can add up to."""

import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings

from solver.budget.stop import Stop
from solver.material.instance import Instance, StockRow
from solver.proof.bounds import (
    doublings,
    dual_bound,
    fractional_bound,
    lower_bound,
    round_up,
    rounding,
    steps,
    threshold,
)
from tests.examples import some_of
from tests.solver.brute_force import least_price
from tests.solver.some_instances import plain
from tests.solver.tiny_instances import tiny

Family = Callable[[int, int], Callable[[int], int]]


def dearest(capacity: int, value: Callable[[int], int]) -> int:
    """Return the greatest sum of values of sizes that share a capacity."""
    best = [0] * (capacity + 1)
    for room in range(1, capacity + 1):
        best[room] = max(value(size) + best[room - size] for size in range(1, room + 1))
    return best[capacity]


@pytest.mark.parametrize("family", [threshold, steps, rounding])
def test_functions_are_dual_feasible(family: Family) -> None:
    """No sizes that share a capacity have images that sum to more than its image."""
    for capacity in range(2, 34):
        for k in range(1, capacity // 2 + 1):
            image = family(capacity, k)
            assert dearest(capacity, image) <= image(capacity)


def test_items_just_over_half_need_a_sheet_each() -> None:
    """No two squares of 51 share a square of 100, though by area four sheets hold all nine."""
    assert lower_bound(plain([(51, 51, 9)], (100, 100)), (1,)) == 9


def test_of_items_over_a_third_two_lie_side_by_side() -> None:
    """Seven items as wide as the sheet and over a third as long need four sheets."""
    assert lower_bound(plain([(34, 100, 7)], (100, 100)), (1,)) == 4


def test_area_fills_sheets() -> None:
    """Ten quarters of a sheet fill two and a half."""
    instance = plain([(50, 50, 10)], (100, 100))
    assert fractional_bound(instance, (1,)) == Fraction(5, 2)
    assert lower_bound(instance, (1,)) == 3


def test_a_way_to_lie_that_does_not_fit_is_no_way() -> None:
    """Bars of 60 × 20 do not stand on a sheet of 60 × 40, so four of them fill two."""
    assert lower_bound(plain([(60, 20, 4)], (60, 40), turning=True), (1,)) == 2


def test_what_fits_nowhere_is_not_counted() -> None:
    """An item longer than the sheet costs nothing: it is on no sheet anyway."""
    assert lower_bound(plain([(101, 10, 5), (60, 60, 1)], (100, 100)), (1,)) == 1


def test_dual_bound_with_one_row_is_farleys() -> None:
    """Items worth 10, sheets worth 4 at most for 100 each: two and a half sheets."""
    assert dual_bound(10, [4], [100], [None]) == 250


def test_dual_bound_takes_a_free_offcut_into_account() -> None:
    """A free offcut that holds 2 of 10 leaves 8 for sheets of 4 at 100."""
    assert dual_bound(10, [4, 2], [100, 0], [None, 1]) == 200


def test_dual_bound_prefers_what_is_cheap_for_its_worth() -> None:
    """Two at hand for 60 that hold 4 each, then sheets that hold 4 for 100: 120 + 50."""
    assert dual_bound(10, [4, 4], [100, 60], [None, 2]) == 170


def test_dual_bound_knows_when_stock_is_too_small() -> None:
    """Nothing at any price holds 10 if two sheets hold 4 each; 8 they may hold."""
    assert dual_bound(10, [4], [100], [2]) is None
    assert dual_bound(8, [4], [100], [2]) == 200


def priced(prices: list[tuple[int, int | None]]) -> Instance:
    """Make an instance with a row of equal sheets for each price and number at hand."""
    instance = plain([(10, 10, 1)], (100, 100))
    rows = tuple(
        StockRow(stock=f"s{n}", price=price, at_hand=left) for n, (price, left) in enumerate(prices)
    )
    (kind,) = instance.kinds
    kinds = tuple(
        type(kind)(row=n, length=100, width=100, orientations=kind.orientations)
        for n in range(len(rows))
    )
    return type(instance)(
        material="oak", unit=1, kerf=0, items=instance.items, kinds=kinds, rows=rows
    )


@pytest.mark.parametrize(
    ("bound", "prices", "payable"),
    [
        (Fraction(301, 3), [(50, None)], 150),
        (Fraction(100), [(50, None)], 100),
        (Fraction(70), [(30, None), (50, None)], 80),
        (Fraction(61), [(30, None), (50, None)], 80),
        (Fraction(61), [(30, 1), (50, None)], 80),
        (Fraction(81), [(30, 1), (50, None)], 100),
        (Fraction(31), [(30, 1)], 0),
        (Fraction(0), [(30, None)], 0),
        (Fraction(1), [(0, None)], 0),
    ],
)
def test_bounds_are_rounded_up_to_what_can_be_paid(
    bound: Fraction, prices: list[tuple[int, int | None]], payable: int
) -> None:
    """Only sums of prices at hand are prices of plans; worked out by hand."""
    instance = priced(prices)
    assert round_up(instance, [price for price, _ in prices], bound) == payable


def test_large_prices_round_up_to_what_their_few_sums_make() -> None:
    """123 of the dearer make 123,000,000; the next that can be paid is 124 of the cheaper."""
    instance = priced([(1_000_000, None), (999_999, None)])
    assert round_up(instance, [1_000_000, 999_999], Fraction(123_456_788, 1)) == 124 * 999_999
    few = priced([(1_000_000, 100), (999_999, 20)])
    bound = Fraction(118_000_001, 1)
    assert round_up(few, [1_000_000, 999_999], bound) == 99 * 1_000_000 + 20 * 999_999
    assert round_up(few, [1_000_000, 999_999], Fraction(120_000_000, 1)) == 0


def test_with_too_many_sums_a_bound_stays_as_it_is() -> None:
    """A thousand sheets of four prices without a common step make far more than a million."""
    prices = [1_000_000, 999_999, 999_983, 999_979]
    instance = priced([(price, None) for price in prices])
    assert round_up(instance, prices, Fraction(999_456_788, 1)) == 999_456_788


@pytest.mark.parametrize("count", [0, 1, 2, 3, 4, 7, 8, 100])
def test_doublings_make_up_every_number(count: int) -> None:
    """Subsets add up to all numbers from 0 to the count, and no others."""
    sums = {0}
    for number in doublings(count):
        sums |= {number + other for other in sums}
    assert sums == set(range(count + 1))


@given(instance=tiny())
@settings(max_examples=some_of(150), deadline=None)
def test_no_plan_is_cheaper_than_the_bound(instance: Instance) -> None:
    """Trying everything finds nothing below the bound, whatever prices and stock."""
    for costs in (tuple(row.price for row in instance.rows), (1,) * len(instance.rows)):
        price = least_price(instance, costs)
        if price is not None:
            assert lower_bound(instance, costs) <= price
            assert fractional_bound(instance, costs) is not None


def test_bounds_do_without_ortools() -> None:
    """The quick bounds are there before the solver is loaded, so they must not load it."""
    code = "import sys, solver.proof.bounds; sys.exit('ortools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_bound_that_was_asked_to_end_is_true_and_no_higher() -> None:
    """Whoever asks to stop gets the area bound at least, and never more than the whole bound."""
    instance = plain([(34, 100, 7), (51, 40, 5)], (100, 100))
    asked = Stop()
    asked.ask()
    early = fractional_bound(instance, (1,), asked)
    whole = fractional_bound(instance, (1,))
    assert early is not None
    assert whole is not None
    assert Fraction(34 * 100 * 7 + 51 * 40 * 5, 100 * 100) <= early < whole

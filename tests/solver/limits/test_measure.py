"""Costs and soundness of solutions, each figure worked out by hand in its test."""

from dataclasses import replace

import pytest

from solver.limits.measure import cost, counts_sheets, goal_value, problems
from solver.material.instance import (
    Block,
    Instance,
    Laid,
    Lying,
    SheetKind,
    Solution,
    StockRow,
    Strip,
    Weights,
)
from tests.solver.some_instances import plain

WEIGHTS = Weights(cut_s=60, setup_s=30, skim_s=7)


def block(length: int, *items: int) -> Block:
    """Make a block of items that lie as they are."""
    return Block(length, tuple(Lying(item, False) for item in items))


def one_sheet(*strips: Strip, left: tuple[int, ...] = (0,)) -> Solution:
    """Make a solution of one sheet."""
    return Solution((Laid(0, strips),), left)


def test_a_sheet_filled_exactly_needs_one_cut_less_in_each_run() -> None:
    """Four quarters of a sheet take one rip and two crosscuts, and one size at each level."""
    instance = plain([(50, 30, 4)], (100, 60), weights=WEIGHTS)
    strip = Strip(30, (block(50, 0), block(50, 0)))
    found = cost(instance, one_sheet(strip, strip))
    assert (found.cuts, found.setups, found.skims) == (3, 2, 0)
    assert found.seconds == 3 * 60 + 2 * 30
    assert found.spare == 0


def test_what_is_left_costs_a_cut_and_is_an_offcut_less_a_kerf() -> None:
    """One part of 50 × 30 in a corner of 100 × 60: a rip, a crosscut, and half the sheet left."""
    instance = plain([(50, 30, 1)], (100, 60), kerf=4, weights=WEIGHTS)
    found = cost(instance, one_sheet(Strip(30, (block(50, 0),))))
    assert (found.cuts, found.setups) == (2, 2)
    assert found.spare == -(60 - 30 - 4) * (100 - 4)


@pytest.mark.parametrize(("left", "skims"), [(0, 0), (1, 1), (4, 1), (5, 0)])
def test_a_last_cut_within_one_kerf_is_a_skim(left: int, skims: int) -> None:
    """Between nothing and one kerf left over, the last cut takes less than a kerf."""
    instance = plain([(100, 30, 2)], (100, 60 + left), kerf=4, weights=WEIGHTS)
    strip = Strip(30, (block(100, 0),))
    found = cost(instance, one_sheet(strip, strip))
    assert found.skims == skims
    assert found.cuts == 1 + (left > 0)


def test_blocks_are_parted_and_their_items_trimmed() -> None:
    """Items of 40 and 50 stacked in a block of 50: rip, crosscut, one part rip, one trim."""
    instance = plain([(50, 30, 1), (40, 10, 1)], (100, 60), weights=WEIGHTS)
    found = cost(instance, one_sheet(Strip(40, (block(50, 0, 1),)), left=(0, 0)))
    assert found.cuts == 4
    assert found.setups == 4


def test_in_an_exact_run_the_size_nobody_else_needs_goes_last() -> None:
    """Strips of 30 and 20 fill one sheet; 30 is set anyway on the other, so 20 is never set."""
    instance = plain([(100, 30, 2), (100, 20, 1)], (100, 50), weights=WEIGHTS)
    wide, narrow = Strip(30, (block(100, 0),)), Strip(20, (block(100, 1),))
    found = cost(instance, Solution((Laid(0, (wide, narrow)), Laid(0, (wide,))), (0, 0)))
    assert (found.cuts, found.setups) == (2, 1)


def test_equal_sizes_of_an_exact_run_save_no_setup() -> None:
    """Two strips of 30 that fill a sheet need 30 to be set once."""
    instance = plain([(100, 30, 2)], (100, 60), weights=WEIGHTS)
    strip = Strip(30, (block(100, 0),))
    assert cost(instance, one_sheet(strip, strip)).setups == 1


def test_trims_cost_a_cut_for_the_sheet_and_each_strip() -> None:
    """Two strips that fill a trimmed sheet: near trim, rip, and a start trim for each."""
    instance = plain([(100, 30, 2)], (100, 60), weights=WEIGHTS)
    kind = replace(instance.kinds[0], sheet_trim=True, strip_trim=True)
    strip = Strip(30, (block(100, 0),))
    found = cost(replace(instance, kinds=(kind,)), one_sheet(strip, strip))
    assert (found.cuts, found.setups) == (4, 3)


def test_a_far_trim_makes_the_last_cut_needed() -> None:
    """A sheet used to its far trim still has to be cut there, and that is no skim."""
    instance = plain([(100, 30, 2)], (100, 60), kerf=4, weights=WEIGHTS)
    kind = replace(instance.kinds[0], exact_length=False, exact_width=False)
    strip = Strip(30, (block(100, 0),))
    found = cost(replace(instance, kinds=(kind,)), one_sheet(strip, strip))
    assert (found.cuts, found.skims) == (4, 0)


def two_rows() -> Instance:
    """One part, and two rows of unequal price."""
    instance = plain([(50, 30, 1)], (100, 60))
    small = SheetKind(row=1, length=60, width=40, orientations=((False,),))
    rows = (StockRow(stock="s1", price=500, at_hand=None), StockRow(stock="s2", price=0, at_hand=1))
    return replace(instance, kinds=(*instance.kinds, small), rows=rows)


def test_the_goal_is_price_when_prices_differ_and_sheets_when_not() -> None:
    """A bound is compared with the price as soon as two rows have different prices."""
    solution = one_sheet(Strip(30, (block(50, 0),)))
    assert not counts_sheets(two_rows())
    assert goal_value(two_rows(), solution) == 500
    instance = plain([(50, 30, 1)], (100, 60))
    assert counts_sheets(instance)
    assert goal_value(instance, solution) == 1


def test_parts_placed_come_before_price_and_price_before_sheets_and_time() -> None:
    """Costs compare in the order the maker was promised."""
    instance = two_rows()
    strip = Strip(30, (block(50, 0),))
    bought = cost(instance, Solution((Laid(0, (strip,)),), (0,)))
    owned = cost(instance, Solution((Laid(1, (strip,)),), (0,)))
    nothing = cost(instance, Solution((), (1,)))
    assert owned < bought < nothing
    assert nothing.unplaced == 1500


SOUND = one_sheet(Strip(30, (block(50, 0),)))


@pytest.mark.parametrize(
    ("solution", "words"),
    [
        (Solution((), (0,)), "0 laid"),
        (Solution((), (-1,)), "left"),
        (Solution((Laid(0, ()), *SOUND.sheets), (0,)), "without strips"),
        (one_sheet(Strip(61, (block(50, 0),))), "strips wider"),
        (one_sheet(Strip(30, (block(101, 0),))), "blocks longer"),
        (one_sheet(Strip(29, (block(50, 0),))), "items wider"),
        (one_sheet(Strip(30, (block(49, 0),))), "in a block of 49"),
        (one_sheet(Strip(50, (Block(30, (Lying(0, True),)),))), "as it may not"),
        (one_sheet(Strip(30, (block(50, 0), block(50)))), "block of 0"),
        (one_sheet(Strip(30, (block(50, 0),)), Strip(30, ())), "without blocks"),
    ],
)
def test_each_kind_of_mistake_is_named(solution: Solution, words: str) -> None:
    """Every rule of the shape of a solution is checked."""
    instance = plain([(50, 30, 1)], (100, 60))
    assert problems(instance, SOUND) == []
    assert any(words in text for text in problems(instance, solution))


def test_more_sheets_than_at_hand_are_refused() -> None:
    """A row with one sheet gives one sheet."""
    instance = plain([(50, 30, 2)], (100, 60))
    row = replace(instance.rows[0], at_hand=1)
    sheet = Laid(0, (Strip(30, (block(50, 0),)),))
    found = problems(replace(instance, rows=(row,)), Solution((sheet, sheet), (0,)))
    assert found == ["row s1: 2 sheets used of 1"]


def test_two_levels_allow_neither_stacks_nor_last_trims() -> None:
    """Under two levels a block is one item of its own length."""
    instance = plain([(50, 30, 2)], (100, 60), levels=2)
    stacked = one_sheet(Strip(60, (block(50, 0, 0),)))
    trimmed = one_sheet(Strip(30, (block(50, 0),)), Strip(30, (block(60, 0),)))
    assert any("block of 2" in text for text in problems(instance, stacked))
    assert any("in a block of 60" in text for text in problems(instance, trimmed))

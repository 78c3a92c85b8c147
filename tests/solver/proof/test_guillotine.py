"""The compact model against trying everything, and against column generation."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.budget.stop import Stop
from solver.limits.measure import cost, price, problems
from solver.material.instance import (
    Block,
    Instance,
    Laid,
    Lying,
    Solution,
    StockRow,
    Strip,
    Weights,
)
from solver.proof.column_generation import ColumnGeneration
from solver.proof.guillotine import CompactGoal, CompactResult, Status, cut
from solver.proof.stoppable import Reach
from solver.search.constructive import first
from tests.examples import some_of
from tests.solver.brute_force import least_price
from tests.solver.some_instances import plain
from tests.solver.tiny_instances import tiny, trimmed

WORK = Reach(work=5.0)
Thing = TypeVar("Thing")


def copies(instance: Instance) -> int:
    """Return how many parts there are."""
    return sum(item.demand for item in instance.items)


def cheapest(instance: Instance, **options: object) -> CompactResult:
    """Solve for the least price, on as many sheets as there are parts."""
    return cut(instance, max_sheets=copies(instance), reach=WORK, **options)


@given(instance=tiny())
@settings(max_examples=some_of(100), deadline=None)
def test_least_price_is_what_trying_everything_finds(instance: Instance) -> None:
    """Both find the same least price, or that the stock is too small."""
    expected = least_price(instance, tuple(row.price for row in instance.rows))
    result = cheapest(instance)
    assert result.is_proven
    assert result.value == expected
    assert (result.status is Status.IMPOSSIBLE) == (expected is None)
    if result.solution is not None:
        assert problems(instance, result.solution) == []
        assert price(instance, result.solution) == result.value == result.bound


@given(instance=tiny(9))
@settings(max_examples=some_of(60), deadline=None)
def test_both_models_agree(instance: Instance) -> None:
    """Column generation never proves more than the compact model finds.

    Where its bound is met by a plan at all, the compact model finds that plan.
    """
    generation = ColumnGeneration(instance)
    bound = generation.run(Stop(), lambda: None, lambda bound: None)
    result = cheapest(instance, hint=first(instance))
    if result.value is not None:
        assert bound <= result.value
        assert result.bound <= result.value
    assert result.status is not Status.PROVEN or result.bound == result.value


def everything(instance: Instance) -> Iterator[Solution]:
    """Yield all solutions with pieces no larger than what they hold, in every structure.

    Pieces are named after the first copy in them; copies go one after the other into an old
    or a new block, that into an old or a new strip, that onto an old or a new sheet.
    """
    all_copies = [i for i, item in enumerate(instance.items) for _ in range(item.demand)]
    ways = [
        sorted({t for kind in instance.kinds for t in kind.orientations[item]})
        for item in all_copies
    ]
    for turns in product(*ways):
        lying = [Lying(item, turned) for item, turned in zip(all_copies, turns, strict=True)]
        for stacks in _partitions(lying):
            blocks = [_block(instance, stack) for stack in stacks]
            for rows in _partitions(blocks):
                strips = [_strip(instance, row) for row in rows]
                for piles in _partitions(strips):
                    for kinds in product(range(len(instance.kinds)), repeat=len(piles)):
                        sheets = zip(kinds, piles, strict=True)
                        laid = tuple(Laid(kind, tuple(pile)) for kind, pile in sheets)
                        yield Solution(laid, (0,) * len(instance.items))


def _partitions(things: list[Thing]) -> Iterator[list[list[Thing]]]:
    """Yield all ways to split a list into groups."""
    if not things:
        yield []
        return
    head, *tail = things
    for groups in _partitions(tail):
        yield [[head], *groups]
        for n, group in enumerate(groups):
            yield [*groups[:n], [head, *group], *groups[n + 1 :]]


def _block(instance: Instance, stack: list[Lying]) -> Block:
    return Block(max(instance.size(*lying)[0] for lying in stack), tuple(stack))


def _strip(instance: Instance, blocks: list[Block]) -> Strip:
    widths = (sum(instance.size(*lying)[1] for lying in block.stack) for block in blocks)
    return Strip(max(widths), tuple(blocks))


@given(instance=trimmed(3))
@settings(max_examples=some_of(60), deadline=None)
def test_least_sawing_is_what_trying_everything_finds(instance: Instance) -> None:
    """No structure takes less time than the model's, by the measure of the search.

    It may take less than all of them where a piece is wider than what it holds, which
    saves a set-up; its own time is what the measure says of its solution.
    """
    result = cut(instance, max_sheets=copies(instance), goal=CompactGoal.SAWING, reach=WORK)
    sound = (s for s in everything(instance) if not problems(instance, s))
    least = min((cost(instance, s).seconds for s in sound), default=None)
    assert result.is_proven
    assert (result.value is None) == (least is None)
    if result.solution is not None and least is not None:
        assert problems(instance, result.solution) == []
        assert cost(instance, result.solution).seconds == result.value <= least


@given(instance=trimmed(3), long=st.integers(0, 12), short=st.integers(0, 5))
@settings(max_examples=some_of(40), deadline=None)
def test_best_remainder_is_what_trying_everything_finds(
    instance: Instance, long: int, short: int
) -> None:
    """Of all structures of least sawing none leaves a larger fall worth keeping."""
    instance = replace(instance, keep=(long + short, short))
    quick = cut(instance, max_sheets=copies(instance), goal=CompactGoal.SAWING, reach=WORK)
    if quick.value is None:
        return
    result = cut(
        instance,
        max_sheets=copies(instance),
        goal=CompactGoal.REMAINDER,
        most_seconds=quick.value,
        hint=quick.solution,
        reach=WORK,
    )
    assert result.is_proven
    assert result.solution is not None
    measured = cost(instance, result.solution)
    assert (measured.seconds, measured.spare) == (quick.value, result.value)
    sound = (cost(instance, s) for s in everything(instance) if not problems(instance, s))
    falls = [one.spare for one in sound if one.seconds == quick.value]
    assert result.value <= min(falls, default=0)


@given(instance=trimmed(6))
@settings(max_examples=40, deadline=None)
def test_sawing_time_is_that_of_the_solution(instance: Instance) -> None:
    """What the model adds up is what the measure finds, and no more than at the start."""
    start = first(instance)
    result = cut(
        instance,
        max_sheets=max(1, len(start.sheets)),
        goal=CompactGoal.SAWING,
        most_price=price(instance, start),
        hint=start,
        reach=WORK,
    )
    if result.solution is not None and result.value is not None:
        assert problems(instance, result.solution) == []
        assert price(instance, result.solution) <= price(instance, start)
        assert result.bound <= result.value == cost(instance, result.solution).seconds
    if result.status is Status.PROVEN and result.value is not None and not any(start.left):
        assert result.value <= cost(instance, start).seconds


WEIGHTS = Weights(cut_s=60, setup_s=15, skim_s=30)


def sawing(instance: Instance, max_sheets: int = 1) -> int | None:
    """Return the least sawing time, proven."""
    result = cut(instance, max_sheets=max_sheets, goal=CompactGoal.SAWING, reach=WORK)
    assert result.is_proven
    return result.value


def test_a_sheet_of_four_quarters() -> None:
    """One rip and a crosscut in each half; each of the two sizes is set once."""
    assert sawing(plain([(50, 30, 4)], (100, 60), weights=WEIGHTS)) == 3 * 60 + 2 * 15


def test_a_skim_costs_more_than_an_offcut() -> None:
    """A rip that leaves two of a kerf of three is a skim, one that leaves four is none."""
    skim = plain([(50, 58, 2)], (100, 60), kerf=3, weights=WEIGHTS)
    offcut = plain([(50, 56, 2)], (100, 60), kerf=3, weights=WEIGHTS)
    assert sawing(skim) == 2 * 60 + 2 * 15 + 30
    assert sawing(offcut) == 2 * 60 + 2 * 15


def test_trims_are_cuts_and_set_ups() -> None:
    """A trimmed sheet takes two cuts and set-ups more when one strip, halved last, holds both.

    Two strips would take an end trim each.
    """
    instance = plain([(100, 30, 2)], (100, 60), weights=WEIGHTS)
    (kind,) = instance.kinds
    trims = replace(instance, kinds=(replace(kind, sheet_trim=True, strip_trim=True),))
    assert sawing(instance) == 60 + 15
    assert sawing(trims) == 3 * 60 + 3 * 15


def test_a_far_trim_takes_away_the_exact_ending() -> None:
    """Where the far edge is not used, a run that fills the rest needs its last cut."""
    instance = plain([(100, 30, 2)], (100, 60), weights=WEIGHTS)
    (kind,) = instance.kinds
    inexact = replace(instance, kinds=(replace(kind, exact_width=False),))
    assert sawing(inexact) == 2 * 60 + 15


def test_a_dearer_row_is_bought_when_the_cheap_one_is_used_up() -> None:
    """Of three parts, one to a sheet, two lie on the cheap sheets at hand: 2 × 5 + 9."""
    instance = plain([(10, 10, 3)], (10, 10))
    (kind,) = instance.kinds
    rows = (
        StockRow(stock="dear", price=9, at_hand=None),
        StockRow(stock="cheap", price=5, at_hand=2),
    )
    two = replace(instance, kinds=(kind, replace(kind, row=1)), rows=rows)
    assert cheapest(two).value == 19
    assert cheapest(two, costs=(1, 1)).value == 3


def test_too_few_sheets_are_impossible() -> None:
    """Two parts that fill a sheet each do not lie on one."""
    instance = plain([(10, 10, 2)], (10, 10))
    result = cut(instance, max_sheets=1)
    assert result.status is Status.IMPOSSIBLE
    assert result.solution is None


def test_a_solve_with_a_hint_is_no_worse() -> None:
    """A little work with a plan to begin with gives one at least as good."""
    instance = plain([(37, 23, 4), (51, 17, 3), (29, 41, 3)], (100, 60), turning=True)
    start = first(instance)
    result = cut(instance, max_sheets=10, hint=start, reach=Reach(work=0.5))
    assert result.value is not None
    assert result.value <= price(instance, start)


def test_work_and_seed_repeat_a_solve() -> None:
    """The same model, seed and work give the same solution."""
    instance = plain([(37, 23, 4), (51, 17, 3), (29, 41, 3)], (100, 60), turning=True)
    results = [
        cut(instance, max_sheets=3, goal=CompactGoal.SAWING, reach=Reach(work=0.3, seed=5))
        for _ in range(2)
    ]
    assert results[0] == results[1]
    assert results[0].solution is not None


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    """The worker's output is its protocol: the solver must not write into it."""
    cut(plain([(37, 23, 4)], (100, 60)), max_sheets=2, reach=WORK)
    assert capfd.readouterr().out == ""


def test_a_stop_that_comes_later_is_heard() -> None:
    """A model too hard for the time left ends with it, and says so: the stop begins unasked."""
    odd = [(17 + 5 * n, 11 + 3 * n, 3) for n in range(8)]
    instance = plain(odd, (97, 61), kerf=1, turning=True)
    looks: list[int] = []

    def second() -> bool:
        looks.append(1)
        return len(looks) > 1

    result = cut(instance, max_sheets=12, goal=CompactGoal.SAWING, stop=Stop().when(second))
    assert len(looks) > 1
    assert not result.is_proven

"""The constructive start: sound, quick to a decent plan, and within the stock."""

from dataclasses import replace
from itertools import islice
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.limits.measure import cost, problems
from solver.search.constructive import first, passes
from tests.benchmarks.neutral import load, targets
from tests.solver.some_instances import anything, of_job, plain

LITERATURE = Path(__file__).parents[2] / "benchmarks" / "literature"


@given(st.integers(0, 10**6))
def test_every_pass_is_sound(seed: int) -> None:
    """Whatever the rules, prices and stock, no pass breaks one of them."""
    instance = anything(seed)
    assert problems(instance, first(instance)) == []
    for solution in islice(passes(instance, Random(seed)), 20):
        assert problems(instance, solution) == []


def test_what_fits_no_sheet_is_left_and_the_rest_is_laid() -> None:
    """A part longer than every sheet stays behind alone."""
    solution = first(plain([(101, 30, 1), (50, 30, 2)], (100, 60)))
    assert solution.left == (1, 0)


def test_parts_stay_behind_when_the_stock_runs_out() -> None:
    """One sheet at hand takes four quarters of five."""
    instance = plain([(50, 30, 5)], (100, 60))
    instance = replace(instance, rows=(replace(instance.rows[0], at_hand=1),))
    assert first(instance).left == (1,)


def test_an_owned_sheet_is_used_before_one_is_bought() -> None:
    """With a free sheet at hand the first plan costs nothing."""
    instance = plain([(50, 30, 2)], (100, 60))
    bought = replace(instance.rows[0], price=900)
    owned = replace(instance.rows[0], stock="rack", at_hand=1)
    kinds = (instance.kinds[0], replace(instance.kinds[0], row=1))
    instance = replace(instance, kinds=kinds, rows=(bought, owned))
    assert cost(instance, first(instance)).price == 0


def test_the_passes_begin_with_the_first_plan_and_find_better_ones() -> None:
    """Whatever the seed; of a hundred passes over four sizes some cost less than the first."""
    instance = plain([(40, 13, 7), (31, 22, 5), (17, 9, 12), (55, 30, 3)], (100, 60), turning=True)
    costs = [cost(instance, solution) for solution in islice(passes(instance, Random(1)), 100)]
    assert next(passes(instance, Random(1))) == first(instance)
    assert min(costs) < costs[0]


def test_the_same_seed_gives_the_same_passes() -> None:
    """Nothing but the seed decides."""
    instance = anything(7)
    runs = [list(islice(passes(instance, Random(3)), 30)) for _ in range(2)]
    assert runs[0] == runs[1]


@pytest.mark.parametrize("name", ["gcut1", "gcut9", "A-03", "A-22"])
def test_small_classic_instances_reach_their_published_counts(name: str) -> None:
    """Two hundred passes meet the published optimum of each variant.

    Source: see tests/benchmarks/README.md (Beasley 1985, Furini et al. 2016, Becker 2022).
    """
    path = LITERATURE / f"{name}.json"
    for bench in load(path):
        instance = of_job(bench.job)
        costs = [cost(instance, s) for s in islice(passes(instance, Random(1)), 200)]
        assert min(costs).sheets == targets(path)[bench.variant]

"""Stage A: cheaper fleets, sound solutions, repeatable by seed and work."""

from dataclasses import replace
from itertools import islice
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.budget import Budget
from solver.fleets import Limit, fleets
from solver.instance import Block, Instance, Laid, Lying, Row, SheetKind, Solution, Strip
from solver.measure import cost, problems
from solver.recreate import squeeze
from solver.start import first, passes
from solver.state import Table, freeze, thaw
from solver.stop import Stop
from tests.benchmarks.neutral import load, targets
from tests.solver.some_instances import anything, of_job, plain

LITERATURE = Path(__file__).parents[1] / "benchmarks" / "literature"


def budget(work: int) -> Budget:
    """Make a budget of iterations."""
    return Budget(Stop(), work=work)


def priced(sizes: list[tuple[int, int, int]], *rows: tuple[int, int, int, int | None]) -> Instance:
    """Make an instance of rows given as (length, width, price, at hand)."""
    instance = plain(sizes, (1, 1))
    ways = ((False,),) * len(sizes)
    kinds = tuple(
        SheetKind(row=n, length=row[0], width=row[1], orientations=ways)
        for n, row in enumerate(rows)
    )
    stock = tuple(Row(stock=f"s{n}", price=r[2], at_hand=r[3]) for n, r in enumerate(rows))
    return replace(instance, kinds=kinds, rows=stock)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_squeezing_keeps_a_solution_sound_and_never_makes_it_dearer(seed: int) -> None:
    """Whatever the rules, prices and stock: sound, all announced, and none worse."""
    instance = anything(seed)
    before = first(instance)
    heard: list[Solution] = []
    after = squeeze(instance, before, Random(seed), budget(1500), on_better=heard.append)
    assert problems(instance, after) == []
    costs = [cost(instance, solution) for solution in (before, *heard)]
    assert costs == sorted(costs, reverse=True)
    assert after == [before, *heard][-1]


def test_the_same_seed_and_work_give_the_same_solution() -> None:
    """Neither the clock nor an earlier run has any influence."""
    instance = plain([(40, 13, 7), (31, 22, 5), (17, 9, 12), (55, 30, 3)], (100, 60), turning=True)
    runs = [squeeze(instance, first(instance), Random(5), budget(3000)) for _ in range(2)]
    assert runs[0] == runs[1]


@pytest.mark.parametrize(
    ("name", "variant"),
    [("gcut2", "oriented"), ("gcut3", "oriented"), ("gcut7", "oriented"),
     ("cl_01_020_08", "oriented"), ("cl_05_020_05", "oriented"), ("cl_08_060_01", "turning")],
)  # fmt: skip
def test_classic_instances_reach_their_published_counts(name: str, variant: str) -> None:
    """Twenty thousand steps at most meet the published optimum where single passes do not.

    Source: see tests/benchmarks/README.md (Beasley 1985, Berkey and Wang 1987, Martello and
    Vigo 1998).
    """
    path = LITERATURE / f"{name}.json"
    job = next(bench.job for bench in load(path) if bench.variant == variant)
    instance, goal = of_job(job), targets(path)[variant]
    found = squeeze(instance, first(instance), Random(2), budget(20_000), bound=lambda: goal)
    assert problems(instance, found) == []
    assert len(found.sheets) == goal


def test_one_dear_sheet_is_changed_for_two_cheap_ones() -> None:
    """Two parts fit one sheet of 900 or two of 400 each; the pair costs less."""
    instance = priced([(50, 30, 2)], (100, 60, 900, None), (50, 30, 400, None))
    dear = Solution((Laid(0, (Strip(30, (Block(50, (Lying(0, False),)),) * 2),)),), (0,))
    found = squeeze(instance, dear, Random(1), budget(2000), bound=lambda: 800)
    assert cost(instance, found).price == 800


def test_an_offcut_of_the_rack_is_used_instead_of_a_bought_sheet() -> None:
    """The part goes onto the free offcut it fits, and nothing is bought."""
    instance = priced([(50, 30, 1)], (100, 60, 900, None), (55, 35, 0, 1))
    bought = Solution((Laid(0, (Strip(30, (Block(50, (Lying(0, False),)),)),)),), (0,))
    found = squeeze(instance, bought, Random(1), budget(2000))
    assert cost(instance, found).price == 0


def test_as_much_as_possible_is_laid_when_the_stock_is_short() -> None:
    """Of four parts a full sheet takes the two that fill it, however bad the start."""
    instance = priced([(60, 60, 1), (40, 60, 1), (50, 40, 2)], (100, 60, 0, 1))
    poor = Solution((Laid(0, (Strip(40, (Block(50, (Lying(2, False),)),) * 2),)),), (1, 1, 0))
    found = squeeze(instance, poor, Random(1), budget(3000))
    assert found.left == (0, 0, 2)


def test_fleets_are_full_large_enough_and_within_price() -> None:
    """With 1,000 to spend: three small sheets and the offcut, or a large and a small with it."""
    instance = priced([(50, 30, 6)], (100, 60, 700, None), (50, 60, 300, None), (60, 40, 0, 1))
    found = fleets(Table(instance), Limit(1000, 9), [0] * 6)
    assert sorted(found) == [(0, 3, 1), (1, 1, 1)]
    assert fleets(Table(instance), Limit(1000, 9), [0] * 8) == []


def test_a_fleet_has_a_sheet_for_every_part() -> None:
    """Three small sheets have the area of a long part, but no room for it."""
    instance = priced([(80, 30, 1)], (100, 60, 700, None), (50, 60, 300, None))
    assert fleets(Table(instance), Limit(1000, 9), [0]) == [(1, 1)]


@given(st.integers(0, 10**6))
def test_thawing_and_freezing_change_nothing(seed: int) -> None:
    """The searched form of a solution holds all of it."""
    instance = anything(seed)
    table = Table(instance)
    for solution in islice(passes(instance, Random(seed)), 3):
        sheets, left = thaw(table, solution)
        again = freeze(table, sheets, left)
        assert problems(instance, again) == []
        assert cost(instance, again) == cost(instance, solution)

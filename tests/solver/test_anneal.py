"""Stage B: less sawing on the same stock, sound, repeatable, and honest totals."""

import csv
from itertools import islice
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.anneal import anneal
from solver.budget import Budget
from solver.instance import Block, Laid, Lying, Solution, Strip, Weights
from solver.ledger import Ledger
from solver.measure import cost, problems
from solver.start import first, passes
from solver.state import Table, thaw
from solver.stop import Stop
from tests.benchmarks.neutral import load
from tests.solver.some_instances import anything, of_job, plain

WORKSHOP = Path(__file__).parents[1] / "benchmarks" / "workshop"


def budget(work: int) -> Budget:
    """Make a budget of iterations."""
    return Budget(Stop(), work=work)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6))
def test_annealing_keeps_a_solution_sound_and_never_makes_it_dearer(seed: int) -> None:
    """Whatever the rules: sound, the stock no dearer, every told solution better."""
    instance = anything(seed)
    before = first(instance)
    heard: list[Solution] = []
    after = anneal(instance, before, Random(seed), budget(800), on_better=heard.append)
    assert problems(instance, after) == []
    assert after == [before, *heard][-1]
    costs = [cost(instance, solution) for solution in (before, *heard)]
    assert costs == sorted(costs, reverse=True)


@given(st.integers(0, 10**6))
def test_the_running_totals_are_those_of_the_measure(seed: int) -> None:
    """Cuts and skims agree; set-ups are at most those saved by a better order too many."""
    instance = anything(seed)
    for solution in islice(passes(instance, Random(seed)), 3):
        ledger = Ledger(Table(instance))
        entries = [ledger.entry(sheet) for sheet in thaw(ledger.table, solution)[0]]
        ledger.add(entries)
        found = cost(instance, solution)
        weights = instance.weights
        sawing = weights.cut_s * found.cuts + weights.skim_s * found.skims
        assert sum(entry.seconds for entry in entries) == sawing
        trims = sum(
            any(getattr(instance.kinds[sheet.kind], trim) for sheet in solution.sheets)
            for trim in ("sheet_trim", "strip_trim")
        )
        assert len(ledger.users) >= found.setups - trims
        ledger.take(entries)
        assert not ledger.users


def test_the_same_seed_and_work_give_the_same_solution() -> None:
    """Neither the clock nor an earlier run has any influence."""
    instance = plain([(40, 13, 7), (31, 22, 5), (17, 9, 12), (55, 30, 3)], (100, 60), turning=True)
    runs = [anneal(instance, first(instance), Random(5), budget(2000)) for _ in range(2)]
    assert runs[0] == runs[1]


def test_a_scattered_layout_is_gathered_into_exact_strips() -> None:
    """Four quarters laid one to a strip on two sheets need three cuts, on one sheet.

    One rip and two crosscuts: nothing less gives four pieces of one sheet.
    """
    instance = plain([(50, 30, 4)], (100, 60), weights=Weights(cut_s=4, setup_s=1, skim_s=0))
    strip = Strip(30, (Block(50, (Lying(0, False),)),))
    scattered = Solution((Laid(0, (strip, strip)),) * 2, (0,))
    found = cost(instance, anneal(instance, scattered, Random(1), budget(500)))
    assert (found.sheets, found.cuts, found.setups) == (1, 3, 2)


@pytest.mark.parametrize("name", ["shop00", "shop10", "shop11", "shop20", "shop21"])
def test_workshop_lists_take_no_more_sawing_than_the_reference(name: str) -> None:
    """On the lists up to 16 parts, as few cuts as a general packing library that minimises them.

    Source: tests/benchmarks/workshop/reference.csv, columns `fewest_cuts` and
    `setups_at_fewest_cuts`; on these lists it takes the fewest sheets as well.
    """
    with (WORKSHOP / "reference.csv").open(encoding="utf-8") as lines:
        row = next(row for row in csv.DictReader(lines) if row["name"] == name)
    instance = of_job(load(WORKSHOP / f"{name}.json")[0].job)
    start = min(islice(passes(instance, Random(1)), 50), key=lambda s: cost(instance, s))
    found = cost(instance, anneal(instance, start, Random(1), budget(6000)))
    assert found.sheets == int(row["fewest_sheets"])
    assert found.cuts <= int(row["fewest_cuts"])
    assert found.setups <= int(row["setups_at_fewest_cuts"])

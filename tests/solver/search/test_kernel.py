"""The compiled search: arrays hold what solutions say, and its steps keep incumbents sound."""

import os
import time
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.budget.effort import Effort
from solver.budget.stop import Stop
from solver.limits.measure import cost, problems
from solver.material.instance import Instance, Solution
from solver.search.annealing import save_sawing
from solver.search.constructive import first
from solver.search.fewest_sheets import squeeze_stock
from solver.search.kernel.compiled import digest, prepare_cache
from solver.search.kernel.fleet import desk, to_sheets
from solver.search.kernel.rng import below, seeded, share
from solver.search.kernel.saving import Ledger, energy
from solver.search.kernel.setups import no_setups
from solver.search.sheet_mixes import cheaper_fleets, fleet_of, worth
from solver.solutions.incumbent import Incumbent
from tests.benchmarks.neutral import load, targets
from tests.solver.some_instances import anything, of_job, plain

LITERATURE = Path(__file__).parents[2] / "benchmarks" / "literature"


def on_desk(instance: Instance, solution: Solution):
    """Lay a solution out for the compiled search."""
    return desk(instance, solution.sheets, [sheet.kind for sheet in solution.sheets], 1)


def sorted_strips(solution: Solution) -> list[list[str]]:
    """Return a solution without the order of strips, blocks and stacks."""
    return [
        sorted(
            repr((strip.width, sorted((b.length, sorted(b.stack)) for b in strip.blocks)))
            for strip in sheet.strips
        )
        for sheet in solution.sheets
    ]


@given(st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_arrays_hold_what_the_solution_says(seed: int) -> None:
    """Laid out and read back, a solution is the same but for order."""
    instance = anything(seed)
    solution = first(instance)
    if solution.sheets:
        search = on_desk(instance, solution)
        back = Solution(to_sheets(search.laid, search.rooms), solution.left)
        assert sorted_strips(back) == sorted_strips(solution)
        assert problems(instance, back) == []


@given(st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_energy_is_what_the_measure_says(seed: int) -> None:
    """Cuts and skims are those counted from first principles; set-ups are never too few."""
    instance = anything(seed)
    solution = first(instance)
    if not solution.sheets:
        return
    search, measured = on_desk(instance, solution), cost(instance, solution)
    assert energy(search, Ledger(no_setups(), 1.0, 0.0, 0.0, 0.0)) == measured.cuts
    assert energy(search, Ledger(no_setups(), 0.0, 0.0, 1.0, 0.0)) == measured.skims
    trims = sum(
        any(getattr(instance.kinds[s.kind], name) for s in solution.sheets)
        for name in ("sheet_trim", "strip_trim")
    )
    setups = energy(search, Ledger(no_setups(), 0.0, 1.0, 0.0, 0.0)) + trims
    assert setups >= measured.setups


@given(st.integers(0, 10**6))
@settings(max_examples=25, deadline=None)
def test_steps_keep_a_board_sound_and_make_nothing_worse(seed: int) -> None:
    """Whatever rules, prices and stock: both stages end with a sound solution, none dearer."""
    instance = anything(seed)
    incumbent = Incumbent(instance, first(instance))
    costs = [incumbent.cost]
    squeeze_stock(incumbent, Stop(), Effort(1e9, seed, 1500))
    costs.append(incumbent.cost)
    save_sawing(incumbent, Stop(), Effort(1e9, seed, 1500))
    costs.append(incumbent.cost)
    assert problems(instance, incumbent.solution) == []
    assert costs == sorted(costs, reverse=True)


def test_the_same_seed_and_work_give_the_same_solution() -> None:
    """With work counted instead of timed the clock has no influence."""
    instance = plain([(40, 13, 7), (31, 22, 5), (17, 9, 12), (55, 30, 3)], (100, 60), turning=True)
    found = []
    for _ in range(2):
        incumbent = Incumbent(instance, first(instance))
        squeeze_stock(incumbent, Stop(), Effort(1e9, 5, 3000))
        save_sawing(incumbent, Stop(), Effort(1e9, 5, 3000))
        found.append(incumbent.solution)
    assert found[0] == found[1]


def short_lists() -> list[str]:
    """Return the names of the lists of the literature with at most 20 parts."""
    cases = {path.stem: load(path)[0].job for path in sorted(LITERATURE.glob("*.json"))}
    return [name for name, job in cases.items() if sum(p.copies for p in job.parts) <= 20]


@pytest.mark.parametrize("name", short_lists())
def test_published_sheet_counts_are_reached(name: str) -> None:
    """Lists up to 20 parts meet their best published counts (sources: benchmarks README)."""
    for variant, job, target in published(name):
        incumbent = Incumbent(of_job(job), first(of_job(job)), target)
        squeeze_stock(incumbent, Stop(), Effort(1e9, 1, 1_000_000))
        assert len(incumbent.solution.sheets) == target, variant


def published(name: str):
    """Yield variant, job and published count of a list of the literature."""
    goals = targets(LITERATURE / f"{name}.json")
    for case in load(LITERATURE / f"{name}.json"):
        yield case.variant, case.job, goals[case.variant]


def test_cheaper_fleets_cost_less_and_have_room() -> None:
    """Every fleet offered is cheaper and its sheets have the area of all items."""
    for seed in range(40):
        instance = anything(seed)
        fleet = fleet_of(first(instance).sheets)
        need = sum(it.length * it.width * it.demand for it in instance.items)
        for other in cheaper_fleets(instance, fleet):
            assert worth(instance, other) < worth(instance, fleet)
            kinds = [instance.kinds[kind] for kind in other]
            assert sum(kind.length * kind.width for kind in kinds) >= need


def test_chance_follows_the_posix_generator() -> None:
    """The state is that of drand48: x' = (25214903917 x + 11) mod 2^48 (POSIX, drand48)."""
    state = seeded(7)
    before = int(state[0])
    drawn = share(state)
    assert int(state[0]) == (25214903917 * before + 11) % (1 << 48)
    assert drawn == (int(state[0]) >> 17) / (1 << 31)
    counts = np.bincount([below(state, 6) for _ in range(6000)], minlength=6)
    assert len(counts) == 6
    assert counts.min() > 850


def test_compiled_code_is_kept_by_its_sources(tmp_path: Path) -> None:
    """A changed source has another folder, and folders long unused are forgotten."""
    (tmp_path / "a.py").write_text("x = 1\n")
    before = digest(tmp_path)
    (tmp_path / "a.py").write_text("x = 2\n")
    assert digest(tmp_path) != before
    ours = tmp_path / "ripfirst" / "kernel"
    for days in (0, 13, 15, 400):
        (ours / f"unused-{days}").mkdir(parents=True)
        then = time.time() - days * 24 * 3600
        os.utime(ours / f"unused-{days}", (then, then))
    folder = prepare_cache(tmp_path)
    assert {other.name for other in ours.iterdir()} == {"unused-0", "unused-13", folder.name}


def test_a_folder_in_use_stays_young(tmp_path: Path) -> None:
    """Whoever takes its code from a folder again keeps others from forgetting it."""
    folder = prepare_cache(tmp_path)
    os.utime(folder, (0, 0))
    assert prepare_cache(tmp_path) == folder
    assert time.time() - folder.stat().st_mtime < 60

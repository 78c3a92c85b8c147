"""The bound on cuts: never above what can be sawn, and equal to it where it can be derived."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.budget.stop import Stop
from solver.limits.measure import cost, counts_sheets, goal_value
from solver.material.instance import Instance, Solution, StockRow, Weights
from solver.proof import guillotine
from solver.proof.column_generation import BoundError
from solver.proof.cut_bound.bound import CutBound, quick_bound
from solver.proof.cut_bound.positions import ExactPositions, TooManyPositions
from solver.proof.guillotine import CompactGoal, Status
from solver.search.constructive import passes
from tests.benchmarks import neutral
from tests.examples import some_of
from tests.solver.brute_cuts import fewest_cuts
from tests.solver.some_instances import of_job, plain
from tests.solver.tiny_instances import trimmed

FOLDER = Path(neutral.__file__).parent / "workshop"


def bound_of(instance: Instance, solution: Solution, steps: int | None = None) -> int:
    """Return the bound of a full run, or of so many steps."""
    return CutBound(instance, solution).run(Stop(), lambda: None, lambda bound: None, steps)


def first_plan(instance: Instance) -> Solution:
    """Return a solution that lays one item after the other."""
    return next(iter(passes(instance, Random(0))))


def cheapest(instance: Instance, costs: tuple[int, ...]) -> Solution | None:
    """Return a complete solution of the least price, or none where the stock is too small."""
    copies = sum(item.demand for item in instance.items)
    result = guillotine.cut(instance, max_sheets=copies, costs=costs)
    return result.solution if result.status is Status.PROVEN else None


def goal_costs(instance: Instance) -> tuple[int, ...]:
    """Return the prices of the goal: 1 for each row where sheets are counted."""
    counted = counts_sheets(instance)
    return tuple(1 if counted else row.price for row in instance.rows)


@given(trimmed(4))
@settings(max_examples=some_of(40))
def test_no_plan_takes_fewer_cuts_than_the_bound(instance: Instance) -> None:
    """Over every rule, trim, kerf, turn and stock, against a search that tries everything."""
    solution = cheapest(instance, goal_costs(instance))
    assume(solution is not None)
    assert solution is not None
    fewest = fewest_cuts(instance, goal_costs(instance), goal_value(instance, solution))
    assert quick_bound(instance, solution) <= bound_of(instance, solution) <= fewest


PARTS = [(4, 3, 2), (5, 2, 2), (3, 3, 1), (6, 4, 1), (2, 2, 1)]
"""Sizes and numbers of the parts for which the compact model proves the fewest cuts."""


@pytest.mark.parametrize(
    ("levels", "turning", "sheet"),
    [(2, False, (11, 7)), (2, True, (10, 6)), (3, False, (10, 6)), (3, True, (10, 6))],
)
def test_bound_against_the_compact_model(
    levels: int, turning: bool, sheet: tuple[int, int]
) -> None:
    """Seven parts: the model that is the definition in code finds no plan of fewer cuts.

    Where the bound is weaker than the truth, it is so by less than a quarter.
    """
    cuts_only = Weights(cut_s=1, setup_s=0, skim_s=0)
    instance = plain(PARTS, sheet, turning=turning, levels=levels, weights=cuts_only)
    solution = cheapest(instance, (1,))
    assert solution is not None
    sheets = len(solution.sheets)
    least = guillotine.cut(instance, max_sheets=sheets, goal=CompactGoal.SAWING, hint=solution)
    assert least.status is Status.PROVEN
    assert least.value is not None
    assert 0.75 * least.value < bound_of(instance, solution) <= least.value


HALVES, QUARTERS = [(50, 50, 2)], [(50, 25, 4)]

DERIVED = [
    pytest.param(plain([(40, 30, 1)], (100, 50)), 2, id="one part: a rip and a crosscut"),
    pytest.param(plain([(100, 30, 1)], (100, 50)), 1, id="as long as the sheet: a rip"),
    pytest.param(plain([(100, 50, 1)], (100, 50)), 0, id="the whole sheet"),
    pytest.param(plain(HALVES, (100, 50)), 1, id="two halves"),
    pytest.param(plain(QUARTERS, (100, 50)), 3, id="four quarters"),
    pytest.param(plain(QUARTERS, (103, 50)), 4, id="four quarters and a bit of waste"),
    pytest.param(plain([(60, 50, 3)], (100, 50)), 3, id="three sheets, a crosscut each"),
    pytest.param(plain([(100, 17, 1), (100, 33, 1), (40, 50, 1)], (100, 50)), 2, id="two sheets"),
]
"""Instances with the fewest cuts, derived by hand from the rule of one cut a piece."""


@pytest.mark.parametrize(("instance", "cuts"), DERIVED)
def test_bound_equals_what_is_derived(instance: Instance, cuts: int) -> None:
    """One cut less than pieces, waste among them: so much is needed, and so much is proven."""
    assert bound_of(instance, first_plan(instance)) == cuts


def test_trims_are_counted() -> None:
    """Four quarters of a sheet that is trimmed all round: six cuts, where three would do.

    A trim along the sheet, one rip at its far edge and none between, as the only strip holds
    two blocks of two; a trim of the strip, two crosscuts, as its far end is trimmed too, and a
    rip in each block.
    """
    instance = plain(QUARTERS, (100, 50))
    kind = replace(
        instance.kinds[0], exact_length=False, exact_width=False, strip_trim=True, sheet_trim=True
    )
    instance = replace(instance, kinds=(kind,))
    assert bound_of(instance, first_plan(instance)) == 1 + 1 + 1 + 2 + 2


def test_more_sheets_at_the_same_price_are_reckoned_with() -> None:
    """A sheet of 4 or two offcuts of 2 cost the same; on the offcuts nothing is cut at all."""
    whole = plain(HALVES, (100, 60))
    offcut = replace(whole.kinds[0], row=1, length=50, width=50)
    rows = (
        StockRow(stock="new", price=4, at_hand=None),
        StockRow(stock="rack", price=2, at_hand=2),
    )
    instance = replace(whole, kinds=(*whole.kinds, offcut), rows=rows)
    on_one_sheet = first_plan(whole)
    assert goal_value(instance, on_one_sheet) == 4
    assert bound_of(instance, on_one_sheet) == 0


@pytest.mark.parametrize("name", ["shop00", "shop03", "shop10", "shop21"])
def test_bound_on_workshop_lists(name: str) -> None:
    """On whole lists the bound lies below the first plan found, and well above parts less sheets.

    A run that went above that plan would raise.
    """
    instance = of_job(neutral.load(FOLDER / f"{name}.json")[0].job)
    solution = first_plan(instance)
    known = cost(instance, solution)
    bound = CutBound(instance, solution).run(Stop(), lambda: known.cuts, lambda bound: None)
    parts = sum(item.demand for item in instance.items)
    assert parts <= bound <= known.cuts


def test_the_same_steps_prove_the_same() -> None:
    """Counted in steps, a run that is cut short can be repeated exactly; more prove no less."""
    instance = of_job(neutral.load(FOLDER / "shop10.json")[0].job)
    solution = first_plan(instance)
    bounds = [bound_of(instance, solution, steps) for steps in (4, 4, 9)]
    assert bounds[0] == bounds[1] <= bounds[2]


def test_a_stopped_run_knows_what_is_quick() -> None:
    """A stop before the start leaves what costs no time; each better bound is heard once."""
    instance = plain([(40, 30, 1)], (100, 50))
    solution, stop = first_plan(instance), Stop()
    heard: list[int] = []
    stop.ask()
    assert CutBound(instance, solution).run(stop, lambda: None, heard.append) == 1
    assert heard == [1]
    assert bound_of(instance, solution) == 2


def test_a_bound_above_a_plan_is_loud() -> None:
    """If ever a plan took fewer cuts than are proven, the run would break instead of lying."""
    instance = plain(QUARTERS, (100, 50))
    with pytest.raises(BoundError):
        CutBound(instance, first_plan(instance)).run(Stop(), lambda: 2, lambda bound: None)


def test_nothing_is_said_of_begun_sheets() -> None:
    """Room on a sheet that holds something has cuts elsewhere, so no bound is known."""
    instance = plain(QUARTERS, (100, 50))
    begun = replace(instance, rows=(replace(instance.rows[0], begun=True),))
    assert bound_of(begun, first_plan(instance)) == 0


@given(
    st.dictionaries(st.integers(1, 40), st.integers(1, 4), min_size=1, max_size=5),
    st.integers(40, 120),
)
@settings(max_examples=40)
def test_positions_are_the_normal_patterns(copies: dict[int, int], capacity: int) -> None:
    """Marked in a table or merged, the sums are the same, and steps back lead from one to another.

    Against all sums formed one by one.
    """
    sums = {0}
    for size, count in copies.items():
        sums = {s + n * size for s in sums for n in range(count + 1) if s + n * size <= capacity}
    positions = ExactPositions(copies, capacity, 1000)
    assert positions.points.tolist() == sorted(sums)
    for size in copies:
        reached = {int(p) for p in positions.points if p >= size}
        back = [
            positions.points.tolist()[i] if i < len(positions) else None
            for i in positions.back(size)
        ]
        assert back == [p - size if p - size in sums else None for p in sorted(reached)]


def test_too_many_positions_are_not_worked_with() -> None:
    """A list with more sums than allowed is refused, so the quick bound is all that is known."""
    with pytest.raises(TooManyPositions):
        ExactPositions({1: 100}, 99, 50)

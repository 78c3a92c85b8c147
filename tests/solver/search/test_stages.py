"""What comes after the price: fewer sheets at the same price, and the best remainder."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.lengths import MM
from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Budget, Stop
from solver.limits.measure import cost, sawn
from solver.material.instance import (
    Block,
    Instance,
    Laid,
    Lying,
    SheetKind,
    Solution,
    StockRow,
    Strip,
)
from solver.planning.steps import take_step
from solver.run import run
from solver.search.annealing import save_sawing
from solver.search.constructive import first
from solver.search.fewest_sheets import thin_stock
from solver.search.kernel.fleet import desk
from solver.search.kernel.remainder import remainder
from solver.solutions.incumbent import Incumbent
from tests.solver.some_instances import AS_IT_IS, anything, items_of, plain
from tests.solver.some_jobs import job, part, sheet


def strip(item: int, instance: Instance) -> Strip:
    """Return a strip with one item."""
    length, width = instance.size(item, False)
    return Strip(width, (Block(length, (Lying(item, False),)),))


@given(st.integers(0, 10**6))
@settings(max_examples=60)
def test_the_search_sees_the_remainders_that_are_measured(seed: int) -> None:
    """On every sheet the largest fall of its first two levels, as a share, squared."""
    instance = anything(seed)
    solution = first(instance)
    if not solution.sheets:
        return
    search = desk(instance, solution.sheets, [one.kind for one in solution.sheets], 1)
    for place, laid in enumerate(solution.sheets):
        runs = sawn(instance, Solution((laid,), ()))
        falls = [run.remainder(instance.kerf, instance.keep) for run in runs if run.level < 3]
        kind = instance.kinds[laid.kind]
        share = max(falls) / (kind.length * kind.width)
        assert abs(remainder(search, search.laid, place, place) - share * share) < 1e-12


def test_of_equal_sawing_the_better_remainder_stays() -> None:
    """Four strips of 30 need two sheets of 100; three and one leave 70, two and two only 40."""
    instance = plain([(100, 30, 4)], (100, 100))
    two = Laid(0, (strip(0, instance), strip(0, instance)))
    incumbent = Incumbent(instance, Solution((two, two), (0,)), bound=2)
    before = incumbent.cost
    assert before.spare == -40 * 100
    save_sawing(incumbent, Stop(), Effort(60.0, 1, 4_000))
    assert incumbent.cost.spare == -70 * 100
    assert incumbent.cost.seconds == before.seconds


def test_a_remainder_too_small_to_keep_counts_for_nothing() -> None:
    """What is shorter or narrower than the maker keeps is no remainder."""
    one = plain([(100, 30, 1)], (100, 100))
    laid = Solution((Laid(0, (strip(0, one),)),), (0,))
    kept, unkept = (
        Instance(
            material=one.material,
            unit=1,
            kerf=0,
            items=one.items,
            kinds=one.kinds,
            rows=one.rows,
            keep=keep,
        )
        for keep in ((100, 70), (101, 70))
    )
    assert cost(kept, laid).spare == -7000
    assert cost(unkept, laid).spare == 0


def bought_and_owned() -> Incumbent:
    """Return two items on a sheet that is bought and an offcut that is free, proven.

    The sheet takes both.
    """
    whole = SheetKind(row=0, length=100, width=100, orientations=(AS_IT_IS, AS_IT_IS))
    offcut = SheetKind(row=1, length=100, width=40, orientations=(AS_IT_IS, AS_IT_IS))
    instance = Instance(
        material="oak",
        unit=1,
        kerf=0,
        items=items_of([(100, 60, 1), (100, 30, 1)]),
        kinds=(whole, offcut),
        rows=(
            StockRow(stock="new", price=500, at_hand=None),
            StockRow(stock="rack", price=0, at_hand=1),
        ),
    )
    apart = Solution((Laid(0, (strip(0, instance),)), Laid(1, (strip(1, instance),))), (0, 0))
    incumbent = Incumbent(instance, apart, bound=500)
    assert incumbent.is_proven()
    return incumbent


def test_an_offcut_that_is_not_needed_stays_on_the_rack() -> None:
    """A sheet bought takes both items; the owned offcut would be one sheet more."""
    incumbent = bought_and_owned()
    thin_stock(incumbent, Stop(), Effort(60.0, 1, 2_000))
    assert (incumbent.cost.price, incumbent.cost.sheets) == (500, 1)


def test_least_sawing_on_more_sheets_says_nothing_of_fewer() -> None:
    """What was proven of two sheets is forgotten when one will do at the same price."""
    incumbent = bought_and_owned()
    incumbent.finish_sawing()
    incumbent.finish_remainder()
    assert incumbent.is_finished()
    thin_stock(incumbent, Stop(), Effort(60.0, 1, 2_000))
    assert not incumbent.has_least_sawing


def test_a_small_job_is_not_finished_before_it_is_on_the_fewest_sheets() -> None:
    """A step towards less sawing looks for fewer sheets first, then proves the rest."""
    incumbent = bought_and_owned()
    take_step(Phase.SAWING, incumbent, Stop(), Effort(60.0, 1, 20_000))
    assert incumbent.cost.sheets == 1
    assert incumbent.is_finished()


def test_a_plan_says_which_stages_are_proven() -> None:
    """Of a job of two parts all three stages are, of one of a match group the price only."""
    the_job = job(part("a", 400 * MM, 300 * MM), part("b", 300 * MM, 200 * MM), sheet())
    plan = run(the_job, Budget(work=400), lambda event: None)
    assert plan is not None
    (proof,) = plan.proof.materials
    assert (proof.proven, proof.least_sawing, proof.best_remainder) == (True, True, True)
    pair = replace(part("a", 400 * MM, 300 * MM, 2), group="Pair")
    plan = run(replace(the_job, parts=(pair,)), Budget(work=400), lambda event: None)
    assert plan is not None
    (proof,) = plan.proof.materials
    assert (proof.proven, proof.least_sawing, proof.best_remainder) == (True, False, False)

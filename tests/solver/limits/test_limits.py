"""The shop's limits in the solver, against trying every order of every cut."""

from dataclasses import replace
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.assemble.piece_order import places
from solver.budget.effort import Effort
from solver.budget.stop import Stop
from solver.limits.cut_run import CutRun, broken, last_sizes
from solver.limits.measure import cost, price, problems
from solver.limits.single_item import can_be_sawn
from solver.material.instance import Instance, ShopLimits, Weights
from solver.proof.guillotine import CompactGoal, Status, cut
from solver.proof.stoppable import Reach
from solver.search.annealing import save_sawing
from solver.search.constructive import first
from solver.search.fewest_sheets import squeeze_stock
from solver.search.kernel.fleet import desk
from solver.search.kernel.saving import Ledger, energy
from solver.search.kernel.setups import no_setups
from solver.solutions.incumbent import Incumbent
from tests.examples import some_of
from tests.solver.brute_force import least_price
from tests.solver.limits.brute_limits import BruteShop, fitting
from tests.solver.some_instances import anything, plain
from tests.solver.tiny_instances import limited, trimmed

WORK = Reach(work=20.0)


@st.composite
def runs(draw: st.DrawFn) -> tuple[CutRun, Instance]:
    """Draw a run of up to four pieces, and an instance with kerf and limits."""
    sizes = draw(st.lists(st.integers(4, 12), min_size=1, max_size=4).map(tuple))
    exact = draw(st.booleans())
    run = CutRun(
        draw(st.integers(1, 4)),
        sizes,
        sum(sizes) + draw(st.sampled_from((0, 0, 1, 3, 5, 9))),
        draw(st.integers(4, 20)),
        exact,
        draw(st.sampled_from((0, 0, 2, 6))),
        draw(st.booleans()),
        ends=draw(st.booleans()),
    )
    limits = ShopLimits(
        reach=draw(st.none() | st.integers(4, 20)),
        carry=draw(st.sampled_from((0, 6, 9, 12))),
        hold=draw(st.sampled_from((0, 8, 14, 20))),
        fence=draw(st.sampled_from((0, 5, 8))),
    )
    return run, replace(plain([(1, 1, 1)], (9, 9), kerf=draw(st.integers(0, 3))), limits=limits)


@given(runs())
@settings(max_examples=some_of(500))
def test_a_run_can_be_sawn_where_some_order_can(drawn: tuple[CutRun, Instance]) -> None:
    """What is said of a run without looking at orders is what trying them all finds."""
    run, instance = drawn
    can = BruteShop(instance).can(run)
    assert (not broken(run, instance.limits)) == can


@given(runs())
@settings(max_examples=some_of(500))
def test_pieces_are_put_in_an_order_that_can_be_sawn(drawn: tuple[CutRun, Instance]) -> None:
    """If any order keeps the limits, the one chosen does; otherwise as wanted."""
    run, instance = drawn
    run = run._replace(trimmed=False)
    shop, order = BruteShop(instance), places(run, instance.limits)
    assert sorted(order) == list(range(len(run.sizes)))
    if not broken(run, instance.limits):
        assert shop.in_order(tuple(run.sizes[place] for place in order), run)


@given(runs())
@settings(max_examples=some_of(300))
def test_a_size_is_left_for_the_end_only_where_an_order_ends_in_it(
    drawn: tuple[CutRun, Instance],
) -> None:
    """Of an exact run those sizes can be spared with which some order that can be sawn ends."""
    run, instance = drawn
    run = run._replace(trimmed=False, beyond=0, level=1)
    shop = BruteShop(instance)
    for size in set(run.sizes):
        rest = list(run.sizes)
        rest.remove(size)
        orders = ([*order, size] for order in _orders(rest))
        can = run.ends_exactly and any(shop.in_order(tuple(order), run) for order in orders)
        assert can == (size in last_sizes(run, instance.limits))


def _orders(sizes: list[int]) -> list[list[int]]:
    if not sizes:
        return [[]]
    found = []
    for place, size in enumerate(sizes):
        found += [[size, *rest] for rest in _orders(sizes[:place] + sizes[place + 1 :])]
    return found


@pytest.mark.parametrize("count", [1, 2, 3])
def test_runs_of_few_pieces_one_by_one(count: int) -> None:
    """Of every run of up to three pieces of five sizes rule, order and all orders agree."""
    for sizes in combinations_with_replacement((4, 6, 8, 9, 12), count):
        for extra, exact, beyond, across in product((0, 2, 9), (True, False), (0, 5), (4, 10)):
            run = CutRun(3, sizes, sum(sizes) + extra, across, exact, beyond)
            for carry, hold in product((0, 6, 9, 12), (0, 8, 14, 17)):
                limits = ShopLimits(carry=carry, hold=hold)
                instance = replace(plain([(1, 1, 1)], (9, 9), kerf=2), limits=limits)
                shop, order = BruteShop(instance), places(run, limits)
                can = shop.can(run)
                assert can is not bool(broken(run, limits)), (run, limits)
                if can:
                    assert shop.in_order(tuple(sizes[place] for place in order), run), run


def test_two_pieces_on_either_side_of_the_last_cut_are_held_together() -> None:
    """Of a sheet of 9 x 20 two strips of 10 come off: 20 are held, though 15 have to be."""
    instance = replace(plain([(9, 10, 2)], (9, 20)), limits=ShopLimits(hold=15))
    assert cut(instance, max_sheets=2, goal=CompactGoal.PRICE, reach=WORK, costs=(1,)).value == 1
    instance = replace(instance, limits=ShopLimits(hold=21))
    assert cut(instance, max_sheets=2, reach=WORK).status is Status.IMPOSSIBLE


@given(instance=limited(3))
@settings(max_examples=some_of(150), deadline=None)
def test_the_compact_model_finds_what_trying_everything_finds(instance: Instance) -> None:
    """Both find the same least price under the limits, or that there is none."""
    expected = least_price(instance, tuple(row.price for row in instance.rows))
    result = cut(instance, max_sheets=3, reach=WORK)
    assert result.is_proven
    assert result.value == expected
    assert (result.status is Status.IMPOSSIBLE) == (expected is None)
    if result.solution is not None:
        assert problems(instance, result.solution) == []
        assert price(instance, result.solution) == result.value


@given(instance=limited(2))
@settings(max_examples=some_of(150), deadline=None)
def test_an_item_that_cannot_be_sawn_alone_is_on_no_sheet(instance: Instance) -> None:
    """What is called impossible lies on no sheet that can be sawn, in any company."""
    copies = [i for i, item in enumerate(instance.items) for _ in range(item.demand)]
    on_some = set()
    for kind in instance.kinds:
        for bits in fitting(instance, kind, copies):
            on_some |= {item for place, item in enumerate(copies) if bits >> place & 1}
    for item in range(len(instance.items)):
        assert can_be_sawn(instance, item) or item not in on_some


@given(instance=limited(5))
@settings(max_examples=some_of(300), deadline=None)
def test_the_first_plan_keeps_the_limits(instance: Instance) -> None:
    """It is sound; where stock is not short it leaves off only what cannot be sawn."""
    solution = first(instance)
    assert problems(instance, solution) == []
    if all(row.at_hand is None for row in instance.rows):
        for item, left in enumerate(solution.left):
            assert not left or not can_be_sawn(instance, item)


@given(instance=limited(6), seed=st.integers(0, 99))
@settings(max_examples=some_of(60), deadline=None)
def test_the_search_keeps_the_limits(instance: Instance, seed: int) -> None:
    """Both stages end with a sound solution that is no worse; nothing they offer is refused."""
    _assume_possible(instance)
    incumbent = Incumbent(instance, first(instance))
    costs = [incumbent.cost]
    squeeze_stock(incumbent, Stop(), Effort(1e9, seed, 1500))
    costs.append(incumbent.cost)
    save_sawing(incumbent, Stop(), Effort(1e9, seed, 1500))
    costs.append(incumbent.cost)
    assert problems(instance, incumbent.solution) == []
    assert costs == sorted(costs, reverse=True)


@given(instance=limited(3))
@settings(max_examples=40, deadline=None)
def test_the_search_finds_nothing_that_trying_everything_does_not(instance: Instance) -> None:
    """What is searched for is never cheaper than the least price under the limits."""
    _assume_possible(instance)
    incumbent = Incumbent(instance, first(instance))
    squeeze_stock(incumbent, Stop(), Effort(1e9, 1, 5_000))
    expected = least_price(instance, tuple(row.price for row in instance.rows))
    if incumbent.complete:
        assert expected is not None
        assert incumbent.cost.price >= expected


def _assume_possible(instance: Instance) -> None:
    """Pass over instances with items that no sheet gives: they are taken out before."""
    assume(all(can_be_sawn(instance, item) for item in range(len(instance.items))))


@given(st.integers(0, 10**6), st.tuples(st.integers(2, 30), st.integers(2, 40)))
@settings(max_examples=100, deadline=None)
def test_the_search_counts_rips_the_guide_cannot_be_set_to(
    seed: int, guide: tuple[int, int]
) -> None:
    """Counted in the arrays and from first principles they are as many."""
    instance = anything(seed)
    instance = replace(instance, limits=ShopLimits(guide=(guide[0], sum(guide))))
    solution = first(instance)
    if solution.sheets:
        fleet = [sheet.kind for sheet in solution.sheets]
        search = desk(instance, solution.sheets, fleet, 1)
        counted = energy(search, Ledger(no_setups(), 0.0, 0.0, 0.0, 0.0, 1.0))
        assert counted == cost(instance, solution).unguided


@given(instance=trimmed(3), guide=st.tuples(st.integers(2, 20), st.integers(2, 20)))
@settings(max_examples=some_of(60), deadline=None)
def test_the_compact_model_counts_rips_the_guide_cannot_be_set_to(
    instance: Instance, guide: tuple[int, int]
) -> None:
    """Where set-ups cost nothing, its sawing time is that of its solution, and the least met."""
    weights = Weights(cut_s=10, setup_s=0, skim_s=0, unguided_s=7)
    instance = replace(instance, weights=weights, limits=ShopLimits(guide=(guide[0], sum(guide))))
    result = cut(instance, max_sheets=3, goal=CompactGoal.SAWING, reach=WORK)
    if result.solution is None:
        return
    assert result.is_proven
    assert cost(instance, result.solution).seconds == result.value
    incumbent = Incumbent(instance, first(instance))
    if incumbent.complete:
        save_sawing(incumbent, Stop(), Effort(1e9, 1, 1500))
        assert incumbent.cost.seconds >= result.value or len(incumbent.solution.sheets) > 3

"""The order of few cuts against all orders there are."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

import pytest

from shared.asked import CutsToOrder
from shared.cuts.sequence import saw_up
from shared.layout import CutBefore
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import Ordered
from tests.solver.cut_order.counted import Counted, all_counted
from tests.solver.cut_order.cut_orders import (
    CutOrders,
    Spot,
    all_orders,
    changes_in,
    fewest_changes,
    is_set,
    least_loose,
)
from tests.solver.cut_order.few_cuts import FewCuts, few_cuts

BATCH = 10
SEEDS = range(0, 140, BATCH)
LONGER = range(10_000, 12_000, 100)
MOST_S = 10.0
"""Time for one of these jobs, most of which are done in a hundredth of a second."""
MODES = [SawingOrder.BY_SHEET, SawingOrder.BY_SETUP]


def in_mode(made: FewCuts, mode: SawingOrder) -> FewCuts:
    """Return the same sheets to be sawn by sheet or by set-up."""
    return replace(made, job=replace(made.job, shop=replace(made.job.shop, sawing=mode)))


def limit_of(made: FewCuts) -> int | Mapping[str, int]:
    """Return how much may lie about: what the shop says, or the least that it takes."""
    loose = made.job.shop.loose
    if made.job.shop.sawing is SawingOrder.BY_SETUP:
        return max(loose, least_loose(CutOrders(made.job, made.sheets)))
    return {
        sheet.id: max(loose, least_loose(CutOrders(made.job, [sheet]))) for sheet in made.sheets
    }


def best_of(made: FewCuts) -> int:
    """Return the fewest set-up changes of all orders."""
    best = fewest_changes(CutOrders(made.job, made.sheets), limit_of(made))
    assert best is not None
    return best


def ordered(few: FewCuts, **asked: object) -> list[Ordered]:
    """Return all orders that are found."""
    wanted = CutsToOrder(job=few.job, sheets=few.sheets)
    return list(put_in_order(replace(wanted, **asked), Stop().within(MOST_S)))


def orders_counted(few: FewCuts, **asked: object) -> list[Counted]:
    """Return the set-up changes of all orders that are found, and what is proven of them."""
    return all_counted(few.job, ordered(few, **asked))


def check(made: FewCuts) -> None:
    """The last order has the fewest changes, and no bound is above them."""
    best, found = best_of(made), ordered(made)
    told = all_counted(made.job, found)
    assert [one for one in told if one.bound > best or one.changes < best] == []
    assert told[-1].changes == best
    assert verify(saw_up(made.job, found[-1].sheets, order=found[-1].order)) == ()


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", SEEDS)
def test_no_order_of_few_cuts_has_fewer_changes(begin: int, mode: SawingOrder) -> None:
    """For up to eight cuts the fewest set-up changes of all orders are found, and no bound lies."""
    for seed in range(begin, begin + BATCH):
        check(in_mode(few_cuts(seed, 8), mode))


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", SEEDS[:6])
def test_no_order_with_blanks_has_fewer_changes(begin: int, mode: SawingOrder) -> None:
    """The same where blanks are finished at the table saw when all is sawn from the sheets."""
    for seed in range(begin, begin + BATCH):
        check(in_mode(few_cuts(seed, 8, blanks=True), mode))


def test_by_setup_few_cuts_are_proven() -> None:
    """By set-up, with no blanks, the bound meets the changes on every one of these jobs."""
    for seed in range(SEEDS.stop):
        found = orders_counted(in_mode(few_cuts(seed, 8), SawingOrder.BY_SETUP))[-1]
        assert found.proven, seed


def test_the_few_cuts_are_worth_asking_about() -> None:
    """Some jobs need more changes than settings, some by sheet more than by set-up, some room."""
    jobs = [few_cuts(seed, 8) for seed in range(SEEDS.stop)]
    both = [[best_of(in_mode(made, mode)) for mode in MODES] for made in jobs]
    settings = [
        len(set(filter(is_set, CutOrders(made.job, made.sheets).settings.values())))
        for made in jobs
    ]
    tight = [
        made
        for made in (in_mode(made, SawingOrder.BY_SETUP) for made in jobs)
        if best_of(made) > (fewest_changes(CutOrders(made.job, made.sheets), 99) or 0)
    ]
    assert sum(up >= n for (_, up), n in zip(both, settings, strict=True)) >= 10
    assert sum(by_sheet > by_setup for by_sheet, by_setup in both) >= 10
    assert len(tight) >= 5


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", range(0, 40, BATCH))
def test_the_second_opinion_knows_every_order(begin: int, mode: SawingOrder) -> None:
    """Its search finds what the list of all permutations of up to six cuts shows."""
    for seed in range(begin, begin + BATCH):
        made = in_mode(few_cuts(seed, 6), mode)
        orders, limit = CutOrders(made.job, made.sheets), limit_of(made)
        assert len(orders.settings) == made.cuts
        least = min(changes_in(orders, order) for order in all_orders(orders, limit))
        assert fewest_changes(orders, limit) == least


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", range(500, 560, BATCH))
def test_pieces_that_stay_and_pairs_set_by_hand(begin: int, mode: SawingOrder) -> None:
    """With a fixed sheet and a pair set by hand no bound is above the fewest changes there are.

    By set-up they are found. By sheet a pair that lies across sheets leaves no sheet whole, so
    only pairs of one sheet are asked for.
    """
    for seed in range(begin, begin + BATCH):
        made = in_mode(few_cuts(seed, 8), mode)
        wish, pair = _pair(made, seed)
        orders = CutOrders(made.job, made.sheets, {"1"})
        limit = max(made.job.shop.loose, least_loose(orders, before=[pair]))
        best = fewest_changes(orders, limit, before=[pair])
        found = orders_counted(made, fixed=frozenset({"1"}), before=(wish,))
        assert best is not None
        assert all(one.bound <= best for one in found)
        if mode is SawingOrder.BY_SETUP:
            assert found[-1].changes == best


def _pair(made: FewCuts, seed: int) -> tuple[CutBefore, tuple[Spot, Spot]]:
    """Return two cuts of one sheet that come in this order in some order."""
    cuts = saw_up(made.job, made.sheets).cuts
    pairs = [(one, other) for one, other in pairwise(cuts) if one.sheet == other.sheet]
    one, other = pairs[seed % len(pairs)]
    wish = CutBefore(first=one.key, then=other.key)
    return wish, ((one.sheet, one.rect), (other.sheet, other.rect))


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", range(600, 660, BATCH))
def test_what_is_made_binds_the_rest(begin: int, mode: SawingOrder) -> None:
    """After cuts that are made no bound is above the fewest changes of what can follow."""
    for seed in range(begin, begin + BATCH):
        made = in_mode(few_cuts(seed, 8), mode)
        cuts = saw_up(made.job, made.sheets).cuts[: 1 + seed % 3]
        orders = CutOrders(made.job, made.sheets)
        spots = [(cut.sheet, cut.rect) for cut in cuts]
        start = orders.after(spots)
        limit = max(made.job.shop.loose, least_loose(orders, start))
        ahead = fewest_changes(orders, limit, start)
        assert ahead is not None
        best = changes_in(orders, spots) + ahead
        found = orders_counted(made, made=tuple(cut.key for cut in cuts))
        assert all(one.bound <= best <= one.changes for one in found)


@pytest.mark.parametrize("mode", MODES)
def test_a_pair_that_came_too_late_moves_nothing(mode: SawingOrder) -> None:
    """A cut that is made stays made, also where another should have come before it."""
    made = in_mode(few_cuts(0, 8), mode)
    keys = [cut.key for cut in saw_up(made.job, made.sheets).cuts]
    wish = CutBefore(first=keys[-1], then=keys[0])
    for one in ordered(made, made=tuple(keys[:2]), before=(wish,)):
        assert one.order[:2] == tuple(keys[:2])


@pytest.mark.soak
@pytest.mark.timeout(1200)
@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("begin", LONGER)
def test_no_order_of_more_cuts_has_fewer_changes(begin: int, mode: SawingOrder) -> None:
    """Two thousand jobs of up to fourteen cuts, half of them with blanks."""
    jobs = [in_mode(few_cuts(begin + n, 14, blanks=n % 2 == 0), mode) for n in range(100)]
    best = [best_of(made) for made in jobs]
    found = [orders_counted(made) for made in jobs]
    for made, least, orders in zip(jobs, best, found, strict=True):
        assert all(one.bound <= least <= one.changes for one in orders), made
    met = sum(orders[-1].changes == least for least, orders in zip(best, found, strict=True))
    proven = sum(orders[-1].proven for orders in found)
    print(f"{mode}, jobs {begin} to {begin + 99}: {met} fewest, {proven} proven")
    assert met >= 99

"""However the cuts of random sheets are put in order, they can be sawn, and nothing is lost."""

from collections.abc import Iterator
from itertools import groupby, pairwise

from hypothesis import given, settings

from shared.asked import CutsToOrder
from shared.cuts.sequence import saw_up
from shared.layout import LayoutSheet
from shared.making.lifting import Moved
from shared.making.recording import records
from shared.making.timing import total_of
from shared.plan import CutKind, Plan
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import Ordered
from tests.examples import some_of
from tests.ordering_strategies import Ordering, orderings
from tests.solver.cut_order.cut_orders import CutOrders, least_loose


def orders(asked: CutsToOrder) -> list[tuple[Ordered, Plan]]:
    """Return every order that is found, and the plan that comes of it."""
    found = put_in_order(asked, Stop().within(0.25))
    return [(one, saw_up(asked.job, one.sheets, order=one.order)) for one in found]


@given(ordering=orderings())
@settings(max_examples=some_of(120))
def test_every_order_is_sound(ordering: Ordering) -> None:
    """Whatever is asked for, each order found is one that was asked for, and can be sawn."""
    found = orders(ordering.asked)
    are_sawn(ordering.asked, found)
    get_better(ordering.asked, found)
    leave_parts_and_fixed_sheets(ordering.asked, found)
    begin_with_what_is_made(ordering.asked, found)
    keep_what_was_set_by_hand(ordering, found)


def are_sawn(asked: CutsToOrder, found: list[tuple[Ordered, Plan]]) -> None:
    """The saw accepts the cuts in just that order, each pass once, set-up changes as counted."""
    passes = {cut.key for cut in saw_up(asked.job, asked.sheets).cuts}
    for one, plan in found:
        assert verify(plan) == ()
        assert tuple(cut.key for cut in plan.cuts) == one.order
        assert len(one.order) == len(passes)
        assert set(one.order) == passes
        assert one.seconds == total_of(records((plan,), asked.job.shop), asked.job.shop).total
        assert -1 <= one.least_s <= one.seconds
    assert bool(found) == any(sheet.tree is not None for sheet in asked.sheets)


def get_better(asked: CutsToOrder, found: list[tuple[Ordered, Plan]]) -> None:
    """Each takes less time than the one before, or as much and a better bound is known.

    Where one walks as little as can be, fewer lifts come before less time.
    """
    worth = [(one.seconds, -one.least_s) for one, _ in found]
    if asked.job.shop.sawing is SawingOrder.LEAST_WALKING:
        worth = [(lifts_in(asked, plan), *its) for its, (_, plan) in zip(worth, found, strict=True)]
    assert all(after < before for before, after in pairwise(worth))


def lifts_in(asked: CutsToOrder, plan: Plan) -> int:
    """Count how often a piece is laid on its support, or turned there."""
    moved = [record.moved for record in records((plan,), asked.job.shop)]
    return sum(one in {Moved.LAID, Moved.TURNED} for one in moved)


def leave_parts_and_fixed_sheets(asked: CutsToOrder, found: list[tuple[Ordered, Plan]]) -> None:
    """The same copies lie on the same sheets, as large and as turned; fixed sheets are as given."""
    for one, _ in found:
        assert [_lying(sheet) for sheet in one.sheets] == [_lying(s) for s in asked.sheets]
        assert [s for s in one.sheets if s.id in asked.fixed] == [
            s for s in asked.sheets if s.id in asked.fixed
        ]


def _lying(sheet: LayoutSheet) -> tuple[str, str, bool, list[tuple[object, ...]]]:
    copies = sorted(
        (one.part, one.copy, one.length, one.width, one.turned, one.sheet)
        for one in sheet.placements
    )
    return sheet.id, sheet.stock, sheet.yours, copies


def begin_with_what_is_made(asked: CutsToOrder, found: list[tuple[Ordered, Plan]]) -> None:
    """Cuts that are made already are the first ones, in the order in which they were made."""
    for one, _ in found:
        assert one.order[: len(asked.made)] == asked.made


def keep_what_was_set_by_hand(ordering: Ordering, found: list[tuple[Ordered, Plan]]) -> None:
    """What some order of the given sheets fulfils together is fulfilled, pair by pair."""
    for one, _ in found:
        place = {key: number for number, key in enumerate(one.order)}
        if ordering.consistent:
            assert all(place[wish.first] < place[wish.then] for wish in ordering.asked.before)


@given(ordering=orderings(wishes=False))
@settings(max_examples=some_of(80))
def test_by_sheet_one_is_finished_before_the_next(ordering: Ordering) -> None:
    """After what is made, begun sheets come first, and each sheet's cuts are in one piece."""
    asked = ordering.asked
    if asked.job.shop.sawing is SawingOrder.BY_SETUP:
        return
    for _, plan in orders(asked):
        made, ahead = plan.cuts[: len(asked.made)], plan.cuts[len(asked.made) :]
        row = [cut.sheet for cut in ahead if cut.kind is not CutKind.FINISH]
        blocks = [sheet for sheet, _ in groupby(row)]
        assert len(blocks) == len(set(blocks))
        begun = [sheet in {cut.sheet for cut in made} for sheet in blocks]
        assert begun == sorted(begun, reverse=True)


@given(ordering=orderings(most_sheets=2))
@settings(max_examples=some_of(120))
def test_by_setup_no_more_lies_about_than_may(ordering: Ordering) -> None:
    """No more pieces are begun and not finished than allowed, or than it takes at the least.

    What it takes at the least is known for few cuts only: all their orders are gone through.
    """
    asked = ordering.asked
    if asked.job.shop.sawing is not SawingOrder.BY_SETUP:
        return
    for one, plan in orders(asked):
        most = max(lying_about(asked, one.sheets, plan))
        assert most <= asked.job.shop.loose or (most <= _least(asked, plan))


def _least(asked: CutsToOrder, plan: Plan) -> int:
    """Return with how few loose pieces the cuts ahead can be made; no limit for many cuts."""
    if len(plan.cuts) > 10 or any(part.group for part in asked.job.parts):
        return len(plan.cuts)
    given = saw_up(asked.job, asked.sheets)
    spots = {cut.key: (cut.sheet, cut.rect) for cut in given.cuts}
    all_orders = CutOrders(asked.job, asked.sheets, asked.fixed)
    start = all_orders.after(spots[key] for key in asked.made)
    before = [
        (spots[wish.first], spots[wish.then])
        for wish in asked.before
        if wish.first not in asked.made
    ]
    return least_loose(all_orders, start, before)


def lying_about(asked: CutsToOrder, sheets: tuple[LayoutSheet, ...], plan: Plan) -> Iterator[int]:
    """Yield how many pieces are begun and not finished after each cut that is ahead."""
    all_orders = CutOrders(asked.job, sheets)
    spots = [(cut.sheet, cut.rect) for cut in plan.cuts]
    yield 0
    for number in range(len(asked.made) + 1, len(spots) + 1):
        yield all_orders.loose(all_orders.after(spots[:number]))


@given(ordering=orderings())
@settings(max_examples=some_of(60))
def test_a_first_order_comes_even_when_it_is_time_to_stop(ordering: Ordering) -> None:
    """CutsToOrder to stop at once, it yields one order that can be sawn."""
    stop = Stop()
    stop.ask()
    found = list(put_in_order(ordering.asked, stop))
    assert len(found) == any(sheet.tree is not None for sheet in ordering.asked.sheets)
    for one in found:
        assert verify(saw_up(ordering.asked.job, one.sheets, order=one.order)) == ()

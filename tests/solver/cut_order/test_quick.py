"""The quick order: it can be sawn, keeps what an order has to keep, and counts what it takes."""

from collections.abc import Iterator
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.asked import CutsToOrder
from shared.cuts.order_problem import Problem, bits
from shared.cuts.sequence import saw_up
from shared.lengths import INCH, MM
from shared.making.recording import records
from shared.making.timing import worked
from shared.plan import CutKind, Plan
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.shop import RunsOn, Shop, Support
from solver.budget.stop import Stop
from solver.cut_order.clock import START
from solver.cut_order.quick import quick
from solver.cut_order.quickly import put_quickly
from solver.cut_order.task import Task, task_of
from tests.examples import some_of
from tests.ordering_strategies import Ordering, orderings
from tests.shop_strategies import rails, spans

FEW = 9
"""Passes of a group whose orders are all gone through."""


@st.composite
def workshops(draw: st.DrawFn, shop: Shop) -> Shop:
    """What makes orders differ: the usual pace, rails of several lengths, a support, a lift."""
    return replace(
        USUAL_SHOP,
        kerf=shop.kerf,
        base=shop.base,
        loose=shop.loose,
        sawing=shop.sawing,
        table=draw(st.sampled_from((None, shop.table))),
        runs_on=draw(st.sampled_from(RunsOn)),
        rails=draw(rails()),
        guide=draw(st.one_of(st.none(), spans())),
        stop=draw(st.one_of(st.none(), spans())),
        square=draw(st.sampled_from((0, 24 * INCH))),
        support=draw(st.sampled_from(Support)),
        lift_g=draw(st.sampled_from((0, 8_000, 23_000))),
    )


@st.composite
def workshop_orderings(draw: st.DrawFn, wishes: bool = True) -> CutsToOrder:
    """Cuts to be put in order in workshops, of sheets that weigh something."""
    asked = draw(orderings(wishes=wishes)).asked
    job = asked.job
    heavy = tuple(replace(row, density=650, thickness=18 * MM) for row in job.stock)
    return replace(asked, job=replace(job, stock=heavy, shop=draw(workshops(job.shop))))


def _plan(asked: CutsToOrder, width: int = 64) -> tuple[Plan, int]:
    found = put_quickly(asked, width)
    return saw_up(asked.job, found.sheets, order=found.order), found.seconds


@given(ordering=orderings())
@settings(max_examples=some_of(60))
def test_groups_come_as_they_are_with_all_that_has_to_come_before(ordering: Ordering) -> None:
    """All passes ahead come once, group after group, none before what it needs in its group."""
    task = task_of(ordering.asked)
    order = quick(task, Stop())
    assert sorted(order) == list(bits(task.problem.ahead))
    done = 0
    for group in task.groups:
        for number in order[done.bit_count() : (done | group).bit_count()]:
            assert group >> number & 1
            assert not task.problem.before[number] & group & ~done
            done |= 1 << number


@given(ordering=orderings())
@settings(max_examples=some_of(60))
def test_no_more_lies_about_than_may(ordering: Ordering) -> None:
    """No more pieces of a group lie about than may, or than in any of its orders.

    What it takes at the least is known for few passes only: all their orders are gone through.
    """
    task = task_of(ordering.asked)
    order, done = quick(task, Stop()), task.problem.start
    for group in task.groups[: len(task.groups) - task.finishing]:
        its = [number for number in order if group >> number & 1]
        most = max(_lying_about(task.problem, group, its, done))
        if most > task.problem.limit and group.bit_count() <= FEW:
            assert most <= _least(task.problem, group, done)
        done |= group


def _lies(problem: Problem, group: int, done: int) -> int:
    """Count the pieces with passes ahead in a group that are begun, or sawn off others."""
    return sum(
        bool(piece.passes & group & ~done) and problem.is_loose(piece, done)
        for piece in problem.pieces
    )


def _lying_about(problem: Problem, group: int, order: list[int], done: int) -> Iterator[int]:
    """Yield how many pieces lie about after each pass, those that lay there before left out."""
    yield 0
    for number in order:
        done |= 1 << number
        yield _lies(problem, group, done)


def _least(problem: Problem, group: int, done: int) -> int:
    """Return with how few loose pieces a group can be made: all orders are gone through."""
    known: dict[int, int] = {}

    def least(made: int) -> int:
        ahead = group & ~made
        if not ahead:
            return 0
        if made not in known:
            ways = [
                max(_lies(problem, group, made | 1 << one), least(made | 1 << one))
                for one in bits(ahead)
                if not problem.before[one] & ahead
            ]
            known[made] = min(ways)
        return known[made]

    return least(done)


@given(ordering=orderings())
@settings(max_examples=some_of(60))
def test_the_saw_takes_it(ordering: Ordering) -> None:
    """The saw accepts the cuts in just that order, after those made, with the seconds said."""
    asked = ordering.asked
    found = put_quickly(asked)
    plan = saw_up(asked.job, found.sheets, order=found.order)
    assert verify(plan) == ()
    assert tuple(cut.key for cut in plan.cuts) == found.order
    assert found.order[: len(asked.made)] == asked.made
    assert set(found.order) == {cut.key for cut in saw_up(asked.job, asked.sheets).cuts}
    assert found.seconds == worked(plan, asked.job.shop).seconds.total
    assert found.least_s == -1


@given(ordering=orderings())
@settings(max_examples=some_of(60))
def test_what_was_set_by_hand_is_kept(ordering: Ordering) -> None:
    """Pairs that hold together in some order hold in this one, also between sheets."""
    place = {key: at for at, key in enumerate(put_quickly(ordering.asked).order)}
    if ordering.consistent:
        for wish in ordering.asked.before:
            assert place[wish.first] < place[wish.then]


@given(asked=workshop_orderings(wishes=False))
@settings(max_examples=some_of(45))
def test_an_order_is_worth_what_its_cuts_take(asked: CutsToOrder) -> None:
    """What was made and what the order is worth are the records' seconds, but for faces.

    Where some record turns a piece over, the order does not know; there is nothing to compare.
    """
    plan, seconds = _plan(asked)
    if any(record.turn_over for record in records((plan,), asked.job.shop)):
        return
    task = task_of(asked)
    order = quick(task, Stop())
    assert _head(task, asked) + _seconds(task, order) == seconds


def _head(task: Task, asked: CutsToOrder) -> int:
    number = {one.key: place for place, one in enumerate(task.problem.made)}
    return task.clock.run([number[key] for key in asked.made], START, 0)[0]


def _seconds(task: Task, order: list[int]) -> int:
    """Return what an order is worth, less what lifts count besides."""
    standing, done, lifts = task.standing, task.problem.start, 0
    for number in order:
        step = task.clock.step(standing, number, done)
        standing, done, lifts = step.standing, done | 1 << number, lifts + step.lifts
    return task.worth(order) - task.lift * lifts


@given(asked=workshop_orderings())
@settings(max_examples=some_of(30))
def test_it_comes_even_when_it_is_time_to_stop(asked: CutsToOrder) -> None:
    """Asked to stop at once, it still puts all passes in order."""
    task, stop = task_of(asked), Stop()
    stop.ask()
    assert sorted(quick(task, stop)) == list(bits(task.problem.ahead))


@given(asked=workshop_orderings(wishes=False))
@settings(max_examples=some_of(45))
def test_a_trim_lies_beside_the_cut_it_serves(asked: CutsToOrder) -> None:
    """No trim could come right before the next pass over its piece without costing seconds."""
    task = task_of(asked)
    order, problem = quick(task, Stop()), task.problem
    for place, number in enumerate(order):
        if problem.made[number].kind is not CutKind.TRIM:
            continue
        group = next(one for one in task.groups if one >> number & 1)
        later = (
            at
            for at in range(place + 1, len(order))
            if problem.piece_of[order[at]] == problem.piece_of[number] and group >> order[at] & 1
        )
        at = next(later, place + 1)
        moved = [*order[:place], *order[place + 1 : at], number, *order[at:]]
        between = order[place + 1 : at]
        if between and not any(problem.before[one] >> number & 1 for one in between):
            assert task.worth(moved) > task.worth(order)

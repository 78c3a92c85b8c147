"""The warm worker as a real process puts cuts in order, and stops when it is told."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from shared.asked import CutsToOrder
from shared.cuts.sequence import saw_up
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import EndReason, Ordered
from solver.wire import (
    ANSWERS,
    REQUESTS,
    Answer,
    DoneAnswer,
    FailedAnswer,
    OrderedAnswer,
    OrderRequest,
    StopRequest,
)
from tests.solver.cut_order.few_cuts import FewCuts, few_cuts
from tests.solver.test_worker import SHORT, Planner, planner


def asked(made: FewCuts, mode: SawingOrder = SawingOrder.BY_SETUP) -> CutsToOrder:
    """Return what is asked of some cuts."""
    job = replace(made.job, shop=replace(made.job.shop, sawing=mode))
    return CutsToOrder(job=job, sheets=made.sheets)


FEW = few_cuts(355, 8)


@cache
def many() -> FewCuts:
    """Return sheets with more cuts than are put in order at once; hundreds are drawn before."""
    return few_cuts(1, 400, fewest=20)


@pytest.fixture(name="worker", scope="module")
def one_worker() -> Iterator[Planner]:
    """One warm worker for several tests, as the window has it."""
    with planner() as one:
        yield one


def orders_in(heard: list[Answer], run: int) -> list[Ordered]:
    """Return the orders that were sent for a run."""
    return [one.event for one in heard if isinstance(one, OrderedAnswer) and one.run == run]


def test_requests_and_orders_come_back_as_they_were() -> None:
    """What is encoded is decoded to the same value."""
    request = OrderRequest(run=1, asked=asked(FEW), seconds=2.0)
    assert REQUESTS.decode(REQUESTS.encode(request)) == request
    answer = OrderedAnswer(run=1, event=next(put_in_order(request.asked, Stop())))
    assert ANSWERS.decode(REQUESTS.encode(answer)) == answer


@pytest.mark.parametrize("mode", list(SawingOrder))
def test_cuts_are_put_in_order(worker: Planner, mode: SawingOrder) -> None:
    """Orders as good come as are found in this process, then word that it is done."""
    what = asked(FEW, mode)
    worker.send(OrderRequest(run=1, asked=what, seconds=30.0))
    heard = worker.hear_until(DoneAnswer, 1)
    found = orders_in(heard, 1)
    *_, best = put_in_order(what, Stop())
    assert (found[-1].seconds, found[-1].proven) == (best.seconds, best.proven)
    assert best.proven
    assert len(heard) == len(found) + 1
    assert verify(saw_up(what.job, found[-1].sheets, order=found[-1].order)) == ()


def test_without_time_a_first_order_comes(worker: Planner) -> None:
    """No seconds are enough for an order that can be sawn."""
    what = asked(many())
    worker.send(OrderRequest(run=2, asked=what, seconds=0.0))
    (only,) = orders_in(worker.hear_until(DoneAnswer, 2), 2)
    assert verify(saw_up(what.job, only.sheets, order=only.order)) == ()


def test_a_stop_ends_the_run_it_names(worker: Planner) -> None:
    """A stop that comes with the request ends it as stopped, and the worker goes on."""
    line = OrderRequest(run=3, asked=asked(many()), seconds=60.0)
    worker.send(
        REQUESTS.encode(line)
        + REQUESTS.encode(StopRequest(run=99))
        + REQUESTS.encode(StopRequest(run=3))
    )
    done = worker.hear_until(DoneAnswer, 3)[-1]
    assert isinstance(done, DoneAnswer)
    assert done.event.reason is EndReason.STOPPED
    worker.send(OrderRequest(run=4, asked=asked(FEW), seconds=30.0))
    assert orders_in(worker.hear_until(DoneAnswer, 4), 4)


def test_a_new_run_takes_the_place_of_the_old(worker: Planner) -> None:
    """Who asks for a plan while cuts are put in order gets the plan; each run is answered once."""
    worker.send(OrderRequest(run=5, asked=asked(many()), seconds=60.0))
    worker.plan(6, limits=SHORT)
    heard = worker.hear_until(DoneAnswer, 6)
    ends = [one.run for one in heard if isinstance(one, DoneAnswer)]
    assert ends == [5, 6]


def test_sheets_without_a_tree_have_no_order(worker: Planner) -> None:
    """Nothing to cut is done at once, without an order."""
    bare = tuple(replace(sheet, tree=None) for sheet in FEW.sheets)
    worker.send(OrderRequest(run=7, asked=replace(asked(FEW), sheets=bare), seconds=30.0))
    assert orders_in(worker.hear_until(DoneAnswer, 7), 7) == []


def test_an_order_that_cannot_be_is_told_in_a_sentence(worker: Planner) -> None:
    """A sheet of an unknown stock row breaks that run off, and the worker goes on."""
    lost = tuple(replace(sheet, stock="nowhere") for sheet in FEW.sheets)
    worker.send(OrderRequest(run=8, asked=replace(asked(FEW), sheets=lost), seconds=30.0))
    failed = worker.hear_until(FailedAnswer, 8)[-1]
    assert isinstance(failed, FailedAnswer)
    assert "Putting the cuts in order broke off" in failed.sentence
    worker.send(OrderRequest(run=9, asked=asked(FEW), seconds=30.0))
    assert orders_in(worker.hear_until(DoneAnswer, 9), 9)

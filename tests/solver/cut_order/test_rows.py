"""The best order, and what no order undercuts, against all orders there are."""

import pytest

from solver.budget.stop import Stop
from solver.cut_order.task import task_of
from tests.soak.ordering import Found, compare, compare_tours, found_by_rows
from tests.solver.cut_order.paced_cuts import paced_cuts


def test_no_order_of_few_cuts_takes_less() -> None:
    """What is proven is the least of the records of every order, and no bound is above it.

    In shops drawn for them: rails of one to three lengths, some joined, a table saw, straightedges,
    heavy boards, walking round or turning, all three modes, cuts made already.
    """
    count = compare(range(60), 24)
    assert count["compared"] >= 24
    assert count["proven"] >= count["compared"] // 2
    assert {name for name in count if "!" in name} == set()


def test_what_lies_about_already_may_lie_about_later() -> None:
    """Two pieces lie about once the cuts made are made, though the shop says one."""
    count = compare([20_669], 24)
    assert count["proven"] == count["found"] == count["compared"] == 1


def test_what_is_made_already_needs_nothing_any_more() -> None:
    """A piece that had to be sawn off last was sawn off first: the others need not wait for it."""
    count = compare([40_094], 24)
    assert count["compared"] == 1
    assert {name for name in count if "!" in name} == set()


def test_pieces_that_are_turned_over_only_take_longer() -> None:
    """Where faces are shown no bound is above the least of the records."""
    count = compare(range(300, 312), 24, faces=True)
    assert count["compared"] >= 4
    assert {name for name in count if "!" in name} == set()


def test_a_general_program_finds_no_better_tour() -> None:
    """Where costs lie on neighbours alone, the order is a tour, and a general program agrees."""
    assert compare_tours(range(8), 7)["agree"] == 8


@pytest.mark.soak
def test_a_general_program_finds_no_better_tour_of_twelve() -> None:
    """The same on a hundred jobs of up to twelve cuts."""
    assert compare_tours(range(100, 200), 12)["agree"] == 100


def test_a_given_order_is_made_no_worse() -> None:
    """Orders come ever better, bounds ever higher, from whatever is given."""
    task = task_of(paced_cuts(8, 8).asked)
    found: list[Found] = list(found_by_rows(task, Stop()))
    counts, bounds = [task.worth(order) for order, _ in found], [bound for _, bound in found]
    assert counts == sorted(counts, reverse=True)
    assert bounds == sorted(bounds)
    assert bounds[-1] <= counts[-1]

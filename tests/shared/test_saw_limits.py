"""The simulated saw refuses a plan that a shop cannot saw, each limit by itself.

Figures of the small plan (eighths of an inch): the sheet is 160 x 80; rips are 160 long,
its crosscuts 32 and 24; the pieces at each cut are 78 (behind the trim), 32 | 45, 24 | 20,
64 | 95, 64 | 30 and 96 | 63 wide; the smallest piece under the saw is 95 x 32.
"""

from dataclasses import replace

import pytest

from shared.plan import CutKind
from shared.saw import beyond_limits, verify
from shared.shop import Limit, Rail, Shop, Span, TableSaw
from tests.shared.small_plan import PLAN, E


def reaching(length: int, joined: int = 1) -> Shop:
    """Return a shop whose rail is so many eighths long, with nothing over."""
    return Shop(rails=(Rail(length=length * E, joined=joined, count=joined),), overhang=0)


@pytest.mark.parametrize(
    ("shop", "numbers"),
    [
        (reaching(160), []),
        (reaching(159), [1, 2, 3]),
        (reaching(80, joined=2), []),
        (replace(reaching(160), overhang=E), [1, 2, 3]),
        (reaching(31), [1, 2, 3, 4, 5]),
        (Shop(carry=24 * E), []),
        (Shop(carry=25 * E), [3]),
        (Shop(carry=64 * E + 1), [2, 3, 5]),
        (Shop(hold=95 * E), []),
        (Shop(hold=95 * E + 1), [5]),
        (Shop(hold=160 * E + 1), [1, 2, 3, 4, 5, 6]),
    ],
)
def test_each_cut_is_held_against_each_limit(shop: Shop, numbers: list[int]) -> None:
    """A cut that a limit forbids is named, and no other."""
    assert [int(issue.subject) for issue in verify(PLAN, shop)] == numbers


def test_a_shop_without_limits_can_do_anything() -> None:
    """Without rails, carry and hold nothing is beyond a shop."""
    assert verify(PLAN, Shop()) == verify(PLAN) == ()


def test_what_is_broken_is_told_with_both_figures() -> None:
    """What was found and what is allowed stand beside the limit."""
    (one,) = beyond_limits(PLAN, Shop(carry=25 * E))
    assert (one.limit, one.cut.number, one.found, one.allowed) == (Limit.CARRY, 3, 24 * E, 25 * E)


@pytest.mark.parametrize(("fence", "fits"), [((24, 24), True), ((25, 80), False), ((1, 23), False)])
def test_a_cut_at_the_table_saw_is_held_against_its_fence(
    fence: tuple[int, int], fits: bool
) -> None:
    """Cut 3 saws off 24 eighths, which no rail of 25 is carried by, and the fence takes or not."""
    table = TableSaw(kerf=E, fence=Span(least=fence[0] * E, most=fence[1] * E))
    cuts = (*PLAN.cuts[:2], replace(PLAN.cuts[2], tool=table.tool))
    found = beyond_limits(replace(PLAN, cuts=cuts), Shop(carry=25 * E, table=table))
    assert [one.limit for one in found] == ([] if fits else [Limit.FENCE])


def test_cuts_at_another_tool_and_finishing_cuts_are_not_judged() -> None:
    """A table saw needs no rail, and what finishes a blank is judged where it is planned."""
    shop = Shop(carry=25 * E)
    assert not list(beyond_limits(PLAN, replace(shop, tool="another saw")))
    finish = replace(PLAN.cuts[2], kind=CutKind.FINISH)
    assert not list(beyond_limits(replace(PLAN, cuts=(*PLAN.cuts[:2], finish)), shop))

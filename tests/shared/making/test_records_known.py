"""Records that are remembered from the order before are those that are worked out anew."""

from copy import deepcopy
from dataclasses import replace
from random import Random

import pytest

from shared.cuts.sequence import saw_up
from shared.cuts.tally import tally
from shared.making.recording import records
from shared.plan import Plan
from shared.saw.records import wrong_records
from shared.shop import Shop
from tests.soak.recording import any_job, any_shop

ORDERS = 3


def in_any_orders(seed: int) -> tuple[Shop, list[Plan]]:
    """Return a shop, and a job's plan with its cuts in some orders."""
    rng = Random(seed)
    shop = any_shop(rng)
    job, sheets = any_job(rng, shop)
    stays = [one.id for one in sheets]
    keys = [cut.key for cut in saw_up(job, sheets).cuts]
    orders = [rng.sample(keys, len(keys)) for _ in range(ORDERS)]
    return shop, [saw_up(job, sheets, order=order, stays=stays) for order in orders]


@pytest.mark.parametrize("seed", range(30))
def test_another_order_has_the_records_it_would_have_alone(seed: int) -> None:
    """Copies, of which nothing is remembered, have equal records and take as long."""
    shop, plans = in_any_orders(seed)
    for plan in (*plans, plans[0]):
        made = records((plan,), shop)
        other, its_shop = deepcopy((plan, shop))
        assert made == records((other,), its_shop)
        assert tally(plan, shop) == tally(other, its_shop)
        assert [*wrong_records((plan,), shop, made)] == [
            *wrong_records((other,), its_shop, records((other,), its_shop))
        ]


def test_a_record_like_one_that_was_right_is_read_anew() -> None:
    """The saw remembers its verdict of a record, not of what merely looks like it."""
    shop, (plan, *_) = in_any_orders(2)
    made = records((plan,), shop)
    assert not [*wrong_records((plan,), shop, made)]
    for place, one in enumerate(made):
        heavier = replace(one, grams=one.grams + 1)
        wrong = (*made[:place], heavier, *made[place + 1 :])
        (said,) = wrong_records((plan,), shop, wrong)
        assert f"not {one.grams + 1}" in said.sentence

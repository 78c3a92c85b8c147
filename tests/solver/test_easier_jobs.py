"""What makes a job easier never costs stock; and no plan takes less than the parts' area.

No limits of the shop are set; all runs go on until the stock is proven least.
"""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule
from shared.plan import Plan
from shared.shop import FirstCut
from solver.budget.stop import Budget
from solver.prepare.instances import prepare
from solver.run import run
from tests.solver.oracle import costs_of
from tests.solver.small_lists import small_list
from tests.solver.until_proven import until_proven

EXAMPLES = 6
WORK = 50

lists = st.integers(0, 10**6).map(lambda seed: small_list(seed, 7))


def larger_sheet(job: Job) -> Job:
    """Make the sheets of the first row a little longer and wider."""
    first, *rest = job.stock
    grown = replace(first, length=first.length + 37 * MM, width=first.width + 11 * MM)
    return replace(job, stock=(grown, *rest))


def thinner_kerf(job: Job) -> Job:
    """Halve the kerf."""
    return replace(job, shop=replace(job.shop, kerf=job.shop.kerf // 2))


def one_part_fewer(job: Job) -> Job:
    """Need one copy less of the first part."""
    first, *rest = job.parts
    fewer = [replace(first, copies=first.copies - 1)] if first.copies > 1 else []
    return replace(job, parts=(*fewer, *rest))


def may_turn(job: Job) -> Job:
    """Let all parts lie either way."""
    return replace(job, parts=tuple(replace(p, grain_rule=GrainRule.EITHER) for p in job.parts))


def one_row_more(job: Job) -> Job:
    """Offer a further size of sheet at the price of the first."""
    first = job.stock[0]
    wider = replace(first, id="wider", width=first.width + 200 * MM, at_hand=None)
    return replace(job, stock=(*job.stock, wider))


def with_prices(job: Job) -> Job:
    """Return the job with a price for every row, so that none counts by its area."""
    priced = (replace(row, price=100 if row.price is None else row.price) for row in job.stock)
    return replace(job, stock=tuple(priced))


def spent(job: Job, plan: Plan) -> int:
    """Return the price of a plan's sheets; their number where all rows have one price."""
    costs = dict(zip((row.id for row in job.stock), costs_of(job), strict=True))
    return sum(costs[sheet.stock] for sheet in plan.sheets)


@pytest.mark.parametrize(
    "easier", [larger_sheet, thinner_kerf, one_part_fewer, may_turn, one_row_more]
)
@given(job=lists)
@settings(max_examples=EXAMPLES)
def test_an_easier_job_never_costs_more(easier: Callable[[Job], Job], job: Job) -> None:
    """Once both are proven, the easier job takes no more stock."""
    job = with_prices(job)  # by area, a larger sheet would cost more
    plan = until_proven(job, WORK)
    assume(plan.proof.proven)
    other = easier(job)
    again = until_proven(other, WORK)
    assume(again.proof.proven)
    assert spent(other, again) <= spent(job, plan)


@given(job=lists)
@settings(max_examples=EXAMPLES)
def test_a_rule_that_allows_more_never_costs_more(job: Job) -> None:
    """Either direction first, three levels deep, takes no more stock than the rule given."""
    plan = until_proven(job, WORK)
    freer = replace(job, rule=replace(job.rule, levels=3, first=FirstCut.EITHER))
    again = until_proven(freer, WORK)
    assume(plan.proof.proven and again.proof.proven)
    assert spent(freer, again) <= spent(job, plan)


@given(job=lists)
@settings(max_examples=EXAMPLES)
def test_what_is_proven_is_never_below_the_area(job: Job) -> None:
    """Even without any time the bound is no less than area asks of one row of sheets."""
    alone = replace(job, stock=(replace(job.stock[0], at_hand=None),))
    (instance,) = prepare(alone).instances
    assert sum(item.demand for item in instance.items) == sum(p.copies for p in job.parts)
    plan = run(alone, Budget(time_s=0.0), lambda event: None)
    assert plan is not None
    need = sum(p.copies * p.cut_length * p.cut_width for p in job.parts)
    trims, sheet = alone.stock[0].trims, alone.stock[0]
    usable_length = sheet.length - trims.start - trims.end
    usable = usable_length * (sheet.width - trims.near - trims.far)
    claim = plan.proof.materials[0]
    assert -(-need // usable) <= claim.bound <= claim.value

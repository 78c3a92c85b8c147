"""Whatever the job: the planner's plan can be sawn, loses nothing, and keeps its bound."""

from collections import Counter

from hypothesis import HealthCheck, given, settings

from shared.check import sawable
from shared.costs import value_of
from shared.job import Job
from shared.plan import Cut, CutKind, Goal, Plan, PlanSheet
from shared.saw import verify
from shared.shop import Axis
from solver.budget.stop import Budget
from solver.outcome import Better, Done, Event
from solver.run import run
from tests.examples import some_of
from tests.strategies import jobs

QUICK = settings(
    max_examples=some_of(40),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
LITTLE = Budget(time_s=None, work=20)


def planned(job: Job) -> tuple[Plan, list[Event]]:
    """Plan a job with little work; return the plan and all that was told."""
    told: list[Event] = []
    plan = run(job, LITTLE, told.append)
    assert plan is not None
    return plan, told


@settings(QUICK, max_examples=some_of(80))
@given(jobs())
def test_any_job_is_planned_soundly(job: Job) -> None:
    """Every plan can be sawn, no copy and no area is lost, and no plan beats its bound."""
    plan, told = planned(job)
    can_be_sawn(plan, told)
    places_or_names_every_copy(plan, job)
    balances_to_the_tick(plan)
    keeps_its_bound(plan, job)


def can_be_sawn(plan: Plan, told: list[Event]) -> None:
    """The simulated saw accepts every plan that is told, and the last one is returned."""
    plans = [event.plan for event in told if isinstance(event, Better)]
    assert plans
    assert plans[-1] == plan
    assert [verify(one) for one in plans] == [()] * len(plans)
    assert isinstance(told[-1], Done)


def places_or_names_every_copy(plan: Plan, job: Job) -> None:
    """Copies placed and copies on no sheet make the number the take-off asks for."""
    placed = Counter(one.part for one in plan.placements)
    for missing in plan.unplaced:
        assert missing.copies > 0
        assert missing.need
        placed[missing.part] += missing.copies
    assert placed == Counter({part.id: part.copies for part in sawable(job).parts})


def balances_to_the_tick(plan: Plan) -> None:
    """Parts, offcuts, dust and trims of each sheet add up to the sheet, in square ticks."""
    for sheet in plan.sheets:
        everything = (*plan.placements, *plan.offcuts, *plan.cuts)
        pieces = [one.rect.area for one in everything if one.sheet == sheet.id]
        trims = [cut for cut in plan.cuts if cut.sheet == sheet.id and cut.kind is CutKind.TRIM]
        assert sum(pieces) + sum(waste(sheet, cut) for cut in trims) == sheet.rect.area


def waste(sheet: PlanSheet, trim: Cut) -> int:
    """Return the area of what falls away at a trim cut, which has no name of its own."""
    assert sheet.tree is not None
    axis = sheet.tree.axis if trim.level % 2 else sheet.tree.axis.other
    if axis is Axis.RIP:
        return (trim.size - trim.width) * trim.length
    return (trim.size - trim.length) * trim.width


def keeps_its_bound(plan: Plan, job: Job) -> None:
    """The value is what the sheets take in units of the goal, and never less than the bound."""
    proof = plan.proof
    rows = {row.id: row for row in job.stock}
    taken = {
        Goal.FEWEST_SHEETS: len(plan.sheets),
        Goal.LEAST_PRICE: sum(sheet.price for sheet in plan.sheets),
    }
    by_area = value_of(job, (rows[sheet.stock] for sheet in plan.sheets), proof.goal)
    assert proof.value == taken.get(proof.goal, by_area)
    assert 0 <= proof.bound <= proof.value
    assert not proof.proven or proof.bound == proof.value
    assert all(one.bound <= one.value for one in proof.materials)


@QUICK
@given(jobs())
def test_the_same_seed_and_work_give_the_same_plan(job: Job) -> None:
    """With a limit in units of work a second run gives the same plan, field by field."""
    assert planned(job)[0] == planned(job)[0]

"""Jobs that cannot be planned whole, and runs that have no time, say so and fail at nothing."""

from dataclasses import replace

import pytest

from shared.job import Job
from shared.lengths import INCH
from shared.plan import Plan
from shared.stock import Stock
from solver.budget.stop import Budget, Stop
from solver.outcome import Done, EndReason, Event
from solver.run import run
from tests.solver.some_jobs import PLY, job, part, sheet

AT_ONCE = Budget(time_s=0.0)
WIDE = part("wide", 60 * INCH, 50 * INCH, 2)
SHELF = part("shelf", 20 * INCH, 9 * INCH, 7)


def planned(what: Job, limits: Budget = AT_ONCE, stop: Stop | None = None) -> tuple[Plan, Done]:
    """Plan a job; return the plan and how the run ended."""
    told: list[Event] = []
    plan = run(what, limits, told.append, stop=stop)
    assert plan is not None
    end = told[-1]
    assert isinstance(end, Done)
    return plan, end


def needs(plan: Plan) -> dict[str, tuple[int, str]]:
    """Return how many copies of each part lie nowhere, and what they need."""
    return {one.part: (one.copies, one.need) for one in plan.unplaced}


@pytest.mark.parametrize("limits", [AT_ONCE, Budget(time_s=None, work=20)], ids=["0 s", "work"])
def test_a_part_larger_than_any_sheet_says_what_it_needs(limits: Budget) -> None:
    """The others are planned, and what is proven is said of them; the wide part is named."""
    plan, _ = planned(job(WIDE, SHELF, sheet()), limits)
    assert {one.part for one in plan.placements} == {"shelf"}
    assert needs(plan) == {
        "wide": (2, f"needs a sheet of {PLY} of at least L 60 × W 50 in"),
    }
    assert plan.proof.value == 1


@pytest.mark.parametrize(
    "other",
    [(), (sheet(material="oak"),)],
    ids=["none at all", "another"],
)
def test_parts_without_stock_of_their_material_are_told(other: tuple[Stock, ...]) -> None:
    """Nothing is planned, every copy is told, and the run ends as one with nothing to do."""
    plan, end = planned(job(SHELF, *other))
    assert (plan.placements, end.reason) == ((), EndReason.EMPTY)
    copies, need = needs(plan)["shelf"]
    assert copies == 7
    assert PLY in need


def test_stock_without_parts_is_an_empty_plan() -> None:
    """Sheets alone ask for no cut."""
    plan, end = planned(job(sheet()))
    assert (plan.sheets, plan.cuts, plan.unplaced) == ((), (), ())
    assert end.reason is EndReason.EMPTY


def test_stock_that_is_used_up_is_told_without_time() -> None:
    """With 0 s the first plan fills the one sheet at hand and says what the rest needs."""
    half = part("half", 96 * INCH, 23 * INCH, 3)
    plan, _ = planned(job(half, sheet(at_hand=1)))
    assert len(plan.placements) == 2
    copies, need = needs(plan)["half"]
    assert copies == 1
    assert "one more sheet" in need


def test_no_sheet_at_hand_at_all() -> None:
    """A row of which there is none gives nothing, and the parts say that they need one."""
    plan, end = planned(job(SHELF, sheet(at_hand=0)))
    assert (plan.sheets, end.reason) == ((), EndReason.EMPTY)
    assert needs(plan)["shelf"][0] == 7


def test_a_stop_before_the_start_with_too_little_stock() -> None:
    """It ends at once, stopped, with a plan of what fits and the rest named."""
    stop = Stop()
    stop.ask()
    half = part("half", 96 * INCH, 23 * INCH, 3)
    plan, end = planned(job(half, sheet(at_hand=1)), Budget(time_s=60.0, workers=2), stop)
    assert end.reason is EndReason.STOPPED
    assert len(plan.placements) == 2
    assert needs(plan)["half"][0] == 1


@pytest.mark.parametrize("workers", [1, 2])
def test_no_time_gives_the_first_plan_whoever_works(workers: int) -> None:
    """0 s, with a worker or without, gives a plan that holds every part."""
    plan, end = planned(job(SHELF, sheet()), replace(AT_ONCE, workers=workers))
    assert len(plan.placements) == 7
    assert end.reason in (EndReason.TIME, EndReason.PROVEN)


def test_parts_that_make_no_sense_are_left_out() -> None:
    """A part of no length is no part; the others are planned as if it were not there."""
    nothing = part("nothing", 0, 9 * INCH)
    plan, _ = planned(job(nothing, SHELF, sheet()))
    assert {one.part for one in plan.placements} == {"shelf"}
    assert len(plan.placements) == 7

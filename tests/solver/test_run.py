"""A planning run: first plan, ends, kept sheets, prices, and what the saw refuses."""

from dataclasses import replace
from itertools import pairwise

import pytest

from shared.asked import Settled
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import LayoutSheet, Waiting
from shared.lengths import INCH, MM
from shared.plan import Goal, Plan
from shared.proof_rule import KEPT
from shared.shop import CutRule, Shop
from shared.stock import Trims
from solver.budget.stop import Budget, Stop
from solver.outcome import Better, Done, EndReason, Event, RunProgress
from solver.planning import publisher
from solver.planning.trouble import RefusedPlan
from solver.run import run
from tests.shared.cuts.test_sequence import Row as KerfRow
from tests.shared.cuts.test_sequence import rows as kerf_rows
from tests.solver.some_jobs import EIGHTH, PLY, job, part, sheet

WORK = Budget(time_s=None, work=20)
SHELVES = (part("side", 31 * INCH, 95 * EIGHTH, 12), part("shelf", 20 * INCH, 9 * INCH, 7))


def planned(what: Job, limits: Budget = WORK, **rest: object) -> tuple[Plan, list[Event]]:
    """Plan a job; return the plan and what was told."""
    told: list[Event] = []
    plan = run(what, limits, told.append, **rest)
    assert plan is not None
    return plan, told


def done(told: list[Event]) -> Done:
    """Return the last event, which must be the only `Done`."""
    (end,) = [event for event in told if isinstance(event, Done)]
    assert told[-1] is end
    return end


@pytest.mark.parametrize("row", kerf_rows())
def test_kerf_table_through_the_planner(row: KerfRow) -> None:
    """The planner gets just n strips out of a sheet (workshop.md, section 7, K1 to K14)."""
    length = 1000 * MM
    only_sheet = sheet(length=length, width=row.width, trims=Trims(near=row.trim), at_hand=1)
    wanted = part("strip", length, row.strip, row.n + 1)
    plan, _ = planned(job(wanted, only_sheet, kerf=row.kerf))
    assert len(plan.placements) == row.n
    assert [one.copies for one in plan.unplaced] == [1]
    assert [one.width for one in plan.offcuts] == ([row.offcut] if row.offcut else [])


TWO_LEVELS = CutRule(levels=2)


def test_a_full_sheet_as_the_handbook_cuts_it() -> None:
    """Two levels deep, L1 takes 16 cuts, 2 set-ups and 526-1/2 in of sawing (workshop.md, 7)."""
    plan, _ = planned(replace(job(SHELVES[0], sheet()), rule=TWO_LEVELS))
    counts = tally(plan, Shop(kerf=EIGHTH))
    assert (counts.sheets, counts.cuts, counts.setups) == (1, 16, 2)
    assert counts.counts.sawn == 1053 * INCH // 2
    assert plan.proof.proven


def test_the_bound_on_cuts_of_the_handbook_sheet() -> None:
    """No plan of L1 two levels deep takes fewer than the 16 cuts of workshop.md, 7."""
    two_levels = replace(job(SHELVES[0], sheet()), rule=TWO_LEVELS)
    plan, _ = planned(two_levels, replace(WORK, work=3_000))
    assert plan.proof.least_cuts == len(plan.cuts) == 16


def test_a_trimmed_sheet_as_the_handbook_cuts_it() -> None:
    """Two levels deep, L2 takes 12,120 mm of sawing, both trims included (workshop.md, 7)."""
    trimmed = sheet(length=2440 * MM, width=1220 * MM, trims=Trims(near=10 * MM, start=10 * MM))
    kerf = 22 * MM // 10
    plan, _ = planned(
        replace(job(part("a", 720 * MM, 600 * MM, 6), trimmed, kerf=kerf), rule=TWO_LEVELS)
    )
    counts = tally(plan, Shop(kerf=kerf))
    assert (counts.sheets, counts.cuts, counts.counts.sawn) == (1, 11, 12_120 * MM)


def test_three_levels_never_take_longer_than_the_handbook() -> None:
    """With one level more L1 takes no more seconds than 16 cuts, 2 set-ups and a skim do."""
    plan, _ = planned(job(SHELVES[0], sheet()), replace(WORK, work=2_000))
    counts = tally(plan, Shop(kerf=EIGHTH))
    assert counts.sheets == 1
    assert counts.seconds <= (16 + 2 + 1) * 60


def test_no_time_at_all_still_gives_the_first_plan() -> None:
    """A limit of 0 s gives a plan that holds every part."""
    plan, told = planned(job(*SHELVES, sheet()), Budget(time_s=0.0))
    assert len(plan.placements) == 19
    assert done(told).reason in (EndReason.TIME, EndReason.PROVEN)


def test_a_stop_that_was_asked_before_still_gives_the_first_plan() -> None:
    """Whoever stops at once has a plan, and hears that it was stopped."""
    stop = Stop()
    stop.ask()
    plan, told = planned(job(*SHELVES, sheet()), Budget(time_s=60.0), stop=stop)
    assert len(plan.placements) == 19
    assert done(told).reason is EndReason.STOPPED


def test_a_stop_from_another_voice_ends_the_run() -> None:
    """A run without any limit ends when it is asked to on the first plan."""
    stop = Stop()

    def say(event: Event) -> None:
        told.append(event)
        if isinstance(event, Better):
            stop.ask()

    told: list[Event] = []
    run(job(*SHELVES, sheet()), Budget(time_s=None), say, stop=stop)
    assert done(told).reason is EndReason.STOPPED


def test_patience_ends_a_run_that_gains_nothing() -> None:
    """One part on one sheet is proven at once; the run then waits no longer than patience."""
    plan, told = planned(
        job(part("a", 20 * INCH, 10 * INCH), sheet()), Budget(time_s=60.0, patience_s=0.2)
    )
    assert plan.proof.proven
    assert done(told).reason is EndReason.PROVEN
    assert done(told).elapsed_s < 30


def test_a_run_ends_when_neither_stock_nor_sawing_can_get_less() -> None:
    """Two parts are solved whole to the least sawing, and the run ends before its limit."""
    plan, told = planned(job(part("a", 20 * INCH, 10 * INCH, 2), sheet()), Budget(time_s=100.0))
    assert (len(plan.sheets), len(plan.cuts)) == (1, 3)
    assert done(told).reason is EndReason.PROVEN
    assert done(told).elapsed_s < 100


def test_an_empty_job_is_an_empty_plan() -> None:
    """Nothing to plan is told as such, with an empty plan."""
    plan, told = planned(job(sheet()))
    assert (plan.sheets, plan.placements, plan.cuts) == ((), (), ())
    assert done(told).reason is EndReason.EMPTY


def test_the_rule_is_said_in_words() -> None:
    """A proof names the rule it holds for."""
    plan, _ = planned(job(*SHELVES, sheet()))
    assert plan.proof.rule == "rip first, three levels and a last trim"


def test_fewest_sheets_is_the_goal_where_nothing_has_a_price() -> None:
    """Without prices sheets are counted, as a whole and by material."""
    plan, _ = planned(job(*SHELVES, sheet()))
    assert plan.proof.goal is Goal.FEWEST_SHEETS
    assert plan.proof.value == len(plan.sheets)
    assert [one.material for one in plan.proof.materials] == [PLY]


def test_one_price_makes_least_price_the_goal_of_the_whole() -> None:
    """With one price a material counts sheets, and the whole says what they cost."""
    plan, _ = planned(job(*SHELVES, sheet(price=6200)))
    assert plan.proof.goal is Goal.LEAST_PRICE
    assert plan.proof.value == 6200 * len(plan.sheets)
    assert plan.proof.materials[0].goal is Goal.FEWEST_SHEETS
    assert plan.proof.materials[0].value == len(plan.sheets)
    assert plan.proof.bound == 6200 * plan.proof.materials[0].bound


def test_the_rack_is_used_first() -> None:
    """An offcut that costs nothing is used before a sheet that must be bought."""
    rack = sheet("rack", 41 * INCH, 21 * INCH, at_hand=1)
    plan, _ = planned(job(part("a", 20 * INCH, 10 * INCH, 3), sheet("s", price=6200), rack))
    assert [one.stock for one in plan.sheets] == ["rack"]
    assert (plan.proof.value, plan.proof.proven) == (0, True)


def test_no_more_sheets_are_used_than_are_at_hand() -> None:
    """What finds no sheet is named with what it would need; nothing is called proven."""
    plan, _ = planned(job(part("a", 90 * INCH, 40 * INCH, 3), sheet(at_hand=2)))
    assert len(plan.sheets) == 2
    assert [(one.part, one.copies) for one in plan.unplaced] == [("a", 1)]
    assert "one more sheet" in plan.unplaced[0].need
    assert not plan.proof.proven


def keep(plan: Plan, sheet_id: str) -> LayoutSheet:
    """Return a sheet of a plan as the maker keeps it."""
    found = next(one for one in plan.sheets if one.id == sheet_id)
    lying = tuple(one for one in plan.placements if one.sheet == sheet_id)
    return LayoutSheet(
        id=sheet_id, stock=found.stock, placements=lying, tree=found.tree, yours=True
    )


def test_a_kept_sheet_stays_as_it_is_under_its_number() -> None:
    """The others are numbered around it, and the proof says that sheets were kept."""
    parts = (part("a", 90 * INCH, 40 * INCH, 3), part("b", 20 * INCH, 5 * INCH))
    first, _ = planned(job(*parts, sheet()))
    kept = keep(first, "2")
    again, _ = planned(job(*parts, sheet()), settled=Settled(kept=(kept,)))
    assert sorted(one.id for one in again.sheets) == ["1", "2", "3"]
    assert tuple(one for one in again.placements if one.sheet == "2") == kept.placements
    assert again.proof.rule.endswith(KEPT)
    assert again.proof.value == 3


def test_what_lies_on_a_kept_sheet_without_cuts_is_not_planned_again() -> None:
    """A sheet that cannot be cut is in no plan, and its parts are named as lying nowhere."""
    first, _ = planned(job(part("a", 90 * INCH, 40 * INCH, 2), sheet()))
    locked = LayoutSheet(id="1", stock="s", placements=keep(first, "1").placements, yours=True)
    again, _ = planned(
        job(part("a", 90 * INCH, 40 * INCH, 2), sheet()), settled=Settled(kept=(locked,))
    )
    assert [one.id for one in again.sheets] == ["2"]
    assert [one.copies for one in again.unplaced] == [1]


def test_copies_sent_to_wait_are_told_as_such() -> None:
    """A copy the maker sent to wait is on no sheet of the plan."""
    sent = [Waiting(part="a", copy=1, sent=True)]
    plan, _ = planned(
        job(part("a", 20 * INCH, 10 * INCH, 3), sheet()), settled=Settled(waiting=sent)
    )
    assert {one.copy for one in plan.placements} == {2, 3}
    assert [(one.part, one.copies) for one in plan.unplaced] == [("a", 1)]


def test_two_materials_are_one_plan() -> None:
    """Sheets are numbered through, and the whole is proven if each material is."""
    plan, told = planned(
        job(
            part("a", 20 * INCH, 10 * INCH, 4),
            part("b", 20 * INCH, 10 * INCH, 4, material="1/4 ply"),
            sheet("s"),
            sheet("t", material="1/4 ply"),
        )
    )
    assert [(one.id, one.material) for one in plan.sheets] == [("1", PLY), ("2", "1/4 ply")]
    assert plan.proof.proven
    named = {event.material for event in told if isinstance(event, RunProgress)}
    assert named == {PLY, "1/4 ply"}


def refuse(*_: object) -> Plan:
    """Refuse every plan."""
    raise RefusedPlan("cut 1 stops short")


def test_a_plan_the_saw_refuses_is_never_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is a fault that ends the run, unless somebody takes it; it is told to nobody."""
    monkeypatch.setattr(publisher, "compose", refuse)
    told: list[Event] = []
    faults: list[Exception] = []
    with pytest.raises(RefusedPlan, match="stops short"):
        run(job(*SHELVES, sheet()), WORK, told.append)
    assert run(job(*SHELVES, sheet()), WORK, told.append, trouble=faults.append) is None
    assert not [event for event in told if isinstance(event, Better)]
    assert faults


def test_every_better_plan_is_better() -> None:
    """Each plan told leaves out less, costs less, saws less, or is better known."""
    _, told = planned(job(*SHELVES, part("c", 17 * INCH, 13 * INCH, 9), sheet()))
    plans = [event.plan for event in told if isinstance(event, Better)]
    worth = [
        (
            len(one.unplaced),
            len(one.sheets),
            tally(one, Shop(kerf=EIGHTH)).seconds,
            -one.proof.bound,
        )
        for one in plans
    ]
    assert all(
        later[:2] < earlier[:2] or later[2] <= earlier[2] or later[3] < earlier[3]
        for earlier, later in pairwise(worth)
    )


def test_two_processes_find_a_plan_that_is_sawn() -> None:
    """With a worker beside it a run ends in time with a plan that holds every part."""
    told: list[Event] = []
    faults: list[Exception] = []
    plan = run(
        job(*SHELVES, sheet()), Budget(time_s=2.0, workers=2), told.append, trouble=faults.append
    )
    assert plan is not None
    assert len(plan.placements) == 19
    assert faults == []

"""Planning around holds: what is held does not move, and the room beside it is used."""

from collections import Counter
from dataclasses import replace
from itertools import islice
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.asked import Settled
from shared.cuts.sequence import layout_sheet
from shared.holding import frozen
from shared.job import Job, MatchGroup
from shared.layout import Hold, LayoutSheet, Scope
from shared.lengths import MM, Length
from shared.plan import Placement, Plan
from shared.shop import Axis, CutRule, FirstCut, Shop
from shared.tree import Piece, Place, Run
from solver.budget.effort import Effort
from solver.budget.stop import Budget, Stop
from solver.outcome import Phase
from solver.planning.plans import compose
from solver.planning.proof_status import ProofStatus
from solver.planning.steps import KERNEL, take_step
from solver.prepare.instances import Prepared, prepare
from solver.run import run
from solver.search.constructive import passes
from solver.solutions.incumbent import Incumbent
from tests.examples import some_of
from tests.solver.assemble.test_assemble import jobs
from tests.solver.some_jobs import job, part, sheet


def mm(name: str, length: int, width: int, copies: int = 1):
    """Return a part in millimetres."""
    return part(name, length * MM, width * MM, copies)


def planned(the_job: Job, prepared: Prepared, skip: int) -> Plan:
    """Return the sawn plan of some constructive solution."""
    incumbents = [
        ProofStatus(one, next(islice(passes(one, Random(skip)), skip, None)), 0)
        for one in prepared.instances
    ]
    return compose(prepared, incumbents)


def as_laid(plan: Plan) -> list[LayoutSheet]:
    """Return the sheets of a plan as a layout holds them."""
    return [
        LayoutSheet(
            id=one.id,
            stock=one.stock,
            placements=tuple(p for p in plan.placements if p.sheet == one.id),
            tree=one.tree,
        )
        for one in plan.sheets
    ]


def some_holds(sheets: list[LayoutSheet], rng: Random) -> list[Hold]:
    """Hold a few strips and parts."""
    lying = [placement for one in sheets for placement in one.placements]
    chosen = rng.sample(lying, min(len(lying), rng.randint(1, 3)))
    return [
        Hold(scope=rng.choice((Scope.STRIP, Scope.PART)), sheet=p.sheet, part=p.part, copy=p.copy)
        for p in chosen
    ]


def stays(the_job: Job, sheets: list[LayoutSheet], holds: list[Hold]) -> set[Placement]:
    """Return every placement that the holds freeze."""
    rows = {row.id: row for row in the_job.stock}
    return {
        placement
        for one in sheets
        for placement in frozen(one, rows[one.stock], the_job.shop.kerf, holds)
    }


def begun(the_job: Job, rng: Random) -> tuple[set[Placement], Prepared]:
    """Plan a job, hold some of it; return what is frozen, and what there is to solve then."""
    before = as_laid(planned(the_job, prepare(the_job), rng.randint(0, 9)))
    holds = some_holds(before, rng)
    touched = [one for one in before if any(hold.sheet == one.id for hold in holds)]
    return stays(the_job, before, holds), prepare(
        the_job, Settled(held=tuple(touched), holds=tuple(holds))
    )


@given(the_job=jobs(), seed=st.integers(0, 10**6))
@settings(max_examples=some_of(80))
def test_what_is_held_stays_and_all_else_is_planned(the_job: Job, seed: int) -> None:
    """The saw accepts every plan around holds; nothing frozen moves, nothing is lost."""
    rng = Random(seed)
    frozen_ones, prepared = begun(the_job, rng)
    after = planned(the_job, prepared, rng.randint(0, 9))
    assert frozen_ones <= set(after.placements)
    counts = Counter(placement.part for placement in after.placements)
    for missing in after.unplaced:
        counts[missing.part] += missing.copies
    assert counts == {one.id: one.copies for one in the_job.parts}


@given(the_job=jobs(), seed=st.integers(0, 10**6))
@settings(max_examples=some_of(40))
def test_the_compiled_search_respects_what_is_held(the_job: Job, seed: int) -> None:
    """Squeezing and annealing leave sound solutions, dearer by no sheet than constructed."""
    rng = Random(seed)
    frozen_ones, prepared = begun(the_job, rng)
    KERNEL.wait()
    standings = []
    for instance in prepared.instances:
        incumbent = Incumbent(instance, next(passes(instance, Random(0))))
        stock = incumbent.stock
        for phase in (Phase.SQUEEZE, Phase.SAWING):
            take_step(phase, incumbent, Stop(), Effort(60.0, seed, 300))
        assert incumbent.stock <= stock
        standings.append(ProofStatus(instance, incumbent.solution, 0))
    after = compose(prepared, standings)
    assert frozen_ones <= set(after.placements)


def held_at(name: str, scope: Scope, copy: int = 1, on: str = "1") -> Hold:
    """Return a hold on a sheet."""
    return Hold(scope=scope, sheet=on, part=name, copy=copy)


def plan_around(the_job: Job, plan: Plan, *holds: Hold) -> Plan:
    """Plan again, with holds on the sheets of a plan, until the price is proven."""
    named = {hold.sheet for hold in holds}
    held = tuple(one for one in as_laid(plan) if one.id in named)
    limits = Budget(work=400)
    again = run(the_job, limits, lambda event: None, Settled(held=held, holds=holds))
    assert again is not None
    return again


def two_strips(first: FirstCut = FirstCut.RIP, kerf: Length = 2 * MM) -> Job:
    """Return strips of 300 and 200 that fill a sheet of 502, each with a half-length part."""
    rows = (mm("wide", 500, 300), mm("narrow", 500, 200), sheet("s", 1002 * MM, 502 * MM))
    made = job(*rows, kerf=kerf)
    return Job(
        parts=made.parts,
        stock=made.stock,
        shop=Shop(kerf=kerf),
        rule=CutRule(first=first),
    )


def test_parts_go_into_the_rest_of_a_held_strip_and_of_its_sheet() -> None:
    """One sheet still takes four parts when the first strip is held to its first block."""
    small = two_strips()
    plan = run(small, Budget(work=400), lambda event: None)
    assert plan is not None
    grown = Job(
        parts=tuple(part(one.id, one.length, one.width, 2) for one in small.parts),
        stock=small.stock,
        shop=small.shop,
    )
    again = plan_around(grown, plan, held_at("wide", Scope.PART))
    assert len(again.sheets) == 1
    assert again.proof.proven
    assert again.proof.rule.endswith("around what is locked")
    kept = {p.key: p for p in plan.placements}
    assert kept["wide", 1] in again.placements


def test_a_held_strip_takes_nothing_more() -> None:
    """With both strips held whole, what is needed besides takes a second sheet."""
    small = two_strips()
    plan = run(small, Budget(work=400), lambda event: None)
    assert plan is not None
    grown = Job(
        parts=tuple(part(one.id, one.length, one.width, 2) for one in small.parts),
        stock=small.stock,
        shop=small.shop,
    )
    strips = (held_at("wide", Scope.STRIP), held_at("narrow", Scope.STRIP))
    again = plan_around(grown, plan, *strips)
    assert [one.id for one in again.sheets] == ["1", "2"]
    assert again.proof.value == again.proof.bound == 2
    assert set(plan.placements) <= set(again.placements)


def strip_of(name: str, length: Length, width: Length) -> Piece:
    """Return a strip with one part at its reference end."""
    block = Piece(size=length, place=Place(part=name, copy=1))
    return Piece(size=width, run=Run(axis=Axis.CROSSCUT, pieces=(block,)))


def test_less_than_a_kerf_before_a_held_strip_widens_the_strip_before_it() -> None:
    """Where a strip of 200 lay comes one of 199; what is held behind it stays at 202."""
    rows = (mm("new", 1000, 199), mm("held", 900, 100), sheet("s", 1002 * MM, 400 * MM))
    the_job = job(*rows, kerf=2 * MM)
    tree = Run(
        axis=Axis.RIP,
        pieces=(
            strip_of("new", 1000 * MM, 200 * MM),
            strip_of("held", 900 * MM, 100 * MM),
        ),
    )
    before = layout_sheet("1", the_job.stock[0], the_job.shop.kerf, tree)
    around = Settled(held=(before,), holds=(held_at("held", Scope.STRIP),))
    plan = run(the_job, Budget(work=400), lambda event: None, around)
    assert plan is not None
    lying = {p.part: p for p in plan.placements}
    assert lying["held"].y == 202 * MM
    assert (lying["new"].sheet, lying["new"].y, lying["new"].width) == ("1", 0, 199 * MM)
    assert [cut.size for cut in plan.cuts if cut.level == 1] == [200 * MM, 100 * MM]


def test_a_hold_on_a_part_that_is_gone_holds_nothing() -> None:
    """Planning passes such a hold over and plans everything."""
    small = two_strips()
    plan = run(small, Budget(work=400), lambda event: None)
    assert plan is not None
    again = plan_around(small, plan, held_at("nothing", Scope.PART))
    assert len(again.placements) == 2
    assert "held" not in again.proof.rule


def test_a_strip_with_a_match_group_is_held_as_any_other() -> None:
    """A grid of six fronts is cut one level deeper than the rule; beside it parts are planned."""
    fronts = replace(mm("front", 400, 100, 6), group="Fronts")
    the_job = job(fronts, mm("back", 300, 200, 4), sheet("s", 2000 * MM, 700 * MM), kerf=2 * MM)
    the_job = replace(the_job, groups=(MatchGroup(name="Fronts", columns=2),))
    plan = run(the_job, Budget(work=400), lambda event: None)
    assert plan is not None
    again = plan_around(the_job, plan, held_at("front", Scope.STRIP))
    assert again.proof.rule.endswith("around what is locked")
    held = {p for p in plan.placements if p.part == "front"}
    assert held <= set(again.placements)
    assert len(again.placements) == 10

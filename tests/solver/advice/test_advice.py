"""Tests of what would save a sheet: small jobs whose answers are derived by hand."""

from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from shared.asked import Settled
from shared.changes import Change, ChangeKind, PartSide, SheetEdge, changed
from shared.job import Job, MatchGroup
from shared.layout import Hold, Scope
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import GrainRule, Part
from shared.plan import Goal, Plan, Proof
from shared.saw import verify
from shared.shop import Shop
from shared.squaring import squared
from shared.stock import Stock, Trims
from solver.advice.suggesting import suggestions
from solver.budget.stop import Budget, Stop
from solver.outcome import Advice, AdviceEnded, EndReason, Forcing, Suggestion
from solver.prepare.instances import prepare
from solver.proof.guillotine import cut
from solver.run import run
from tests.solver.some_jobs import PLY, part, sheet

BY_WORK = Budget(time_s=None, work=60)
"""The same result on every machine; enough for jobs of a few parts, which are solved whole."""
FULL = (2440 * MM, 1220 * MM)


def metric(*rows: Part | Stock, kerf: int = 22 * MM // 10) -> Job:
    """Return a job in millimetres."""
    return Job(
        parts=tuple(row for row in rows if isinstance(row, Part)),
        stock=tuple(row for row in rows if isinstance(row, Stock)),
        shop=Shop(kerf=kerf),
        style=LengthStyle(unit=Unit.MM),
    )


def planned(job: Job) -> Plan:
    """Return a plan of the job."""
    plan = run(job, Budget(time_s=None, work=200), lambda _: None)
    assert plan is not None
    return plan


def advice(job: Job, plan: Plan | None = None, limits: Budget = BY_WORK) -> list[Advice]:
    """Return all that is said about a job."""
    said: list[Advice] = []
    suggestions(job, plan or planned(job), limits, said.append)
    return said


def last_of_each(said: Iterable[Advice]) -> dict[tuple[str, str, str], Suggestion]:
    """Return the suggestions that stand at the end, by what they are about."""
    return {one.change.subject: one for one in said if isinstance(one, Suggestion)}


def ended(said: list[Advice]) -> AdviceEnded:
    """Return the last thing said."""
    assert isinstance(said[-1], AdviceEnded)
    return said[-1]


def test_two_halves_need_the_kerf() -> None:
    """Two halves of a width lack one kerf: one must lose 2.2 mm, in steps of a millimetre 3."""
    halves = [part(name, FULL[0], 610 * MM) for name in ("left", "right")]
    found = last_of_each(advice(metric(*halves, sheet("s", *FULL))))
    narrower = found[ChangeKind.SHORTEN, "left", PartSide.WIDTH]
    assert narrower.change.amount == 3 * MM  # 610 + 607 + 2.2 = 1219.2; with 608 it is 1220.2
    assert narrower.smallest
    assert (narrower.sheets_before, narrower.sheets) == (2, 1)
    assert "Make left 3 mm narrower, to L 2440 × W 607 mm" in narrower.sentence
    assert "1 sheet instead of 2" in narrower.sentence


def test_all_copies_get_shorter_together() -> None:
    """Two copies share what is lacking: 1.1 mm each, so 2 mm in steps of a millimetre."""
    found = last_of_each(advice(metric(part("half", FULL[0], 610 * MM, 2), sheet("s", *FULL))))
    narrower = found[ChangeKind.SHORTEN, "half", PartSide.WIDTH]
    assert narrower.change.amount == 2 * MM
    assert narrower.smallest
    assert "all 2 of them" in narrower.sentence


def test_inches_go_by_sixteenths() -> None:
    """Two halves of 48 in with a kerf of 1/8 in lack 1/16 in each."""
    job = replace(
        metric(part("half", 96 * INCH, 24 * INCH, 2), sheet("s"), kerf=INCH // 8),
        style=LengthStyle(),
    )
    narrower = last_of_each(advice(job))[ChangeKind.SHORTEN, "half", PartSide.WIDTH]
    assert narrower.change.amount == INCH // 16
    assert narrower.smallest
    assert "1/16 in narrower" in narrower.sentence


def test_a_part_may_turn() -> None:
    """Turned, 900 lies beside 1500 on 2440; along its grain the 1210 does not."""
    grained = (part("wide", 1500 * MM, 1210 * MM), part("tall", 1210 * MM, 900 * MM))
    turned = last_of_each(advice(metric(*grained, sheet("s", *FULL))))[ChangeKind.TURN, "tall", ""]
    assert turned.sheets == 1
    assert any(one.part == "tall" and one.turned for one in turned.plan.placements)
    assert turned.caution


def test_a_thinner_kerf() -> None:
    """Four strips of 303.5 leave 6 mm for three kerfs: 2.0 mm at most."""
    strips = part("strip", FULL[0], 3035 * MM // 10, 4)
    thinner = last_of_each(advice(metric(strips, sheet("s", *FULL))))[ChangeKind.KERF, "", ""]
    assert thinner.change.amount == 2 * MM
    assert thinner.smallest
    assert "another blade" in thinner.caution
    assert "measure" in thinner.caution


def test_no_trim() -> None:
    """Two strips of 608 need 1218.2 of 1220: a trim of 10 mm costs the second sheet."""
    strips = part("strip", FULL[0], 608 * MM, 2)
    job = metric(strips, sheet("s", *FULL, trims=Trims(near=10 * MM)))
    untrimmed = last_of_each(advice(job))[ChangeKind.TRIM, "s", ""]
    assert (untrimmed.change.edges, untrimmed.change.amount) == ((SheetEdge.NEAR,), 10 * MM)
    assert "straight" in untrimmed.caution
    assert "clean" in untrimmed.caution


def test_only_the_trims_that_matter() -> None:
    """With both long edges trimmed by 10 mm, one of them gives way and the other stays."""
    strips = part("strip", FULL[0] - 10 * MM, 600 * MM, 2)
    trims = Trims(near=10 * MM, far=10 * MM, end=10 * MM)
    job = metric(strips, sheet("s", *FULL, trims=trims))
    untrimmed = last_of_each(advice(job))[ChangeKind.TRIM, "s", ""]
    assert untrimmed.change.edges == (SheetEdge.FAR,)


def test_squaring_trims_are_not_given_up() -> None:
    """Two halves of 1218 fit 2440 but for the trims; those that square a sheet have to stay."""
    halves = part("half", 1218 * MM, FULL[1], 2)
    trims = Trims(start=65 * MM // 10, end=23 * MM // 10)
    straight = sheet("s", *FULL, trims=trims)
    given_up = last_of_each(advice(metric(halves, straight)))[ChangeKind.TRIM, "s", ""]
    assert set(given_up.change.edges) == {SheetEdge.START, SheetEdge.END}
    crooked = replace(straight, trims=Trims(), diagonals=4 * MM)
    job = squared(metric(halves, crooked))
    assert job.stock[0].trims == trims
    assert (ChangeKind.TRIM, "s", "") not in last_of_each(advice(job))


def test_a_near_trim_is_given_up_beside_squaring() -> None:
    """Of a sheet out of square the near trim can go, and its squaring trims stay."""
    strips = part("strip", 2400 * MM, 608 * MM, 2)
    job = squared(metric(strips, sheet("s", *FULL, trims=Trims(near=10 * MM))))
    job = squared(replace(job, stock=(replace(job.stock[0], diagonals=4 * MM),)))
    untrimmed = last_of_each(advice(job))[ChangeKind.TRIM, "s", ""]
    assert untrimmed.change.edges == (SheetEdge.NEAR,)
    after = squared(changed(job, untrimmed.change)).stock[0].trims
    assert after == replace(job.stock[0].trims, near=0)
    assert after.start > 0


def test_one_fewer() -> None:
    """Five strips of 240 fill a sheet, so the sixth is what takes another."""
    said = advice(metric(part("strip", FULL[0], 240 * MM, 6), sheet("s", *FULL)))
    fewer = last_of_each(said)[ChangeKind.DROP, "strip", ""]
    assert "5 instead of 6" in fewer.sentence
    [forcing] = [one for one in said if isinstance(one, Forcing)]
    assert [force.part for force in forcing.parts] == ["strip"]
    # Five go on a sheet: in the best proof by strips and sheets each counts a fifth.
    assert forcing.need == pytest.approx(1200, abs=2)
    assert forcing.parts[0].worth == pytest.approx(200, abs=1)


def test_kerf_table_k13() -> None:
    """Three strips of 403 with kerf 3.2 and a trim of 5 lack 0.4 mm on 1220.

    Row K13 of the project's table of kerf sums (workshop notes, computed with fractions).
    """
    strips = part("strip", FULL[0], 403 * MM, 3)
    stock = sheet("s", *FULL, trims=Trims(near=5 * MM))
    found = last_of_each(advice(metric(strips, stock, kerf=32 * MM // 10)))
    assert found[ChangeKind.SHORTEN, "strip", PartSide.WIDTH].change.amount == MM
    assert found[ChangeKind.KERF, "", ""].change.amount == 3 * MM  # 1209 + 2 x 3.0 = 1215
    assert found[ChangeKind.TRIM, "s", ""].change.edges == (SheetEdge.NEAR,)


def test_saves_money() -> None:
    """A part 10 mm too long for the small sheet takes the dear one."""
    rows = (sheet("full", *FULL, price=6000), sheet("half", FULL[1], FULL[1], price=3500))
    said = advice(metric(part("top", 1230 * MM, 600 * MM), *rows))
    shorter = last_of_each(said)[ChangeKind.SHORTEN, "top", PartSide.LENGTH]
    assert shorter.goal is Goal.LEAST_PRICE
    assert shorter.change.amount == 10 * MM
    assert shorter.smallest
    assert (shorter.price_before, shorter.price) == (6000, 3500)
    assert "saves 25.00: 35.00 instead of 60.00" in shorter.sentence


def test_nothing_helps() -> None:
    """Five of seven strips fill a sheet: no single change brings the other two onto it."""
    said = advice(metric(part("strip", FULL[0], 240 * MM, 7), sheet("s", *FULL)))
    looked = ended(said)
    assert not last_of_each(said)
    assert (looked.found, looked.open) == (0, 0)
    assert looked.sentence.startswith("Nothing saves a sheet: ")


def _is(one: Advice, kind: ChangeKind) -> bool:
    return isinstance(one, Suggestion) and one.change.kind is kind


def test_limit_of_shortening() -> None:
    """What needs 3 mm is not found when 2 mm is the most, and the limit is said."""
    halves = [part(name, FULL[0], 610 * MM) for name in ("left", "right")]
    job = metric(*halves, sheet("s", *FULL))
    said: list[Advice] = []
    suggestions(job, planned(job), BY_WORK, said.append, shorten_up_to=2 * MM)
    assert not any(_is(one, ChangeKind.SHORTEN) for one in said)
    assert "up to 2 mm shorter" in ended(said).sentence


def test_one_material_alone() -> None:
    """A suggestion concerns one material, and its plan holds that one alone."""
    other = (part("back", 500 * MM, 500 * MM, material="mdf"), sheet("m", *FULL, material="mdf"))
    halves = part("half", FULL[0], 610 * MM, 2)
    found = last_of_each(advice(metric(halves, sheet("s", *FULL), *other)))
    assert found
    for one in found.values():
        assert one.material == PLY
        assert {lying.material for lying in one.plan.sheets} == {PLY}


def test_sheets_of_yours_stay() -> None:
    """What lies on a sheet of yours is not changed, and its sheet does not count."""
    halves = [part(name, FULL[0], 610 * MM) for name in ("left", "right", "third")]
    job = metric(*halves, sheet("s", *FULL))
    plan = planned(job)
    layout = adopted(Project(job=job), plan).layout
    mine = replace(layout.sheets[0], yours=True)
    said: list[Advice] = []
    suggestions(job, plan, BY_WORK, said.append, settled=Settled(kept=(mine,)))
    found = last_of_each(said)
    assert found
    assert not any(kind is ChangeKind.KERF for kind, _, _ in found)
    held = {place.part for place in mine.placements}
    for one in found.values():
        assert one.change.part not in held
        assert (one.sheets_before, one.sheets) == (2, 1)
        assert len(one.plan.sheets) == 2


def test_what_is_held_stays() -> None:
    """A part that is held is not changed, and its sheet is not one that is saved."""
    halves = [part(name, FULL[0], 610 * MM) for name in ("left", "right", "third")]
    job = metric(*halves, sheet("s", *FULL))
    plan = planned(job)
    layout = adopted(Project(job=job), plan).layout
    first, *_ = layout.sheets
    [place] = first.placements
    hold = Hold(scope=Scope.PART, sheet=first.id, part=place.part, copy=1)
    said: list[Advice] = []
    settled = Settled(held=(first,), holds=(hold,))
    suggestions(job, plan, BY_WORK, said.append, settled=settled)
    found = last_of_each(said)
    assert found
    assert not any(kind is ChangeKind.KERF for kind, _, _ in found)
    for one in found.values():
        assert one.change.part != place.part
        assert (one.sheets_before, one.sheets) == (2, 1)
        assert verify(one.plan) == ()


def test_match_groups_stay() -> None:
    """A match group is left whole; what lies beside it may change."""
    front = replace(part("front", 600 * MM, 300 * MM, 4), group="Fronts")
    job = metric(front, part("half", FULL[0], 617 * MM), sheet("s", *FULL))
    job = replace(job, groups=(MatchGroup(name="Fronts", columns=2),))
    found = last_of_each(advice(job))
    # The block of two rows is 602.2 wide: 602.2 + 2.2 + 617 is 1.4 too much for 1220.
    assert found[ChangeKind.SHORTEN, "half", PartSide.WIDTH].change.amount == 2 * MM
    assert not any(subject == "front" for _, subject, _ in found)


def test_stop_before_the_start() -> None:
    """A stop that is asked already ends it with nothing suggested."""
    stop = Stop()
    stop.ask()
    job = metric(part("half", FULL[0], 610 * MM, 2), sheet("s", *FULL))
    said: list[Advice] = []
    suggestions(job, planned(job), BY_WORK, said.append, stop=stop)
    assert not last_of_each(said)
    assert ended(said).reason is EndReason.STOPPED


def test_a_plan_that_is_not_proven() -> None:
    """Without a proof of the plan nothing is called smallest at the first step, and it is said."""
    strips = part("strip", FULL[0], 403 * MM, 3)
    job = metric(strips, sheet("s", *FULL), kerf=65 * MM // 10)
    plan = planned(job)
    proven = last_of_each(advice(job, plan))[ChangeKind.SHORTEN, "strip", PartSide.WIDTH]
    assert (proven.change.amount, proven.smallest) == (MM, True)  # 3 x 402 + 13 = 1219
    said = advice(job, replace(plan, proof=Proof()))
    found = last_of_each(said)[ChangeKind.SHORTEN, "strip", PartSide.WIDTH]
    assert not found.smallest
    assert "that is enough" in found.sentence
    [forcing] = [one for one in said if isinstance(one, Forcing)]
    assert "not proven" in forcing.sentence


def test_parts_left_off() -> None:
    """A plan that lacks stock has no sheet to save, and that is said."""
    job = metric(part("half", FULL[0], 610 * MM, 2), sheet("s", *FULL, at_hand=1))
    [looked] = advice(job)
    assert isinstance(looked, AdviceEnded)
    assert looked.reason is EndReason.EMPTY


def test_same_seed_says_the_same() -> None:
    """Counted by work, two runs say the same, word by word."""
    job = metric(
        part("a", 900 * MM, 610 * MM, 2), part("b", 700 * MM, 400 * MM, 3), sheet("s", *FULL)
    )
    plan = planned(job)
    first, second = advice(job, plan), advice(job, plan)
    assert [_timeless(one) for one in first] == [_timeless(one) for one in second]


def _timeless(one: Advice) -> Advice:
    return replace(one, elapsed_s=0.0) if isinstance(one, AdviceEnded) else one


@st.composite
def _tight_jobs(draw: st.DrawFn) -> Job:
    """Draw a few parts that are a little too many for a sheet of 200 x 100 mm."""
    rows = [
        part(
            name,
            draw(st.integers(60, 200)) * MM,
            draw(st.integers(30, 60)) * MM,
            draw(st.integers(1, 2)),
            rule=draw(st.sampled_from((GrainRule.ALONG_LENGTH, GrainRule.EITHER))),
        )
        for name in "abc"[: draw(st.integers(1, 3))]
    ]
    trims = Trims(near=draw(st.sampled_from((0, 5))) * MM)
    return metric(*rows, sheet("s", 200 * MM, 100 * MM, trims=trims), kerf=3 * MM)


@settings(max_examples=8)
@given(_tight_jobs())
def test_every_suggestion_holds(job: Job) -> None:
    """Its plan is sawn, lays all parts on fewer sheets, and no smaller step would do."""
    plan = planned(job)
    said = advice(job, plan)
    for one in said:
        if isinstance(one, Suggestion):
            assert verify(one.plan) == ()
            wanted = sum(row.copies for row in changed(job, one.change).parts)
            assert len(one.plan.placements) == wanted
            assert not one.plan.unplaced
            assert len(one.plan.sheets) == one.sheets < len(plan.sheets)
    for one in last_of_each(said).values():
        if one.change.kind is ChangeKind.SHORTEN:
            assert one.smallest
            assert _first_step(job, one.change, len(plan.sheets)) == one.change.amount


def _first_step(job: Job, change: Change, sheets: int) -> int:
    """Return the first amount at which the compact model, proven, takes fewer sheets."""
    for amount in range(MM, change.amount, MM):
        [instance] = prepare(changed(job, replace(change, amount=amount))).instances
        result = cut(instance, max_sheets=sheets)
        assert result.is_proven
        if result.value is not None and result.value < sheets:
            return amount
    return change.amount


def test_no_part_of_a_match_group_is_changed_by_itself() -> None:
    """Two matched halves lack one kerf; a narrower one would not suit its mate, a blade does."""
    halves = [replace(part(name, FULL[0], 610 * MM), group="Doors") for name in ("left", "right")]
    found = last_of_each(advice(metric(*halves, sheet("s", *FULL))))
    assert {kind for kind, _, _ in found} <= {ChangeKind.KERF, ChangeKind.TRIM}

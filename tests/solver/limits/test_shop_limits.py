"""Plans within a shop: which way first, what waits and why, and what beyond the guide costs.

Reach is rail less 250 mm, as guide-rail manuals ask; the other figures are worked by hand.
"""

from dataclasses import replace
from random import Random

import pytest

from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import layout_seconds, tally
from shared.drawing.sheet import part_boxes
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import GrainRule, Part
from shared.plan import Plan
from shared.practice import USUAL_SHOP, running_on
from shared.saw import verify
from shared.shop import Axis, CutRule, FirstCut, Rail, RunsOn, Shop, Span, TableSaw
from shared.stock import NoGo, Stock, Trims
from solver.assemble.trees import trees
from solver.budget.stop import Budget
from solver.limits.measure import cost
from solver.prepare.instances import prepare
from solver.run import run
from solver.search.constructive import passes


def job(
    shop: Shop,
    *sizes: tuple[int, int, int],
    sheet: tuple[int, int] = (2440, 1220),
    grain: GrainRule = GrainRule.ALONG_LENGTH,
) -> Job:
    """Return parts (L, W in mm, copies) to be cut from sheets of that size."""
    parts = (
        Part(
            id=f"p{number}",
            name=f"Part {number}",
            length=length * MM,
            width=width * MM,
            copies=copies,
            material="ply",
            grain_rule=grain,
        )
        for number, (length, width, copies) in enumerate(sizes, 1)
    )
    row = Stock(
        id="s",
        name="Ply",
        material="ply",
        length=sheet[0] * MM,
        width=sheet[1] * MM,
        thickness=18 * MM,
    )
    return Job(parts=tuple(parts), stock=(row,), shop=shop, style=LengthStyle(unit=Unit.MM))


def rails(*lengths: int) -> Shop:
    """Return a shop with those rails, in mm."""
    return Shop(rails=tuple(Rail(length=length * MM) for length in lengths))


def planned(given: Job) -> Plan:
    """Return a plan of little work, sawn within the limits."""
    plan = run(given, Budget(work=500), lambda event: None)
    assert plan is not None
    assert verify(plan, given.shop) == ()
    return plan


@pytest.mark.parametrize(
    ("rail", "first", "axis", "words"),
    [
        (2700, FirstCut.RIP, Axis.RIP, "rip first"),
        (1600, FirstCut.RIP, Axis.CROSSCUT, "crosscut first"),
        (1600, FirstCut.EITHER, Axis.CROSSCUT, "crosscut first"),
        (2700, FirstCut.CROSSCUT, Axis.CROSSCUT, "crosscut first"),
    ],
)
def test_the_proof_names_the_direction_that_was_solved(
    rail: int, first: FirstCut, axis: Axis, words: str
) -> None:
    """A rail of 1600 crosscuts 1220 and rips no 2440; the rule of the proof says what was done."""
    plan = planned(replace(job(rails(rail), (600, 300, 4)), rule=CutRule(first=first)))
    tree = plan.sheets[0].tree
    assert tree is not None
    assert tree.axis is axis
    assert plan.proof.rule.startswith(words)
    assert plan.proof.rule.endswith("within the shop's limits")


def test_what_a_short_rail_cannot_make_waits_for_a_longer_one() -> None:
    """A part of 1800 along the grain would be ripped off a strip 1800 wide: 2050 of rail."""
    plan = planned(job(rails(1600), (1800, 380, 2), (600, 300, 1)))
    (row,) = plan.unplaced
    assert (row.part, row.copies) == ("p1", 2)
    assert row.need == (
        "needs a longer rail: a rail of at least 2050 mm, or two joined to that length,"
        " would rip its strip"
    )


@pytest.mark.parametrize("knots", [[(2300, 1100)], [(100, 600), (2300, 1100), (1200, 40)]])
def test_knots_leave_the_longer_rail_that_is_needed(knots: list[tuple[int, int]]) -> None:
    """Bad places of 100 x 100 part a sheet into several rooms; what lacks is the rail as before."""
    given = job(rails(1600), (1800, 380, 2))
    bad = tuple(NoGo(x=x * MM, y=y * MM, length=100 * MM, width=100 * MM) for x, y in knots)
    given = replace(given, stock=(replace(given.stock[0], no_go=bad),))
    (row,) = planned(given).unplaced
    assert "needs a longer rail: a rail of at least 2050 mm" in row.need


def test_a_sheet_beyond_all_rails_leaves_its_parts_with_the_rail_they_need() -> None:
    """Of 2440 x 1220 the crosscut is the shorter cut: 1470 of rail."""
    plan = planned(job(rails(1400), (600, 300, 1)))
    (row,) = plan.unplaced
    assert "at least 1470 mm" in row.need


def test_narrow_parts_are_sawn_off_wide_pieces() -> None:
    """Strips of 40 and 60 mm under a limit of 100 come off the sheet; none has to wait."""
    plan = planned(job(replace(USUAL_SHOP, lift_g=0), (1100, 40, 6), (700, 60, 5), (560, 300, 8)))
    assert not plan.unplaced


def test_a_part_of_a_narrow_offcut_says_how_far_the_limit_would_have_to_give() -> None:
    """Of an offcut 90 wide, a part of 60 leaves 27.8 with a kerf: 60 would carry the rail."""
    plan = planned(job(Shop(carry=100 * MM), (700, 60, 1), sheet=(1000, 90)))
    (row,) = plan.unplaced
    assert row.need == "can be cut once 60 mm is enough to carry the rail, not 100 mm"


def test_a_saw_without_a_rail_waits_for_a_straightedge() -> None:
    """A base of 280 at each end of 1800; and no clamp holds on 60 with the line 38 away."""
    shop = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    short = replace(shop, rails=(Rail(length=1900 * MM),))
    (row,) = planned(job(short, (1800, 380, 2))).unplaced
    assert row.need == (
        "needs a longer straightedge: a straightedge of at least 2360 mm would rip its strip"
    )
    narrow = replace(Shop(carry=100 * MM), runs_on=shop.runs_on, base=shop.base)
    (row,) = planned(job(narrow, (700, 60, 1), sheet=(1000, 90))).unplaced
    assert row.need.startswith("cannot be cut as long as 100 mm is what carries the straightedge")


def test_a_small_offcut_says_what_would_have_to_be_held() -> None:
    """Behind a trim of 10 a strip of an offcut 310 long is 300 long when it is crosscut."""
    given = job(Shop(hold=305 * MM), (100, 100, 1), sheet=(310, 240))
    given = replace(given, stock=(replace(given.stock[0], trims=Trims(start=10 * MM)),))
    assert [row.need for row in planned(given).unplaced] == [
        "can be cut once 300 mm is enough to hold, not 305 mm"
    ]


@pytest.mark.parametrize("seed", range(12))
def test_the_tally_counts_what_the_measure_counts(seed: int) -> None:
    """Rips beyond the guide are as many on the cards as in the solver, and cost the same."""
    rng = Random(seed)
    sizes = [(rng.randint(150, 900), rng.randint(60, 700), rng.randint(1, 4)) for _ in range(8)]
    shop = replace(
        USUAL_SHOP, guide=Span(least=150 * MM, most=400 * MM), unguided_s=7, setup_s=0, skim_s=0
    )
    rule = CutRule(first=rng.choice(list(FirstCut)))
    given = replace(job(shop, *sizes, grain=rng.choice(list(GrainRule))), rule=rule)
    (instance,) = prepare(given).instances
    for number, solution in zip(range(20), passes(instance, rng), strict=False):
        made = trees(instance, solution, given)
        sheets = [
            layout_sheet(str(n), given.stock[0], shop.kerf, sawn.tree)
            for n, sawn in enumerate(made, 1)
        ]
        plan, measured = saw_up(given, sheets), cost(instance, solution)
        counted = tally(plan, shop)
        assert verify(plan, shop) == (), number
        assert (counted.cuts, counted.unguided) == (measured.cuts, measured.unguided)
        assert layout_seconds(plan, shop) == measured.seconds


TABLE = TableSaw(kerf=32 * MM // 10, fence=Span(least=25 * MM, most=610 * MM))


def test_the_table_saw_takes_what_carries_no_rail() -> None:
    """Off an offcut 90 wide 60 are ripped at the fence; its kerf of 3.2 leaves 26.8."""
    shop = Shop(carry=100 * MM, table=TABLE)
    plan = planned(job(shop, (700, 60, 1), sheet=(1000, 90)))
    assert plan.unplaced == ()
    first, second = plan.cuts
    assert (first.tool, first.size, first.kerf) == ("table saw", 60 * MM, TABLE.kerf)
    assert second.tool == shop.tool
    widths = [off.width for off in plan.offcuts if off.length == 1000 * MM]
    assert widths == [(268 * MM) // 10]


def test_the_table_saw_takes_only_what_its_fence_can_be_set_to() -> None:
    """A fence that begins at 61 mm does not take 60: the rail's limit is what is named."""
    table = replace(TABLE, fence=Span(least=61 * MM, most=610 * MM))
    shop = Shop(carry=100 * MM, table=table)
    plan = planned(job(shop, (700, 60, 1), sheet=(1000, 90)))
    (row,) = plan.unplaced
    assert "carry the rail" in row.need


def test_what_carries_the_rail_is_not_taken_to_the_table_saw() -> None:
    """With 97.8 behind a strip of 60 and 90 to carry, all cuts are made on the rail."""
    shop = Shop(carry=90 * MM, table=TABLE)
    plan = planned(job(shop, (700, 60, 1), sheet=(1000, 160)))
    assert {cut.tool for cut in plan.cuts} == {shop.tool}


def test_what_the_table_saw_finishes_has_the_tints_of_its_rips() -> None:
    """Its kerf of 3.2 lies behind all parts; strips lie 2 mm apart, as the rail's saw has it."""
    shop = Shop(kerf=2 * MM, carry=100 * MM, table=TABLE)
    plan = planned(job(shop, (1000, 60, 1), (1000, 55, 1), sheet=(1000, 190)))
    assert plan.unplaced == ()
    assert {cut.kerf for cut in plan.cuts} == {2 * MM, TABLE.kerf}
    [sheet] = plan.sheets
    assert {box.tint for box in part_boxes(plan, sheet)} == {0, 1}

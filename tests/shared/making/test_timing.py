"""What cuts take, against a job added up by hand and against plain arithmetic on random jobs."""

from dataclasses import asdict, replace

import pytest

from shared.cuts.sequence import saw_up
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM
from shared.making.lifting import Moved
from shared.making.recording import records
from shared.making.timing import Counts, Seconds, lifting_s, seconds_of, worked
from shared.plan import Plan
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.shop import Axis, Rail, Shop, Support
from shared.stock import SheetGrain, Stock
from shared.tree import Piece, Run
from tests.soak import timing

SHOP = replace(
    USUAL_SHOP,
    rails=(Rail(length=1400 * MM, joined=2, count=2),),
    cut_s=45,
    metre_s=15,
    setup_s=60,
    measure_s=20,
    unguided_s=60,
    rail_s=20,
    join_s=120,
    lift_s=20,
    turn_s=15,
    heavy_s=60,
    skim_s=60,
)
"""Two rails of 1400 that can be joined, 250 longer than the cut; kerf 2.2; the guide sets 150 to
610, the stop up to 1200; 23 kg can be lifted; the seconds are those of the example below."""
BY_HAND = [
    # A rip of 2.44 m: 45 + 36.6, so 82 s. 2690 of rail is wanted: two are joined. The sheet is
    # laid down, 2.44 x 1.22 x 0.018 m at 680 kg/m3, so 36 kg: heavy. The guide is set to 400,
    # and the first of two strips is measured.
    Seconds(cutting=82, setting=60, measuring=20, rails=120, lifting=20 + 60),
    # The second strip of 400: the sheet lies there, all is set.
    Seconds(cutting=82),
    # The first strip, 12 kg, is laid down and crosscut: 0.4 m, 45 + 6 s. The rails are parted,
    # and one of them is another than both. The stop is set to 700, for two.
    Seconds(cutting=51, setting=60, measuring=20, rails=120 + 20, lifting=20),
    Seconds(cutting=51),
    # Of 2440 - 2 x 702.2 = 1035.6 are 1034 taken, so that 1.6 is left for a blade of 2.2: a skim.
    Seconds(cutting=51, setting=60, skimming=60),
    # The second strip is laid down; 1300 is beyond the stop, and marked at both ends.
    Seconds(cutting=51, marking=60, lifting=20),
    Seconds(cutting=51, setting=60),
    # What was sawn off at 720 lies there: it is turned and ripped, 0.72 m, 45 + 10.8 s.
    Seconds(cutting=56, setting=60, lifting=15),
]
"""The cuts of the example in their order, in seconds."""


def example() -> Plan:
    """Return the plan of a sheet of 2440 x 1220 mm whose cuts are those above."""
    ripped = Run(axis=Axis.RIP, pieces=(Piece(size=250 * MM),))
    first = Run(axis=Axis.CROSSCUT, pieces=sized(700, 700, 1034))
    second = Run(axis=Axis.CROSSCUT, pieces=(*sized(1300), Piece(size=720 * MM, run=ripped)))
    strips = (Piece(size=400 * MM, run=first), Piece(size=400 * MM, run=second))
    row = Stock(
        id="full",
        name="Full sheet",
        material="birch ply",
        length=2440 * MM,
        width=1220 * MM,
        thickness=18 * MM,
        grain=SheetGrain.ALONG_L,
        density=680,
    )
    sheet = LayoutSheet(id="1", stock="full", tree=Run(axis=Axis.RIP, pieces=strips))
    return saw_up(Job(stock=(row,), shop=SHOP), [sheet])


def sized(*mm: int) -> tuple[Piece, ...]:
    """Return pieces of these sizes of which nothing is made."""
    return tuple(Piece(size=one * MM) for one in mm)


def test_a_small_job_takes_what_it_takes_by_hand() -> None:
    """1,330 s in all: 475 cutting, 300 for five set-ups, 40, 60, 260, 135 and 60."""
    plan = example()
    assert verify(plan, SHOP) == ()
    made = records((plan,), SHOP)
    assert [seconds_of(one, SHOP) for one in made] == BY_HAND
    took = Seconds(
        cutting=475, setting=300, measuring=40, marking=60, rails=260, lifting=135, skimming=60
    )
    sawn = 2 * 2440 + 5 * 400 + 720
    counts = Counts(
        cuts=8,
        sawn=sawn * MM,
        settings=5,
        proven=2,
        marked=1,
        exchanged=1,
        joined=2,
        lifts=3,
        turns=1,
        heavy=1,
        skims=1,
    )
    assert worked(plan, SHOP) == (took, counts)
    counted = tally(plan, SHOP)
    assert (counted.seconds, counted.minutes, counted.setup_changes) == (1_330, 23, 4)


@pytest.mark.parametrize(
    ("changed", "kinds"),
    [
        ({"cut_s": 0, "metre_s": 0}, {"cutting": 0}),
        ({"metre_s": 0}, {"cutting": 8 * 45}),
        ({"setup_s": 10}, {"setting": 50}),
        ({"measure_s": 0}, {"measuring": 0}),
        ({"unguided_s": 100}, {"marking": 100}),
        ({"rail_s": 0}, {"rails": 240}),
        ({"join_s": 0}, {"rails": 20}),
        ({"lift_s": 0}, {"lifting": 60 + 15}),
        ({"turn_s": 0}, {"lifting": 60 + 60}),
        ({"heavy_s": 0}, {"lifting": 75}),
        ({"lift_g": 0}, {"lifting": 75}),
        ({"skim_s": 0}, {"skimming": 0}),
        ({"support": Support.GRID}, {"lifting": 60 + 60}),
    ],
)
def test_each_figure_is_of_one_kind(changed: dict[str, int], kinds: dict[str, int]) -> None:
    """What is changed in the shop changes the seconds of its kind, and no other."""
    shop: Shop = replace(SHOP, **changed)
    before, after = (asdict(worked(example(), one).seconds) for one in (SHOP, shop))
    assert after == before | kinds


def test_minutes_of_random_jobs_are_the_sum_of_their_records() -> None:
    """Kind by kind, as plain arithmetic has it; the simulated saw takes each record."""
    counts, wrong = timing.compare(150)
    assert wrong == []
    assert counts["jobs"] == 150
    kinds = ("cutting", "setting", "measuring", "marking", "rails", "lifting", "skimming")
    assert all(counts[kind] for kind in kinds)


@pytest.mark.parametrize(
    ("moved", "grams", "takes"),
    [
        (Moved.LAID, 23_000, 20),
        (Moved.LAID, 23_001, 80),
        (Moved.TURNED, 46_000, 15),
        (Moved.TURNED, 46_001, 75),
        (Moved.ROUND, 50_000, 0),
    ],
)
def test_what_lies_there_is_turned_alone_up_to_twice_what_is_lifted(
    moved: Moved, grams: int, takes: int
) -> None:
    """By common practice 20 s a lift, 15 s a turn, and a minute more for what takes two."""
    assert lifting_s(moved, grams, USUAL_SHOP, turn_over=False) == takes

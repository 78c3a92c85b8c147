"""Which way a sheet can be cut first, by the rail table of common practice.

Rail lengths are nominal (from memory), reach is rail less 250 mm as guide-rail manuals ask:
a rail of 2700 rips 2440 with 10 mm to spare, one of 1400 does not quite crosscut 1220, two
of 1400 joined rip 2500.
"""

from dataclasses import replace

import pytest

from shared.check import check_job, plannable
from shared.issues import Severity
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.practice import running_on
from shared.reach import ways
from shared.shop import Axis, CutRule, FirstCut, Rail, RunsOn, Shop
from shared.stock import Stock, Trims

RIP, CROSSCUT = Axis.RIP, Axis.CROSSCUT


def sheet(length: int, width: int) -> Stock:
    """Return a sheet of that size in mm, trimmed all round."""
    return Stock(
        id="s",
        name="Birch",
        material="birch",
        length=length * MM,
        width=width * MM,
        thickness=18 * MM,
        trims=Trims(near=10 * MM, far=10 * MM, start=10 * MM, end=10 * MM),
    )


def job(*rails: Rail, first: FirstCut = FirstCut.RIP, row: Stock | None = None) -> Job:
    """Return a job with those rails and one row of sheets."""
    stock = (row or sheet(2440, 1220),)
    return Job(
        stock=stock,
        shop=Shop(rails=rails),
        rule=CutRule(first=first),
        style=LengthStyle(unit=Unit.MM),
    )


def rail(length: int, joined: int = 1) -> Rail:
    """Return a rail of that length in mm."""
    return Rail(length=length * MM, joined=joined, count=joined)


@pytest.mark.parametrize(
    ("rails", "size", "axes"),
    [
        ([rail(800)], (2440, 1220), ()),
        ([rail(1080)], (1220, 610), (CROSSCUT,)),
        ([rail(1400)], (2440, 1220), ()),
        ([rail(1600)], (2440, 1220), (CROSSCUT,)),
        ([rail(1900)], (1525, 1525), (RIP,)),
        ([rail(2700)], (2440, 1220), (RIP,)),
        ([rail(2700)], (2500, 1250), (CROSSCUT,)),
        ([rail(3000)], (2500, 1250), (RIP,)),
        ([rail(1400, 2)], (2500, 1250), (RIP,)),
        ([rail(1400), rail(2700)], (2440, 1220), (RIP,)),
        ([], (9000, 9000), (RIP,)),
    ],
)
def test_the_rail_table_says_which_way_a_sheet_is_cut_first(
    rails: list[Rail], size: tuple[int, int], axes: tuple[Axis, ...]
) -> None:
    """Each rail of the table cuts the sheets that the table says, trims or not."""
    given = job(*rails, row=sheet(*size))
    assert ways(given, given.stock[0]).axes == axes


def test_either_way_leaves_what_the_rails_can_do() -> None:
    """Where the rule leaves the direction open, one that is too long is no loss to tell of."""
    given = job(rail(1600), first=FirstCut.EITHER)
    found = ways(given, given.stock[0])
    assert (found.axes, found.switched) == ((CROSSCUT,), False)
    assert not check_job(replace(given, parts=()))[1:]


def test_a_rail_that_only_crosscuts_turns_the_rule_round() -> None:
    """The direction is switched, and one sentence says what limits and what would help."""
    given = job(rail(1600))
    (issue,) = [one for one in check_job(given) if one.code == "stock-cut-other-way"]
    assert issue.severity is Severity.WARNING
    assert issue.sentence == (
        "Birch: crosscut first, because a rip of 2440 mm is more than the reach of the rails,"
        " 1350 mm; a rail of at least 2690 mm, or two joined to that length, would rip it."
    )
    assert plannable(given).stock == given.stock


def test_a_rail_that_only_rips_turns_the_rule_round() -> None:
    """A sheet that lies with its long side across is ripped first instead."""
    given = job(rail(1600), first=FirstCut.CROSSCUT, row=sheet(1220, 2440))
    found = ways(given, given.stock[0])
    assert (found.axes, found.switched) == ((RIP,), True)
    assert found.sentence.startswith("Rip first, because a crosscut of 2440 mm is more than")


def test_a_sheet_no_rail_cuts_is_left_out() -> None:
    """Where neither direction is possible the shorter one says which rail it takes."""
    given = job(rail(1400))
    (issue,) = [one for one in check_job(given) if one.code == "stock-beyond-reach"]
    assert issue.severity is Severity.ERROR
    assert issue.sentence == (
        "Birch: neither a rip of 2440 mm nor a crosscut of 1220 mm is within the reach of the"
        " rails, 1150 mm; a rail of at least 1470 mm, or two joined to that length, would"
        " crosscut it."
    )
    assert plannable(given).stock == ()


def test_rows_of_one_name_are_told_apart_and_reach_is_not_rounded_up() -> None:
    """1400 less 250 mm is 45.28 in, less than 45 9/32; two rows named Birch say of what."""
    given = job(rail(1400))
    style = LengthStyle(unit=Unit.INCH, denominator=32)
    thin = replace(given.stock[0], id="t", material="thin birch")
    inches = replace(given, stock=(*given.stock, thin), style=style)
    said = [one.sentence for one in check_job(inches) if one.code == "stock-beyond-reach"]
    assert [one.split(":")[0] for one in said] == ["Birch, birch", "Birch, thin birch"]
    assert all("reach of the rails, 45 1/4 in;" in one for one in said)


def test_a_rail_shorter_than_the_overhang_reaches_nothing() -> None:
    """No cut is within a reach of 0."""
    given = job(rail(200))
    assert given.shop.reach == 0
    assert ways(given, given.stock[0]).axes == ()


def test_a_straightedge_has_to_be_two_bases_longer_than_the_cut() -> None:
    """With a base of 280 mm one of 1700 mm reaches 1140; 1220 take 1220 + 2 × 280 = 1780 mm."""
    given = job()
    shop = running_on(given.shop, RunsOn.STRAIGHTEDGE, Unit.MM)
    given = replace(given, shop=replace(shop, rails=(rail(1700),)))
    (issue,) = [one for one in check_job(given) if one.code == "stock-beyond-reach"]
    assert issue.sentence.endswith(
        "is within the reach of the straightedges, 1140 mm; a straightedge of at least 1780 mm"
        " would crosscut it."
    )

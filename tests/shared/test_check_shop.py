"""The shop's limits are checked, each mistake said in one sentence that says what to do."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.check import check_job, plannable
from shared.issues import Issue, Severity
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import Bands, Part
from shared.practice import USUAL_SHOP, USUAL_TABLE, running_on, usual, usual_table, with_kerf
from shared.shop import Hand, Rail, RunsOn, Shop, Span, TableSaw
from shared.stock import Stock
from tests.shop_strategies import gears, shops

MILLIMETRES = LengthStyle(unit=Unit.MM)
DOOR = Part(
    id="door",
    name="Door",
    length=600 * MM,
    width=400 * MM,
    material="birch",
    fit_allowance=6 * MM,
)
SHEET = Stock(
    id="full",
    name="Full sheet",
    material="birch",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)
JOB = Job(parts=(DOOR,), stock=(SHEET,), shop=USUAL_SHOP, style=MILLIMETRES)


def with_shop(**changes: Any) -> Job:
    """Return the good job with its shop changed."""
    return replace(JOB, shop=replace(JOB.shop, **changes))


def with_door(shop: Shop = USUAL_SHOP, **changes: Any) -> Job:
    """Return the good job with its part changed."""
    return replace(JOB, parts=(replace(DOOR, **changes),), shop=shop)


def table(kerf: int = 3 * MM, least: int = 0, most: int = 600 * MM, **more: int) -> TableSaw:
    """Return a table saw."""
    return TableSaw(kerf=kerf, fence=Span(least=least, most=most), **more)


def found(job: Job, code: str) -> Issue:
    """Return the issue of that code; there has to be one."""
    return next(issue for issue in check_job(job) if issue.code == code)


def codes(job: Job) -> list[str]:
    """Return the codes of all issues."""
    return [issue.code for issue in check_job(job)]


def straight(**changes: Any) -> dict[str, Any]:
    """Return what a shop changes whose saw is led by a straightedge, with its base changed."""
    shop = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    assert shop.base is not None
    base = replace(shop.base, **changes)
    return {"runs_on": shop.runs_on, "base": base, "rails": shop.rails}


def rails(length: int = 1400, **counts: int) -> dict[str, Any]:
    """Return what a shop changes that has only rails of that length in mm."""
    return {"rails": (Rail(length=length * MM, **counts),)}


ERRORS = [
    ("stop empty", {"stop": Span(least=2, most=1)}, "stop-empty", "stop.most"),
    ("stop to nothing", {"stop": Span(most=0)}, "stop-empty", "stop.most"),
    ("stop below 0", {"stop": Span(least=-1, most=1)}, "stop-negative", "stop.least"),
    ("guide to nothing", {"guide": Span(most=0)}, "guide-empty", "guide.most"),
    ("more joined than there are", rails(joined=2, count=1), "rail-count", "rails"),
    ("no rail there", rails(count=0), "rail-count", "rails"),
    ("base none", {**straight(), "base": None}, "base-none", "base.left_near"),
    ("left near", straight(left_near=0), "base-not-measured", "base.left_near"),
    ("left far", straight(left_far=0), "base-not-measured", "base.left_far"),
    ("right near", straight(right_near=0), "base-not-measured", "base.right_near"),
    ("right far", straight(right_far=-1), "base-not-measured", "base.right_far"),
    ("base length", straight(length=0), "base-not-measured", "base.length"),
    ("base other kerf", straight(left_far=42 * MM), "base-kerf", "base.left_far"),
    ("base swapped", straight(right_far=120 * MM), "base-kerf", "base.right_far"),
    ("no clamp", {**straight(), "rail_side": Hand.RIGHT}, "carry-clamp", "carry"),
    ("rail width", {"rail_width": -1}, "limit-negative", "rail_width"),
    ("square", {"square": -1}, "limit-negative", "square"),
    ("turn below 0", {"turn_g": -1}, "turn-negative", "turn_g"),
    ("rail wide", {"rail_width": 2440 * MM + 1}, "rail-wide", "rail_width"),
    ("longest", {"table": table(longest=-1)}, "limit-negative", "table.longest"),
    ("widest", {"table": table(widest=-1)}, "limit-negative", "table.widest"),
    ("heaviest", {"table": table(heaviest_g=-1)}, "heaviest-negative", "table.heaviest_g"),
    ("guide empty", {"guide": Span(least=610 * MM, most=150 * MM)}, "guide-empty", "guide.most"),
    ("guide below 0", {"guide": Span(least=-1, most=1)}, "guide-negative", "guide.least"),
    ("fence empty", {"table": table(least=2, most=1)}, "fence-empty", "fence.most"),
    ("fence below 0", {"table": table(least=-1)}, "fence-negative", "fence.least"),
    ("table kerf", {"table": table(kerf=20 * MM + 1)}, "table-kerf-absurd", "table.kerf"),
    ("table kerf below 0", {"table": table(kerf=-1)}, "table-kerf-negative", "table.kerf"),
    ("rail 0", {"rails": (Rail(length=0),)}, "rail-length", "rails"),
    ("rail below 0", {"rails": (Rail(length=-MM),)}, "rail-length", "rails"),
    ("joined 0", {"rails": (Rail(length=1400 * MM, joined=0),)}, "rail-joined", "rails"),
    ("overhang", {"overhang": -1}, "limit-negative", "overhang"),
    ("carry below 0", {"carry": -1}, "limit-negative", "carry"),
    ("hold below 0", {"hold": -1}, "limit-negative", "hold"),
    ("oversize below 0", {"oversize": -1}, "limit-negative", "oversize"),
    ("keep below 0", {"keep_width": -1}, "limit-negative", "keep_width"),
    ("lift below 0", {"lift_g": -1}, "lift-negative", "lift_g"),
    ("no loose pieces", {"loose": 0}, "loose-none", "loose"),
    ("unguided", {"unguided_s": -1}, "pace-negative", "unguided_s"),
    ("lift negative", {"lift_s": -1}, "pace-negative", "lift_s"),
    ("an hour and a second", {"join_s": 3_601}, "pace-absurd", "join_s"),
    ("a year", {"metre_s": 365 * 24 * 3_600}, "pace-absurd", "metre_s"),
    ("carry absurd", {"carry": 2440 * MM + 1}, "carry-absurd", "carry"),
    ("hold absurd", {"hold": 2440 * MM + 1}, "hold-absurd", "hold"),
]
WARNINGS = [
    ("turn below lift", {"turn_g": 22_999}, "turn-below-lift", "turn_g"),
    ("no time", {"cut_s": 0, "metre_s": 0}, "pace-zero", "cut_s"),
    ("wider than long", {"table": table(longest=1, widest=2)}, "table-sizes", "table.widest"),
    ("rail in inches", {"rails": (Rail(length=1400 * INCH),)}, "rail-absurd", "rails"),
    ("rail broad", {"rail_width": 300 * MM + 1}, "rail-broad", "rail_width"),
    ("one name", {"tool": "table saw", "table": table()}, "saws-one-name", "table.tool"),
    ("table kerf 0", {"table": table(kerf=0)}, "table-kerf-zero", "table.kerf"),
    ("oversize", {"table": table(kerf=6 * MM + 1)}, "oversize-under-kerf", "oversize"),
    ("carry wide", {"carry": 1220 * MM + 1}, "carry-wide", "carry"),
]
Case = tuple[str, dict[str, Any], str, str]


def named(case: Any) -> str | None:
    """Name a case by its first word."""
    return case[0] if isinstance(case, tuple) else None


def test_the_usual_shop_has_no_issue() -> None:
    """Nothing is wrong with common practice, in either unit, with a table saw or without."""
    assert check_job(JOB) == ()
    for unit in Unit:
        shop = usual(unit)
        assert check_job(replace(JOB, shop=shop)) == ()
        assert check_job(replace(JOB, shop=replace(shop, table=usual_table(unit)))) == ()


@pytest.mark.parametrize("case", ERRORS, ids=named)
def test_what_nobody_can_mean_leaves_nothing_to_plan(case: Case) -> None:
    """Each is one sentence about the shop that names its field, and no part is planned."""
    _, changes, code, field = case
    job = with_shop(**changes)
    issue = found(job, f"shop-{code}")
    assert (issue.severity, issue.subject, issue.field) == (Severity.ERROR, "", field)
    assert issue.sentence.endswith(".")
    assert plannable(job).parts == ()


@pytest.mark.parametrize("case", WARNINGS, ids=named)
def test_what_is_unlikely_is_planned(case: Case) -> None:
    """Each is one sentence about the shop that names its field, and the job stays whole."""
    _, changes, code, field = case
    job = with_shop(**changes)
    issue = found(job, f"shop-{code}")
    assert (issue.severity, issue.subject, issue.field) == (Severity.WARNING, "", field)
    assert issue.sentence.endswith(".")
    assert plannable(job) == job


@pytest.mark.parametrize(
    ("rail_mm", "joined", "safe_mm"),
    [
        (800, 1, 550),
        (1080, 1, 830),
        (1400, 1, 1150),
        (1600, 1, 1350),
        (1900, 1, 1650),
        (2700, 1, 2450),
        (3000, 1, 2750),
        (1400, 2, 2550),
    ],
)
def test_rails_reach_as_far_as_the_table_says(rail_mm: int, joined: int, safe_mm: int) -> None:
    """A rail cuts its length less 250 mm.

    The 250 mm (10 in) are a guide-rail manual's; the nominal lengths of rails are from
    memory (workshop notes, section 3).
    """
    shop = replace(USUAL_SHOP, rails=(Rail(length=rail_mm * MM, joined=joined, count=joined),))
    assert shop.overhang == 250 * MM
    assert shop.reach == safe_mm * MM


def test_the_long_rail_just_rips_a_sheet_in_inches() -> None:
    """106 in less 10 in is 96 in (workshop notes, section 3); 2700 mm are a little more."""
    shop = usual(Unit.INCH)
    assert shop.reach == 2700 * MM - 10 * INCH
    assert replace(shop, rails=(Rail(length=106 * INCH),)).reach == 96 * INCH


@pytest.mark.parametrize(("overhang", "beyond"), [({}, "250"), (straight(), "560")])
def test_rails_that_take_no_cut_are_said_at_their_field(
    overhang: dict[str, Any], beyond: str
) -> None:
    """A rail as long as the run-up and run-out (a straightedge: two bases of 280) takes none."""
    job = with_shop(**{**overhang, "rails": (Rail(length=int(beyond) * MM),)})
    issue = found(job, "shop-rails-short")
    assert issue.field == "rails"
    assert f"{beyond} mm longer than its cut" in issue.sentence
    longer = with_shop(**{**overhang, "rails": (Rail(length=int(beyond) * MM + 1),)})
    assert "shop-rails-short" not in codes(longer)


@pytest.mark.parametrize("unit", Unit)
def test_a_saw_without_a_rail_is_one_change(unit: Unit) -> None:
    """Nothing is wrong with it, it rips and crosscuts a full sheet, and the way back is whole.

    Distances to the edges of a base (about 1 1/2 and 5 in, 38 and 127 mm), its length (10 to
    12 in) and reach as straightedge less one base at each end: workshop notes, section 3,
    from memory there. A sheet of 2440 × 1220 mm, or 96 × 48 in.
    """
    shop = replace(usual(unit), tool="the green saw", carry=120 * MM)
    other = running_on(shop, RunsOn.STRAIGHTEDGE, unit)
    found = check_job(replace(JOB, shop=other, style=LengthStyle(unit=unit)))
    assert [(one.code, one.severity) for one in found] == [("shop-base-usual", Severity.WARNING)]
    assert "measure yours before you saw" in found[0].sentence
    assert other.tool == "circular saw"
    assert other.base is not None
    assert other.base.left_far - other.base.left_near == shop.kerf
    assert 10 * INCH <= other.base.length <= 12 * INCH
    assert [
        rail.length - 2 * other.base.length >= side
        for rail, side in zip(other.rails, (1220 * MM, 2440 * MM), strict=True)
    ] == [True, True]
    again = running_on(replace(other, kerf=3 * MM), RunsOn.RAIL, unit)
    assert replace(again, aside=None, base=None) == shop
    assert running_on(again, RunsOn.STRAIGHTEDGE, unit).kerf == 3 * MM
    assert running_on(again, RunsOn.RAIL, unit) is again


@given(
    shop=st.builds(
        lambda shop, gear: replace(shop, aside=gear), shops(), st.one_of(st.none(), gears())
    ),
    unit=st.sampled_from(Unit),
)
def test_there_and_back_every_figure_is_as_it_was(shop: Shop, unit: Unit) -> None:
    """Whatever the shop, the saw that is put aside comes back whole, and the other waits."""
    (other,) = set(RunsOn) - {shop.runs_on}
    there = running_on(shop, other, unit)
    again = running_on(there, shop.runs_on, unit)
    assert again == replace(shop, base=again.base, aside=there.gear)
    assert shop.base in {None, again.base}
    assert running_on(again, other, unit) == there


def test_a_base_that_was_measured_stays_with_another_kerf() -> None:
    """One of common practice goes with the kerf; a measured one has to be measured again."""
    usually = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    assert codes(replace(JOB, shop=with_kerf(usually, 3 * MM))) == ["shop-base-usual"]
    assert usually.base is not None
    left = replace(usually.base, left_near=37 * MM, left_far=392 * MM // 10)
    right = replace(left, right_near=125 * MM, right_far=1272 * MM // 10)
    measured = replace(usually, base=replace(right, length=270 * MM))
    assert codes(replace(JOB, shop=measured)) == []
    thicker = with_kerf(measured, 3 * MM + MM // 2)
    assert thicker.base == measured.base
    assert codes(replace(JOB, shop=thicker)) == ["shop-base-kerf", "shop-base-kerf"]


def test_what_of_a_base_is_not_measured_is_named_until_all_is() -> None:
    """The left edge measured, the right edge and the length are still of common practice."""
    usually = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    assert usually.base is not None
    left = replace(usually.base, left_near=37 * MM, left_far=392 * MM // 10)
    issue = found(replace(JOB, shop=replace(usually, base=left)), "shop-base-usual")
    assert issue.field == "base.right_near"
    assert issue.sentence == (
        "The right edge and the length of the saw's base are as common practice has it:"
        " measure yours before you saw."
    )
    right = replace(left, right_near=125 * MM, right_far=1272 * MM // 10)
    issue = found(replace(JOB, shop=replace(usually, base=right)), "shop-base-usual")
    assert issue.field == "base.length"
    assert issue.sentence.startswith("The length of the saw's base is as common practice has it:")


def test_with_another_kerf_only_the_distances_nobody_measured_go_along() -> None:
    """The right edge's 127 mm and 127 mm + kerf stay a pair; the measured left edge stays."""
    usually = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    assert usually.base is not None
    left = replace(usually.base, left_near=37 * MM, left_far=392 * MM // 10)
    base = with_kerf(replace(usually, base=left), 3 * MM).base
    assert base == replace(left, right_far=130 * MM)


def test_no_longest_piece_is_no_piece_too_wide() -> None:
    """With 0 for the longest no whole run is sawn there, whatever the widest is."""
    at_table = replace(USUAL_TABLE, longest=0)
    assert codes(with_shop(table=at_table)) == []


def test_a_limit_is_no_matter_where_nothing_is_cut() -> None:
    """A part that is a whole offcut needs no cut; of sheets of which nothing is made, none is."""
    job = with_shop(hold=3000 * MM)
    assert codes(job) == ["shop-hold-absurd"]
    offcut = replace(SHEET, id="rest", length=606 * MM, width=406 * MM)
    assert codes(replace(job, stock=(SHEET, offcut))) == []
    assert "shop-hold-absurd" not in codes(replace(job, stock=(replace(SHEET, material="oak"),)))


def test_any_sheet_that_can_be_cut_will_do() -> None:
    """With a larger sheet at hand the limit is of use."""
    large = replace(SHEET, id="large", length=3050 * MM)
    assert codes(replace(with_shop(hold=3000 * MM, rails=()), stock=(SHEET, large))) == []


class TestBlank:
    """A measured size has to come out of the blank; an oversize has to leave the saw its kerf."""

    def test_measured_as_large_as_the_blank(self) -> None:
        """600 + 6 by 400 + 6 mm is just the blank: nothing is wrong."""
        assert codes(with_door(measured_length=606 * MM, measured_width=406 * MM)) == []

    def test_larger_than_the_blank(self) -> None:
        """A tick more needs new stock, and the sentence names blank and side."""
        job = with_door(measured_length=606 * MM + 1, measured_width=400 * MM)
        issue = found(job, "part-measured-too-large")
        assert (issue.severity, issue.field) == (Severity.ERROR, "measured_length")
        assert "L 606 × W 406 mm" in issue.sentence
        assert "new stock" in issue.sentence
        wide = with_door(measured_length=600 * MM, measured_width=407 * MM)
        assert found(wide, "part-measured-too-large").field == "measured_width"

    def test_bands_are_taken_off_what_is_measured(self) -> None:
        """With a band of 2 mm on each end the blank is 602 long, and 606 measured come of it."""
        bands = Bands(left=2 * MM, right=2 * MM)
        fits = with_door(bands=bands, measured_length=606 * MM, measured_width=400 * MM)
        assert codes(fits) == []
        none = with_door(bands=bands, measured_length=4 * MM, measured_width=400 * MM)
        assert found(none, "part-measured-not-positive").severity is Severity.ERROR

    def test_less_than_nothing(self) -> None:
        """A measured side below 0 is asked for again."""
        job = with_door(measured_length=600 * MM, measured_width=-1)
        assert found(job, "part-measured-not-positive").field == "measured_width"
        assert plannable(job).parts == ()

    @pytest.mark.parametrize("side", ["length", "width"])
    def test_one_way_only(self, side: str) -> None:
        """A part measured one way still waits, which is a warning about the other."""
        job = with_door(**{f"measured_{side}": 400 * MM})
        issue = found(job, "part-measured-one-way")
        assert issue.severity is Severity.WARNING
        assert issue.field == f"measured_{'width' if side == 'length' else 'length'}"
        assert job.parts[0].waits

    def test_measured_without_an_allowance(self) -> None:
        """Where no blank is reserved a measured size is of no use, and that is said."""
        job = with_door(fit_allowance=0, measured_length=500 * MM)
        assert codes(job) == ["part-measured-no-fit"]

    def test_oversize_without_a_table_saw(self) -> None:
        """It is finished on the track saw, which is a warning."""
        issue = found(with_door(oversize=6 * MM), "part-oversize-no-table")
        assert issue.severity is Severity.WARNING
        assert "track saw" in issue.sentence

    def test_oversize_under_the_kerf(self) -> None:
        """The second saw has to find stock for its whole kerf; as much as the kerf will do."""
        shop = replace(USUAL_SHOP, table=USUAL_TABLE)
        kerf = USUAL_TABLE.kerf
        issue = found(with_door(shop, oversize=kerf - 1), "part-oversize-under-kerf")
        assert (issue.severity, issue.field) == (Severity.ERROR, "oversize")
        assert codes(with_door(shop, oversize=kerf)) == []
        assert "part-oversize-under-kerf" in codes(with_door(oversize=MM))

    def test_oversize_below_0(self) -> None:
        """It is an error of the part."""
        job = with_door(oversize=-1)
        assert found(job, "part-oversize-negative").severity is Severity.ERROR
        assert plannable(job).parts == ()

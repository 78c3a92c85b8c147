"""Which rail is laid, where, and what is lost by it, against figures from outside the project.

The table of rails and safe cuts is that of the workshop notes, section 3: a guide-rail manual's
250 mm (10 in) beyond the cut; nominal lengths from memory. Two thirds of it lie ahead: the manual
asks for 6 to 7 in ahead and 3 in past.
"""

from dataclasses import replace

import pytest

from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.making.aim import Aim
from shared.making.devices import bed_of, device_of
from shared.making.rails import RailsInHand, ends, laid_over
from shared.making.record import Bed, Way
from shared.making.recording import ready, records
from shared.making.settings import Device
from shared.making.strokes import strokes
from shared.plan import CutKind
from shared.practice import USUAL_SHOP
from shared.shop import Axis, Rail, RunsOn, SawBase, Shop, Span
from shared.telling import instructions
from tests.shared.good_plans import MIXED, PANELS, SHELVES

METRIC = LengthStyle(unit=Unit.MM)
RAILS = tuple(Rail(length=mm * MM) for mm in (800, 1080, 1400, 1600, 1900, 2700, 3000))
FIRST = next(strokes(PANELS))
BASE = SawBase(
    left_near=38 * MM, left_far=40 * MM, right_near=127 * MM, right_far=129 * MM, length=280 * MM
)


def cut_of(long_mm):
    """Return a cut of that length."""
    return replace(FIRST, piece=replace(FIRST.piece, length=long_mm * MM))


def laid(shop, *cuts_mm):
    """Return the rails laid over cuts of these lengths, one after the other."""
    rails = RailsInHand(shop)
    cuts = [cut_of(long) for long in cuts_mm]
    return [laid_over(one, Bed.KEEP, rails.take(one.long, Bed.KEEP), shop) for one in cuts]


def rail_for(shop, long_mm):
    """Return the length of the rail that is laid with none in hand, and how many are joined."""
    (one,) = laid(shop, long_mm)
    return (one.rail.length // MM, one.rail.joined) if one.enough else None


@pytest.mark.parametrize(
    ("cut", "rail"),
    [
        (550, 800),
        (830, 1080),
        (1150, 1400),
        (1350, 1600),
        (1650, 1900),
        (2450, 2700),
        (2750, 3000),
    ],
)
def test_shortest_rail_that_takes_a_cut(cut, rail):
    """Each rail of the table takes its safe cut; a millimetre more wants the next longer one."""
    shop = Shop(rails=RAILS)
    assert rail_for(shop, cut) == (rail, 1)
    longer = rail_for(shop, cut + 1)
    assert longer is None or longer[0] > rail


@pytest.mark.parametrize(
    ("rails", "length", "taken"),
    [
        ((1400,), 1220, None),  # not quite 1220
        ((1400, 1600), 1220, 1600),  # crosscut 1220
        ((1600, 1900), 1525, 1900),  # 1525 birch sheet
        ((1900, 2700), 2440, 2700),  # rip 2440
        ((2700,), 2500, None),
        ((2700, 3000), 2500, 3000),  # rip 2500
    ],
)
def test_what_the_rails_of_the_table_do(rails, length, taken):
    """The last row of the rail table: which sheets the rails crosscut and rip (section 3)."""
    shop = Shop(rails=tuple(Rail(length=mm * MM) for mm in rails))
    assert rail_for(shop, length) == (None if taken is None else (taken, 1))


def test_two_rails_joined_rip_what_the_table_says():
    """Two rails of 1400 joined take 2550, and no more."""
    shop = Shop(rails=(Rail(length=1400 * MM, joined=2, count=2),))
    assert rail_for(shop, 2550) == (1400, 2)
    assert rail_for(shop, 2551) is None
    assert rail_for(shop, 1150) == (1400, 1)


def test_run_up_and_run_out_are_those_of_the_manual():
    """10 in beyond the cut: between 6 and 7 ahead, 3 to 4 past; 250 mm alike."""
    for beyond in (10 * INCH, 250 * MM):
        shop = Shop(rails=RAILS, overhang=beyond)
        up, out = ends(beyond, shop)
        assert up + out == beyond
        assert 6 * INCH <= up <= 7 * INCH
        assert 3 * INCH <= out <= 4 * INCH


@pytest.mark.parametrize("over_mm", [-300, -1, 0, 100, 249, 250, 300, 400, 1480])
def test_free_ends_are_shared_and_never_more_than_they_must(over_mm):
    """Both ends make up what the rail is longer; neither is longer than half or its run-up."""
    shop = Shop(rails=RAILS)
    up, out = ends(over_mm * MM, shop)
    assert up + out == over_mm * MM
    if over_mm >= 250:
        assert up >= 166 * MM
        assert out >= 83 * MM
        assert max(up, out) <= max(over_mm * MM // 2 + 1, 167 * MM)
    elif over_mm >= 0:
        assert up >= out >= 0
    else:
        assert (up, out) == (0, over_mm * MM)


def test_a_straightedge_wants_one_base_length_at_each_end():
    """Reach is the straightedge less one base length at each end (section 3)."""
    shop = Shop(runs_on=RunsOn.STRAIGHTEDGE, base=BASE, rails=(Rail(length=2440 * MM),))
    assert rail_for(shop, 2440 - 560) == (2440, 1)
    assert rail_for(shop, 2440 - 559) is None
    assert ends(560 * MM, shop) == (280 * MM, 280 * MM)
    assert ends(700 * MM, shop) == (350 * MM, 350 * MM)


def test_the_rail_in_hand_stays_while_most_of_it_lies_on_the_piece():
    """2700 in hand: it stays for 1400; for 1149 the 1400 comes, and stays for 700 of an 800."""
    shop = Shop(rails=tuple(Rail(length=mm * MM) for mm in (800, 1400, 2700)))
    found = laid(shop, 2440, 1400, 1149, 700, 300, 550)
    assert [one.rail.length // MM for one in found] == [2700, 2700, 1400, 1400, 800, 800]
    assert [one.change for one in found] == [False, False, True, False, True, False]


def test_joined_rails_are_parted_for_a_crosscut_unless_there_is_a_third():
    """Two of 1400 joined for a rip: a crosscut of 600 parts them; with three none is parted."""
    for count, parted in ((2, True), (3, False)):
        shop = Shop(rails=(Rail(length=1400 * MM, joined=2, count=count),))
        rip, crosscut, again, last = laid(shop, 2440, 600, 2440, 1100)
        assert [one.rail.joined for one in (rip, crosscut, again, last)] == [2, 1, 2, 1]
        assert [one.parted for one in (rip, crosscut, again, last)] == [
            False,
            parted,
            False,
            parted,
        ]
        assert crosscut.change
        assert again.change


def test_a_single_rail_that_reaches_comes_before_joined_ones():
    """A rip of 2440 takes the 3000 and no joint, though two of 1400 would be shorter."""
    shop = Shop(rails=(Rail(length=1400 * MM, joined=2, count=2), Rail(length=3000 * MM)))
    assert rail_for(shop, 2440) == (3000, 1)


def aim(kept, other, **changes):
    """Return a rip with sides of these widths in mm."""
    usual = Aim(
        kind=CutKind.RIP,
        axis=Axis.RIP,
        size=kept * MM,
        kept=kept * MM,
        other=other * MM,
        long=1000 * MM,
        grams=0,
        sawn=True,
        fenced=False,
    )
    return usual._replace(**changes)


@pytest.mark.parametrize(
    ("kept", "other", "bed"),
    [
        (180, 900, Bed.KEEP),
        (179, 900, Bed.WASTE),
        (179, 179, Bed.KEEP),
        (179, 180, Bed.WASTE),
        (100, 50, Bed.KEEP),
        (99, 100, Bed.WASTE),
        (99, 99, Bed.PACKED),
    ],
)
def test_what_the_rail_lies_on(kept, other, bed):
    """A rail is 180 mm wide and tips on less than 100 (section 3); else the wider side has it."""
    shop = Shop(rail_width=180 * MM, carry=100 * MM)
    assert bed_of(aim(kept, other), shop) is bed
    assert bed_of(aim(kept, other), Shop()) is Bed.KEEP
    assert bed_of(aim(kept, other, fenced=True), shop) is Bed.NONE


@pytest.mark.parametrize(
    ("changes", "device"),
    [
        ({"kept": 600}, Device.GUIDE),
        ({"kept": 611}, Device.BOTH_ENDS),
        ({"kept": 500, "long": 110 * MM}, Device.BOTH_ENDS),  # 110 of an edge lead no guide square
        ({"kept": 500, "long": 200 * MM}, Device.GUIDE),
        ({"kept": 149, "other": 100}, Device.BOTH_ENDS),
        ({"kept": 160, "other": 900}, Device.BOTH_ENDS),
        ({"kept": 160, "other": 150}, Device.BOTH_ENDS),  # its edge is under a rail of 180
        ({"kept": 180, "other": 150}, Device.GUIDE),
        ({"kept": 600, "axis": Axis.CROSSCUT}, Device.STOP),
        ({"kept": 1201, "axis": Axis.CROSSCUT}, Device.BOTH_ENDS),
        ({"kept": 600, "axis": Axis.CROSSCUT, "grams": 72 * 453}, Device.BOTH_ENDS),
        ({"kept": 600, "grams": 72 * 453}, Device.GUIDE),
        ({"kept": 1201, "axis": Axis.CROSSCUT, "fenced": True}, Device.FENCE),
        ({"kept": 600, "kind": CutKind.TRIM}, Device.MARK),
    ],
)
def test_what_holds_the_size(changes, device):
    """Guides go from 150 to 610 (section 3), and size only what lies under the rail.

    The stop of the usual shop goes to 1200, and no board above 23 kg (51 lb, the ideal case NIOSH
    names) is set at it.
    """
    rest = {key: value for key, value in changes.items() if key not in ("kept", "other")}
    one = aim(changes["kept"], changes.get("other", 900), **rest)
    assert device_of(one, USUAL_SHOP) is device


def test_an_edge_guide_runs_along_a_sawn_edge():
    """It reaches 6 to 8 in (section 3), for rips and crosscuts alike; else both ends are marked."""
    shop = Shop(runs_on=RunsOn.STRAIGHTEDGE, base=BASE, guide=Span(most=8 * INCH))
    for axis in Axis:
        for kept, sawn, device, bed in (
            (200, True, Device.GUIDE, Bed.NONE),
            (204, True, Device.BOTH_ENDS, Bed.KEEP),
            (200, False, Device.BOTH_ENDS, Bed.KEEP),
        ):
            one = aim(kept, 900, axis=axis, sawn=sawn)
            assert device_of(one, shop) is device
            assert bed_of(one, shop) is bed


def test_changing_the_rail_loses_the_setting():
    """L1: four rips and four times three crosscuts; a rail for each: set once, proved once."""
    shop = replace(USUAL_SHOP, lift_g=0)
    found = {one.number: one for one in records((SHELVES,), shop)}
    rips = [one for one in found.values() if one.kind is CutKind.RIP]
    crosscuts = [one for one in found.values() if one.kind is CutKind.CROSSCUT]
    assert [one.anew for one in rips] == [True, False, False, False]
    assert [one.proves for one in rips] == [True, False, False, False]
    assert [one.anew for one in crosscuts] == [True] + [False] * 11
    assert [one.proves for one in crosscuts] == [True] + [False] * 11
    assert {one.way for one in found.values()} == {Way.RAIL}
    mixed = [rips[0], crosscuts[0], crosscuts[1], rips[1], rips[2], crosscuts[2]]
    its = [
        replace(one.stroke, cut=replace(one.stroke.cut, number=number))
        for number, one in enumerate(mixed, start=1)
    ]
    readied = ready(its, shop)
    assert [one.anew for one in readied] == [True, True, False, True, False, True]
    assert not any(one.again for one in readied)  # other sizes were set between
    trim = replace(its[3], cut=replace(its[3].cut, kind=CutKind.TRIM))
    marked = ready((its[1], trim, its[5]), shop)
    assert [(one.anew, one.again) for one in marked] == [(True, False), (False,) * 2, (True,) * 2]
    assert [bool(one.rail.change) for one in readied] == [False, True, False, True, False, True]


@pytest.mark.parametrize(
    ("rails", "along", "fetched"),
    [
        ([(2700, 1)], (2700, 1), [True, False, False]),
        ([(1400, 1), (2700, 1)], (2700, 1), [True, False, False]),
        ([(1400, 2)], (1400, 2), [True, False, False]),
        ([(1400, 1)], (1400, 1), [True, False, False]),
    ],
)
def test_a_sheet_is_checked_with_a_rail_that_reaches(rails, along, fetched):
    """The edge of 2440 is seen straight along one that reaches it, joined if it has to be.

    A rip of all its length comes first, so that the rail is laid already.
    """
    shop = Shop(rails=tuple(Rail(length=mm * MM, joined=n, count=n) for mm, n in rails))
    made = records((PANELS,), shop)
    (check,) = (one.sheet_check for one in made if one.sheet_check is not None)
    assert (check.rail.length // MM, check.rail.joined) == along
    assert [one.rail.fetched for one in made[:3]] == fetched
    (lines,) = (one.sheet_check for one in instructions(PANELS, shop, METRIC) if one.sheet_check)
    short = along[0] * along[1] < 2440
    assert ("It is shorter than the edge: slide it along." in lines) is short


def test_a_rail_is_laid_anew_after_a_longer_one_was_laid_to_check():
    """MIXED crosscuts its second sheet of 600 over 400: checked with 1000, sawn with the 500.

    The 500 was in hand before: none is exchanged for it, and what is set on it stays.
    """
    shop = Shop(rails=(Rail(length=500 * MM), Rail(length=1000 * MM)), overhang=0)
    second = [one for one in records((MIXED,), shop) if one.sheet_check is not None][1]
    assert second.sheet_check.rail.length == 1000 * MM
    assert second.rail.rail.length == 500 * MM
    assert second.rail.fetched
    assert not second.rail.change

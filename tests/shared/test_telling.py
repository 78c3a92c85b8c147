"""What each cut says, held against figures from outside the project."""

from dataclasses import replace

import pytest

from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.making.devices import name_settings
from shared.making.hazard_rules import is_mdf
from shared.making.outcome import PieceFate
from shared.making.settings import Device
from shared.making.strokes import strokes
from shared.plan import CutKind
from shared.practice import USUAL_SHOP
from shared.shop import ABSENT, Rail, Shop, Span, TableSaw
from shared.stock import SheetGrain
from shared.telling import instructions
from shared.telling.words import bed_words
from tests.shared.good_plans import MIXED, PANELS, SHELVES
from tests.shared.small_plan import PLAN

INCHES, METRIC = LengthStyle(), LengthStyle(unit=Unit.MM)
NO_LIMITS = Shop()


def told(plan, shop=NO_LIMITS, style=INCHES):
    """Return the instructions of a plan by the number of the cut."""
    return {one.number: one for one in instructions(plan, shop, style)}


def codes(instruction):
    """Return the codes of the cautions of an instruction."""
    return {caution.code for caution in instruction.cautions}


def test_running_positions_and_piece_sizes_of_the_workshop_notes():
    """Four strips of 11-7/8, kerf 1/8: keep sides 11-7/8, 23-7/8, 35-7/8, 47-7/8 (section 4)."""
    rips = [one for one in told(SHELVES).values() if one.kind == "Rip"]
    found = [one.position for one in rips]
    assert found == [
        "",
        *(f"{keep} from reference edge" for keep in ("23 7/8", "35 7/8", "47 7/8")),
    ]
    assert {one.size for one in rips} == {"11 7/8"}
    starts = [one.stroke.far.y for one in rips[:3]]
    assert starts == [12 * INCH, 24 * INCH, 36 * INCH]


def test_positions_from_one_datum_do_not_add_up_errors():
    """Kerf forgotten, lines at 12, 24, 36: what is told is 1/8 beside, once and not summed.

    Section 4: kerf right of each line gives 12, 11-7/8, 11-7/8, 11-7/8; the told lines give
    four alike, and each told line is one piece and its kerfs from the datum.
    """
    rips = [one for one in told(SHELVES).values() if one.kind == "Rip"]
    for count, one in enumerate(rips, start=1):
        cut = one.stroke.cut
        assert cut.running == count * cut.size + (count - 1) * cut.kerf


@pytest.mark.parametrize(
    ("plan", "total"),
    [(SHELVES, 526 * INCH + INCH // 2), (PANELS, 12_120 * MM)],
    ids=["L1: 4 x 96 + 12 x 11-7/8 in", "L2: 12 120 mm"],
)
def test_cut_lengths_add_up_to_the_totals_of_the_workshop_notes(plan, total):
    """L1 is 526-1/2 in of sawing and L2 12 120 mm (section 7)."""
    assert sum(one.length for one in told(plan).values()) == total


def test_joined_rails_are_named_and_cautioned():
    """Two rails of 1400 joined take 2550 (section 3), are named so, and want a straightedge."""
    shop = Shop(rails=(Rail(length=1400 * MM), Rail(length=1400 * MM, joined=2)))
    rip, crosscut = told(PANELS, shop, METRIC)[2], told(PANELS, shop, METRIC)[5]
    assert "2 x 1400 mm rails joined" in rip.led
    assert codes(rip) == {"joined"}
    assert "joined" not in crosscut.led
    assert codes(crosscut) == {"long-rail"}  # 400 of 1400 free at each end of 600


def test_a_rail_too_short_for_its_run_up_starts_hanging_off_the_end():
    """A 2500 rail over a 2440 cut: 60 over of the 250 wanted; a 2000 rail does not reach."""
    near, short = (
        told(PANELS, Shop(rails=(Rail(length=mm * MM),)), METRIC)[2] for mm in (2500, 2000)
    )
    (caution,) = near.cautions
    assert caution.code == "overhang"
    assert "60 mm" in caution.sentence
    assert "until all of it rests" in caution.sentence
    assert codes(short) == {"no-rail"}
    assert "440 mm shorter" in short.cautions[0].sentence


def test_a_rail_tips_on_less_than_its_own_width():
    """A 3000 rail on a cut of 600 is handled with care; were it wider than that, it would tip."""
    for wide, code in ((180, "long-rail"), (600, "long-rail"), (601, "free-rail")):
        shop = Shop(rails=(Rail(length=3000 * MM),), rail_width=wide * MM)
        assert code in codes(told(PANELS, shop, METRIC)[5])


def test_equal_settings_have_one_name_in_order_of_first_use():
    """Five guide or stop sizes in the mixed plan; 200 and 300 are not named again at depth."""
    named = name_settings(strokes(MIXED), NO_LIMITS)
    names = [named[cut.number].name for cut in MIXED.cuts]
    kinds = [cut.kind for cut in MIXED.cuts]
    assert [name for name, kind in zip(names, kinds, strict=True) if kind is CutKind.TRIM] == (
        [""] * kinds.count(CutKind.TRIM)
    )
    seen = list(dict.fromkeys(name for name in names if name))
    for letter in "GS":
        mine = [name for name in seen if name[0] == letter]
        assert mine == [f"{letter}{number}" for number in range(1, len(mine) + 1)]
    sizes = {named[cut.number].name: set() for cut in MIXED.cuts}
    for cut in MIXED.cuts:
        sizes[named[cut.number].name].add(cut.size)
    assert all(len(found) == 1 for name, found in sizes.items() if name)


def test_crosscuts_are_set_at_the_stop_whatever_their_level():
    """The mixed plan crosscuts sheet 2 first: level 1, and yet a stop; its rips take the guide."""
    named = name_settings(strokes(MIXED), NO_LIMITS)
    found = {(named[cut.number].device, cut.kind, cut.level) for cut in MIXED.cuts}
    assert (Device.STOP, CutKind.CROSSCUT, 1) in found
    assert (Device.GUIDE, CutKind.RIP, 2) in found
    devices = {(device, kind) for device, kind, _ in found if kind in ("rip", "crosscut")}
    assert devices == {(Device.GUIDE, CutKind.RIP), (Device.STOP, CutKind.CROSSCUT)}


def test_shelves_take_one_guide_and_one_stop_setting():
    """L1: sixteen cuts, set-ups 2 with guide and stop (section 7)."""
    labels = [one.set_line for one in told(SHELVES).values()]
    assert labels == [
        *("Set guide 11 7/8", *["Guide 11 7/8, as before"] * 3),
        *("Set stop 31", *["Stop 31, as before"] * 11),
    ]


def test_size_outside_the_guides_range_is_measured_at_both_ends():
    """A guide from 150 to 500 cannot be set to 600: no name, and the reason is told."""
    shop = Shop(guide=Span(least=150 * MM, most=500 * MM))
    rip = told(PANELS, shop, METRIC)[2]
    assert rip.setting.device is Device.BOTH_ENDS
    assert rip.set_line == "Mark 600 at both ends"
    assert codes(rip) == {"unguided"}
    assert "150 to 500 mm" in rip.cautions[0].sentence


def test_a_shop_without_guide_and_stop_marks_every_size():
    """Nothing is set, and nobody is told of the reach of what is not there."""
    shop = Shop(guide=ABSENT, stop=ABSENT)
    sized = [one for one in told(PANELS, shop, METRIC).values() if not one.record.stroke.is_trim]
    assert sized
    assert all(one.setting.device is Device.BOTH_ENDS for one in sized)
    assert not any("unguided" in codes(one) for one in sized)


def test_trim_is_set_by_mark_and_keeps_the_far_side():
    """A trim takes 10 mm off the factory edge; what is kept is the sheet itself."""
    trim = told(PANELS, style=METRIC)[1]
    assert trim.set_line == "Mark 10 from the factory edge, at both ends"
    assert trim.keep == "Keep sheet 1 (far side)"
    assert trim.left == "waste 7.8"


def test_a_trim_thinner_than_kerf_and_two_millimetres_is_cautioned():
    """Kerf 2.2 and 2 make 4.2 mm (section 4, common practice): 4.1 is too thin, 4.2 is not."""
    for size, thin in ((41 * MM // 10, True), (42 * MM // 10, False)):
        cut = replace(PANELS.cuts[0], size=size, y=size - 22 * MM // 10)
        plan = replace(PANELS, cuts=(cut,))
        assert ("thin-trim" in codes(told(plan)[1])) is thin


def test_skim_may_be_left_uncut_and_the_last_strip_is_so_much_wider():
    """K1 (section 7): 1/8 left, the kerf takes it all; left uncut, strip 4 is 12."""
    skim = told(SHELVES)[4]
    (caution,) = skim.cautions
    assert caution.code == "skim"
    assert caution.sentence.endswith("1d is then 1/8 in wider, 12 in.")
    assert not any("skim" in codes(told(SHELVES)[number]) for number in (1, 2, 3))


def test_narrow_keep_side_gives_the_rail_to_the_other_side_and_splinters():
    """Carry 7 in, a strip of 4 beside 5 and more: the rail lies on 1, one kerf off the line."""
    shop = Shop(carry=35 * INCH // 8, kerf=INCH // 8)
    rip = told(PLAN, shop)[2]
    assert rip.bed == "rail on sheet 1, one kerf past the line"
    assert codes(rip) == {"narrow-keep"}
    waste = replace(rip.record, left=replace(rip.record.left, end=PieceFate.WASTE))
    assert bed_words(waste, INCHES) == "rail on the waste side, one kerf past the line"
    wide = told(PLAN)[2]
    assert wide.bed == "rail on 1a, edge on the line"


def test_both_sides_too_narrow_are_packed_with_scrap_of_the_same_thickness():
    """Where neither side carries the rail, scrap of 3/4 goes behind the piece."""
    rip = told(PLAN, Shop(carry=20 * INCH))[3]
    assert rip.bed == "rail on 1b and on scrap 3/4 in thick beside it, edge on the line"
    assert "scrap 3/4 in thick" in rip.cautions[0].sentence


def test_weight_of_the_piece_and_help_above_the_limit():
    """18 mm birch at 680 kg/m3, 2440 x 1220: 36 kg (section 8); 23 kg is lifted alone."""
    sheets = tuple(
        replace(sheet, density=680, length=2440 * MM, width=1220 * MM, thickness=18 * MM)
        for sheet in PANELS.sheets
    )
    found = told(replace(PANELS, sheets=sheets), Shop(lift_g=23_000), METRIC)
    assert found[1].weight == "36.4 kg"
    assert codes(found[1]) == {"heavy", "drops"}
    assert codes(found[5]) == set()
    assert not told(PANELS, Shop(lift_g=1), METRIC)[1].weight


def test_small_pieces_are_clamped():
    """Piece 1a is 11-7/8 at its longest before cut 5: shorter than the 12 to hold (section 4)."""
    found = told(PLAN, Shop(hold=12 * INCH))
    assert [number for number, one in found.items() if "small" in codes(one)] == [5]
    assert "Clamp the piece" in found[5].cautions[0].sentence
    held = told(PLAN, Shop(hold=11 * INCH))  # 8 are cut in 4 and 5, and 7-7/8 are left by 6
    short = {number: one for number, one in held.items() if codes(one)}
    assert {(number, *codes(one)) for number, one in short.items()} == {
        (number, "small-side") for number in (4, 5, 6)
    }
    assert short[4].cautions[0].sentence == "After the cut 1a1 is shorter than 11 in: clamp it."
    assert short[6].cautions[0].sentence == "After the cut 1b is shorter than 11 in: clamp it."


def test_mdf_is_told_by_name_or_by_density():
    """MDF by its name; board without grain near the published 769 kg/m3; never plywood."""
    assert is_mdf("18 MDF", 0, SheetGrain.NONE)
    assert is_mdf("Medium density fibreboard", 0, SheetGrain.NONE)
    assert is_mdf("white board", 769, SheetGrain.NONE)
    assert not is_mdf("3/4 birch ply", 680, SheetGrain.ALONG_L)
    assert not is_mdf("chipboard", 650, SheetGrain.NONE)
    assert not is_mdf("oak, dense", 769, SheetGrain.ALONG_L)


def test_long_narrow_strips_may_twist():
    """A strip 5.6 wide and 2440 long bends away and drops; one of 600 beside 600 does neither."""
    found = told(PANELS, style=METRIC)
    assert codes(found[3]) == {"drops"}
    assert not codes(found[2])


def test_bearers_go_under_both_sides_so_that_neither_tips():
    """Sawhorses take four bearers for a sheet, two each side of the line (section 3)."""
    found = told(SHELVES)
    assert "four bearers: beside the line each side, and near both edges" in found[1].support
    assert "beside the line and near the left end; one bearer under the middle" in found[7].support
    found = told(PANELS, style=METRIC)
    assert "beside the line and near the far edge; let the waste strip drop" in found[1].support


def test_a_size_off_the_mark_is_shy_of_it():
    """By hand: 600 mm is 23.622 in, 0.003 from 23-5/8; 720 mm 28.3465, 0.028 from 28-3/8.

    A quarter of 1/32 is 0.0078, of 1/16 is 0.0156.
    """
    assert told(PANELS)[2].size == "23 5/8"
    assert told(PANELS, style=replace(INCHES, denominator=16))[5].size == "28 3/8 shy"


def test_numbers_may_start_above_one():
    """A plan that goes on from cut 41 tells the same, 40 higher."""
    on = replace(
        SHELVES, first=41, cuts=tuple(replace(cut, number=cut.number + 40) for cut in SHELVES.cuts)
    )
    assert list(told(on)) == list(range(41, 57))
    assert told(on)[41].makes.endswith("on the stack for cut 45")


def test_a_table_saw_in_the_shop_changes_nothing_at_the_rail():
    """Cuts of the track saw are told of the rail, whatever else stands in the shop."""
    table = TableSaw(kerf=32 * MM // 10, fence=Span(most=700 * MM))
    assert told(PANELS, Shop(table=table)) == told(PANELS, NO_LIMITS)


def test_spoken_says_everything_the_lines_say():
    """The sentences for a screen reader hold every line and every caution; sizes are "by"."""
    for one in told(PANELS, USUAL_SHOP, METRIC).values():
        for _, words in one.lines:
            assert words.replace(" x ", " by ").removeprefix("enter ") in one.spoken
        for caution in one.cautions:
            assert caution.sentence in one.spoken


def test_a_piece_of_an_earlier_plan_is_no_whole_sheet_and_says_which_face_is_up():
    """It was begun with another saw, perhaps, and lies as that one wanted it."""
    sheets = tuple(replace(one, piece=True) for one in SHELVES.sheets)
    parts = tuple(replace(one, show=True) for one in SHELVES.parts)
    begun = told(replace(SHELVES, sheets=sheets, parts=parts))
    first = begun[1]
    assert first.before.startswith("1, ")
    assert first.before.endswith(", from the stack")
    assert first.face == "show face up"
    whole = told(replace(SHELVES, parts=parts))[1]
    assert whole.before.startswith("sheet 1, ")
    assert whole.before.endswith(", whole sheet")
    assert whole.face == begun[2].face == ""


def test_help_is_asked_for_before_a_heavy_sheet_is_laid_on_to_be_checked():
    """NIOSH names 23 kg (51 lb) in the best case; this sheet weighs 36 kg."""
    sheets = tuple(replace(one, density=680) for one in SHELVES.sheets)
    first = told(replace(SHELVES, sheets=sheets), replace(NO_LIMITS, lift_g=23_000))[1]
    assert first.sheet_check[0].endswith("Get help to lay it on.")
    light = told(SHELVES, replace(NO_LIMITS, lift_g=23_000))[1]
    assert "Get help" not in light.sheet_check[0]

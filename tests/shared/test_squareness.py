"""What cuts are squared from, and what is checked at a sheet, against geometry."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import saw_up
from shared.lengths import INCH, MM, Length, LengthStyle, Unit
from shared.making.record import CutRecord, Edge, SquaredBy
from shared.making.recording import records
from shared.making.settings import Device
from shared.making.squaring import three_four_five
from shared.making.strokes import Stroke
from shared.plan import Plan, PlanSheet
from shared.practice import USUAL_SHOP
from shared.shop import Axis, Shop
from shared.squaring import BEYOND_KERF, absorbed, skew
from shared.telling import instructions
from shared.tree import extent
from tests.examples import some_of
from tests.shared.good_plans import MIXED, PANELS, SHELVES
from tests.strategies import LaidOut, laid_out

METRIC = LengthStyle(unit=Unit.MM)
sides = st.integers(300 * MM, 3100 * MM)


def made(plan: Plan, shop: Shop = USUAL_SHOP) -> tuple[CutRecord, ...]:
    """Return the records of a plan."""
    return records((plan,), shop)


def test_crosscuts_are_squared_from_the_v_edge_and_rips_from_nothing() -> None:
    """A square of 600 mm reaches over half of strips up to 1200 wide (EN 324-2 uses 1000 mm)."""
    for one in made(PANELS):
        squared = one.squared
        if one.stroke.axis is Axis.RIP:
            assert squared is None
        else:
            assert squared is not None
            assert (squared.edge, squared.by) == (Edge.REFERENCE, SquaredBy.SQUARE)


@pytest.mark.parametrize("square", [0, 299, 300, 600])
def test_what_is_marked_to_be_square_is_not_set_at_the_stop_as_well(square: int) -> None:
    """A stop holds a size at one point: without a square that reaches, marks hold it at both."""
    for plan in (PANELS, SHELVES, MIXED):
        for one in made(plan, replace(USUAL_SHOP, square=square * MM)):
            if one.setting.device is Device.STOP:
                assert one.squared is not None
                assert one.squared.by is SquaredBy.SQUARE
                assert one.length <= 2 * square * MM


@pytest.mark.parametrize(("square", "by"), [(300, SquaredBy.SQUARE), (299, SquaredBy.BOTH_ENDS)])
def test_a_square_reaches_over_half_of_the_cut(square: int, by: SquaredBy) -> None:
    """Strips of 600: a gap of 0.2 mm at a blade of 300 is 0.4 mm at the far edge (geometry).

    EN 324-2 measures squareness to 0.5 mm in a metre.
    """
    for one in made(PANELS, replace(USUAL_SHOP, square=square * MM)):
        assert one.squared is None or one.squared.by is by


def test_without_a_square_the_end_that_is_sawn_serves_and_a_factory_end_does_not() -> None:
    """The end trim is laid out from the V edge; crosscuts are marked from what it left."""
    found = {
        (one.stroke.is_trim, one.squared.edge)
        for one in made(PANELS, replace(USUAL_SHOP, square=0))
        if one.squared is not None
    }
    assert found == {(True, Edge.REFERENCE), (False, Edge.LEFT)}
    said = [one.square for one in instructions(PANELS, replace(USUAL_SHOP, square=0), METRIC)]
    assert "square by both marks, each from the left end" in said
    laid = "3-4-5 from the mark: 800 along the reference edge, 600 across, 1000 between"
    assert f"square by {laid}" in said


@given(length=sides, width=sides, step=st.sampled_from((INCH, 10 * MM)))
def test_three_four_five_is_a_right_angle_that_fits_the_piece(
    length: Length, width: Length, step: Length
) -> None:
    """Euclid I.48: where the squares of two sides make that of the third, they are square."""
    stroke = next(iter(made(PANELS))).stroke
    piece = replace(stroke.piece, length=length, width=width)
    found = three_four_five(replace(stroke, piece=piece), step)
    assert found is not None
    along, across, between = found
    assert math.hypot(along, across) == pytest.approx(between)
    assert along <= max(stroke.cut.size, length - stroke.cut.size)
    assert across <= width
    assert {along % step, across % step, between % step} == {0}


@given(sides, sides, st.integers(1, 40 * MM))
def test_what_is_absorbed_is_the_inverse_of_the_skew(
    length: Length, width: Length, shift: Length
) -> None:
    """No larger difference of diagonals means so small a skew: s = d D / (2 L), turned round."""
    most = absorbed(length, width, shift)
    assert skew(length, width, most) <= shift < skew(length, width, most + 1)


@given(sides, sides, st.integers(1, 20 * MM), st.booleans())
def test_what_is_absorbed_by_the_parallelogram_law(
    length: Length, width: Length, shift: Length, leans: bool
) -> None:
    """d1^2 + d2^2 = 2 (L^2 + W^2), and by the law of cosines d1^2 - d2^2 = 4 L s.

    A sheet whose diagonals differ by what is absorbed leans by no more than the shift.
    """
    most = absorbed(length, width, shift) / MM
    total = 2 * ((length / MM) ** 2 + (width / MM) ** 2)
    longer = (most + math.sqrt(2 * total - most**2)) / 2  # both conditions solved for d1
    shorter = longer - most
    lean = (longer**2 - shorter**2) / (4 * length / MM)
    assert (lean if leans else -lean) <= shift / MM + 1e-6


def strips(its: list[Stroke], sheet: PlanSheet) -> list[tuple[Length, Length]]:
    """Return where strips of the first level lie across the sheet, from the cuts' own dust."""
    first = [one for one in its if one.cut.level == its[0].cut.level]
    if first[0].axis is Axis.CROSSCUT:
        return [(0, sheet.width)]
    kerfs = sorted((one.cut.y, one.cut.y + one.cut.width) for one in first)
    edges = [0, *(edge for kerf in kerfs for edge in kerf), sheet.width]
    found = list(zip(edges[::2], edges[1::2], strict=True))
    return found[1:] if first[0].is_trim else found


def leaning(sheet: PlanSheet, low: Length, high: Length, shift: float) -> shapely.Polygon:
    """Return the strip of a sheet that leans by so much, from its own V edge's left corner."""
    over = shift * (high - low) / sheet.width
    corners = [(0, low), (sheet.length, low), (sheet.length + over, high), (over, high)]
    return shapely.Polygon(corners).buffer(2)  # two ticks, a twenty-thousandth of a mm


@settings(max_examples=some_of(60))
@given(laid=laid_out())
def test_a_sheet_off_square_by_what_is_absorbed_yields_every_part(laid: LaidOut) -> None:
    """Whichever way it leans, each part lies in its strip, and the blade has stock at the end.

    The strips of a sheet that leans lean alike, each by its share (Shapely).
    """
    plan = saw_up(laid.job, laid.sheets)
    for record in made(plan, laid.job.shop):
        check, sheet = record.sheet_check, record.stroke.sheet
        if check is None:
            continue
        its = [one.stroke for one in made(plan, laid.job.shop) if one.stroke.sheet == sheet]
        shift = skew(sheet.length, sheet.width, check.absorbs)
        for low, high in strips(its, sheet):
            inside = [
                one
                for one in plan.placements
                if one.sheet == sheet.id and low <= one.y < high and one.width <= high - low
            ]
            for lean in (shift, -shift) if inside else ():
                strip = leaning(sheet, low, high, lean)
                for one in inside:
                    box = shapely.box(one.x, one.y, one.x + one.length, one.y + one.width)
                    assert strip.covers(box)
                first = min(one.x for one in inside)
                stock = min(BEYOND_KERF + its[0].cut.kerf, first)
                if check.absorbs:
                    assert strip.covers(shapely.box(first - stock, low, first, high))


def test_ends_trimmed_by_ten_millimetres_and_what_they_take() -> None:
    """PANELS: 10 less 2.2 and 2 is 5.8 mm on strips of 600, so 11.79 mm over 1220 (by thirds).

    That is 21.09 mm of difference: 2 x 2440 x 11.793 / 2727.99.
    """
    (check,) = (one.sheet_check for one in made(PANELS) if one.sheet_check is not None)
    assert check.absorbs / MM == pytest.approx(2 * 2440 * (5.8 * 1220 / 600) / 2727.99, abs=0.01)
    assert check.bow == 58 * MM // 10
    assert not check.straight_first


def test_a_part_at_the_end_takes_nothing() -> None:
    """SHELVES has no trim at its ends: the first part's end is the factory end."""
    (check,) = (one.sheet_check for one in made(SHELVES) if one.sheet_check is not None)
    assert (check.absorbs, check.bow) == (0, 0)


def test_each_whole_sheet_is_checked_before_its_first_cut_and_a_begun_piece_is_not() -> None:
    """MIXED has two sheets; the second is crosscut first, so its edge has to be straight first."""
    checked = [one for one in made(MIXED) if one.sheet_check is not None]
    assert [one.stroke.sheet.id for one in checked] == [sheet.id for sheet in MIXED.sheets]
    firsts = {one.stroke.sheet.id: one.number for one in reversed(made(MIXED))}
    assert [one.number for one in checked] == list(firsts.values())[::-1]
    assert [one.sheet_check.straight_first for one in checked if one.sheet_check] == [False, True]
    begun = tuple(replace(sheet, piece=True) for sheet in PANELS.sheets)
    assert all(one.sheet_check is None for one in made(replace(PANELS, sheets=begun)))


@pytest.mark.parametrize("plan", [PANELS, SHELVES, MIXED], ids=lambda plan: plan.name)
@pytest.mark.parametrize("style", [LengthStyle(), METRIC], ids=lambda style: style.unit.name)
def test_words_on_squareness_are_short(plan: Plan, style: LengthStyle) -> None:
    """At most 15 words a sentence; the sides are measured before the diagonals."""
    said = instructions(plan, USUAL_SHOP, style)
    checks = [one.sheet_check for one in said if one.sheet_check]
    assert checks
    for lines in checks:
        assert all(len(line.split()) <= 15 for line in lines)
        text = " ".join(lines)
        assert text.index("long edges") < text.index("the diagonals: ")
    assert all(len(one.square.split()) <= 15 for one in said)
    crosscuts = [one for one in said if one.stroke.axis is Axis.CROSSCUT]
    assert all(one.square for one in crosscuts)
    assert all(extent(one.stroke.piece, Axis.CROSSCUT) for one in crosscuts)

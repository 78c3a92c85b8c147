"""Room for tags and words, hatching and clipped grain, held against other ways to compute them."""

from itertools import combinations, pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box

from shared.drawing import draw_sheet, fit, hatch, place_tags, spread
from shared.drawing.grain import figure, grain_in
from shared.drawing.lettering import LEADING, Space
from shared.geometry import Rect
from shared.lengths import INCH, LengthStyle
from shared.shop import Axis
from shared.stock import SheetGrain
from tests.shared.small_plan import PLAN, E

RECT = Rect(x=3 * INCH, y=2 * INCH, length=7 * INCH, width=4 * INCH)
HALF_OUT = Rect(x=-INCH, y=-INCH, length=9 * INCH, width=3 * INCH)


def shape(rect):
    """Return a rectangle as a Shapely polygon."""
    return box(rect.x, rect.y, rect.right, rect.bottom)


def lines_of(whole):
    """Return the lines of a sheet's grain as Shapely lines."""
    return [
        LineString(whole.points(zip(line.along, line.across, strict=True))) for line in whole.lines
    ]


def test_hatch_is_what_shapely_cuts_from_slanted_lines():
    """Strokes are the lines x + y = n times the spacing, cut at the rectangle (Shapely agrees)."""
    spacing = INCH // 2
    far = 40 * INCH
    lines = (LineString([(n - far, far), (n + far, -far)]) for n in range(0, far, spacing))
    cut = [line.intersection(shape(RECT)) for line in lines]
    expected = sum(line.length for line in cut)
    strokes = [LineString(stroke) for stroke in hatch(RECT, spacing)]
    assert sum(stroke.length for stroke in strokes) == pytest.approx(expected)


def test_waste_is_hatched_both_ways():
    """Crossed hatching adds strokes of the other slant, inside the rectangle as well."""
    strokes = [LineString(stroke) for stroke in hatch(RECT, INCH // 2, crossed=True)]
    slants = {
        (x1 - x0) * (y1 - y0) > 0 for (x0, y0), (x1, y1) in (stroke.coords for stroke in strokes)
    }
    assert slants == {True, False}
    assert all(shape(RECT).covers(stroke) for stroke in strokes)


@pytest.mark.parametrize("grain", [SheetGrain.ALONG_L, SheetGrain.ALONG_W])
@pytest.mark.parametrize("rect", [RECT, HALF_OUT])
def test_clipped_grain_is_what_shapely_clips(grain, rect):
    """The length of grain seen in a rectangle is that of Shapely's intersection."""
    whole = figure("1", Rect(x=0, y=0, length=20 * INCH, width=10 * INCH), grain)
    seen = sum(LineString(line.points).length for line in grain_in("k", rect, whole))
    cut = [line.intersection(shape(rect)).length for line in lines_of(whole)]
    # Each end is rounded to a tick, so a line may be some ticks off.
    assert seen == pytest.approx(sum(cut), abs=len(cut) * 40)


@pytest.mark.parametrize("seed", ["1", "2", "17"])
def test_grain_lines_never_cross(seed):
    """Growth rings do not cross (Shapely looks)."""
    whole = figure(seed, Rect(x=0, y=0, length=96 * INCH, width=48 * INCH), SheetGrain.ALONG_L)
    assert not any(a.crosses(b) for a, b in combinations(lines_of(whole), 2))


@given(st.lists(st.integers(0, 7), min_size=1, max_size=3), st.integers(1, 3))
def test_spread_moves_as_little_as_any_way_could(positions, least):
    """No other whole positions that keep order and distance have a smaller sum of squares."""
    positions.sort()
    found = spread(positions, least)
    assert all(b - a >= least for a, b in pairwise(found))
    best = min(
        sum((a - b) ** 2 for a, b in zip(other, positions, strict=True))
        for other in product(range(-4, 12), repeat=len(positions))
        if all(b - a >= least for a, b in pairwise(other))
    )
    # A mean is rounded down to a whole tick, so each may be a tick from the best place.
    cost = sum((a - b) ** 2 for a, b in zip(found, positions, strict=True))
    assert cost <= best + len(positions) ** 2


@given(st.lists(st.integers(0, 7), min_size=1, max_size=3), st.integers(1, 3), st.integers(2, 6))
def test_spread_within_bounds_moves_as_little_as_any_way_could(positions, least, high):
    """None lies outside of 1 to ``high``, and no other way inside has a smaller sum of squares."""
    positions.sort()
    found = spread(positions, least, (1, high))
    fits = (len(positions) - 1) * least <= high - 1
    assert all(b - a >= least for a, b in pairwise(found))
    assert (found[0] >= 1 and found[-1] <= high) is fits
    ways = product(range(1, high + 1), repeat=len(positions) if fits else 0)
    best = min(
        sum((a - b) ** 2 for a, b in zip(other, positions, strict=False))
        for other in ways
        if all(b - a >= least for a, b in pairwise(other))
    )
    cost = sum((a - b) ** 2 for a, b in zip(found, positions, strict=True))
    assert not fits or cost <= best + len(positions) ** 2


def test_tags_beside_a_sheet_stay_in_their_room():
    """Three rips in a room for two: the first two levels' tags stand inside it."""
    tags = draw_sheet(PLAN, "1", LengthStyle()).tags
    outside = [tag for tag in tags if tag.outside]
    diameter = 8 * E
    room = Rect(x=-20 * E, y=0, length=40 * E, width=diameter * 21 // 20 + diameter)
    placed = [one for one in place_tags(tags, diameter, room) if one.tag.outside]
    assert len(placed) == min(2, len(outside))
    for one in placed:
        assert room.y <= one.y - diameter // 2
        assert one.y + diameter // 2 <= room.bottom


def test_spread_leaves_free_positions_alone():
    """What is far enough apart does not move; two that coincide part evenly."""
    assert spread([0, 50, 90], 20) == [0, 50, 90]
    assert spread([50, 50, 90], 20) == [40, 60, 90]


@pytest.mark.parametrize("diameter", [E, 4 * E, 12 * E])
def test_tags_do_not_cover_each_other(diameter):
    """Circles of any two tags share no inside."""
    placed = place_tags(draw_sheet(PLAN, "1", LengthStyle()).tags, diameter)
    for one, other in combinations(placed, 2):
        assert (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= diameter**2


def test_inner_tags_stay_on_their_own_cut():
    """A crosscut's tag moves along its cut only, and never beyond its end."""
    placed = place_tags(draw_sheet(PLAN, "1", LengthStyle()).tags, 8 * E)
    inner = [one for one in placed if not one.tag.outside]
    assert {one.tag.number for one in inner} == {4, 5, 6}
    for one in inner:
        assert one.tag.axis is Axis.CROSSCUT
        assert one.x == one.tag.x
        assert one.tag.y < one.y <= one.tag.y + one.tag.reach


def test_the_selected_cut_keeps_its_tag_where_room_is_short():
    """With two inner cuts side by side and room for one tag, the current one stays."""
    tags = draw_sheet(PLAN, "1", LengthStyle()).tags[3:5]
    close = [
        tag.__class__(**{**fields(tag), "x": 64 * E + i * E, "reach": 8 * E, "current": i == 1})
        for i, tag in enumerate(tags)
    ]
    assert [one.tag.number for one in place_tags(close, 8 * E)] == [5]


def fields(tag):
    """Return the attributes of a tag."""
    return {name: getattr(tag, name) for name in tag.__slots__}


LINES, WIDTHS = ("Case side", "L 72 × W 11 7/8"), (4.5, 8.0)
SIZES = (12, 10, 8)


def inside(fitted, space):
    """Say whether a block lies in a space."""
    one = fitted.block
    return (
        one.x >= space.x
        and one.y >= space.y
        and one.x + one.length <= space.x + space.length
        and one.y + one.width <= space.y + space.width
    )


def test_words_stand_at_the_top_left_when_there_is_room():
    """With ample room both lines stand upright at the best size."""
    fitted = fit(LINES, WIDTHS, Space(x=10, y=20, length=400, width=100), SIZES)
    assert (fitted.lines, fitted.size, fitted.turned) == (LINES, 12, False)
    assert fitted.block.width == pytest.approx(2 * 12 * LEADING)


def test_a_low_strip_gets_one_line():
    """Where two lines are too high, name and size stand on one."""
    fitted = fit(LINES, WIDTHS, Space(x=0, y=0, length=400, width=18), SIZES)
    assert fitted.lines == ("Case side  L 72 × W 11 7/8",)


def test_a_tall_narrow_part_turns_its_words():
    """Where the part is tall and narrow the words turn a quarter."""
    fitted = fit(LINES, WIDTHS, Space(x=0, y=0, length=40, width=300), SIZES)
    assert (fitted.turned, fitted.size, fitted.lines) == (True, 12, LINES)
    assert fitted.block.width == pytest.approx(8 * 12)


def test_the_size_goes_before_the_name():
    """Where only the name fits, only the name is written; where nothing fits, nothing."""
    assert fit(LINES, WIDTHS, Space(x=0, y=0, length=50, width=20), SIZES).lines == ("Case side",)
    assert fit(LINES, WIDTHS, Space(x=0, y=0, length=20, width=20), SIZES) is None


def test_words_make_way_for_tags():
    """A tag in the top left corner pushes the words aside, still inside."""
    space, tag = Space(x=0, y=0, length=140, width=80), Space(x=0, y=0, length=20, width=20)
    fitted = fit(LINES, WIDTHS, space, SIZES, [tag])
    assert not fitted.block.meets(tag)
    assert inside(fitted, space)


@given(
    st.floats(1, 300),
    st.floats(1, 300),
    st.lists(st.tuples(st.floats(0, 250), st.floats(0, 250)), max_size=5),
)
def test_words_never_run_over(length, width, corners):
    """Whatever the room and the tags in it, words stay inside and cover no tag."""
    space = Space(x=5, y=7, length=length, width=width)
    tags = [Space(x=x, y=y, length=18, width=18) for x, y in corners]
    fitted = fit(LINES, WIDTHS, space, SIZES, tags)
    if fitted is not None:
        assert inside(fitted, space)
        assert not any(fitted.block.meets(tag) for tag in tags)

"""Where a straightedge is clamped and where the saw enters, against shapes laid by Shapely."""

from dataclasses import replace
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box
from shapely.affinity import scale

from shared.geometry import Rect
from shared.lengths import INCH
from shared.making.aim import aim_of
from shared.making.entry import entry_of, led_on
from shared.making.record import OPPOSITE, Bed, Edge, Way
from shared.making.straightedge import edge_at, rides, takes, way_of
from shared.making.strokes import Stroke
from shared.plan import Keep
from shared.shop import Axis, Hand, Rail, RunsOn, SawBase, Shop, Span
from tests.examples import some_of
from tests.shared.making.cuts_by_hand import PIECE, SHEET, cut_over

KERF = INCH // 8
BASE = SawBase(
    left_near=3 * INCH // 2,
    left_far=13 * INCH // 8,
    right_near=5 * INCH,
    right_far=41 * INCH // 8,
    length=11 * INCH,
)
SHOP = Shop(kerf=KERF, runs_on=RunsOn.STRAIGHTEDGE, base=BASE, rails=(Rail(length=100 * INCH),))
WIDE = replace(PIECE, x=INCH, y=INCH, length=90 * INCH, width=40 * INCH)


def line_at(size: int, keep: Keep = Keep.NEAR, axis: Axis = Axis.RIP) -> Stroke:
    """Return a cut of a wide piece."""
    return cut_over(axis, keep, size, KERF, piece=WIDE)


def test_the_worked_example_of_the_workshop_notes() -> None:
    """Line 15-3/4 from the V edge, d = 1-1/2, clamped on the keep side: 14-1/4."""
    line = line_at(63 * INCH // 4)
    assert edge_at(line, Bed.KEEP, SHOP) == 57 * INCH // 4
    assert edge_at(line, Bed.WASTE, SHOP) == (63 * INCH // 4) + KERF + (3 * INCH // 2)


def test_on_the_other_hand_the_other_edge_of_the_base_runs_along_it() -> None:
    """The base is 5 in wide on the right of the blade: 10-3/4."""
    right = replace(SHOP, rail_side=Hand.RIGHT)
    assert edge_at(line_at(63 * INCH // 4), Bed.KEEP, right) == 43 * INCH // 4


def test_it_reaches_less_by_a_base_at_each_end() -> None:
    """A straightedge of 100 in and a base of 11 in: 78 in (workshop notes, section 3)."""
    assert SHOP.reach == 78 * INCH
    assert replace(SHOP, overhang=40 * INCH).reach == 78 * INCH


def test_a_side_has_to_take_the_base_and_the_straightedge() -> None:
    """1-1/2 in of base and 4 in of straightedge; a rail needs only its own width."""
    shop = replace(SHOP, rail_width=4 * INCH, carry=INCH)
    assert takes(shop) == 11 * INCH // 2
    assert takes(replace(shop, runs_on=RunsOn.RAIL)) == 4 * INCH
    assert takes(replace(shop, carry=9 * INCH)) == 9 * INCH


def at_edge(inches: int, keep: Keep = Keep.NEAR, piece: Rect = WIDE) -> dict[Axis, Stroke]:
    """Return a rip and a crosscut so many inches from the edge or end of a piece."""
    return {axis: cut_over(axis, keep, inches * INCH, KERF, piece=piece) for axis in Axis}


LEDS: tuple[tuple[str, dict[Axis, Stroke], set[Axis]], ...] = (
    ("within reach", at_edge(6), set(Axis)),
    ("beyond reach", at_edge(9), set()),
    ("nearer than it can be set", at_edge(1), set()),
    ("a trim, from the factory edge", at_edge(6, Keep.FAR), set()),
    ("the factory's long edge", at_edge(6, piece=replace(WIDE, y=0)), {Axis.CROSSCUT}),
    ("the factory's end", at_edge(6, piece=replace(WIDE, x=0)), {Axis.RIP}),
    ("narrower than the base", at_edge(6, piece=replace(WIDE, width=10 * INCH)), {Axis.RIP}),
)


@pytest.mark.parametrize(("what", "cuts", "led"), LEDS)
def test_an_edge_guide_rides_on_a_sawn_edge_within_reach(
    what: str, cuts: dict[Axis, Stroke], led: set[Axis]
) -> None:
    """Its reach is often 6 to 8 in, and a bowed edge is copied (workshop notes, section 3)."""
    shop = replace(SHOP, guide=Span(least=2 * INCH, most=8 * INCH))
    assert {axis for axis in Axis if rides(aim_of(cuts[axis], shop), shop)} == led, what
    for axis, stroke in cuts.items():
        assert way_of(aim_of(stroke, shop), shop) is (
            Way.EDGE_GUIDE if axis in led else Way.STRAIGHTEDGE
        )
        assert way_of(aim_of(stroke, shop), replace(shop, runs_on=RunsOn.RAIL)) is Way.RAIL
        assert not rides(aim_of(stroke, shop), replace(shop, guide=None))
        on_hand = replace(stroke, sheet=replace(SHEET, piece=True))
        assert not rides(aim_of(on_hand, shop), shop), "nobody knows how a piece on hand was sawn"


# --- against shapes ------------------------------------------------------------------


def as_lying(shape: Polygon, *, mirrored: bool) -> Polygon:
    """Turn a shape over with its piece: ends change places, the reference edge stays on top."""
    middle = (PIECE.x + PIECE.length / 2, 0)
    return scale(shape, xfact=-1, origin=middle) if mirrored else shape


def edges() -> dict[Edge, LineString]:
    """Return the edges of the piece, seen from above with its show face up; y goes down."""
    x, y, right, bottom = PIECE.x, PIECE.y, PIECE.right, PIECE.bottom
    return {
        Edge.REFERENCE: LineString([(x, y), (right, y)]),
        Edge.FAR: LineString([(x, bottom), (right, bottom)]),
        Edge.LEFT: LineString([(x, y), (x, bottom)]),
        Edge.RIGHT: LineString([(right, y), (right, bottom)]),
    }


class Laid(NamedTuple):
    """A cut, what leads it lies on, and how the piece lies; figures in ticks.

    ``left`` and ``right`` are the widths of the base beside the blade.
    """

    axis: Axis
    keep: Keep
    bed: Bed
    hand: Hand
    mirrored: bool
    rail: bool
    left: int
    right: int
    kerf: int
    size: int


def slot_sawn(
    stroke: Stroke, laid: Laid, shop: Shop, base: tuple[int, int]
) -> tuple[Polygon, Polygon, Polygon]:
    """Saw along what was laid: return what becomes dust, the base's path, and what leads it.

    The saw goes from the middle of the edge it enters to that of the edge opposite; what leads
    it lies on its left or right as the shop says, and touches the base, whose widths left and
    right of the blade are given.
    """
    bed, mirrored = laid.bed, laid.mirrored
    entry = entry_of(stroke, bed, shop.rail_side, mirrored=mirrored)
    starts, ends = (
        as_lying(edges()[edge], mirrored=mirrored).centroid for edge in (entry, OPPOSITE[entry])
    )
    long = starts.distance(ends)
    ahead = ((ends.x - starts.x) / long, (ends.y - starts.y) / long)
    left = (ahead[1], -ahead[0])  # seen from above with y going down
    at, rip = edge_at(stroke, bed, shop), stroke.axis is Axis.RIP
    spot = (0, PIECE.y + at) if rip else (PIECE.x + at, 0)
    touched = as_lying(LineString([spot, (spot[0] + 1e-9, spot[1])]), mirrored=mirrored).coords[0]
    start = (starts.x, touched[1]) if rip else (touched[0], starts.y)

    def strip(one: float, other: float) -> Polygon:
        """Return what lies so far to the left of the edge touched, along the whole cut."""
        corners = [
            (start[0] + along * ahead[0] + by * left[0], start[1] + along * ahead[1] + by * left[1])
            for along, by in ((0, one), (long, one), (long, other), (0, other))
        ]
        return Polygon(corners)

    turn = -1 if shop.rail_side is Hand.LEFT else 1
    near = base[0] if shop.rail_side is Hand.LEFT else base[1]
    whole = base[0] + base[1] + stroke.cut.kerf
    blade = strip(turn * near, turn * (near + stroke.cut.kerf))
    return blade, strip(0, turn * whole), strip(0, -turn * 700)


LAID = st.builds(
    Laid,
    axis=st.sampled_from(Axis),
    keep=st.sampled_from(Keep),
    bed=st.sampled_from((Bed.KEEP, Bed.WASTE, Bed.PACKED)),
    hand=st.sampled_from(Hand),
    mirrored=st.booleans(),
    rail=st.booleans(),
    left=st.integers(1, 900),
    right=st.integers(1, 900),
    kerf=st.integers(1, 90),
    size=st.integers(1_000, 4_000),
)


@settings(max_examples=some_of(150))
@given(laid=LAID)
def test_the_slot_lies_just_on_the_waste_side_of_the_line(laid: Laid) -> None:
    """Base, blade and straightedge are laid as shapes, whichever way the piece lies.

    The blade takes what the plan says becomes dust; the base touches what leads it and does
    not lie on it; that lies on the side it was said to lie on. A rail is a base of no width
    on its side of the blade.
    """
    left, right = laid.left, laid.right
    if laid.rail:
        left, right = (0, right) if laid.hand is Hand.LEFT else (left, 0)
    stroke = cut_over(laid.axis, laid.keep, laid.size, laid.kerf)
    base = SawBase(
        left_near=left,
        left_far=left + laid.kerf,
        right_near=right,
        right_far=right + laid.kerf,
        length=1,
    )
    runs_on = RunsOn.RAIL if laid.rail else RunsOn.STRAIGHTEDGE
    shop = Shop(kerf=laid.kerf, runs_on=runs_on, base=base, rail_side=laid.hand)
    blade, path, leads = slot_sawn(stroke, laid, shop, (left, right))
    dust = stroke.cut.rect
    wanted = as_lying(box(dust.x, dust.y, dust.right, dust.bottom), mirrored=laid.mirrored)
    assert blade.symmetric_difference(wanted).area < 1e-6 * wanted.area
    assert path.touches(leads)
    on = stroke.near if led_on(stroke, laid.bed) is Keep.NEAR else stroke.far
    side = as_lying(box(on.x, on.y, on.right, on.bottom), mirrored=laid.mirrored).centroid
    slot, led = blade.centroid, leads.centroid
    assert (led.x - slot.x) * (side.x - slot.x) + (led.y - slot.y) * (side.y - slot.y) > 0

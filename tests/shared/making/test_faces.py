"""Which face is up and what is guarded, against how saws splinter.

Rules of the workshop notes, section 3: the teeth of a hand-held saw leave the wood at the top,
those of a table saw at the underside; a rail's splinter strip guards only the side it lies on;
veneer splinters across its grain. `bare` below reckons from these alone, from the shapes that
lie beside the slot.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from shared.cuts.sequence import saw_up
from shared.lengths import INCH, MM
from shared.making.faces import splinters
from shared.making.record import Bed, CutRecord, Face, Guard, Way
from shared.making.recording import records
from shared.plan import Keep, Plan
from shared.saw.promises import final_rect
from shared.shop import Axis, Hand, RunsOn, SawBase, Shop, Span, TableSaw
from shared.stock import SheetGrain
from tests.examples import some_of
from tests.shared.good_plans import SHELVES
from tests.shared.making.cuts_by_hand import SHEET, cut_over
from tests.shop_strategies import tooled
from tests.strategies import LaidOut, laid_out

RAIL = Shop(carry=100 * MM, rail_width=180 * MM)
BASE = SawBase(
    left_near=127 * MM,
    left_far=129 * MM,
    right_near=38 * MM,
    right_far=40 * MM,
    length=280 * MM,
)
STRAIGHTEDGE = replace(RAIL, runs_on=RunsOn.STRAIGHTEDGE, base=BASE)


def shown(plan: Plan, *ids: str) -> Plan:
    """Return the plan with these parts showing a face, or with all of them."""
    parts = tuple(replace(one, show=not ids or one.id in ids) for one in plan.parts)
    return replace(plan, parts=parts)


def of(plan: Plan, material: str, density: int = 0) -> Plan:
    """Return the plan with all sheets of one material."""
    sheets = (replace(one, material=material, density=density) for one in plan.sheets)
    return replace(plan, sheets=tuple(sheets))


FACINGS: tuple[tuple[str, SheetGrain, set[Axis]], ...] = (
    ("birch plywood", SheetGrain.ALONG_L, {Axis.CROSSCUT}),
    ("birch plywood", SheetGrain.ALONG_W, {Axis.RIP}),
    ("MDF", SheetGrain.NONE, set()),
    ("Melamine-faced chipboard", SheetGrain.NONE, set(Axis)),
    ("18 mm MFC white", SheetGrain.ALONG_L, set(Axis)),
    ("ply with laminate", SheetGrain.ALONG_L, set(Axis)),
    ("HPL on birch", SheetGrain.NONE, set(Axis)),
    ("laminated pine", SheetGrain.ALONG_L, {Axis.CROSSCUT}),
    ("oak veneered MDF", SheetGrain.ALONG_L, {Axis.CROSSCUT}),
    ("oak veneered MDF", SheetGrain.NONE, set(Axis)),
)


@pytest.mark.parametrize(("material", "grain", "axes"), FACINGS)
def test_what_splinters(material: str, grain: SheetGrain, axes: set[Axis]) -> None:
    """Veneer across its grain; brittle facings whichever way; plain boards not."""
    sheet = replace(SHEET, material=material, grain=grain)
    cuts = {axis: cut_over(axis, Keep.NEAR, 1000, 10) for axis in Axis}
    assert {axis for axis in Axis if splinters(replace(cuts[axis], sheet=sheet))} == axes


def test_nothing_is_said_where_nothing_shows() -> None:
    """Either face is up, and nothing is guarded."""
    for one in records((SHELVES,), RAIL):
        assert (one.up, one.face_matters, one.guards) == (Face.EITHER, False, ())


def test_a_strip_guards_the_kept_shelf_and_the_rest_is_scored() -> None:
    """Each crosscut makes an edge of the shelf before it and, but for the last, of the next.

    The rips go with the grain, so there no face matters.
    """
    for one in records((shown(SHELVES),), RAIL):
        assert one.up is Face.SHOW
        assert not one.turn_over
        if one.stroke.axis is Axis.RIP:
            assert (one.face_matters, one.guards) == (False, ())
            continue
        beyond = any(
            place.x == one.stroke.cut.rect.right and one.stroke.piece.contains(place.rect)
            for place in SHELVES.placements
        )
        assert one.face_matters
        assert one.guards == ((Guard.SCORE,) if beyond else ())
    fitted = records((shown(SHELVES),), replace(RAIL, splinter_guard=True))
    assert {guard for one in fitted for guard in one.guards} == {Guard.SPLINTER_GUARD}


def test_a_straightedge_has_the_show_face_down_from_the_first_cut_on() -> None:
    """A sheet is laid so at once, with its first rip to which it does not matter."""
    made = records((shown(SHELVES),), STRAIGHTEDGE)
    assert {one.up for one in made} == {Face.BACK}
    assert not any(one.turn_over or one.guards for one in made)
    assert any(one.face_matters for one in made)
    assert all(one.mirrored for one in made)


@pytest.mark.parametrize(("lift_g", "turned"), [(0, True), (60_000, True), (1_000, False)])
def test_before_the_table_saw_a_piece_is_turned_if_it_can_be_lifted(
    lift_g: int, *, turned: bool
) -> None:
    """The crosscuts with a shop whose table saw makes them: teeth downward, show face up."""
    tools = {"crosscut": "fence saw"}
    cuts = tuple(replace(cut, tool=tools.get(cut.kind, cut.tool)) for cut in SHELVES.cuts)
    plan = of(shown(replace(SHELVES, cuts=cuts)), "melamine", 700)
    shop = replace(STRAIGHTEDGE, lift_g=lift_g, table=table())
    over = [one for one in records((plan,), shop) if one.way is Way.FENCE]
    begun = {one.stroke.cut.piece for one in over}
    assert sum(one.turn_over for one in over) == (len(begun) if turned else 0)
    assert {one.up for one in over} == {Face.SHOW if turned else Face.BACK}
    assert all(one.guards == (() if turned else (Guard.SCORE,)) for one in over)


def table() -> TableSaw:
    """Return a table saw that takes any size."""
    return TableSaw(tool="fence saw", kerf=INCH // 8, fence=Span(most=96 * INCH))


# --- any trees, any shop ---------------------------------------------------------------


def torn(one: CutRecord, plan: Plan) -> set[Keep]:
    """Say on which sides a cut splinters a shown face: worked out from shapes and these rules."""
    parts = {part.id: part for part in plan.parts}
    cut, kerf = one.stroke.cut, one.stroke.cut.rect
    slot = box(kerf.x, kerf.y, kerf.right, kerf.bottom)
    sides = {Keep.NEAR: one.stroke.near, Keep.FAR: one.stroke.far}
    found = set()
    for place in plan.placements:
        final = final_rect(place, parts[place.part])
        edge = slot.boundary.intersection(box(final.x, final.y, final.right, final.bottom))
        if parts[place.part].show and place.sheet == cut.sheet and edge.length > 0:
            found |= {side for side in Keep if sides[side].contains(final)}
    across = (one.stroke.sheet.grain, one.stroke.axis) in {
        (SheetGrain.ALONG_L, Axis.CROSSCUT),
        (SheetGrain.ALONG_W, Axis.RIP),
    }
    brittle = one.stroke.sheet.material in {"melamine", "laminate"}
    return found if across or brittle else set()


def bare(one: CutRecord, plan: Plan) -> bool:
    """Say whether a cut splinters a shown face that neither strip, face down nor guard saves."""
    sides = torn(one, plan)
    if one.guards:
        return False
    if one.way is Way.FENCE:
        return bool(sides) and one.up is Face.BACK
    if one.up is Face.BACK:
        return False
    if one.way is Way.RAIL:
        strip = {Bed.WASTE: {Keep.NEAR: Keep.FAR, Keep.FAR: Keep.NEAR}[one.stroke.cut.keep]}
        sides.discard(strip.get(one.bed, one.stroke.cut.keep))
    return bool(sides)


@settings(max_examples=some_of(60))
@given(made=laid_out(), data=st.data())
def test_no_shown_face_is_left_to_splinter(made: LaidOut, data: st.DataObject) -> None:
    """In any shop, of any material; and how pieces lie goes from cut to cut."""
    material = data.draw(st.sampled_from(("plywood", "melamine", "laminate")))
    plan = of(saw_up(made.job, made.sheets), material, 700)
    bits = data.draw(st.integers(0, 2 ** len(plan.parts) - 1))
    plan = shown(plan, "", *(one.id for at, one in enumerate(plan.parts) if bits >> at & 1))
    shop = replace(
        data.draw(tooled(made.job.shop.kerf)),
        runs_on=data.draw(st.sampled_from(RunsOn)),
        base=BASE,
        rail_side=data.draw(st.sampled_from(Hand)),
        splinter_guard=data.draw(st.booleans()),
    )
    lies: dict[str, Face] = {}
    for one in records((plan,), shop):
        assert not bare(one, plan)
        assert one.face_matters is bool(torn(one, plan))
        assert one.face_matters or not (one.guards or one.turn_over)
        cut = one.stroke.cut
        before = lies.get(cut.piece, one.up)
        assert one.turn_over is (before is not one.up)
        lies |= {cut.piece: one.up, cut.off: one.up}


@pytest.mark.parametrize("strip", range(4))
def test_only_the_strip_of_a_shown_part_matters(strip: int) -> None:
    """Four strips are crosscut at the same places; the parts of one of them show a face."""
    (shelf,) = SHELVES.parts
    tops = sorted({place.y for place in SHELVES.placements})
    places = tuple(
        replace(one, part="front") if one.y == tops[strip] else one for one in SHELVES.placements
    )
    parts = (shelf, replace(shelf, id="front", show=True))
    plan = replace(SHELVES, parts=parts, placements=places)
    there = {one.stroke.piece.y for one in records((plan,), RAIL) if one.face_matters}
    assert there == {tops[strip]}

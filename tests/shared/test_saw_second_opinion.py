"""Shapely, a general geometry library, judges the hand-written plans with its own arithmetic."""

import pytest
from shapely import Polygon, box, unary_union

from shared.geometry import Rect
from shared.plan import CutKind, Plan, PlanSheet
from shared.saw import lying
from tests.shared.good_plans import ALL


def polygon(rect: Rect) -> Polygon:
    """Return a rectangle as a polygon, in ticks."""
    return box(rect.x, rect.y, rect.right, rect.bottom)


def promised(plan: Plan, sheet: PlanSheet) -> list[Polygon]:
    """Return all that comes of a sheet, trim waste apart."""
    records = (*plan.placements, *plan.offcuts, *plan.cuts)
    return [polygon(one.rect) for one in records if one.sheet == sheet.id]


def trim_waste(plan: Plan, sheet: PlanSheet) -> Polygon:
    """Return what falls away at the factory edges: all that nothing else covers."""
    return polygon(sheet.rect).difference(unary_union(promised(plan, sheet)))


@pytest.mark.parametrize("plan", ALL.values(), ids=ALL)
def test_nothing_overlaps(plan: Plan) -> None:
    """The area of the union is the sum of the areas, so no two share inside.

    Floats hold areas beyond 2**53 square ticks to 16 digits only.
    """
    for sheet in plan.sheets:
        found = promised(plan, sheet)
        assert unary_union(found).area == pytest.approx(sum(one.area for one in found), rel=1e-12)


@pytest.mark.parametrize("plan", ALL.values(), ids=ALL)
def test_nothing_leaves_the_sheet(plan: Plan) -> None:
    """The sheet covers all that comes of it."""
    for sheet in plan.sheets:
        assert polygon(sheet.rect).covers(unary_union(promised(plan, sheet)))


@pytest.mark.parametrize("plan", ALL.values(), ids=ALL)
def test_what_nothing_covers_is_trim_waste(plan: Plan) -> None:
    """Without trims nothing is uncovered; with them it lies within the trims."""
    for sheet in plan.sheets:
        waste, trims = trim_waste(plan, sheet), sheet.trims
        usable = box(trims.start, trims.near, sheet.length, sheet.width)
        assert not waste.intersection(usable).area
        has_trims = any(c.kind is CutKind.TRIM for c in plan.cuts if c.sheet == sheet.id)
        assert bool(waste.area) is has_trims


@pytest.mark.parametrize("plan", ALL.values(), ids=ALL)
def test_pieces_at_the_end_are_parts_and_offcuts(plan: Plan) -> None:
    """Each piece the saw leaves equals, as a polygon, exactly one part or offcut."""
    promises = [(one.sheet, polygon(one.rect)) for one in (*plan.placements, *plan.offcuts)]
    for piece in lying(plan, len(plan.cuts) + 1):
        same = [s for s, p in promises if s == piece.sheet and p.equals(polygon(piece.rect))]
        assert len(same) == 1
    assert len(promises) == len(lying(plan, len(plan.cuts) + 1))

"""A sheet drawn with its show face down, against shapes reflected by Shapely."""

from dataclasses import replace

import pytest
from shapely import LineString, Polygon, box
from shapely.affinity import scale
from shapely.geometry.base import BaseGeometry

from layout_app.paper.dxf import sheet_dxf
from layout_app.paper.ink import words_on
from layout_app.paper.matter import matter_of
from layout_app.paper.titled import FACE_DOWN, drawing_page
from shared.drawing import SheetDrawing, draw_sheet, turned_over
from shared.geometry import Rect
from shared.job import Job
from shared.lengths import MM, LengthStyle
from shared.plan import Plan
from shared.shop import Axis, RunsOn, SawBase, Shop
from tests.shared.good_plans import MIXED, SHELVES

STYLE = LengthStyle()
SHEETS = [(plan, sheet.id) for plan in (SHELVES, MIXED) for sheet in plan.sheets]
BASE = SawBase(
    left_near=38 * MM, left_far=41 * MM, right_near=127 * MM, right_far=130 * MM, length=280 * MM
)


def over(shape: BaseGeometry, drawing: SheetDrawing) -> BaseGeometry:
    """Turn a shape over about the middle of the sheet."""
    return scale(shape, xfact=-1, origin=(drawing.rect.length / 2, 0))


def polygon(rect: Rect) -> Polygon:
    """Return a rectangle as a shape."""
    return box(rect.x, rect.y, rect.right, rect.bottom)


@pytest.mark.parametrize(("plan", "sheet"), SHEETS)
def test_all_of_it_is_turned_over(plan: Plan, sheet: str) -> None:
    """Boxes, labels, grain and marks lie where a turned sheet has them; tags on their cuts."""
    drawing = replace(draw_sheet(plan, sheet, STYLE), saw_in=((0, 7), (9, 7)))
    turned = turned_over(drawing)
    assert turned.saw_in == ((drawing.rect.length, 7), (drawing.rect.length - 9, 7))
    assert turned.mirrored
    assert turned_over(turned) == drawing
    for one, other in zip(drawing.boxes, turned.boxes, strict=True):
        assert polygon(other.rect).equals(over(polygon(one.rect), drawing))
    for label, there in zip(drawing.labels, turned.labels, strict=True):
        assert polygon(there.rect).equals(over(polygon(label.rect), drawing))
        assert there.lines == label.lines
    for line, flipped in zip(drawing.grain, turned.grain, strict=True):
        assert LineString(flipped.points).equals(over(LineString(line.points), drawing))
    cuts = {box.key: box.rect for box in turned.boxes}
    for tag in turned.tags:
        cut = cuts[tag.key]
        ends = {Axis.RIP: (cut.x, cut.y + cut.width // 2), Axis.CROSSCUT: (None, cut.y)}[tag.axis]
        assert ends[0] in {None, tag.x}
        assert ends[1] == tag.y
        assert cut.x <= tag.x <= cut.right
    for mark in turned.marks:
        (was,) = (one.at for one in drawing.marks if one.key == mark.key)
        assert mark.at == (was if mark.axis is Axis.RIP else drawing.rect.length - was)


def test_paper_draws_a_sheet_as_it_lies_and_says_so() -> None:
    """Of a circular saw on a straightedge, where a face shows; DXF files are for other hands."""
    shown = replace(SHELVES, parts=tuple(replace(one, show=True) for one in SHELVES.parts))
    along = Shop(kerf=3 * MM, runs_on=RunsOn.STRAIGHTEDGE, base=BASE)
    rail = replace(along, runs_on=RunsOn.RAIL)
    found = {}
    for name, plan, shop in (("down", shown, along), ("up", shown, rail), ("any", SHELVES, along)):
        job = Job(name="Shelves", shop=shop)
        matter = matter_of(job, plan)
        (drawing,) = matter.drawings
        words = " ".join(one.text for one, _ in words_on(drawing_page(drawing, STYLE, job).items))
        drawn = sheet_dxf(drawing, matter).replace(matter.number, "")
        found[name] = drawing, FACE_DOWN in words, drawn
    assert found["down"][0] == turned_over(found["up"][0])
    assert [said for _, said, _ in found.values()] == [True, False, False]
    assert len({dxf for _, _, dxf in found.values()}) == 1

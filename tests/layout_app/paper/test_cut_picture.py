"""The picture of a cut: to scale, as the piece lies, against shapes laid by Shapely."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import pytest
from shapely import Polygon, box, unary_union
from shapely.affinity import affine_transform, scale
from shapely.geometry.base import BaseGeometry

from layout_app.paper import ink
from layout_app.paper.cut_picture import CutPicture
from shared.geometry import Rect
from shared.lengths import MM, LengthStyle
from shared.making.record import Bed, Edge, Face
from shared.plan import Keep
from shared.practice import USUAL_SHOP
from shared.shop import Axis, Hand, RunsOn, SawBase, Shop, Span
from shared.telling import Instruction, instructions
from tests.layout_app.paper.cut_look import LOOK
from tests.shared.good_plans import MIXED, SHELVES

FRAME = ink.Spread(x=10, y=20, length=120, width=80)
RAIL = replace(USUAL_SHOP, guide=None, stop=None)
BASE = SawBase(
    left_near=38 * MM, left_far=41 * MM, right_near=127 * MM, right_far=130 * MM, length=280 * MM
)
STRAIGHTEDGE = replace(RAIL, runs_on=RunsOn.STRAIGHTEDGE, base=BASE, rail_width=100 * MM)
GUIDED = replace(STRAIGHTEDGE, guide=Span(most=180 * MM))
SHOPS = (RAIL, replace(RAIL, rail_side=Hand.RIGHT), STRAIGHTEDGE, GUIDED)


def told(shop: Shop) -> Iterator[Instruction]:
    """Yield the cuts of two plans by hand in a shop."""
    for plan in (SHELVES, MIXED):
        yield from instructions(plan, shop, LengthStyle())


def turned(one: Instruction) -> Instruction:
    """Return a cut with the piece turned over; all else stays where it is on the piece."""
    return replace(one, record=replace(one.record, up=Face.BACK))


def shapes(items: Iterable[ink.Item]) -> list[BaseGeometry]:
    """Return plates and patches as polygons."""
    found: list[BaseGeometry] = []
    for item in items:
        if isinstance(item, ink.Plate):
            found.append(box(item.x, item.y, item.x + item.length, item.y + item.width))
        elif isinstance(item, ink.Patch):
            found.extend(Polygon(outline) for outline in item.outlines)
    return found


def same(one: BaseGeometry, other: BaseGeometry) -> bool:
    """Say whether two shapes cover each other but for rounding."""
    return bool(one.symmetric_difference(other).area < 1e-6 * (1 + one.area))


def band(picture: CutPicture) -> Polygon | None:
    """Return the rail or straightedge of a picture."""
    plates = [one for one in picture.marks() if isinstance(one, ink.Plate)]
    return box(*unary_union(shapes(plates)).bounds) if plates else None


def on_sheet(picture: CutPicture, piece: Rect, shape: BaseGeometry, *, mirrored: bool) -> Polygon:
    """Take a shape from the picture back to its sheet, in ticks."""
    there = picture.box(piece)
    by = piece.length / there.length
    back = affine_transform(shape, [by, 0, 0, by, piece.x - by * there.x, piece.y - by * there.y])
    middle = (piece.x + piece.length / 2, 0)
    return scale(back, xfact=-1, origin=middle) if mirrored else back


@pytest.mark.parametrize("shop", SHOPS)
def test_the_band_lies_as_wide_and_where_the_rail_does(shop: Shop) -> None:
    """Its edge is where the record says, and it covers the side it lies on, as wide as it is."""
    seen = 0
    for one in (one for cut in told(shop) for one in (cut, turned(cut))):
        record, stroke = one.record, one.stroke
        picture = CutPicture(one, FRAME, LOOK)
        found = band(picture)
        assert (found is None) is (record.rail is None)
        if found is None or record.rail is None:
            continue
        seen += 1
        x, y, right, bottom = on_sheet(
            picture, stroke.piece, found, mirrored=record.mirrored
        ).bounds
        rip, piece = stroke.axis is Axis.RIP, stroke.piece
        low, high = (y - piece.y, bottom - piece.y) if rip else (x - piece.x, right - piece.x)
        keeps_near = stroke.cut.keep is Keep.NEAR
        near = keeps_near is not (record.bed is Bed.WASTE)
        edge, beyond = (high, low) if near else (low, high)
        assert abs(edge - record.rail.edge_at) < MM / 100
        assert abs(edge - beyond) <= shop.rail_width + MM / 100
        inside = beyond > 0 if near else beyond < (piece.width if rip else piece.length)
        if inside:
            assert abs(abs(edge - beyond) - shop.rail_width) < MM / 100
        first = record.entry in {Edge.LEFT, Edge.REFERENCE}
        free = (piece.x - x, right - piece.right) if rip else (piece.y - y, bottom - piece.bottom)
        runs = (record.rail.run_up, record.rail.run_out)
        for shown, real in zip(free, runs if first else runs[::-1], strict=True):
            assert shown < real + MM / 100
            assert shown > min(real, stroke.long // 5) - MM / 100
    assert seen


@pytest.mark.parametrize("shop", SHOPS)
def test_turned_over_it_is_the_mirror_image(shop: Shop) -> None:
    """Left and right change places, the reference edge stays on top, all in the frame."""
    frame = box(FRAME.x, FRAME.y, FRAME.x + FRAME.length, FRAME.y + FRAME.width)
    for cut in told(shop):
        straight, over = (CutPicture(one, FRAME, LOOK) for one in (cut, turned(cut)))
        middle = (FRAME.x + FRAME.length / 2, 0)
        pairs = zip(
            shapes([*straight.wood(), *straight.marks()]),
            shapes([*over.wood(), *over.marks()]),
            strict=True,
        )
        for one, other in pairs:
            assert same(scale(one, xfact=-1, origin=middle), other)
        wood = unary_union(shapes(over.wood()))
        assert frame.buffer(LOOK.sliver + 1e-6).contains(wood)  # slivers are drawn outwards


def test_no_side_of_a_cut_is_narrower_than_can_be_seen() -> None:
    """A trim of a millimetre is drawn 1 mm wide, out from the slot; the piece is around it."""
    seen = 0
    for one in (one for cut in told(RAIL) for one in (cut, turned(cut))):
        picture, stroke = CutPicture(one, FRAME, LOOK), one.stroke
        plates = [item for item in picture.wood() if isinstance(item, ink.Plate)]
        far, near, *_, slot, whole = plates
        for side, rect in ((near, stroke.near), (far, stroke.far)):
            if not rect.area:
                continue
            wide = side.width if stroke.axis is Axis.RIP else side.length
            true = picture.box(rect)
            assert wide >= LOOK.sliver - 1e-9
            seen += wide > (true.width if stroke.axis is Axis.RIP else true.length) + 1e-9
            assert shapes([whole])[0].buffer(1e-6).contains(shapes([side])[0])
            lies = shapes([side])[0].intersection(shapes([slot])[0])
            assert lies.area <= 1e-6
    assert seen


@pytest.mark.parametrize("shop", SHOPS)
def test_the_arrow_points_into_the_slot_where_the_saw_enters(shop: Shop) -> None:
    """Its tip is on that edge of the piece as it lies, its body outside, in line with the slot."""
    for one in (one for cut in told(shop) for one in (cut, turned(cut))):
        picture = CutPicture(one, FRAME, LOOK)
        (patch,) = (item for item in picture.marks() if isinstance(item, ink.Patch))
        (outline,) = patch.outlines
        tip, piece = outline[0], picture.box(one.stroke.piece)
        slot = picture.box(one.stroke.cut.rect)
        at = {
            Edge.LEFT: (piece.x, slot.y + slot.width / 2),
            Edge.RIGHT: (piece.right, slot.y + slot.width / 2),
            Edge.REFERENCE: (slot.x + slot.length / 2, piece.y),
            Edge.FAR: (slot.x + slot.length / 2, piece.bottom),
        }[one.record.enters]
        assert tip == pytest.approx(at)
        inside = box(piece.x, piece.y, piece.right, piece.bottom)
        assert Polygon(outline).intersection(inside).area < 1e-9


def test_the_v_stands_at_the_edge_sizes_are_measured_from() -> None:
    """On the reference edge for a rip; for a crosscut on the left end, turned over on the right."""
    for one in (one for cut in told(RAIL) for one in (cut, turned(cut))):
        picture = CutPicture(one, FRAME, LOOK)
        piece = picture.box(one.stroke.piece)
        marks = [item for item in picture.marks() if isinstance(item, ink.Strokes)]
        (tip,) = {spots[1] for mark in marks if mark.pen == LOOK.mark for spots in mark.lines}
        edges = {Edge.REFERENCE: tip[1] - piece.y, Edge.LEFT: tip[0] - piece.x}
        edges[Edge.RIGHT] = tip[0] - piece.right
        assert abs(edges[one.record.first_edge]) < 1e-9

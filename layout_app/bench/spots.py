"""What lies under the pointer: a cut's tag, an edge of the selected part, a part, a strip."""

from dataclasses import dataclass
from enum import Flag, auto

from PySide6.QtCore import QPointF, QRectF

from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.overlays import HANDLE_PX, handles_of
from layout_app.bench.scene import BenchScene
from layout_app.bench.sheet_item import SheetItem, rect_of
from layout_app.selection import Copy
from shared.drawing import CutTag, Role


class Edge(Flag):
    """Edges of a part away from its reference corner, by which it is resized."""

    RIGHT = auto()
    BOTTOM = auto()


EDGES = (Edge.RIGHT, Edge.BOTTOM, Edge.RIGHT | Edge.BOTTOM)
GRIP_PX = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place on the bench and what is found there, nearest first."""

    stand: Stand | None = None
    tag: CutTag | None = None
    edge: Edge | None = None
    part: Copy | None = None


def spot_at(scene: BenchScene, selected: frozenset[Copy], point: QPointF, scale: float) -> Spot:
    """Look what lies at a point of the scene, at a scale in pixels a millimetre."""
    item = scene.sheet_at(point)
    if item is None:
        return Spot()
    edge = _edge_at(item, selected, point, scale)
    if edge is not None:
        return Spot(stand=item.stand, edge=edge, part=next(iter(selected)))
    tag = _tag_at(item, point, scale)
    return Spot(stand=item.stand, tag=tag, part=None if tag else _part_at(item, point))


def _tag_at(item: SheetItem, point: QPointF, scale: float) -> CutTag | None:
    x = (point.x() - item.stand.x) * scale
    y = (point.y() - item.stand.y) * scale
    tags = item.writing(scale).tags
    return next((one.tag for one in reversed(tags) if one.covers(x, y)), None)


def _part_at(item: SheetItem, point: QPointF) -> Copy | None:
    """Return the part on top; one that is drawn later lies over earlier ones."""
    inside = point - item.pos()
    for box in reversed(item.drawing.boxes):
        if box.role in (Role.PART, Role.COMING) and to_rectf(box.rect).contains(inside):
            return box.part, box.copy
    return None


def _edge_at(
    item: SheetItem, selected: frozenset[Copy], point: QPointF, scale: float
) -> Edge | None:
    """Return the edge of the only selected part that the pointer can grip."""
    if len(selected) != 1:
        return None
    rect = rect_of(item, next(iter(selected)))
    if rect is None:
        return None
    margin = (HANDLE_PX / 2 + 1) / scale
    for edge, handle in zip(EDGES, handles_of(rect, scale), strict=False):
        if handle.adjusted(-1 / scale, -1 / scale, 1 / scale, 1 / scale).contains(point):
            return edge
    if not rect.adjusted(0, 0, margin, margin).contains(point):
        return None
    return _grip(rect, point, GRIP_PX / scale)


def _grip(rect: QRectF, point: QPointF, grip: float) -> Edge | None:
    if min(rect.width(), rect.height()) < 4 * grip:
        return None
    right = abs(point.x() - rect.right()) <= grip
    bottom = abs(point.y() - rect.bottom()) <= grip
    if right and bottom:
        return Edge.RIGHT | Edge.BOTTOM
    if right:
        return Edge.RIGHT
    return Edge.BOTTOM if bottom else None

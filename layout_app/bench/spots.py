"""What lies under the pointer: a cut's tag, an edge of the selected part, a part, a strip."""

from dataclasses import dataclass
from enum import Flag, auto

from PySide6.QtCore import QPointF, QRectF

from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.overlays import handles_of
from layout_app.bench.scene import BenchScene
from layout_app.bench.sheet_item import SheetItem, rect_of
from shared.drawing import CutTag, Role
from shared.parts import Copy


class Edge(Flag):
    """Edges of a part, by which it is resized."""

    RIGHT = auto()
    BOTTOM = auto()
    LEFT = auto()
    TOP = auto()


EDGES = (
    *(Edge.RIGHT, Edge.BOTTOM, Edge.RIGHT | Edge.BOTTOM),
    *(Edge.LEFT, Edge.TOP, Edge.LEFT | Edge.TOP),
    *(Edge.RIGHT | Edge.TOP, Edge.LEFT | Edge.BOTTOM),
)
"""In the order of their handles."""
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
    rect = rect_of(item, next(iter(selected))) if len(selected) == 1 else None
    handle = _handle_at(rect, point, scale)
    tag = None if handle else _tag_at(item, point, scale)
    edge = handle or (None if tag else _grip_at(rect, point, GRIP_PX / scale))
    if edge is not None:
        return Spot(stand=item.stand, edge=edge, part=next(iter(selected)))
    return Spot(stand=item.stand, tag=tag, part=None if tag else _part_at(item, point))


def _tag_at(item: SheetItem, point: QPointF, scale: float) -> CutTag | None:
    x = (point.x() - item.stand.x) * scale
    y = (point.y() - item.stand.y) * scale
    tags = reversed(item.tags(scale).written)
    return next((one.tag for one in tags if one.covers(x, y)), None)


def _part_at(item: SheetItem, point: QPointF) -> Copy | None:
    """Return the part on top; one that is drawn later lies over earlier ones."""
    inside = point - item.pos()
    for box in reversed(item.drawing.boxes):
        if box.role in (Role.PART, Role.COMING, Role.BLANK) and to_rectf(box.rect).contains(inside):
            return box.copy_key
    return None


def _handle_at(rect: QRectF | None, point: QPointF, scale: float) -> Edge | None:
    """Return the edge whose handle lies under the pointer."""
    handles = [] if rect is None else handles_of(rect, scale)
    more = 1 / scale
    for edge, handle in zip(EDGES, handles, strict=False):
        if handle.adjusted(-more, -more, more, more).contains(point):
            return edge
    return None


def _grip_at(rect: QRectF | None, point: QPointF, grip: float) -> Edge | None:
    """Return the edge that the pointer can grip beside the handles."""
    if rect is None or min(rect.width(), rect.height()) < 4 * grip:
        return None
    if not rect.adjusted(-grip, -grip, grip, grip).contains(point):
        return None
    distances = {
        Edge.RIGHT: point.x() - rect.right(),
        Edge.BOTTOM: point.y() - rect.bottom(),
        Edge.LEFT: point.x() - rect.left(),
        Edge.TOP: point.y() - rect.top(),
    }
    edge = Edge(0)
    for one, distance in distances.items():
        edge |= one if abs(distance) <= grip else Edge(0)
    return edge or None

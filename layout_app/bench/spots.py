"""What lies under the pointer: a cut's tag, an edge of the selected part, a part, a strip."""

import math
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
    """Look what lies at a point of the scene, at a scale in pixels a millimetre.

    Where a part lies under the disc of a tag, or under a handle of another part, that one is
    found whose middle is nearer: however small a part is, a click at its middle finds it.
    """
    item = scene.sheet_at(point)
    if item is None:
        return Spot()
    part = _part_at(item, point)
    chosen = next(iter(selected)) if len(selected) == 1 else None
    rect = rect_of(item, chosen) if chosen is not None else None
    away = _away(rect_of(item, part), point) if part is not None else None
    beside = away if part != chosen else None
    handle = _handle_at(rect, point, scale, beside)
    tag = None if handle else _tag_at(item, point, scale, away)
    edge = handle or (None if tag else _grip_at(rect, point, GRIP_PX / scale, beside))
    if edge is not None:
        return Spot(stand=item.stand, edge=edge, part=chosen)
    return Spot(stand=item.stand, tag=tag, part=None if tag else part)


def _away(rect: QRectF | None, point: QPointF) -> float | None:
    """Return how far a point is from the middle of a rectangle."""
    return None if rect is None else _length(point - rect.center())


def _length(way: QPointF) -> float:
    return math.hypot(way.x(), way.y())


def _tag_at(item: SheetItem, point: QPointF, scale: float, away: float | None) -> CutTag | None:
    """Return the tag at a point, unless it is nearer to the middle of a part: ``away`` from it.

    Beside parts a tag is found a little outside of its disc, too.
    """
    x = (point.x() - item.stand.x) * scale
    y = (point.y() - item.stand.y) * scale
    for one in reversed(item.tags(scale).written):
        off = math.hypot(x - one.x, y - one.y)
        if one.covers(x, y) if away is None else off < min(one.diameter / 2, away * scale):
            return one.tag
    return None


def _part_at(item: SheetItem, point: QPointF) -> Copy | None:
    """Return the part on top; one that is drawn later lies over earlier ones."""
    inside = point - item.pos()
    for box in reversed(item.drawing.boxes):
        if box.role in (Role.PART, Role.COMING, Role.BLANK) and to_rectf(box.rect).contains(inside):
            return box.copy_key
    return None


def _handle_at(
    rect: QRectF | None, point: QPointF, scale: float, away: float | None
) -> Edge | None:
    """Return the edge whose handle lies under the pointer.

    Not one that is farther than the middle of another part, ``away``.
    """
    handles = [] if rect is None else handles_of(rect, scale)
    more = 1 / scale
    for edge, handle in zip(EDGES, handles, strict=False):
        near = away is None or _length(point - handle.center()) < away
        if near and handle.adjusted(-more, -more, more, more).contains(point):
            return edge
    return None


def _grip_at(rect: QRectF | None, point: QPointF, grip: float, away: float | None) -> Edge | None:
    """Return the edge that the pointer can grip beside the handles.

    Not one that is farther than the middle of another part, ``away``.
    """
    grip_there = grip if away is None else min(grip, away)
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
        edge |= one if abs(distance) <= grip_there else Edge(0)
    return edge or None

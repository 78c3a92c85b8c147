"""What is seen of a repair before it is taken: parts where they would lie, and their ways there."""

from collections.abc import Iterator, Sequence
from math import atan2, cos, pi, sin

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_app.bench.frame import to_rectf
from layout_app.bench.interaction import GestureHand
from layout_app.bench.overlays import IN_HAND, Ghost, Lifted, Overlay, scale_of, united
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.repairing import Repair
from shared.lengths import format_pair
from shared.plan import Placement

HEAD_PX = 13.0
"""How long the head of an arrow is."""


class RepairShown:
    """The overlays of one repair, put into the scene until they are taken away again."""

    def __init__(self, hand: GestureHand, repair: Repair) -> None:
        self._hand, self._stand = hand, hand.sheets.stand(repair.sheet)
        scene = hand.scene
        gone = scene.rects_of(repair.aside)
        self.ghosts = tuple(to_rectf(one.rect).translated(self._corner) for one in repair.moved)
        """Where the parts that are moved would lie, in the scene."""
        lay = {one.key: one for one in hand.document.layout.sheet(repair.sheet).placements}
        old = [to_rectf(lay[one.key].rect).translated(self._corner) for one in repair.moved]
        pairs = zip(old, self.ghosts, strict=True)
        arrows = [QLineF(one.center(), to.center()) for one, to in pairs]
        self.taken = (*self.ghosts, *old, *gone)
        """What words should keep off."""
        self.place = united((*self.ghosts, *gone))
        """The frame round all that is shown."""
        self._overlays: tuple[Overlay, ...] = (
            *(Lifted(scene.theme, rect) for rect in (*old, *gone)),
            *map(self._ghost, repair.moved),
            Ways(scene.theme, arrows, gone),
        )
        for overlay in self._overlays:
            scene.addItem(overlay)
        for ghost, rect in zip(self._of_parts(), self.ghosts, strict=True):
            along_x = hand.sheets.grain_along_x(repair.sheet)
            ghost.lie(rect, good=True, grain_along_x=along_x)
        self._overlays[-1].bound(united((self.place, *old)), HEAD_PX)

    def contains(self, point: QPointF) -> bool:
        """Say whether a point of the scene lies on what is shown."""
        return any(one.sceneBoundingRect().contains(point) for one in self._overlays[:-1])

    def clear(self) -> None:
        """Take all of it off the bench."""
        for overlay in self._overlays:
            self._hand.scene.removeItem(overlay)

    @property
    def _corner(self) -> QPointF:
        return QPointF(self._stand.x, self._stand.y)

    def _of_parts(self) -> Iterator[Ghost]:
        yield from (one for one in self._overlays if isinstance(one, Ghost))

    def _ghost(self, one: Placement) -> Ghost:
        scene, job = self._hand.scene, self._hand.document.job
        part = job.part(one.part)
        lines = job.named(one.key), format_pair(part.cut_length, part.cut_width, job.style)
        return Ghost(scene.theme, lines, pens.tint(scene.theme, scene.tint_of(one.key)))


class Ways(Overlay):
    """Arrows from where parts lie to where they would, and crosses over those set aside."""

    def __init__(self, theme: Theme, arrows: Sequence[QLineF], gone: Sequence[QRectF]) -> None:
        super().__init__(theme, IN_HAND + 1)
        self._arrows, self._gone = tuple(arrows), tuple(gone)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint them heavily enough to be seen over any part."""
        head = HEAD_PX / scale_of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(pens.pen(self.theme.warning, 3.0))
        for rect in self._gone:
            painter.drawLine(rect.topLeft(), rect.bottomRight())
            painter.drawLine(rect.bottomLeft(), rect.topRight())
        painter.setPen(pens.pen(self.theme.accent, 2.5))
        painter.setBrush(pens.brush(self.theme.accent))
        for line in self._arrows:
            if line.length() > 0:
                painter.drawLine(line)
                painter.drawPolygon(_head(line, head))


def _head(line: QLineF, long: float) -> QPolygonF:
    """Return the head of an arrow at the end of a line."""
    angle = atan2(line.dy(), line.dx())
    sides = (angle + pi - pi / 7, angle + pi + pi / 7)
    corners = [QPointF(long * cos(side), long * sin(side)) for side in sides]
    return QPolygonF([line.p2(), *(line.p2() + corner for corner in corners)])

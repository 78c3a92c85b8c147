"""One sheet on the bench: everything that is drawn of it, in one item."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from layout_app.bench import ink
from layout_app.bench.frame import Floor, Stand, to_rectf
from layout_app.bench.lettering import paint_writing
from layout_app.bench.shapes import HATCHED, LEAST_PX, WOOD, Shapes, cross
from layout_app.bench.writing import Writing
from layout_app.held import HeldArea
from layout_app.selection import Copy
from layout_app.theme import Theme
from shared.drawing import Role, SheetDrawing

GRAIN_MM = 29.0
"""Mean distance of grain lines over a sheet of common width."""

BAD_ALPHA = 170
"""How much of the wood a bad place hides."""
SMALL = 0.12
"""Pixels a millimetre below which outlines are drawn paler, or they would fill the sheet."""


class SheetItem(QGraphicsItem):
    """Paints a sheet's drawing; its origin is the sheet's reference corner.

    ``before`` is the item it takes the place of: what looks the same is taken from there.
    """

    def __init__(
        self,
        stand: Stand,
        floor: Floor,
        drawing: SheetDrawing,
        theme: Theme,
        *,
        yours: bool,
        held: tuple[HeldArea, ...] = (),
        before: "SheetItem | None" = None,
    ) -> None:
        super().__init__()
        self.stand, self.drawing, self.yours, self.held = stand, drawing, yours, held
        self._theme, self._unit = theme, floor.unit
        self._bounds = floor.room(stand).translated(-stand.x, -stand.y)
        self._reach = floor.bounds.right() - stand.x
        self._shapes: Shapes = Shapes(drawing, theme, None if before is None else before._shapes)
        self._writing: Writing | None = None
        self.setPos(stand.x, stand.y)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemUsesExtendedStyleOption)
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)

    def boundingRect(self) -> QRectF:
        """Return the sheet with title, tags and scale."""
        return self._bounds

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint wood, hatching, kerfs and outlines in millimetres, words in pixels."""
        scale = option.levelOfDetailFromTransform(painter.worldTransform())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        self._paint_wood(painter, scale, option.exposedRect)
        self._paint_bad_places(painter)
        self._paint_kerfs(painter, scale, option.exposedRect)
        self._paint_outlines(painter, scale)
        self._paint_ties(painter, scale)
        corner = painter.worldTransform().map(QPointF(0.0, 0.0))
        painter.save()
        painter.setWorldTransform(QTransform.fromTranslate(round(corner.x()), round(corner.y())))
        paint_writing(painter, self, self.writing(scale), self._theme)
        painter.restore()

    def writing(self, scale: float) -> Writing:
        """Return what is written at a scale, remembered until it changes."""
        if self._writing is None or self._writing.scale != scale:
            self._writing = Writing(self.drawing, scale, self._unit, self.held)
        return self._writing

    @property
    def title_reach(self) -> float:
        """How far the title may run, in millimetres from the reference corner."""
        return self._reach

    def _paint_wood(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        for rect, fill in self._shapes.fills:
            if rect.intersects(exposed):
                painter.fillRect(rect, fill)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        theme = self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if GRAIN_MM * scale >= LEAST_PX:
            painter.strokePath(self._shapes.fine_grain, ink.pen(theme.grain_heavy, alpha=90))
        if 4 * GRAIN_MM * scale >= LEAST_PX:
            painter.strokePath(self._shapes.heavy_grain, ink.pen(theme.grain_heavy, alpha=190))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for role, path in self._shapes.hatching(scale).items():
            name = theme.keeper_hatch if role is Role.KEEPER else theme.waste_hatch
            painter.strokePath(path, ink.pen(name))

    def _paint_bad_places(self, painter: QPainter) -> None:
        """Paint what is kept clear: pale, in a closed outline, struck out from corner to corner."""
        theme = self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for rect in self._shapes.of(Role.NO_GO):
            painter.fillRect(rect, ink.brush(theme.card, BAD_ALPHA))
            painter.strokePath(cross(rect), ink.pen(theme.graphite, 1.2))
            painter.setPen(ink.pen(theme.graphite, 2.0))
            painter.drawRect(rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_kerfs(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        """Paint kerfs true to scale, but never thinner than the eye can see."""
        least = 1.5 / scale
        for rect in self._shapes.of(Role.KERF):
            if rect.intersects(exposed):
                painter.fillRect(widened(rect, least), ink.brush(self._theme.kerf))

    def _paint_outlines(self, painter: QPainter, scale: float) -> None:
        theme, shapes = self._theme, self._shapes
        line = ink.pen(theme.graphite if scale >= SMALL else theme.pencil)
        inset = (0.5 + max(0.0, 1.5 - shapes.kerf_mm * scale) / 2) / scale
        for box, rect in shapes.boxes:
            inner = rect.adjusted(inset, inset, -inset, -inset)
            if inner.width() <= 0 or inner.height() <= 0:
                continue
            if box.problem:
                painter.setPen(ink.pen(theme.warning, 2.5, Qt.PenStyle.DashLine))
                painter.drawRect(inner)
            elif box.role in (Role.COMING, Role.BLANK):
                painter.setPen(ink.pen(theme.pencil, 1.0, Qt.PenStyle.DotLine))
                painter.drawRect(inner)
            elif box.role in (Role.PART, *WOOD):
                painter.setPen(line)
                painter.drawRect(inner)
            elif box.role in HATCHED:
                painter.setPen(ink.pen(theme.pencil))
                painter.drawRect(inner)
        self._paint_cut(painter, scale)
        painter.setPen(ink.pen(theme.graphite, 2.0))
        painter.drawRect(shapes.by_key[f"sheet:{self.drawing.sheet}"])

    def _paint_ties(self, painter: QPainter, scale: float) -> None:
        """Paint the marks over the kerfs of match groups, unless they would be dots."""
        if scale >= SMALL:
            painter.strokePath(self._shapes.ties, ink.pen(self._theme.graphite, 1.5))

    def _paint_cut(self, painter: QPainter, scale: float) -> None:
        """Paint the selected cut: what is sawn off, and the line of the rail over the piece."""
        theme = self._theme
        for rect in self._shapes.of(Role.OFF):
            painter.fillRect(rect, ink.brush(theme.accent, 38))
            painter.setPen(ink.pen(theme.accent, 2.5))
            painter.drawRect(rect)
        for rect in self._shapes.of(Role.STAYS):
            painter.setPen(ink.pen(theme.accent, 1.5, Qt.PenStyle.DashLine))
            painter.drawRect(rect)
        for rect in self._shapes.of(Role.CUT):
            over = 14.0 / scale
            painter.fillRect(widened(rect, 3.0 / scale), ink.brush(theme.accent))
            path = QPainterPath()
            for start, end in rail(rect, over):
                path.moveTo(start)
                path.lineTo(end)
            painter.strokePath(path, ink.pen(theme.accent, 3.0))


def rect_of(item: SheetItem, copy: Copy) -> QRectF | None:
    """Return where a copy is drawn on a sheet, in the scene."""
    for box in item.drawing.boxes:
        if (box.part, box.copy) == copy:
            return to_rectf(box.rect).translated(item.pos())
    return None


def widened(rect: QRectF, least: float) -> QRectF:
    """Return a thin rectangle about its middle line, no thinner than ``least``."""
    dx = max(0.0, least - rect.width()) / 2
    dy = max(0.0, least - rect.height()) / 2
    return rect.adjusted(-dx, -dy, dx, dy)


def rail(dust: QRectF, over: float) -> list[tuple[QPointF, QPointF]]:
    """Return the two ends of a cut's line that stand over the piece."""
    middle = dust.center()
    if dust.width() >= dust.height():
        y = middle.y()
        return [
            (QPointF(dust.left() - over, y), QPointF(dust.left(), y)),
            (QPointF(dust.right(), y), QPointF(dust.right() + over, y)),
        ]
    x = middle.x()
    return [
        (QPointF(x, dust.top() - over), QPointF(x, dust.top())),
        (QPointF(x, dust.bottom()), QPointF(x, dust.bottom() + over)),
    ]

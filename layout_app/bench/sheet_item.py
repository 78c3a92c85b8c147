"""One sheet on the bench: everything that is drawn of it, in one item."""

from collections.abc import Callable

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from layout_app.bench.drawings import Looks
from layout_app.bench.frame import Floor, Stand, to_mm, to_rectf
from layout_app.bench.lettering import paint_writing
from layout_app.bench.pictures import Darkroom, Picture, take
from layout_app.bench.shapes import HATCHED, LEAST_PX, WOOD, Shapes, cross
from layout_app.bench.writing import Tags, Writing
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.locks import HeldArea
from shared.drawing import Role, SheetDrawing
from shared.parts import Copy

GRAIN_MM = 29.0
"""Mean distance of grain lines over a sheet of common width."""

BAD_ALPHA = 170
"""How much of the wood a bad place hides."""
ARROW_PX = 16.0
"""How long the arrow is that shows where the saw enters."""
SMALL = 0.12
"""Pixels a millimetre below which outlines are drawn paler, or they would fill the sheet."""


class SheetItem(QGraphicsItem):
    """Paints a sheet's drawing; its origin is the sheet's reference corner.

    Parameters
    ----------
    draw
        Makes the drawing, once the sheet is looked at.
    looks
        What the drawing depends on.
    darkroom
        Keeps the pictures of all sheets.
    before
        The item it takes the place of: what looks the same is taken from there.
    """

    def __init__(
        self,
        stand: Stand,
        floor: Floor,
        draw: Callable[[], SheetDrawing],
        theme: Theme,
        *,
        looks: Looks,
        darkroom: Darkroom,
        yours: bool,
        begun: bool = False,
        held: tuple[HeldArea, ...] = (),
        before: "SheetItem | None" = None,
    ) -> None:
        super().__init__()
        self.stand, self.looks, self.yours, self.held = stand, looks, yours, held
        self.begun = begun
        self._draw, self._darkroom = draw, darkroom
        self._theme, self._unit = theme, floor.unit
        self._bounds = floor.room(stand).translated(-stand.x, -stand.y)
        self.title_reach = floor.reach(stand)
        """How far the title may run, in millimetres from the reference corner."""
        self._drawing: SheetDrawing | None = None
        self._made: Shapes | None = None
        self._older: Shapes | None = None if before is None else before._made or before._older
        self._tags: Tags | None = None
        self._writing: Writing | None = None
        self.setPos(stand.x, stand.y)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemUsesExtendedStyleOption)

    @property
    def drawing(self) -> SheetDrawing:
        """What is drawn of the sheet, made when it is first looked at."""
        if self._drawing is None:
            self._drawing = self._draw()
        return self._drawing

    @property
    def shapes(self) -> Shapes:
        """What the drawing looks like in millimetres."""
        if self._made is None:
            self._made = Shapes(self.drawing, self._theme, self._older)
            self._older = None
        return self._made

    def boundingRect(self) -> QRectF:
        """Return the sheet with title, tags and scale."""
        return self._bounds

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Show the sheet's picture: sharp, or if there is no time for that as it was before."""
        scale = painter.worldTransform().m11()
        if widget is None:
            self._paint_sharp(painter, scale, option.exposedRect)
            return
        seen = option.exposedRect.intersected(self._bounds)
        ratio = painter.device().devicePixelRatio()
        picture = self._darkroom.picture(self.stand.sheet)
        if not self._is_sharp(picture, (scale, ratio), seen) and self._darkroom.may_paint():
            picture = self._take_picture(scale, ratio)
        if picture is not None and self._is_sharp(picture, (scale, ratio), seen):
            picture.show(painter)
        else:
            self._stand_in(painter, scale, picture, seen)

    def _is_sharp(self, picture: Picture | None, scale: tuple[float, float], seen: QRectF) -> bool:
        if picture is None or picture.of is not self:
            return False
        return (picture.scale, picture.ratio) == scale and picture.area.contains(seen)

    def _take_picture(self, scale: float, ratio: float) -> Picture:
        """Paint the sheet sharp and keep that."""

        def paint(painter: QPainter, area: QRectF) -> None:
            self._paint_sharp(painter, scale, area)

        sight = self._darkroom.sight.translated(-self.stand.x, -self.stand.y)
        paper = pens.colour(self._theme.paper)
        pixmap, left, top = take(paint, self._bounds, sight, (scale, ratio), paper)
        picture = Picture(
            pixmap=pixmap,
            scale=scale,
            ratio=ratio,
            left=left,
            top=top,
            of=self,
            lie=self.looks.lie,
        )
        self._darkroom.keep(self.stand.sheet, picture)
        return picture

    def _stand_in(
        self, painter: QPainter, scale: float, picture: Picture | None, seen: QRectF
    ) -> None:
        """Show an older picture of what lies there, and bare boxes where there is none."""
        fits = picture is not None and (picture.of is self or picture.lie == self.looks.lie)
        if picture is None or not fits or not picture.area.contains(seen):
            self._paint_boxes(painter, scale, seen)
        if picture is not None and fits:
            picture.stretch(painter)

    def _paint_sharp(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        """Paint wood, hatching, kerfs and outlines in millimetres, words in pixels."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        self._paint_wood(painter, scale, exposed)
        self._paint_bad_places(painter)
        self._paint_kerfs(painter, scale, exposed)
        self._paint_outlines(painter, scale)
        if scale >= SMALL:  # smaller, the marks over the kerfs of match groups would be dots
            painter.strokePath(self.shapes.ties, pens.pen(self._theme.graphite, 1.5))
        corner = painter.worldTransform().map(QPointF(0.0, 0.0))
        painter.save()
        painter.setWorldTransform(QTransform.fromTranslate(round(corner.x()), round(corner.y())))
        paint_writing(painter, self, self.writing(scale), self._theme)
        painter.restore()

    def _paint_boxes(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        """Paint what takes no time: no grain, no hatching, no words."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for rect, fill in self.shapes.fills:
            painter.fillRect(rect, fill)
        self._paint_kerfs(painter, scale, exposed)
        self._paint_outlines(painter, scale)

    def writing(self, scale: float) -> Writing:
        """Return what is written at a scale, remembered until it changes."""
        if self._writing is None or self._writing.scale != scale:
            self._writing = Writing(self.drawing, self.tags(scale), self._bounds, self.held)
        return self._writing

    def tags(self, scale: float) -> Tags:
        """Return where tags stand at a scale, remembered until it changes: no words are set."""
        if self._tags is None or self._tags.scale != scale:
            self._tags = Tags(self.drawing, scale, self._unit, self._bounds)
        return self._tags

    def _paint_wood(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        for rect, fill in self.shapes.fills:
            if rect.intersects(exposed):
                painter.fillRect(rect, fill)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        theme = self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if GRAIN_MM * scale >= LEAST_PX:
            painter.strokePath(self.shapes.fine_grain, pens.pen(theme.grain_heavy, alpha=90))
        if 4 * GRAIN_MM * scale >= LEAST_PX:
            painter.strokePath(self.shapes.heavy_grain, pens.pen(theme.grain_heavy, alpha=190))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for role, path in self.shapes.hatching(scale).items():
            if role is not Role.IN_THE_WAY:
                light = role in (Role.KEEPER, Role.LAST_KEEPER)
                name = theme.keeper_hatch if light else theme.waste_hatch
                painter.strokePath(path, pens.pen(name))

    def _paint_bad_places(self, painter: QPainter) -> None:
        """Paint what is kept clear: pale, in a closed outline, struck out from corner to corner."""
        theme = self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for rect in self.shapes.of(Role.NO_GO):
            painter.fillRect(rect, pens.brush(theme.card, BAD_ALPHA))
            painter.strokePath(cross(rect), pens.pen(theme.graphite, 1.2))
            painter.setPen(pens.pen(theme.graphite, 2.0))
            painter.drawRect(rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_kerfs(self, painter: QPainter, scale: float, exposed: QRectF) -> None:
        """Paint kerfs true to scale, but never thinner than the eye can see."""
        least = 1.5 / scale
        for rect in self.shapes.of(Role.KERF):
            if rect.intersects(exposed):
                painter.fillRect(widened(rect, least), pens.brush(self._theme.kerf))

    def _paint_outlines(self, painter: QPainter, scale: float) -> None:
        theme, shapes = self._theme, self.shapes
        line = pens.pen(theme.graphite if scale >= SMALL else theme.pencil)
        inset = (0.5 + max(0.0, 1.5 - shapes.kerf_mm * scale) / 2) / scale
        for box, rect in shapes.boxes:
            inner = rect.adjusted(inset, inset, -inset, -inset)
            if inner.width() <= 0 or inner.height() <= 0:
                continue
            if box.problem:
                painter.setPen(pens.pen(theme.warning, 2.5, Qt.PenStyle.DashLine))
                painter.drawRect(inner)
            elif box.role in (Role.COMING, Role.BLANK):
                painter.setPen(pens.pen(theme.pencil, 1.0, Qt.PenStyle.DotLine))
                painter.drawRect(inner)
            elif box.role in (Role.PART, *WOOD):
                painter.setPen(line)
                painter.drawRect(inner)
            elif box.role in HATCHED:
                painter.setPen(pens.pen(theme.pencil))
                painter.drawRect(inner)
        self._paint_cut(painter, scale)
        self._paint_in_the_way(painter, scale)
        painter.setPen(pens.pen(theme.graphite, 2.0))
        painter.drawRect(shapes.by_key[f"sheet:{self.drawing.sheet}"])

    def _paint_in_the_way(self, painter: QPainter, scale: float) -> None:
        """Paint the last cuts in grey dashes, and what is in their way hatched and outlined."""
        theme, shapes = self._theme, self.shapes
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pens.pen(theme.faint, 1.2, Qt.PenStyle.DashLine))
        painter.drawLines([middle(rect) for rect in shapes.of(Role.LAST_CUT)])
        path = shapes.hatching(scale).get(Role.IN_THE_WAY)
        if path is not None:
            painter.strokePath(path, pens.pen(theme.warning, 1.5))
        painter.setPen(pens.pen(theme.warning, 2.5))
        for rect in shapes.of(Role.IN_THE_WAY):
            painter.drawRect(widened(rect, 3.0 / scale))
        painter.setPen(pens.pen(theme.warning, 1.5, Qt.PenStyle.DotLine))
        for rect in shapes.of(Role.KNOT):
            painter.drawRect(rect.adjusted(-3 / scale, -3 / scale, 3 / scale, 3 / scale))

    def _paint_cut(self, painter: QPainter, scale: float) -> None:
        """Paint the selected cut: what is kept, what is left, and the line over the piece."""
        theme = self._theme
        for rect in self.shapes.of(Role.KEPT):
            painter.fillRect(rect, pens.brush(theme.accent, 38))
            painter.setPen(pens.pen(theme.accent, 2.5))
            painter.drawRect(rect)
        for rect in self.shapes.of(Role.LEFT):
            painter.setPen(pens.pen(theme.accent, 1.5, Qt.PenStyle.DashLine))
            painter.drawRect(rect)
        for rect in self.shapes.of(Role.CUT):
            over = 14.0 / scale
            painter.fillRect(widened(rect, 3.0 / scale), pens.brush(theme.accent))
            path = QPainterPath()
            for start, end in rail(rect, over):
                path.moveTo(start)
                path.lineTo(end)
            painter.strokePath(path, pens.pen(theme.accent, 3.0))
        if self.drawing.saw_in is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(pens.brush(theme.accent))
            enters, leaves = (QPointF(*map(to_mm, spot)) for spot in self.drawing.saw_in)
            painter.drawPolygon(arrow(enters, leaves, ARROW_PX / scale))


def arrow(enters: QPointF, leaves: QPointF, long: float) -> QPolygonF:
    """Return an arrow whose tip is where the saw enters, and which points along its way."""
    way = QLineF(enters, leaves).unitVector()
    along = QPointF(way.dx(), way.dy()) * long
    across = QPointF(-along.y(), along.x()) * 0.45
    return QPolygonF([enters, enters - along + across, enters - along - across])


def rect_of(item: SheetItem, copy: Copy) -> QRectF | None:
    """Return where a copy is drawn on a sheet, in the scene."""
    for box in item.drawing.boxes:
        if box.copy_key == copy:
            return to_rectf(box.rect).translated(item.pos())
    return None


def widened(rect: QRectF, least: float) -> QRectF:
    """Return a thin rectangle about its middle line, no thinner than ``least``."""
    dx = max(0.0, least - rect.width()) / 2
    dy = max(0.0, least - rect.height()) / 2
    return rect.adjusted(-dx, -dy, dx, dy)


def middle(dust: QRectF) -> QLineF:
    """Return the line along the middle of a kerf."""
    at = dust.center()
    if dust.width() >= dust.height():
        return QLineF(dust.left(), at.y(), dust.right(), at.y())
    return QLineF(at.x(), dust.top(), at.x(), dust.bottom())


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

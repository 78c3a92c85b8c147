"""What lies over the sheets: the selection, a part in the hand, lines it snaps to, words."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from layout_app.bench.lettering import paint_lines, paint_patches
from layout_app.look import pens
from layout_app.look.theme import Theme
from shared.drawing import Space, fit

PLATE_PX = 12
"""Size of the words on a plate."""
HANDLE_PX = 9.0
SIZES_PX = (13, 12, 11, 10, 9, 8)
ABOVE_SHEETS, IN_HAND, WORDS = 10.0, 20.0, 30.0


class Overlay(QGraphicsItem):
    """Base of all overlays: takes no mouse and knows the theme."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__()
        self.theme = theme
        self.bounds = QRectF()
        self.setZValue(z)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)

    def boundingRect(self) -> QRectF:
        """Return what may be painted on, in the item's coordinates."""
        return self.bounds

    def bound(self, bounds: QRectF, margin_px: float = 0.0) -> None:
        """Take other bounds, with a margin for thick pens, and paint anew."""
        margin = margin_px / scale_of(self)
        self.prepareGeometryChange()
        self.bounds = bounds.adjusted(-margin, -margin, margin, margin)
        self.update()


def scale_of(item: QGraphicsItem) -> float:
    """Return the pixels a millimetre of the view that shows an item."""
    scene = item.scene()
    views = scene.views() if scene is not None else []
    return views[0].transform().m11() if views else 1.0


class SelectionOutline(Overlay):
    """Thick outlines of the selected parts, with handles if there is only one."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, ABOVE_SHEETS)
        self._rects: list[QRectF] = []
        self._handles = False

    def show_rects(self, rects: list[QRectF], *, handles: bool) -> None:
        """Outline these rectangles of the scene."""
        self._rects, self._handles = rects, handles
        self.bound(united(rects), HANDLE_PX if rects else 0.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint outlines that read by weight, not by colour alone."""
        scale = option.levelOfDetailFromTransform(painter.worldTransform())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        outline(painter, self.theme, self._rects)
        for rect in self._rects:
            for handle in handles_of(rect, scale) if self._handles else ():
                painter.setPen(pens.pen(self.theme.accent, 1.5))
                painter.setBrush(pens.brush(self.theme.card))
                painter.drawRect(handle)
                painter.setBrush(Qt.BrushStyle.NoBrush)


def paint_plate(painter: QPainter, theme: Theme, plate: QRectF, words: str, frame: str) -> None:
    """Write words on a small plate of the scene, sharp at every zoom, in a frame of a colour."""
    seen = painter.worldTransform().mapRect(plate)
    painter.save()
    painter.resetTransform()
    painter.setPen(pens.pen(frame, 1.0))
    painter.setBrush(pens.brush(theme.card))
    painter.drawRect(seen)
    painter.setPen(pens.colour(theme.graphite))
    painter.setFont(pens.font(PLATE_PX, bold=True))
    painter.drawText(seen, Qt.AlignmentFlag.AlignCenter, words)
    painter.restore()


def united(rects: Iterable[QRectF]) -> QRectF:
    """Return the smallest rectangle round all of these."""
    bounds = QRectF()
    for rect in rects:
        bounds = bounds.united(rect)
    return bounds


def outline(painter: QPainter, theme: Theme, rects: Iterable[QRectF]) -> None:
    """Outline parts that are selected: they read by weight, not by colour alone."""
    for rect in rects:
        painter.fillRect(rect, pens.brush(theme.accent, 30))
        painter.setPen(pens.pen(theme.accent, 3.0))
        painter.drawRect(rect)


def handles_of(rect: QRectF, scale: float) -> list[QRectF]:
    """Return the handles of a part, as in `layout_app.bench.spots.EDGES`: edges and corners."""
    side = HANDLE_PX / scale
    if min(rect.width(), rect.height()) < 1.6 * side:
        return []
    middles = (
        QPointF(rect.right(), rect.center().y()),
        QPointF(rect.center().x(), rect.bottom()),
        rect.bottomRight(),
        QPointF(rect.left(), rect.center().y()),
        QPointF(rect.center().x(), rect.top()),
        rect.topLeft(),
        rect.topRight(),
        rect.bottomLeft(),
    )
    return [QRectF(at.x() - side / 2, at.y() - side / 2, side, side) for at in middles]


class Ghost(Overlay):
    """A part in the hand, drawn where it would lie, with an outline so thick."""

    line_px = 3.0

    def __init__(self, theme: Theme, lines: Sequence[str], fill: str) -> None:
        super().__init__(theme, IN_HAND)
        self._lines, self._fill = tuple(lines), fill
        self._rect = QRectF()
        self._good = True
        self._along_x: bool | None = None
        self._taken: tuple[QRectF, ...] = ()

    def keep_off(self, taken: tuple[QRectF, ...]) -> None:
        """Keep the words clear of places of the scene."""
        near = tuple(one for one in taken if one.intersects(self._rect))
        if near != self._taken:
            self._taken = near
            self.update()

    def tell(self, lines: tuple[str, ...]) -> None:
        """Write these lines on it."""
        if lines != self._lines:
            self._lines = lines
            self.update()

    def lie(self, rect: QRectF, *, good: bool, grain_along_x: bool | None) -> None:
        """Lie at a rectangle of the scene; say with the outline whether it may."""
        self._rect, self._good, self._along_x = rect, good, grain_along_x
        self.bound(rect, 4.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint the part: solid outline where it fits, thick dashes where it does not."""
        theme, rect = self.theme, self._rect
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(rect, pens.brush(self._ground, 225))
        painter.setPen(pens.pen(theme.grain_heavy, alpha=120))
        painter.drawLines(self._grain())
        dashes = Qt.PenStyle.SolidLine if self._good else Qt.PenStyle.DashLine
        painter.setPen(
            pens.pen(theme.accent if self._good else theme.warning, self.line_px, dashes)
        )
        painter.drawRect(rect)
        self._paint_words(painter, QRectF() if widget is None else QRectF(widget.rect()))

    @property
    def _ground(self) -> str:
        return self._fill if self._good else self.theme.warning_wash

    def _grain(self) -> list[QLineF]:
        """Return a few lines the way the grain of the sheet runs through it."""
        rect = self._rect
        if self._along_x is None:
            return []
        parts = [index / 6 for index in range(1, 6)]
        if self._along_x:
            ys = [rect.top() + part * rect.height() for part in parts]
            return [QLineF(rect.left(), y, rect.right(), y) for y in ys]
        xs = [rect.left() + part * rect.width() for part in parts]
        return [QLineF(x, rect.top(), x, rect.bottom()) for x in xs]

    def _paint_words(self, painter: QPainter, sight: QRectF) -> None:
        """Write name and size where they are seen whole: inside the part and in sight."""
        there = painter.worldTransform().mapRect(self._rect)
        seen = there.intersected(sight) if sight.isValid() else there
        taken = [_space(painter.worldTransform().mapRect(one)) for one in self._taken]
        widths = [pens.em_width(line, bold=True) for line in self._lines]
        fitted = fit(self._lines, widths, _space(seen), SIZES_PX, taken)
        if fitted is not None:
            painter.save()
            painter.resetTransform()
            # What lies below shows through the part, but not its words through these.
            paint_patches(painter, fitted, self._ground, bold=True)
            paint_lines(painter, fitted, (self.theme.graphite, self.theme.graphite))
            painter.restore()


def _space(rect: QRectF) -> Space:
    return Space(x=rect.x(), y=rect.y(), length=rect.width(), width=rect.height())


class Lifted(Overlay):
    """The empty place a part was taken from."""

    def __init__(self, theme: Theme, rect: QRectF) -> None:
        super().__init__(theme, ABOVE_SHEETS + 1)
        self._rect = rect
        self.bound(rect)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint a washed-out place with a dotted border."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(self._rect, pens.brush(self.theme.paper, 190))
        painter.setPen(pens.pen(self.theme.pencil, 1.0, Qt.PenStyle.DotLine))
        painter.drawRect(self._rect)


class Troubled(Overlay):
    """Outlines of the parts that stand in the way of the one in the hand."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, ABOVE_SHEETS + 2)
        self._rects: list[QRectF] = []

    def show_rects(self, rects: list[QRectF]) -> None:
        """Outline these rectangles of the scene, and no others."""
        if rects == self._rects:
            return
        self._rects = rects
        self.bound(united(rects), 4.0 if rects else 0.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint heavy dashes."""
        painter.setPen(pens.pen(self.theme.warning, 2.5, Qt.PenStyle.DashLine))
        for rect in self._rects:
            painter.drawRect(rect)


class Lines(Overlay):
    """Lines of the scene: what a part snapped to, or where a strip would go in."""

    def __init__(self, theme: Theme, *, heavy: bool = False) -> None:
        super().__init__(theme, IN_HAND + 1)
        self._lines: list[QLineF] = []
        self._heavy = heavy

    def show_lines(self, lines: list[QLineF]) -> None:
        """Show these lines of the scene, and no others."""
        if lines == self._lines:
            return
        self._lines = lines
        bounds = united(QRectF(line.p1(), line.p2()).normalized() for line in lines)
        self.bound(bounds, 4.0 if lines else 0.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint thin dashes, or one heavy line."""
        dashes = Qt.PenStyle.SolidLine if self._heavy else Qt.PenStyle.DashLine
        painter.setPen(pens.pen(self.theme.accent, 4.0 if self._heavy else 1.0, dashes))
        painter.drawLines(self._lines)

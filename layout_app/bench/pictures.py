"""Painted sheets, kept as pictures, and how much painting one frame may take.

A sheet that is painted sharp at the scale of now is shown as it is. While the maker zooms, and
where a frame has no time left, the picture of before is stretched; the view paints what is
owed in the frames that follow.
"""

import math
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPixmap, QTransform

PICTURES_KB = 96 * 1024
"""Room for painted sheets, so that a drag or a way back need not paint them again."""
FRAME_S = 0.008
"""What one frame may spend on painting sheets sharp; the first one is always painted."""
WHOLE = 1.5
"""A sheet up to so many times as large as what is in sight is painted whole."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """A painted sheet, or the part of it about what was in sight.

    Attributes
    ----------
    scale, ratio
        Pixels a millimetre, and dots of the screen a pixel.
    left, top
        Where it begins, in dots from the sheet's reference corner.
    of
        The item that painted it.
    lie
        What lay there: a picture may stand in while only numbers or words differ.
    """

    pixmap: QPixmap
    scale: float
    ratio: float
    left: int
    top: int
    of: object
    lie: object

    @property
    def area(self) -> QRectF:
        """What it shows, in millimetres from the reference corner."""
        dots = self.scale * self.ratio
        size = self.pixmap.width() / dots, self.pixmap.height() / dots
        return QRectF(self.left / dots, self.top / dots, *size)

    @property
    def kb(self) -> int:
        """The memory it takes."""
        return self.pixmap.width() * self.pixmap.height() * 4 // 1024

    def show(self, painter: QPainter) -> None:
        """Show it dot by dot; the painter's origin is the reference corner."""
        corner, ratio = painter.worldTransform().map(QPointF(0.0, 0.0)), self.ratio
        at = QPointF(
            (round(corner.x() * ratio) + self.left) / ratio,
            (round(corner.y() * ratio) + self.top) / ratio,
        )
        painter.save()
        painter.setWorldTransform(QTransform())
        painter.drawPixmap(at, self.pixmap)
        painter.restore()

    def stretch(self, painter: QPainter) -> None:
        """Show it at the painter's scale, which is another than its own."""
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, self.ratio < 1.5)
        painter.drawPixmap(self.area, self.pixmap, QRectF(self.pixmap.rect()))


def take(
    paint: Callable[[QPainter, QRectF], None],
    bounds: QRectF,
    sight: QRectF,
    scale: tuple[float, float],
    paper: QColor,
) -> tuple[QPixmap, int, int]:
    """Paint a sheet on paper, whole or about what is in sight.

    Parameters
    ----------
    paint
        Paints the sheet within a rectangle in millimetres.
    bounds, sight
        The sheet with its margins, and what the view shows, in millimetres from the
        reference corner.
    scale
        Pixels a millimetre, and dots of the screen a pixel.

    Returns
    -------
    tuple
        The picture, and where it begins in dots from the reference corner.
    """
    dots, ratio = scale[0] * scale[1], scale[1]
    area = _worth_painting(bounds, sight)
    left, top = math.floor(area.left() * dots), math.floor(area.top() * dots)
    right, bottom = math.ceil(area.right() * dots), math.ceil(area.bottom() * dots)
    pixmap = QPixmap(max(1, right - left), max(1, bottom - top))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(paper)
    painter = QPainter(pixmap)
    painter.translate(-left / ratio, -top / ratio)
    painter.scale(scale[0], scale[0])
    paint(painter, area)
    painter.end()
    return pixmap, left, top


def _worth_painting(bounds: QRectF, sight: QRectF) -> QRectF:
    """Return the whole sheet, or of a large one what is in sight and half as much around it."""
    if bounds.width() * bounds.height() <= WHOLE * sight.width() * sight.height():
        return bounds
    dx, dy = sight.width() / 2, sight.height() / 2
    return bounds.intersected(sight.adjusted(-dx, -dy, dx, dy))


class Darkroom:
    """Keeps the pictures, and says when there is time to paint another."""

    def __init__(self) -> None:
        self._pictures: OrderedDict[str, Picture] = OrderedDict()
        self._until = math.inf
        self._held = False
        self.patient = False
        """Whether a frame may take as long as it takes."""
        self.sight = QRectF()
        """What the view shows, in the scene."""
        self.owing = False
        """Whether something in sight was not painted sharp in this frame."""

    def begin(self, sight: QRectF) -> None:
        """Begin a frame that shows a rectangle of the scene."""
        self.sight, self.owing = sight, False
        self._until = time.perf_counter() + FRAME_S

    def hold(self) -> None:
        """Paint nothing sharp until `release`."""
        self._held = True

    def release(self) -> None:
        """Let sheets be painted sharp again."""
        self._held = False

    def may_paint(self) -> bool:
        """Say whether this frame has time for another sheet; if not, it is owed."""
        may = self.patient or (not self._held and time.perf_counter() < self._until)
        self.owing |= not may
        return may

    def picture(self, sheet: str) -> Picture | None:
        """Return what is kept of a sheet."""
        if sheet in self._pictures:
            self._pictures.move_to_end(sheet)
        return self._pictures.get(sheet)

    def keep(self, sheet: str, picture: Picture) -> None:
        """Keep the picture of a sheet; those that were not shown for longest make room."""
        self._pictures[sheet] = picture
        self._pictures.move_to_end(sheet)
        pictures = self._pictures.values()
        while len(pictures) > 1 and sum(one.kb for one in pictures) > PICTURES_KB:
            self._pictures.popitem(last=False)

    def clear(self) -> None:
        """Forget all pictures."""
        self._pictures.clear()

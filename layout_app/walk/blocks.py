"""Blocks of words at one size of type: how high they are at it, and their painting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from layout_app.look import pens
from layout_app.look.signs import paint_danger, paint_handling
from layout_app.walk.colours import Colours
from layout_app.walk.lettering import LEAST_PX

_WRAPPED: Final = int(
    Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
)
GAP: Final = 0.22
"""Between rows, in sizes of their type."""
BETWEEN: Final = 1.2
"""Between columns, and beside a heading."""
INSIDE: Final = 0.35
"""Free inside of the ground of dangers, on all sides."""


class Block(Protocol):
    """Words that take a height at a width and a size of type, all in pixels."""

    def height(self, width: float, size: int) -> float:
        """Return how high it is."""

    def write(
        self, painter: QPainter, corner: QPointF, width: float, size: int, colours: Colours
    ) -> None:
        """Paint it below a corner."""


def fitting(block: Block, width: float, height: float, most: float) -> int:
    """Return the largest size of type at which a block fits, never under the least one."""
    size = max(LEAST_PX, int(most))
    while size > LEAST_PX and block.height(width, size) > height:
        size -= 1
    return size


@dataclass(frozen=True, slots=True)
class Rows:
    """Words below each other, each behind its heading in a column of headings."""

    rows: Sequence[tuple[str, str]]

    def _beside(self, size: int) -> float:
        """Return how far from the left the words stand."""
        metrics = QFontMetricsF(pens.font(size))
        widest = max((metrics.horizontalAdvance(name) for name, _ in self.rows), default=0.0)
        return widest + BETWEEN / 2 * size if widest else 0.0

    def heights(self, width: float, size: int) -> list[float]:
        """Return how high each row is, with the gap below it."""
        metrics, beside = QFontMetricsF(pens.font(size)), self._beside(size)
        room = QRectF(0, 0, max(1.0, width - beside), 1e5)
        high = [metrics.boundingRect(room, _WRAPPED, said).height() for _, said in self.rows]
        return [one + GAP * size for one in high]

    def height(self, width: float, size: int) -> float:
        """Return how high all of them are."""
        return sum(self.heights(width, size))

    def write(
        self, painter: QPainter, corner: QPointF, width: float, size: int, colours: Colours
    ) -> None:
        """Paint them below a corner."""
        painter.setFont(pens.font(size))
        y, beside = corner.y(), self._beside(size)
        for (name, said), high in zip(self.rows, self.heights(width, size), strict=True):
            painter.setPen(pens.colour(colours.quiet))
            painter.drawText(QRectF(corner.x(), y, beside, high), _WRAPPED, name)
            painter.setPen(pens.colour(colours.ink))
            room = QRectF(corner.x() + beside, y, width - beside, high)
            painter.drawText(room, _WRAPPED, said)
            y += high


@dataclass(frozen=True, slots=True)
class Columns:
    """Rows in two columns, read down the first, parted where both are most nearly as high."""

    rows: Sequence[tuple[str, str]]

    def _parted(self, width: float, size: int) -> tuple[Rows, Rows]:
        column = self._column(width, size)
        high = Rows(self.rows).heights(column, size)
        places = range(len(high) + 1)
        at = min(places, key=lambda place: max(sum(high[:place]), sum(high[place:])))
        return Rows(self.rows[:at]), Rows(self.rows[at:])

    def _column(self, width: float, size: int) -> float:
        return (width - BETWEEN * size) / 2

    def height(self, width: float, size: int) -> float:
        """Return how high the higher one is."""
        column = self._column(width, size)
        return max(one.height(column, size) for one in self._parted(width, size))

    def write(
        self, painter: QPainter, corner: QPointF, width: float, size: int, colours: Colours
    ) -> None:
        """Paint both below a corner."""
        column = self._column(width, size)
        for place, rows in enumerate(self._parted(width, size)):
            along = QPointF(place * (column + BETWEEN * size), 0)
            rows.write(painter, corner + along, column, size, colours)


@dataclass(frozen=True, slots=True)
class Cautions:
    """Dangers on a ground of their own, each behind its sign; what is handling, quietly below."""

    dangers: Sequence[str]
    handling: Sequence[str]

    def height(self, width: float, size: int) -> float:
        """Return how high both are."""
        found = sum(self._heights(self.dangers, width, size))
        found += 3 * INSIDE * size if self.dangers else 0.0
        found += INSIDE * size if self.handling else 0.0
        return found + sum(self._heights(self.handling, width, size))

    def _heights(self, said: Sequence[str], width: float, size: int) -> list[float]:
        return Rows([("", one) for one in said]).heights(width - self._beside(size), size)

    @staticmethod
    def _beside(size: int) -> float:
        """Return how far from both edges the words stand."""
        return 2.2 * size

    def write(
        self, painter: QPainter, corner: QPointF, width: float, size: int, colours: Colours
    ) -> None:
        """Paint them below a corner."""
        y = corner.y()
        if self.dangers:
            tall = sum(self._heights(self.dangers, width, size)) + 2 * INSIDE * size
            ground = pens.brush(colours.alarm_ground)
            painter.fillRect(QRectF(corner.x(), y, width, tall), ground)
            y += INSIDE * size
        for said, danger in ((self.dangers, True), (self.handling, False)):
            y += 0.0 if danger or not said else INSIDE * size
            for one, high in zip(said, self._heights(said, width, size), strict=True):
                row = QRectF(corner.x(), y, width, high)
                _sign(painter, row, size, colours, danger=danger)
                painter.setFont(pens.font(size))
                painter.setPen(pens.colour(colours.alarm if danger else colours.ink))
                painter.drawText(row.adjusted(2.0 * size, 0, -0.2 * size, 0), _WRAPPED, one)
                y += high
            y += INSIDE * size if danger and said else 0.0


def _sign(painter: QPainter, row: QRectF, size: int, colours: Colours, *, danger: bool) -> None:
    box = QRectF(row.left() + 0.4 * size, row.top(), 1.15 * size, 1.15 * size)
    if danger:
        paint_danger(painter, box, colours.alarm, colours.alarm_ground)
    else:
        paint_handling(painter, box, colours.quiet)


@dataclass(frozen=True, slots=True)
class Stacked:
    """Blocks below each other."""

    blocks: Sequence[Block]

    def height(self, width: float, size: int) -> float:
        """Return how high all of them are."""
        return sum(block.height(width, size) for block in self.blocks)

    def write(
        self, painter: QPainter, corner: QPointF, width: float, size: int, colours: Colours
    ) -> None:
        """Paint them below a corner."""
        y = corner.y()
        for block in self.blocks:
            block.write(painter, QPointF(corner.x(), y), width, size, colours)
            y += block.height(width, size)

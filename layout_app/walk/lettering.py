"""Type as large as its box allows: nothing is cut off, long words become smaller."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from layout_app.look import pens

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
CENTRE = Qt.AlignmentFlag.AlignCenter
LEAST_PX = 12
"""Smaller type is no use at the sawhorses."""


def pen(colour: str, width_px: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """Return a pen as wide on every screen, however dense its pixels are."""
    made = QPen(pens.colour(colour), width_px, style)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return made


def write(
    painter: QPainter,
    box: QRectF,
    words: str,
    colour: str,
    *,
    align: Qt.AlignmentFlag = LEFT,
    bold: bool = False,
    most_px: float = 1000.0,
    fill: float = 0.82,
) -> None:
    """Write one line as large as fits; ``fill`` is how tall type may be in its box."""
    size = _fitting(words, box.width(), min(most_px, box.height() * fill), bold=bold)
    painter.setFont(pens.font(size, bold=bold))
    painter.setPen(pens.colour(colour))
    painter.drawText(box, int(align | Qt.TextFlag.TextDontClip), words)


def write_lines(
    painter: QPainter,
    box: QRectF,
    lines: Sequence[str],
    colour: str,
    *,
    most_px: float,
    gap: float = 0.35,
) -> None:
    """Write paragraphs from the top of a box, as large as lets all of them in."""
    flags = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
    size = int(most_px)
    while size > LEAST_PX and _height(lines, box.width(), size, gap, flags) > box.height():
        size -= 1
    painter.setFont(pens.font(size))
    painter.setPen(pens.colour(colour))
    y = box.top()
    for line in lines:
        height = _height([line], box.width(), size, 0.0, flags)
        painter.drawText(QRectF(box.left(), y, box.width(), height), flags, line)
        y += height + gap * size


def _fitting(words: str, width: float, most: float, *, bold: bool) -> int:
    """Return the largest size at which words fit a width, in pixels."""
    size = max(LEAST_PX, int(most))
    wide = QFontMetricsF(pens.font(size, bold=bold)).horizontalAdvance(words)
    while wide > width and size > LEAST_PX:
        size = max(LEAST_PX, min(size - 1, int(size * width / wide)))
        wide = QFontMetricsF(pens.font(size, bold=bold)).horizontalAdvance(words)
    return size


def _height(lines: Sequence[str], width: float, size: int, gap: float, flags: int) -> float:
    metrics = QFontMetricsF(pens.font(size))
    room = QRectF(0, 0, width, 1e5)
    heights = [metrics.boundingRect(room, flags, line).height() for line in lines]
    return sum(heights) + gap * size * max(0, len(lines) - 1)

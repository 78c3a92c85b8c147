"""Items painted by Qt: on a page of a PDF, on a printer, into a picture, on the screen."""

from collections.abc import Iterable
from functools import cache, singledispatch

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from layout_app.paper import ink
from layout_app.paper.plain import one_line

FAMILIES = ("Helvetica", "Arial", "sans-serif")
_PIXELS = 100
"""Fonts are set at this size and scaled: their sizes may be no fractions."""
_BEFORE = {ink.Anchor.START: 0.0, ink.Anchor.MIDDLE: 0.5, ink.Anchor.END: 1.0}


def paint(painter: QPainter, page: ink.Page, dots_in_mm: float) -> None:
    """Paint a page whose corner is the painter's origin.

    ``dots_in_mm`` is how many of the painter's units are one millimetre.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(dots_in_mm, dots_in_mm)
    paint_items(painter, page.items)
    painter.restore()


def paint_items(painter: QPainter, items: Iterable[ink.Item]) -> None:
    """Paint items, a millimetre of theirs for each unit of the painter."""
    for item in items:
        _draw(item, painter)


@singledispatch
def _draw(item: object, painter: QPainter) -> None:
    """Put one item; each kind in its own way."""
    raise TypeError(f"no such item: {item!r}")


@_draw.register
def _group(item: ink.Group, painter: QPainter) -> None:
    painter.save()
    painter.translate(item.x, item.y)
    painter.scale(item.scale, item.scale)
    paint_items(painter, item.items)
    painter.restore()


@_draw.register
def _plate(item: ink.Plate, painter: QPainter) -> None:
    box = QRectF(item.x, item.y, item.length, item.width)
    painter.setPen(_pen(item.pen))
    painter.setBrush(_brush(item.fill, item.opacity))
    painter.drawRect(box)


@_draw.register
def _strokes(item: ink.Strokes, painter: QPainter) -> None:
    path = QPainterPath()
    for line in item.lines:
        path.moveTo(*line[0])
        for spot in line[1:]:
            path.lineTo(*spot)
    painter.setPen(_pen(item.pen))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path)


@_draw.register
def _patch(item: ink.Patch, painter: QPainter) -> None:
    path = QPainterPath()
    for outline in item.outlines:
        path.moveTo(*outline[0])
        for spot in outline[1:]:
            path.lineTo(*spot)
        path.closeSubpath()
    painter.fillPath(path, _brush(item.fill))


@_draw.register
def _disc(item: ink.Disc, painter: QPainter) -> None:
    painter.setPen(_pen(item.pen))
    painter.setBrush(_brush(item.fill))
    painter.drawEllipse(QPointF(item.x, item.y), item.radius, item.radius)


@_draw.register
def _words(item: ink.Words, painter: QPainter) -> None:
    """Write a line; one the font makes longer than reckoned is squeezed into its room."""
    text, font = one_line(item.text), _font(item.bold)
    scale = item.size / _PIXELS
    natural = QFontMetricsF(font, painter.device()).horizontalAdvance(text) * scale
    squeeze = min(1.0, item.length / natural) if natural else 1.0
    painter.save()
    painter.translate(item.x, item.y)
    if item.turned:
        painter.rotate(-90)
    painter.translate(-_BEFORE[item.anchor] * natural * squeeze, ink.CAP_MIDDLE * item.size)
    painter.scale(scale * squeeze, scale)
    painter.setFont(font)
    painter.setPen(QColor(item.colour))
    painter.drawText(QPointF(0.0, 0.0), text)
    painter.restore()


@cache
def _font(bold: bool) -> QFont:
    font = QFont(list(FAMILIES))
    font.setStyleHint(QFont.StyleHint.SansSerif)
    font.setPixelSize(_PIXELS)
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


def _pen(pen: ink.Pen | None) -> QPen:
    if pen is None:
        return QPen(Qt.PenStyle.NoPen)
    drawn = QPen(_colour(pen.colour, pen.opacity), pen.width)
    drawn.setCapStyle(Qt.PenCapStyle.FlatCap)
    drawn.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if pen.dashes:
        drawn.setDashPattern([dash / pen.width for dash in pen.dashes])
    return drawn


def _brush(fill: str, opacity: float = 1.0) -> QBrush:
    if not fill:
        return QBrush(Qt.BrushStyle.NoBrush)
    return QBrush(_colour(fill, opacity))


def _colour(name: str, opacity: float) -> QColor:
    colour = QColor(name)
    colour.setAlphaF(opacity)
    return colour

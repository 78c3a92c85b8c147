"""Pens, brushes, fonts and written words of the bench, made once per theme."""

from functools import cache, lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPen, QStaticText

from layout_app.look.theme import Theme


@cache
def colour(name: str, alpha: int = 255) -> QColor:
    """Return a colour of the theme by its ``#rrggbb``."""
    made = QColor(name)
    made.setAlpha(alpha)
    return made


@cache
def pen(
    name: str,
    width_px: float = 1.0,
    style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    alpha: int = 255,
) -> QPen:
    """Return a pen whose width does not change with the zoom."""
    made = QPen(colour(name, alpha), width_px, style)
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return made


@cache
def brush(name: str, alpha: int = 255) -> QBrush:
    """Return a plain brush."""
    return QBrush(colour(name, alpha))


@cache
def font(size_px: int, *, bold: bool = False) -> QFont:
    """Return the application's font at a size in pixels."""
    made = QFont()
    made.setPixelSize(size_px)
    made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return made


@lru_cache(maxsize=4096)
def em_width(words: str, *, bold: bool = False) -> float:
    """Return the width of words at text size 1."""
    return QFontMetricsF(font(40, bold=bold)).horizontalAdvance(words) / 40 * 1.03


@lru_cache(maxsize=1024)
def written(words: str, size_px: int, *, bold: bool = False) -> QStaticText:
    """Return words prepared for quick painting."""
    text = QStaticText(words)
    text.setTextFormat(Qt.TextFormat.PlainText)
    text.prepare(font=font(size_px, bold=bold))
    return text


def tint(theme: Theme, index: int | None) -> str:
    """Return the fill of a part by the index of its rip width."""
    return theme.wood if index is None else theme.tints[index % len(theme.tints)]

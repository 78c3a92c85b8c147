"""What goes on beyond the edges of a view fades out; it is not cut through."""

from typing import Final

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QColor, QLinearGradient, QPainter

FADE_PX: Final = 44
"""How wide the fading is."""


def fade(painter: QPainter, view: QRect, ground: str, *, left: bool, right: bool) -> None:
    """Let what is painted fade into the ground at the edges beyond which there is more."""
    if left:
        _fade(painter, view, ground, view.left(), view.left() + FADE_PX)
    if right:
        _fade(painter, view, ground, view.right() + 1, view.right() + 1 - FADE_PX)


def _fade(painter: QPainter, view: QRect, ground: str, edge: int, inside: int) -> None:
    """Fade out from a line inside to the edge, along x."""
    covering, clear = QColor(ground), QColor(ground)
    clear.setAlpha(0)
    shade = QLinearGradient(edge, 0, inside, 0)
    shade.setColorAt(0.0, covering)
    shade.setColorAt(0.25, covering)
    shade.setColorAt(1.0, clear)
    strip = QRectF(min(edge, inside), view.top(), FADE_PX, view.height())
    painter.fillRect(strip, shade)

"""Lines set into a room of fixed size, as large as lets all of them in."""

from collections.abc import Sequence
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF

from layout_app.look import pens

LEADING_PX = 1
"""From the foot of a line to the head of the next at least, with tightly set type."""


@lru_cache(maxsize=1024)
def set_in(
    words: tuple[str, ...], width: float, height: float, sizes: tuple[int, ...]
) -> tuple[int, float, tuple[str, ...]]:
    """Return size and pitch of the lines, in pixels, and the lines.

    What is too long for one line goes on in the next. Where even the least of ``sizes`` has no room
    for all, the longest is cut off with an ellipsis.
    """
    broken: list[list[str]] = []
    for pixels in sizes:
        broken = [_broken(one, width, pixels) for one in words]
        count = sum(map(len, broken))
        if count * (pixels + LEADING_PX) <= height and _widest(broken, pixels) <= width:
            return pixels, min(height / max(1, count), pixels + 5), tuple(_all(broken))
    pixels = sizes[-1]
    most = max(len(words), int(height / (pixels + LEADING_PX)))
    while sum(map(len, broken)) > most:
        longest = max(broken, key=len)
        longest[-2:] = [" ".join(longest[-2:])]
    metrics, mode = QFontMetricsF(pens.font(pixels)), Qt.TextElideMode.ElideRight
    lines = tuple(metrics.elidedText(line, mode, width) for line in _all(broken))
    return pixels, min(height / max(1, len(lines)), pixels + 5), lines


def _all(broken: Sequence[Sequence[str]]) -> list[str]:
    return [line for one in broken for line in one]


def _widest(broken: Sequence[Sequence[str]], pixels: int) -> float:
    metrics = QFontMetricsF(pens.font(pixels))
    return max(map(metrics.horizontalAdvance, _all(broken)), default=0.0)


def _broken(words: str, width: float, pixels: int) -> list[str]:
    """Break words into lines between words; one that is wider than the room stays whole."""
    metrics = QFontMetricsF(pens.font(pixels))
    lines: list[str] = []
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines

"""Hatching is cleared behind words, and nowhere else."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from layout_app.bench.lettering import paint_patches
from shared.drawing.lettering import LEADING, Fitted, Space

SIZE = 20
LINE = LEADING * SIZE
LONG = 300.0
"""More than the long line takes, in pixels."""


def patched(*, turned: bool) -> QImage:
    """Return black hatching with white patches for a short line before a long one."""
    ground = QImage(400, 400, QImage.Format.Format_RGB32)
    ground.fill(Qt.GlobalColor.black)
    across = 2 * LINE
    length, width = (across, LONG) if turned else (LONG, across)
    block = Space(x=50, y=50, length=length, width=width)
    fitted = Fitted(lines=("ab", "abcdefghijklmnop"), size=SIZE, turned=turned, block=block)
    painter = QPainter(ground)
    paint_patches(painter, fitted, "#ffffff", bold=False)
    painter.end()
    return ground


@pytest.mark.parametrize("turned", [False, True])
def test_a_patch_hugs_each_line(qapp: QApplication, turned: bool) -> None:
    """Beside the short line the hatching stays; behind it and behind the long one it goes."""
    del qapp
    picture = patched(turned=turned)

    def clear(along: float, line: float) -> bool:
        across = 50 + line * LINE
        at = (across, 50 + LONG - along) if turned else (50 + along, across)
        return picture.pixelColor(round(at[0]), round(at[1])) == QColor("white")

    assert clear(10, 0.5)
    assert clear(10, 1.5)
    assert clear(SIZE * 4, 1.5)
    assert not clear(SIZE * 4, 0.5), "two letters are no wider than two text sizes"
    assert not clear(10, 2.5)

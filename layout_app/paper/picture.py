"""A sheet as a picture of dots: PNG bytes, or an image for the clipboard."""

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, Qt
from PySide6.QtGui import QImage, QImageWriter, QPainter

from layout_app.paper import ink
from layout_app.paper.fonts import with_fonts
from layout_app.paper.painting import paint

LONGEST = 3000
"""Dots along the longer side."""


def image_of(page: ink.Page, longest: int = LONGEST) -> QImage:
    """Paint a page into an image on white; needs a Qt application, for the fonts."""
    dots = longest / max(page.length, page.width)
    image = QImage(
        max(1, round(page.length * dots)),
        max(1, round(page.width * dots)),
        QImage.Format.Format_RGB32,
    )
    image.setDotsPerMeterX(round(dots * 1000))
    image.setDotsPerMeterY(round(dots * 1000))
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    paint(painter, page, dots)
    painter.end()
    return image


def png(page: ink.Page, longest: int = LONGEST) -> bytes:
    """Return the same as the bytes of a PNG; its dots to the metre give the true size."""
    with_fonts()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(image_of(page, longest))
    return bytes(buffer.data().data())

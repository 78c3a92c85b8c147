"""Pictures of files by renderers that are not ours, as rows of grey from 0 to 255."""

from functools import cache
from math import ceil

import numpy as np
import pypdfium2 as pdfium
import resvg_py
from numpy.typing import NDArray
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QFont, QFontInfo, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

Picture = NDArray[np.float32]


def by_resvg(text: str, length: int) -> Picture:
    """Draw an SVG with resvg; letters of the family that Qt takes too, or it would draw none."""
    family = QFontInfo(QFont(["Helvetica", "Arial", "sans-serif"])).family().partition(" [")[0]
    drawn = resvg_py.svg_to_bytes(svg_string=text, width=length, dpi=96.0, sans_serif_family=family)
    return greys(QImage.fromData(QByteArray(bytes(drawn))))


def by_qt(text: str, length: int) -> Picture:
    """Draw an SVG with Qt."""
    renderer = QSvgRenderer(QByteArray(text.encode()))
    box = renderer.viewBoxF()
    picture = QImage(length, ceil(length * box.height() / box.width()), QImage.Format.Format_RGB32)
    picture.fill(0xFFFFFF)
    painter = QPainter(picture)
    renderer.render(painter)
    painter.end()
    return greys(picture)


@cache
def by_pdfium(content: bytes, number: int, length: int) -> Picture:
    """Draw a page of a PDF with PDFium."""
    page = pdfium.PdfDocument(content)[number]
    drawn = page.render(scale=length / page.get_width(), grayscale=True).to_numpy()
    return np.asarray(drawn).squeeze().astype(np.float32)


def greys(picture: QImage) -> Picture:
    """Return a picture as rows of grey."""
    made = picture.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(bytes(made.constBits()), np.uint8).reshape(made.height(), -1)
    return rows[:, : made.width()].astype(np.float32)


def most_apart(one: Picture, other: Picture, tile: int) -> float:
    """Return how much two pictures differ in that tile of so many dots where they do most.

    Each tile counts with its mean grey, so that the edge of a line may be soft in one of them.
    """
    rows, columns = (min(a, b) // tile * tile for a, b in zip(one.shape, other.shape, strict=True))
    apart = (one[:rows, :columns] - other[:rows, :columns]).reshape(
        rows // tile, tile, columns // tile, tile
    )
    return float(np.abs(apart.mean(axis=(1, 3))).max())

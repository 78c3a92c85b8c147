"""Pages as a PDF: text stays text, fonts are embedded."""

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter

from layout_app.paper import ink
from layout_app.paper.fonts import with_fonts
from layout_app.paper.painting import paint

RESOLUTION = 1200
"""Dots to the inch: finer than any printer's."""
MM_IN_INCH = 25.4


def pdf(pages: Sequence[ink.Page], title: str) -> bytes:
    """Return pages as the bytes of a PDF; each page has its own size."""
    with_fonts()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(RESOLUTION)
    writer.setTitle(title)
    writer.setCreator("Ripfirst")
    writer.setPageLayout(page_layout(pages[0]))
    painter = QPainter(writer)
    for number, page in enumerate(pages):
        if number:
            writer.setPageLayout(page_layout(page))
            writer.newPage()
        paint(painter, page, RESOLUTION / MM_IN_INCH)
    painter.end()
    return bytes(buffer.data().data())


def page_layout(page: ink.Page) -> QPageLayout:
    """Return how a page lies: its size, without margins, for its items keep their own."""
    upright = QSizeF(min(page.length, page.width), max(page.length, page.width))
    size = QPageSize(upright, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch)
    lying = page.length > page.width
    way = QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait
    return QPageLayout(size, way, QMarginsF(), QPageLayout.Unit.Millimeter)

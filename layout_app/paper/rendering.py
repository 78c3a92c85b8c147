"""Pages as a PDF, in which text stays text, and as pictures of dots; Qt paints both."""

import os
from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QPointF, QSizeF, Qt
from PySide6.QtGui import (
    QGuiApplication,
    QImage,
    QImageWriter,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
)

from layout_app.paper import ink
from layout_app.paper.day import day_of_pages
from layout_app.paper.painting import paint
from layout_app.paper.pdf_document import finished_pdf
from layout_app.paper.pdf_structure import NUMBERED


def with_fonts() -> None:
    """See that there is a Qt application; one that is made here needs no display."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _KEPT.append(QGuiApplication(["ripfirst"]))


_KEPT: list[QGuiApplication] = []
"""An application that nobody holds is gone at once, and its fonts with it."""


RESOLUTION = 1200
"""Dots to the inch: finer than any printer's."""
MM_IN_INCH = 25.4
NO_METADATA = b" "
"""Qt writes some with the time of day where none is given."""


def pdf(pages: Sequence[ink.Page], title: str, day: date | None = None) -> bytes:
    """Return pages as the bytes of a PDF made on a day; each page has its own size."""
    with_fonts()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(RESOLUTION)
    writer.setDocumentXmpMetadata(QByteArray(NO_METADATA))
    writer.setPageLayout(page_layout(pages[0]))
    painter = _Numbering(writer)
    for number, page in enumerate(pages):
        if number:
            writer.setPageLayout(page_layout(page))
            writer.newPage()
        painter.begin_page()
        paint(painter, page, RESOLUTION / MM_IN_INCH)
    painter.end()
    return finished_pdf(bytes(buffer.data().data()), pages, title, day or day_of_pages())


class _Numbering(QPainter):
    """Numbers words page by page, for `pdf_structure`: by a width of pen that no letter uses."""

    def __init__(self, writer: QPdfWriter) -> None:
        super().__init__(writer)
        self._count = 0

    def begin_page(self) -> None:
        """Number the next words as the first."""
        self._count = 0

    def drawText(self, at: QPointF, text: str) -> None:  # type: ignore[override] # what is used  # noqa: N802 - Qt's
        pen = QPen(self.pen())
        pen.setWidthF(NUMBERED + self._count)
        self._count += 1
        self.setPen(pen)
        super().drawText(at, text)


def page_layout(page: ink.Page) -> QPageLayout:
    """Return how a page lies: its size, without margins, for its items keep their own."""
    upright = QSizeF(min(page.length, page.width), max(page.length, page.width))
    size = QPageSize(upright, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch)
    lying = page.length > page.width
    way = QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait
    return QPageLayout(size, way, QMarginsF(), QPageLayout.Unit.Millimeter)


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

"""Pages on a printer, each on paper of its own size."""

from collections.abc import Sequence

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from layout_app.paper import ink
from layout_app.paper.pack.book import Paper
from layout_app.paper.painting import paint
from layout_app.paper.rendering import MM_IN_INCH


def set_up(printer: QPrinter, title: str, paper: Paper) -> None:
    """Name what is printed, and wish a size of paper; pages keep margins of their own."""
    printer.setDocName(title or "Cut pack")
    printer.setPageSize(QPageSize(QSizeF(*paper.value), QPageSize.Unit.Millimeter))
    printer.setFullPage(True)


def print_pages(printer: QPrinter, pages: Sequence[ink.Page]) -> None:
    """Paint pages on a printer, those the dialog asked for; what lies is turned on its paper.

    Printers and the preview keep one orientation for all pages, and cut off what is wider.
    """
    first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
    wanted = pages[first - 1 : last]
    if not wanted:
        return
    printer.setFullPage(True)
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    dots_in_mm = printer.resolution() / MM_IN_INCH
    painter = QPainter(printer)
    for number, page in enumerate(wanted):
        if number:
            printer.newPage()
        _paint_upright(painter, page, dots_in_mm)
    painter.end()


def _paint_upright(painter: QPainter, page: ink.Page, dots_in_mm: float) -> None:
    """Paint a page, a quarter turned to the left if it is wider than high."""
    painter.save()
    if page.length > page.width:
        painter.translate(0.0, page.length * dots_in_mm)
        painter.rotate(-90)
    paint(painter, page, dots_in_mm)
    painter.restore()

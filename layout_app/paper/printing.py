"""Pages on a printer, each on paper of its own size."""

from collections.abc import Sequence

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from layout_app.paper import ink
from layout_app.paper.pack.book import Paper
from layout_app.paper.painting import paint
from layout_app.paper.pdf import MM_IN_INCH, page_layout


def set_up(printer: QPrinter, title: str, paper: Paper) -> None:
    """Name what is printed, and wish a size of paper; pages keep margins of their own."""
    printer.setDocName(title or "Cut pack")
    printer.setPageSize(QPageSize(QSizeF(*paper.value), QPageSize.Unit.Millimeter))
    printer.setFullPage(True)


def print_pages(printer: QPrinter, pages: Sequence[ink.Page]) -> None:
    """Paint pages on a printer, those the dialog asked for."""
    first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
    wanted = pages[first - 1 : last]
    if not wanted:
        return
    printer.setFullPage(True)
    printer.setPageOrientation(page_layout(wanted[0]).orientation())
    painter = QPainter(printer)
    for number, page in enumerate(wanted):
        if number:
            printer.setPageOrientation(page_layout(page).orientation())
            printer.newPage()
        paint(painter, page, printer.resolution() / MM_IN_INCH)
    painter.end()

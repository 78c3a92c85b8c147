"""The pages as they will be printed, to be looked at before."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtPrintSupport import QPrinter, QPrintPreviewWidget
from PySide6.QtWidgets import QDialog, QPushButton, QWidget

from layout_app.look.as_typed import Label
from layout_app.panels.widgets import BARE, across, button, down
from layout_app.paper import ink
from layout_app.paper.printing import print_pages

SHARE: Final = 0.9
"""How much of the window behind it the preview takes at first."""
LEAST: Final = (660, 420)
BLACK: Final = "QGraphicsView { color: black; }"
"""What pages begin to be drawn in; the ink of a dark theme is pale."""
STEP: Final = 1.25
"""How much larger pages get with each press."""


class Preview(QDialog):
    """Shows all pages; it is accepted when they are to be printed."""

    def __init__(self, printer: QPrinter, pages: Sequence[ink.Page], parent: QWidget) -> None:
        super().__init__(parent)
        self._pages, self._printer = pages, printer  # the view does not keep its printer alive
        self.setWindowTitle("Cut pack")
        self.view = QPrintPreviewWidget(printer, self)
        self.view.setAccessibleName("Pages of the cut pack")
        self.view.setStyleSheet(BLACK)
        self.view.paintRequested.connect(self._paint)
        self.view.previewChanged.connect(self._show_page)
        self.before = self._button("‹", "Page before", "PgUp", lambda: self.turn_by(-1))
        self.counter = Label(parent=self)
        self.after = self._button("›", "Page after", "PgDown", lambda: self.turn_by(1))
        self.whole = self._button("Whole page", "All of a page", "Ctrl+9", self.view.fitInView)
        self.wide = self._button("Whole width", "A page across", "Ctrl+0", self.view.fitToWidth)
        self.farther = self._button("−", "Farther", "Ctrl+-", lambda: self.view.zoomOut(STEP))
        self.nearer = self._button("+", "Nearer", "Ctrl++", lambda: self.view.zoomIn(STEP))
        self.print = self._button("Print…", "Choose a printer", "Ctrl+P", self.accept)
        self.print.setObjectName("chiefButton")
        self.close_button = self._button("Close", "Print nothing", "Esc", self.reject)
        self._arrange()
        size = parent.size() * SHARE
        self.setMinimumSize(*LEAST)
        self.resize(max(LEAST[0], size.width()), max(LEAST[1], size.height()))

    def turn_by(self, pages: int) -> None:
        """Go so many pages on, or back."""
        wanted = self.view.currentPage() + pages
        self.view.setCurrentPage(min(max(wanted, 1), len(self._pages)))
        self._show_page()

    def _paint(self, printer: QPrinter) -> None:
        print_pages(printer, self._pages)

    def _show_page(self) -> None:
        """Say which page is in sight."""
        page, last = self.view.currentPage(), len(self._pages)
        self.counter.setText(f"{page} of {last}")
        self.before.setEnabled(page > 1)
        self.after.setEnabled(page < last)

    def _arrange(self) -> None:
        row = across(
            *(self.before, self.counter, self.after, self.whole, self.wide),
            *(self.farther, self.nearer, None, self.print, self.close_button),
            edges=(12, 8, 12, 8),
            gap=8,
        )
        row.insertSpacing(3, 16)
        down(row, (self.view, 1), on=self, edges=BARE, gap=0)

    def _button(self, words: str, tip: str, key: str, act: Callable[[], None]) -> QPushButton:
        """Return a button with a key of its own."""
        made = button(words, self, act, f"{tip} ({key})", enter=True)
        made.setAccessibleName(tip)
        shortcut = QShortcut(QKeySequence(key), self)
        shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
        shortcut.activated.connect(made.click)
        return made

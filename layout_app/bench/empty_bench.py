"""What stands on the bench while parts lie in the tray and no sheet does: how to go on."""

from itertools import pairwise

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from layout_app.bench.shelf import Shelf
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.theme import Theme

NO_SHEET = "No sheet lies here. A part dragged here opens one."


class EmptyBench(QWidget):
    """Says that no sheet lies on the bench, and does what leads on.

    It is there while parts lie in the tray, and goes while something is in the hand.
    """

    def __init__(self, document: Document, shelf: Shelf, theme: Theme, view: QWidget) -> None:
        super().__init__(view)
        self._document, self._shelf, self._view, self._port = document, shelf, view, QRect()
        self._words = Label(NO_SHEET)
        self._words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._box = QVBoxLayout(self)
        self._box.setSpacing(8)
        self._box.addWidget(self._words)
        self._back: QPushButton | None = None
        self._plan: QPushButton | None = None
        self.setAccessibleName(NO_SHEET)
        self.set_theme(theme)
        self.hide()
        for signal in (document.layout_changed, document.gestures.changed, shelf.resized):
            signal.connect(self.look)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._words.setStyleSheet(f"color: {theme.pencil}; font-weight: 600;")

    def offer(self, sheet: QAction, back: QAction, plan: QAction) -> None:
        """Offer what lays out a sheet, and what plans: parts set aside have to be put back."""
        first = self._add(sheet)
        self._back, self._plan = self._add(back), self._add(plan)
        tokens, ways = self._shelf.tokens, (first, self._back, self._plan)
        for one, after in pairwise((self._view, *ways, tokens, self._shelf.back)):
            QWidget.setTabOrder(one, after)
        self.look()

    def place(self, port: QRect) -> None:
        """Stand in the middle of the viewport, in pixels of the view."""
        self._port = port
        room = self.sizeHint()
        self.resize(min(room.width(), port.width()), room.height())
        middle = self.rect()
        middle.moveCenter(port.center())
        self.move(middle.topLeft())

    def look(self) -> None:
        """Be there or not, as the bench is now; keys at what goes are the bench's."""
        layout = self._document.layout
        shown = not (layout.sheets or self._shelf.is_thin or self._document.gestures.under_way)
        if self._back is not None and self._plan is not None:
            aside = bool(self._shelf.aside)
            self._back.setVisible(aside)
            self._plan.setVisible(not aside)
        here = QApplication.focusWidget()
        if not shown and here is not None and self.isAncestorOf(here):
            self._view.setFocus()
        self.setVisible(shown)
        if shown:
            self.place(self._port)

    def _add(self, action: QAction) -> QPushButton:
        """Add a button that does what an action does, and can be pressed while that can be used."""
        keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        button = QPushButton(f"{action.text().replace('&', '')} ({keys})", self)
        button.setToolTip(action.toolTip())
        button.setEnabled(action.isEnabled())
        button.clicked.connect(action.trigger)
        action.changed.connect(lambda: button.setEnabled(action.isEnabled()))
        self._box.addWidget(button)
        return button

"""Beside cards and table: all there is to say of the selected cut; else what is set for which."""

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent, QShowEvent, QTextOption
from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.sequence import SequenceView
from layout_app.panels.telling_words import cut_text, settings_spoken, settings_text

LEAST_WIDTH, MOST_WIDTH = 236, 400
"""In pixels."""
COLUMNS = 38
"""Figures that have to find room beside each other, for settings and cuts to be columns."""


class TellingPane(QTextBrowser):
    """Follows the selected cut; longer than the pane, it scrolls."""

    def __init__(
        self, document: Document, cards: SequenceView, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._cards, self._theme = document, cards, theme
        self._written = ""
        self.setObjectName("telling")
        self.setAccessibleName("What the selected cut says")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setWordWrapMode(QTextOption.WrapMode.WordWrap)  # never inside a size
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(LEAST_WIDTH)
        self.setMaximumWidth(MOST_WIDTH)
        self.document().setDocumentMargin(8)
        self.document().setDefaultStyleSheet("p { margin: 0 0 5px 0; }")
        document.selection.changed.connect(self.refresh)
        for changed in (
            document.layout_changed,
            document.job_changed,
            document.progress_changed,
        ):
            changed.connect(self.refresh_soon)

    def sizeHint(self) -> QSize:
        """Ask for no more height than the cards do."""
        return QSize(MOST_WIDTH, self.minimumSizeHint().height())

    def set_theme(self, theme: Theme) -> None:
        """Write in other colours."""
        self._theme = theme
        self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with the plan."""
        super().showEvent(event)
        self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Write anew if there is room for columns now, or no more."""
        super().resizeEvent(event)
        self.refresh()

    @property
    def is_narrow(self) -> bool:
        """Whether two columns would have too little room."""
        return self.viewport().width() < self.fontMetrics().horizontalAdvance("0") * COLUMNS

    def refresh_soon(self) -> None:
        """Write what is to be said, as soon as there is time."""
        QTimer.singleShot(0, self, self.refresh)

    def refresh(self) -> None:
        """Write what is to be said now; a pane that nobody sees waits until it is seen."""
        if not self.isVisible():
            return
        number, cards = self._document.selection.cut, self._cards.cards
        chosen = next((card for card in cards if card.number == number), None)
        if chosen is None:
            text = settings_text(cards, self._theme, narrow=self.is_narrow)
            self._write(text, settings_spoken(cards))
        else:
            self._write(cut_text(chosen, self._theme), chosen.spoken)

    def _write(self, text: str, spoken: str) -> None:
        if text != self._written:
            self._written = text
            self.setHtml(text)
        self.setAccessibleDescription(spoken)

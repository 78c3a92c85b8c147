"""A card below a table: as high as it needs, but never so high that the table goes."""

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

LEAST_PX = 120


class Below(QScrollArea):
    """Scrolls a card where there is too little room for all of it; gone while the card is."""

    def __init__(self, card: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._card = card
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.setVisible(not card.isHidden())
        self.setWidget(card)
        card.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the card: come and go with it, and take the height it needs."""
        if watched is self._card:
            if event.type() in (QEvent.Type.ShowToParent, QEvent.Type.HideToParent):
                self.setVisible(not self._card.isHidden())
            elif event.type() == QEvent.Type.LayoutRequest:
                self.updateGeometry()
        return super().eventFilter(watched, event)

    def sizeHint(self) -> QSize:
        """Return the room that the whole card needs at this width."""
        hint = self._card.sizeHint()
        width = self.viewport().width()
        height = self._card.heightForWidth(width) if self._card.hasHeightForWidth() else -1
        return QSize(hint.width(), max(height, hint.height() if height < 0 else 0))

    def minimumSizeHint(self) -> QSize:
        """Return the least that shows there is a card."""
        return QSize(0, min(LEAST_PX, self.sizeHint().height()))

"""A sentence across the window that stays as long as what it says is so."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from layout_app.look.as_typed import Label

ELSEWHERE = (
    "Another window has this project open, so its file is read-only here: saving asks for another"
    " name, and ticks are kept apart."
)


class Banner(QFrame):
    """Hidden until the project is open in another window too."""

    again = Signal()
    """The maker wants the project opened anew, in case the other window is closed now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("banner")
        self._sentence = Label(ELSEWHERE, self)
        self._sentence.setWordWrap(True)
        self.button = QPushButton("Open it again", self)
        self.button.setAccessibleDescription(ELSEWHERE)
        self.button.clicked.connect(self.again)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 5, 12, 5)
        row.addWidget(self._sentence, 1)
        row.addWidget(self.button)
        self.hide()

    @property
    def sentence(self) -> str:
        """What it says."""
        return self._sentence.text()

"""A question or a sentence across the window: nothing is blocked, work can go on."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from layout_app.look.as_typed import Label
from layout_app.look.unseen import Unseen

Answer = tuple[str, Callable[[], None]]
"""Text of a button, and what it does."""


class AskingBar(QFrame):
    """Hidden until there is something to ask; every answer hides it again.

    What is asked is asked of the project that is open, and is taken back with it, unless it
    stays: what another window left behind is asked about whatever is open.
    """

    asked = Signal(str)
    """A sentence is shown."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("asking")
        self._sentence = Label(parent=self)
        self._sentence.setWordWrap(True)
        self._answers: list[QPushButton] = []
        self._stays = False
        self._unseen = Unseen(self)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(12, 6, 12, 6)
        self._row.addWidget(self._sentence, 1)
        self.hide()

    @property
    def sentence(self) -> str:
        """What is asked."""
        return self._sentence.text()

    @property
    def answers(self) -> tuple[QPushButton, ...]:
        """The buttons, from left to right."""
        return tuple(self._answers)

    def ask(
        self,
        sentence: str,
        answers: Sequence[Answer],
        *,
        keys: bool = True,
        stays: bool = False,
    ) -> None:
        """Show a sentence and what can be answered; the first answer takes the keys if it may.

        What comes while the maker is at something else may not: the next key is meant for that.
        """
        self._forget()
        self._stays = stays
        self._sentence.setText(sentence)
        for text, act in answers:
            self._add(text, act)
        self.show()
        self.asked.emit(sentence)
        if keys:
            self._answers[0].setFocus()

    def say(self, sentence: str, *, keys: bool = True) -> None:
        """Show a sentence until it is put away."""
        self.ask(sentence, [("Put away", self.hide)], keys=keys)

    def take_back(self, sentence: str) -> None:
        """Show a sentence no more, if it is the one that is shown: it is no longer true."""
        if sentence and sentence == self.sentence:
            self.hide()

    def leave(self) -> None:
        """Take back what was asked of the project that was open."""
        if not self._stays:
            self.hide()
            self._forget()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put it away with Esc, which answers nothing."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
        else:
            super().keyPressEvent(event)

    def _add(self, text: str, act: Callable[[], None]) -> None:
        button = QPushButton(text, self)
        button.setAutoDefault(True)
        self._unseen.watch(button)
        button.setAccessibleDescription(self._sentence.text())
        button.clicked.connect(self.hide)
        button.clicked.connect(lambda _checked: act())
        self._row.addWidget(button)
        self._answers.append(button)

    def _forget(self) -> None:
        for button in self._answers:
            self._row.removeWidget(button)
            button.setEnabled(False)  # a click that comes late answers nothing
            button.hide()
            button.deleteLater()
        self._answers = []

"""A sentence, and a question where there is one, shown at the place it concerns."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QPushButton,
    QWidget,
)

from layout_app.look.as_typed import Label
from layout_app.look.unseen import Unseen
from layout_app.panels.widgets import across, button, down

Choice = tuple[str, Callable[[], None]]
"""Text of a button, and what it does."""


class Question(QFrame):
    """A small note that hangs below a widget, in its letters; no dialog, nothing waits for it.

    Arrow keys or Tab go through the choices, Enter takes one, Esc gives the keys back to
    the widget that asked.
    """

    def __init__(self, about: QWidget) -> None:
        super().__init__(about.window())
        self.setObjectName("question")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._about = about
        self._unseen = Unseen(self)
        self._sentence = Label(parent=self)
        self._sentence.setWordWrap(True)
        self._choices = across()
        self._column = down(self._sentence, self._choices, on=self, edges=(8, 6, 8, 6))
        about.destroyed.connect(self.deleteLater)
        about.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Go with the widget it hangs below, when that is hidden."""
        if event.type() == QEvent.Type.Hide and watched is self._about:
            self.hide()
        return super().eventFilter(watched, event)

    @property
    def sentence(self) -> str:
        """What is said."""
        return self._sentence.text()

    @property
    def buttons(self) -> list[QPushButton]:
        """The choices, from left to right."""
        return self.findChildren(QPushButton)

    def say(self, sentence: str, choices: Sequence[Choice] = ()) -> None:
        """Show a sentence, and the choices it offers; the first takes the keys."""
        self._forget()
        self._sentence.setFont(self._about.font())  # under a style sheet no child inherits one
        self._sentence.setText(sentence)
        for text, act in choices:
            self._add(text, act)
        self._unseen.shown()
        self.show()
        self._place()
        self.raise_()
        if choices:
            self.buttons[0].setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the question with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def leave(self) -> None:
        """Ask no more; keys that were here go back to the widget that asked."""
        had_keys = self.isAncestorOf(QApplication.focusWidget() or self._about)
        self.withdraw()
        if had_keys:
            self._about.setFocus()

    def withdraw(self) -> None:
        """Ask no more."""
        self.hide()
        self._forget()

    def _forget(self) -> None:
        """Take the choices away; a click that comes late chooses nothing."""
        for old in self.buttons:
            self._choices.removeWidget(old)
            old.clicked.disconnect()  # it may be the very button that is being pressed
            old.setParent(None)
            old.deleteLater()

    def _add(self, text: str, act: Callable[[], None]) -> None:
        def choose() -> None:  # a click brings an argument, which the act does not want
            act()

        made = button(text, self, choose, enter=True)
        made.setFont(self._about.font())
        self._unseen.watch(made)
        made.setAccessibleDescription(self._sentence.text())
        self._choices.addWidget(made)
        made.show()  # its style, and so its height, is known from now on

    def follow(self) -> None:
        """Go with the widget it hangs below, when that was scrolled; ask no more out of sight."""
        if self._about.visibleRegion().isEmpty():
            self.leave()
        else:
            self._place()

    def _place(self) -> None:
        """Hang below what it is about, inside the window."""
        window = self._about.window()
        width = min(max(260, self._about.width()), max(120, window.width() - 16))
        self.setFixedWidth(width)
        self.setFixedHeight(self._height_at(width))
        corner = self._about.mapTo(window, QPoint(0, self._about.height() + 2))
        if corner.y() + self.height() > window.height():
            corner = self._about.mapTo(window, QPoint(0, -self.height() - 2))
        corner.setX(max(4, min(corner.x(), window.width() - width - 4)))
        self.move(corner)

    def _height_at(self, width: int) -> int:
        """Return the height that sentence and choices take, in pixels."""
        margins = self._column.contentsMargins()
        across = width - margins.left() - margins.right() - 2
        height = self._sentence.heightForWidth(across) + margins.top() + margins.bottom() + 2
        if self._choices.count():
            height += self._choices.sizeHint().height() + self._column.spacing()
        return height

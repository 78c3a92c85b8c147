"""A field that keeps what was typed until it can be read, and asks in place."""

from collections.abc import Callable
from functools import partial
from typing import Final, cast

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QWidget

from layout_app.panels.question import Question
from shared.lengths import AmbiguousLength

Accept = Callable[[str], None]
"""Takes the text, or raises a ValueError whose text is a sentence for the maker."""


class Entry(QLineEdit):
    """A line of text that is committed, or says why it cannot be."""

    def __init__(self, accept: Accept, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._accept = accept
        self._question: Question | None = None
        self._chosen: Callable[[], None] | None = None
        self.textEdited.connect(self._quiet)

    @property
    def question(self) -> Question | None:
        """What the field says or asks now, if anything."""
        shown = self._question is not None and self._question.isVisible()
        return self._question if shown else None

    def when_chosen(self, act: Callable[[], None]) -> None:
        """Do this after a reading was chosen and taken."""
        self._chosen = act

    def commit(self) -> bool:
        """Hand the text over; say whether it could be read."""
        try:
            self._accept(self.text())
        except AmbiguousLength as question:
            choices = [(text, partial(self._choose, text)) for text, _ in question.readings]
            self._ask().say(str(question), choices)
        except ValueError as error:
            self.say(str(error))
        else:
            self._quiet()
            return True
        return False

    def say(self, sentence: str) -> None:
        """Say why something cannot be, below the field."""
        self._ask().say(sentence)

    def _choose(self, text: str) -> None:
        """Take a reading in place of what was typed."""
        self.setText(text)
        self.setFocus()
        if self.commit() and self._chosen is not None:
            self._chosen()

    def _ask(self) -> Question:
        if self._question is None:
            self._question = Question(self)
        return self._question

    def event(self, event: QEvent) -> bool:
        """Leave the window its keys with Ctrl, but those that edit text; else some write here."""
        if event.type() is QEvent.Type.ShortcutOverride and self.leaves(cast(QKeyEvent, event)):
            event.ignore()
            return False
        return super().event(event)

    def leaves(self, event: QKeyEvent) -> bool:
        """Say whether a key is the window's: with Ctrl, a letter that edits no text."""
        return _is_windows(event)

    def follow(self) -> None:
        """Keep what it says or asks below it when it was scrolled."""
        if self.question is not None:
            self.question.follow()

    def leave(self) -> None:
        """Ask no more: another project is opened."""
        self._quiet()

    def _quiet(self) -> None:
        if self._question is not None:
            self._question.withdraw()


_EDITING: Final = (
    QKeySequence.StandardKey.Copy,
    QKeySequence.StandardKey.Cut,
    QKeySequence.StandardKey.Paste,
    QKeySequence.StandardKey.Undo,
    QKeySequence.StandardKey.Redo,
    QKeySequence.StandardKey.SelectAll,
)


def _is_windows(event: QKeyEvent) -> bool:
    """Say whether a key with Ctrl is a letter that edits no text."""
    held = event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
    letter = Qt.Key.Key_A <= event.key() <= Qt.Key.Key_Z
    ctrl = held == Qt.KeyboardModifier.ControlModifier
    return ctrl and letter and not any(event.matches(key) for key in _EDITING)


def _is_redo(event: QKeyEvent) -> bool:
    """Say whether a key is one of the window's two for redo."""
    ctrl_y = (
        event.key() == Qt.Key.Key_Y and event.modifiers() == Qt.KeyboardModifier.ControlModifier
    )
    return ctrl_y or event.matches(QKeySequence.StandardKey.Redo)


class Field(Entry):
    """An entry in a form: shows a value, commits on Enter and on leaving, Esc restores it."""

    def __init__(self, accept: Accept, parent: QWidget | None = None) -> None:
        super().__init__(accept, parent)
        self._shown = ""
        self.returnPressed.connect(self.commit)

    def show_text(self, text: str) -> None:
        """Show what holds now, unless the maker is typing something else."""
        typing = self.hasFocus() and self.text() != self._shown
        self._shown = text
        if not typing:
            self.setText(text)
            self.setCursorPosition(0)  # of a text that is too long the beginning shows

    def leave(self) -> None:
        """Give up what is typed, which was for the project that is left."""
        super().leave()
        self.setText(self._shown)

    def commit(self) -> bool:
        """Hand the text over if it was changed; then show what holds, as it is written.

        What was typed is not undone here any more: undo takes the step back that it became.
        """
        if self.text() == self._shown:
            if self.isUndoAvailable() or self.isRedoAvailable():
                self.setText(self._shown)
            return True
        taken = super().commit()
        if taken:
            self.setText(self._shown)
            self.setCursorPosition(0)
        return taken

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Commit on leaving; what cannot be read stays, with its sentence."""
        super().focusOutEvent(event)
        if self.question is None:
            self.commit()

    def leaves(self, event: QKeyEvent) -> bool:
        """Leave the window undo and redo as well, unless something is being typed."""
        typing = self.isUndoAvailable() or self.isRedoAvailable()
        if event.matches(QKeySequence.StandardKey.Undo):
            return not self.isUndoAvailable()
        if _is_redo(event):
            return not typing
        return super().leaves(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Restore with Esc; both keys of redo type again what was undone."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif _is_redo(event):
            self.redo()
        else:
            super().keyPressEvent(event)

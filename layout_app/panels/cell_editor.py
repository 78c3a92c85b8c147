"""Editing in a cell: what cannot be read keeps the cell open, with a sentence below it."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    QTimer,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from layout_app.panels.cells import Cells
from layout_app.panels.chooser import Chooser
from layout_app.panels.entry import Entry

Index = QModelIndex | QPersistentModelIndex
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_TAB = (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class CellDelegate(QStyledItemDelegate):
    """Opens an entry, or a list where only certain words may be written."""

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Open a cell."""
        del option
        model = index.model()
        assert isinstance(model, Cells)
        place = QPersistentModelIndex(index)
        editor: QWidget
        if choices := model.choices(index):
            box = Chooser(choices, parent)
            box.activated.connect(lambda _place: self._take_and_close(box))
            QTimer.singleShot(0, box, box.open_if_seen)
            editor = box
        else:
            entry = Entry(partial(_change, place), parent)
            entry.setFrame(False)
            entry.when_chosen(partial(self._close, entry))
            if words := model.suggestions(index):
                _complete(entry, words)
            editor = entry
        editor.setAccessibleName(model.heading(index))
        return editor

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show what is in the cell, once: what is being typed is never written over."""
        if editor.property("filled"):
            return
        editor.setProperty("filled", True)
        text = str(index.data(Qt.ItemDataRole.EditRole) or "")
        if isinstance(editor, Chooser):
            editor.setCurrentText(text)
        elif isinstance(editor, Entry):
            editor.setText(text)
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Take a choice; an entry hands its text over itself, before it closes."""
        if isinstance(editor, Chooser) and isinstance(model, Cells):
            model.change(index, editor.currentText())

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        """Let a cell close only when its text was taken, or with Esc.

        Enter closes it at once: what is typed next, however fast, is not for this cell.
        """
        if not isinstance(editor, Entry) or not _would_close(editor, event):
            return super().eventFilter(editor, event)
        if not editor.commit():
            return event.type() == QEvent.Type.KeyPress
        if isinstance(event, QKeyEvent) and event.key() in _ENTER:
            self._take_and_close(editor)
            return True
        return super().eventFilter(editor, event)

    def _take_and_close(self, editor: QWidget) -> None:
        self.commitData.emit(editor)
        self._close(editor)

    def _close(self, editor: QWidget) -> None:
        self.closeEditor.emit(editor, QStyledItemDelegate.EndEditHint.SubmitModelCache)


def _complete(entry: Entry, words: Sequence[str]) -> None:
    """Complete what is typed within the field; a list that drops down would take the focus."""
    completer = QCompleter(list(words), entry)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
    entry.setCompleter(completer)


def _change(place: QPersistentModelIndex, text: str) -> None:
    model = place.model()
    if place.isValid() and isinstance(model, Cells):
        model.change(place, text)


def _would_close(editor: Entry, event: QEvent) -> bool:
    """Say whether an event is about to end editing with what is written."""
    if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
        return event.key() in (*_ENTER, *_TAB)
    leaving = event.type() == QEvent.Type.FocusOut
    return leaving and editor.isVisible()

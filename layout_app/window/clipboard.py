"""The clipboard of the bench: parts copied, cut and pasted, within and between projects."""

from PySide6.QtCore import QMimeData, QObject
from PySide6.QtGui import QGuiApplication

from layout_app.document import edit_clipboard
from layout_app.document.document import Document
from layout_app.model.words.wording import counted
from layout_app.panels.copied import rows_text
from layout_app.panels.left_region import LeftRegion
from layout_app.store.errors import FileProblem
from layout_app.store.parts_text import MIME, parts_of, parts_text


class PartsClipboard(QObject):
    """Puts the selected parts on the clipboard as parts and as text, and takes them from there."""

    def __init__(self, document: Document, left: LeftRegion) -> None:
        super().__init__(left)
        self._document, self._left = document, left

    def copy(self) -> bool:
        """Put the selected copies on the clipboard; say so."""
        keys, job = self._document.selection.parts, self._document.job
        parts = edit_clipboard.copied(job, keys)
        if not parts:
            return False
        data = QMimeData()
        data.setData(MIME, parts_text(parts).encode())
        data.setText(rows_text(parts, job.style))
        QGuiApplication.clipboard().setMimeData(data)
        what = job.named(next(iter(keys))) if len(keys) == 1 else counted(len(keys), "part")
        self._document.said.emit(f"{what} copied: Ctrl+V puts as many on the list again.")
        return True

    def cut(self) -> None:
        """Copy the selected copies, and take them off the list."""
        keys = self._document.selection.parts
        if self.copy():
            edit_clipboard.cut_copies(self._document, keys)

    def paste(self) -> None:
        """Put parts from the clipboard on the list; text becomes rows of the take-off."""
        data: QMimeData | None = QGuiApplication.clipboard().mimeData()  # none if it is empty
        if data is None or not data.hasFormat(MIME):
            self._left.paste_parts()
            return
        try:
            parts = parts_of(bytes(data.data(MIME).data()))
        except FileProblem as problem:
            self._document.said.emit(f"Nothing was pasted: {problem}")
            return
        edit_clipboard.paste_parts(self._document, parts)

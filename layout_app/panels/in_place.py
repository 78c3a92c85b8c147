"""Name and sizes of a part, typed where it lies on the bench."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame

from layout_app.bench.view import BenchView
from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.panels.columns import positive, size_text, words
from layout_app.panels.entry import Entry
from layout_app.panels.widgets import across, down
from shared.lengths import Length
from shared.parts import Copy, Part

WIDTH_PX, EDGE_PX = 264, 4
"""How wide it is, and how far it keeps from the edges of the view."""


class InPlace(QFrame):
    """Three fields over a part: Enter takes them as one step, Tab goes round, Esc leaves them.

    Whoever goes elsewhere with pointer or keys takes what is typed; what cannot be read is said,
    and stays as it is typed.
    """

    def __init__(self, document: Document, bench: BenchView) -> None:
        super().__init__(bench)
        self._document, self._bench = document, bench
        self._key: Copy | None = None
        self._typed: Part | None = None
        self.setObjectName("question")
        self.name = self._field("Name of the part", self._take_name)
        self.length = self._field("Finished length, L", self._take_length)
        self.width_of = self._field("Finished width, W", self._take_width)
        self.fields = (self.name, self.length, self.width_of)
        self.note = Label(parent=self)
        self.note.setObjectName("quiet")
        sizes = across(Label("L"), (self.length, 1), Label("W"), (self.width_of, 1), gap=6)
        down(self.name, sizes, self.note, on=self, edges=(8, 8, 8, 6), gap=5)
        self.setFixedWidth(WIDTH_PX)
        self.hide()
        bench.hand.asked.connect(self.open)
        bench.looked.connect(self._follow)
        document.layout_changed.connect(self._follow)
        document.job_changed.connect(self._drop_if_changed)
        document.leaving.connect(self.leave)
        document.gestures.changed.connect(self._give_way)

    def open(self, part: str, copy: int) -> None:
        """Stand over a copy of a part, its name ready to be typed over."""
        self.leave()
        self._key, self._typed = (part, copy), self._document.job.part(part)
        style = self._document.job.style
        self.name.setText(self._typed.name)
        self.length.setText(size_text(self._typed.length, style))
        self.width_of.setText(size_text(self._typed.width, style))
        copies = self._typed.copies
        self.note.setText(f"Changes all {copies} copies." if copies > 1 else "")
        self.note.setVisible(copies > 1)
        self.adjustSize()
        for rect in self._bench.bench.rects_of([self._key])[:1]:
            self._bench.reveal(rect)
        self.show()
        self._follow()
        self.raise_()
        self.name.setFocus()
        self.name.selectAll()

    def leave(self) -> None:
        """Go, and take nothing."""
        self._key = self._typed = None
        for field in self.fields:
            field.leave()
        if self.isAncestorOf(QApplication.focusWidget() or self._bench):
            self._bench.setFocus()
        self.hide()

    def take(self) -> None:
        """Change the part, all its copies, as one step, and go; or say what cannot be."""
        if self._key is None or not all(field.commit() for field in self.fields):
            return
        typed, said = self._typed, list[str]()
        assert typed is not None, "it is open"
        hear, changes = said.append, typed != self._document.job.part(typed.id)
        self._document.said.connect(hear)
        done = not changes or edit_parts.retype_part(self._document, typed, self._key[1])
        self._document.said.disconnect(hear)
        if done or not said:  # what is not said is asked, in the bar
            self.leave()
        else:
            self.length.say(said[-1])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take with Enter, leave with Esc; no key that is left over means anything to the bench."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.take()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        event.accept()

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Go round the three fields with Tab."""
        focus = QApplication.focusWidget()
        here = next((at for at, field in enumerate(self.fields) if field is focus), 0)
        field = self.fields[(here + (1 if onward else -1)) % len(self.fields)]
        field.setFocus(Qt.FocusReason.TabFocusReason)
        field.selectAll()
        return True

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take what is typed once the keys are elsewhere in the window."""
        if event.type() == QEvent.Type.FocusOut and self._key is not None:
            focus = QApplication.focusWidget()
            asking = any(f.question and f.question.isAncestorOf(focus or f) for f in self.fields)
            if focus is not None and not self.isAncestorOf(focus) and not asking:
                self.take()
        return super().eventFilter(watched, event)

    def _field(self, called: str, accept: Callable[[str], None]) -> Entry:
        field = Entry(accept, self)
        field.setAccessibleName(called)
        field.when_chosen(self.take)
        field.installEventFilter(self)
        return field

    def _take_name(self, text: str) -> None:
        if self._typed is not None:
            self._typed = replace(self._typed, name=words(text, "part"))

    def _take_length(self, text: str) -> None:
        if self._typed is not None:
            was = self._document.job.part(self._typed.id).length
            self._typed = replace(self._typed, length=self._read(text, was))

    def _take_width(self, text: str) -> None:
        if self._typed is not None:
            was = self._document.job.part(self._typed.id).width
            self._typed = replace(self._typed, width=self._read(text, was))

    def _read(self, text: str, was: Length) -> Length:
        """Read a size; ValueError with a sentence if it cannot be read, or must not change."""
        style = self._document.job.style
        new = was if text == size_text(was, style) else positive(text, style)
        if new != was and self._key and (reason := self._document.held.bars(self._key)):
            raise ValueError(reason)
        return new

    def _drop_if_changed(self) -> None:
        """Go if the part is gone, or is another one now."""
        if self._key is None or self._typed is None:
            return
        part = next((one for one in self._document.job.parts if one.id == self._key[0]), None)
        if part is None or self._key[1] > part.copies:
            self.leave()

    def _give_way(self) -> None:
        """Leave the bench to a gesture that begins by other means than the pointer."""
        if self._document.gestures.under_way and self._key is not None:
            self.leave()

    def _follow(self) -> None:
        """Stand over the part, all in sight."""
        if self._key is None:
            return
        port = self._bench.viewport().geometry()
        rects = self._bench.bench.rects_of([self._key])
        middle = self._bench.mapFromScene(rects[0].center()) if rects else port.center()
        room = port.adjusted(EDGE_PX, EDGE_PX, -EDGE_PX, -EDGE_PX)
        middle = middle + port.topLeft() if rects else middle
        self.move(_inside(QRect(QPoint(), self.size()), middle, room))


def _inside(rect: QRect, middle: QPoint, room: QRect) -> QPoint:
    """Return the corner of a rectangle round a point, moved so that all of it is in a room."""
    rect.moveCenter(middle)
    x = max(room.left(), min(rect.left(), room.right() - rect.width()))
    y = max(room.top(), min(rect.top(), room.bottom() - rect.height()))
    return QPoint(x, y)

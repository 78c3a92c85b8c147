"""What is set on the card of a part: its show face, the saw that finishes it, what was measured."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.panels.columns import measured_size, size_text
from layout_app.panels.entry import Accept, Field
from layout_app.panels.tick_box import TickBox
from shared.lengths import LengthStyle
from shared.parts import Part

LEAST_AND_MOST_CHARS = (7, 14)
SHOW = "show face"
TABLE = "at the table saw"
FIT = "fit part"
MEASURED_TIP = (
    "The finished size that is wanted, bands included, once the opening is measured; with both"
    " the blank is cut to it"
)


class Finishing(QWidget):
    """Belongs to one part at a time; every change is one step."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._part: Part | None = None
        self.show_face = self._box(SHOW, "It keeps clear of knots", edit_parts.set_show_face)
        tip = "Cut oversize at the rail, then to its size at the table saw"
        self.table = self._box(TABLE, tip, edit_parts.finish_at_table)
        tip = "Its mate is built first: its blank is cut larger, and last; measured, it is finished"
        self.fit = self._box(FIT, tip, edit_parts.set_fit_part)
        self.measured_length = self._field("measured L", self._set_length)
        self.measured_width = self._field("measured W", self._set_width)
        self._measured = QWidget(self)
        self._arrange()

    def _arrange(self) -> None:
        boxes = QHBoxLayout()
        boxes.setSpacing(8)
        for box in (self.show_face, self.table, self.fit):
            boxes.addWidget(box)
        boxes.addStretch(1)
        line = QHBoxLayout(self._measured)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._quiet("measured"))
        for letter, field in (("L", self.measured_length), ("W", self.measured_width)):
            label = self._quiet(letter)
            label.setBuddy(field)
            line.addWidget(label)
            line.addWidget(field, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 0)
        column.addLayout(boxes)
        column.addWidget(self._measured)

    def _quiet(self, text: str) -> Label:
        label = Label(text, self._measured)
        label.setObjectName("quiet")
        return label

    def show_part(self, part: Part, style: LengthStyle) -> None:
        """Show a part; measured sizes only where it is a fit part, or has some."""
        self._part = part
        self.show_face.setChecked(part.show)
        self.table.setChecked(part.oversize > 0)
        self.fit.setChecked(part.fit_allowance > 0)
        known = (part.fit_allowance, part.measured_length, part.measured_width)
        self._measured.setVisible(any(known))
        self.measured_length.show_text(size_text(part.measured_length, style))
        self.measured_width.show_text(size_text(part.measured_width, style))

    def _box(self, words: str, tip: str, act: Callable[[Document, str, bool], bool]) -> TickBox:
        def take(ticked: bool) -> None:
            if self._part is not None and not act(self._document, self._part.id, ticked):
                box.setChecked(not ticked)  # it was refused

        box = TickBox(words, self)
        box.setToolTip(tip)
        box.clicked.connect(take)
        return box

    def _field(self, words: str, accept: Accept) -> Field:
        field = Field(accept, self)
        field.setAccessibleName(words)
        field.setToolTip(MEASURED_TIP)
        field.setPlaceholderText("not yet")
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        least, most = LEAST_AND_MOST_CHARS
        one = field.fontMetrics().horizontalAdvance("0")
        field.setMinimumWidth(least * one + 12)
        field.setMaximumWidth(most * one + 12)
        return field

    def _set_length(self, text: str) -> None:
        if self._part is not None:
            length = measured_size(text, self._document.job.style)
            edit_parts.measure(self._document, self._part.id, length, self._part.measured_width)

    def _set_width(self, text: str) -> None:
        if self._part is not None:
            width = measured_size(text, self._document.job.style)
            edit_parts.measure(self._document, self._part.id, self._part.measured_length, width)

"""A reader's variant: what a reader has instead, in one row."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QWidget

from layout_app.look.as_typed import Label
from layout_app.model.variant import Variant
from layout_app.panels.columns import positive
from shared.lengths import Length, LengthStyle

FIELDS = (
    ("length", "sheet L", "Length of the reader's sheets: x as they lie"),
    ("width", "W", "Width of the reader's sheets"),
    ("thickness", "thick", "Their measured thickness"),
    ("kerf", "kerf", "Kerf of the reader's saw"),
)
FIELD_PX = 84
NOTHING = "Say what the reader has: sheet, thickness or kerf; lengths with or without unit."


class VariantRow(QWidget):
    """Fields for what differs; what is left empty is as in the plan."""

    wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(Label("A reader has", self))
        self.fields = {name: self._field(row, words, tip) for name, words, tip in FIELDS}
        self.plan = QPushButton("Plan reader's variant", self)
        self.plan.setToolTip("The same piece, planned anew as a project of its own")
        self.plan.setAutoDefault(True)
        self.plan.clicked.connect(self.wanted)
        row.addWidget(self.plan)
        row.addStretch(1)

    def variant(self, style: LengthStyle) -> Variant:
        """Return what is written; ValueError with a sentence if nothing is, or it is no length."""
        length, width, thickness, kerf = (self._read(name, style) for name in self.fields)
        made = Variant(length=length, width=width, thickness=thickness, kerf=kerf)
        if made == Variant():
            raise ValueError(NOTHING)
        return made

    def _read(self, name: str, style: LengthStyle) -> Length:
        text = self.fields[name].text().strip()
        return positive(text, style) if text else 0

    def _field(self, row: QHBoxLayout, words: str, tip: str) -> QLineEdit:
        field = QLineEdit(self)
        field.setMaximumWidth(FIELD_PX)
        field.setAccessibleName(tip)
        field.setToolTip(tip)
        field.returnPressed.connect(self.wanted)
        row.addWidget(Label(words, self))
        row.addWidget(field)
        return field

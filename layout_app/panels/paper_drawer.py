"""What goes on paper: formats, paper, colours, labels; a drawer in place of the cut sequence."""

from pathlib import Path
from typing import Final, TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QDoubleSpinBox,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from layout_app.look.as_typed import Label, tip
from layout_app.model.variant import Variant
from layout_app.panels.columns import positive
from layout_app.panels.widgets import (
    BARE,
    Chooser,
    Drawer,
    TickBox,
    across,
    button,
    down,
    label,
    quiet,
)
from layout_app.paper.exporting import FORMATS, USUAL
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.wish import ExportWish
from shared.lengths import Length, LengthStyle, Unit

HEADING: Final = "On paper and in files"
PAPERS: Final = {"A4": Paper.A4, "A3": Paper.A3, "Letter": Paper.LETTER}
UNITS: Final = {"unit of the project": None, "inches": Unit.INCH, "millimetres": Unit.MM}
MOST_LABELS: Final = 20
MOST_MM: Final = 60.0
NUMBER_PX: Final = 56
Spin = TypeVar("Spin", bound=QWidget)


class PaperDrawer(Drawer):
    """Closed until it is opened; says what is wished, and is asked for it."""

    wanted = Signal()
    """The wished formats are to be written."""
    folder_wanted = Signal()
    """The folder that was written into last is to be shown."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("choices")
        self.setAccessibleName(HEADING)
        self.boxes = {one.name: self._box(one.title, one.tip) for one in FORMATS}
        for name in USUAL:
            self.boxes[name].setChecked(True)
        self.paper = self._list("Paper", tuple(PAPERS))
        self.unit = self._list("Unit of sizes", tuple(UNITS))
        self.black = self._box("black and white", "Drawings without tints")
        self.fitted = self._box("fitted to a page", "Drawings on a page, their scale stated")
        usual = LabelSheet()
        self.columns = self._count("Labels beside each other", usual.columns)
        self.rows = self._count("Labels below each other", usual.rows)
        self.left = self._length("Margin left and right", usual.left)
        self.top = self._length("Margin above and below", usual.top)
        self.across = self._length("Gap between columns", usual.between_columns)
        self.down = self._length("Gap between rows", usual.between_rows)
        self.borders = self._box("label borders", "For labels on plain paper that is cut")
        self.variant = VariantRow(self)
        self.carried = label("", self, "quiet")
        self.fault = quiet("", self)
        self.write = button("Write to a folder…", self, self.wanted, enter=True)
        self.folder = button("Open the folder", self, self.folder_wanted, enter=True)
        self.folder.hide()
        self.close_button = button("Close", self, self.put_away, enter=True)
        self._arrange()
        self._follow()
        self._check()
        self.hide()

    def formats(self) -> tuple[str, ...]:
        """Return the formats that are ticked."""
        return tuple(name for name, box in self.boxes.items() if box.isChecked())

    def wish(self) -> ExportWish:
        """Return how they are wished."""
        return ExportWish(
            paper=PAPERS[self.paper.currentText()],
            black=self.black.isChecked(),
            fitted=self.fitted.isChecked(),
            labels=self.labels(),
            unit=UNITS[self.unit.currentText()],
        )

    def labels(self) -> LabelSheet:
        """Return how sheets of labels are divided."""
        return LabelSheet(
            columns=self.columns.value(),
            rows=self.rows.value(),
            left=self.left.value(),
            top=self.top.value(),
            between_columns=self.across.value(),
            between_rows=self.down.value(),
            borders=self.borders.isChecked(),
        )

    def name_plan(self, number: str) -> None:
        """Say which number the pages carry; nothing where there are no cuts."""
        self.carried.setText(f"plan {number}, on every page" if number else "")

    def offer_folder(self, folder: Path) -> None:
        """Let the folder that was written into be opened, as long as the drawer stays open."""
        self.folder.setToolTip(tip(str(folder)))
        self.folder.setAccessibleDescription(str(folder))
        self.folder.show()

    def toggle(self) -> None:
        """Open it and give it the keys, or put it away."""
        if self.isVisible():
            self.put_away()
            return
        self.folder.hide()
        self.show()
        self.opened.emit()
        self.boxes[FORMATS[0].name].setFocus()

    def leave(self) -> None:
        """Put it away, with what a reader has, as another project is about to be held."""
        for field in self.variant.fields.values():
            field.clear()
        if self.isVisible():
            self.put_away()

    def _check(self) -> None:
        """Say what stands against writing; the button waits until nothing does."""
        faults = [*self.labels().faults(PAPERS[self.paper.currentText()])]
        if not self.formats():
            faults.append("Tick what is to be written.")
        self.fault.setText(" ".join(faults))
        self.fault.setVisible(bool(faults))
        self.write.setEnabled(not faults)

    # --- building ----------------------------------------------------------------------

    def _follow(self) -> None:
        """Check again whenever something is wished otherwise."""
        for box in (*self.boxes.values(), self.black, self.fitted):
            box.toggled.connect(self._check)
        for chooser in (self.paper, self.unit):
            chooser.currentTextChanged.connect(self._check)
        for count in (self.columns, self.rows):
            count.valueChanged.connect(self._check)
        for length in (self.left, self.top, self.across, self.down):
            length.valueChanged.connect(self._check)

    def _arrange(self) -> None:
        heading = label(HEADING, self, "strong")
        top = across(heading, self.carried, None, self.folder, self.write, self.close_button)
        formats = QGridLayout()
        for place, box in enumerate(self.boxes.values()):
            formats.addWidget(box, place // 4, place % 4)
        papers = across(
            *(Label("Paper", self), self.paper, Label("sizes in", self), self.unit),
            *(self.black, self.fitted, None),
        )
        below = (top, formats, papers, self._label_fields(), self.fault, self.variant, None)
        down(*below, on=self, edges=(12, 8, 12, 8))

    def _label_fields(self) -> QGridLayout:
        """Return how labels are divided: two fields a line, each with its words before it."""
        rows = (
            ("Labels beside each other", self.columns, "below each other", self.rows),
            ("Margins left and right, mm", self.left, "above and below, mm", self.top),
            ("Gaps between columns, mm", self.across, "between rows, mm", self.down),
        )
        grid = QGridLayout()
        for line, (first, field, second, other) in enumerate(rows):
            grid.addWidget(Label(first, self), line, 0)
            grid.addWidget(field, line, 1)
            grid.addWidget(Label(second, self), line, 2)
            grid.addWidget(other, line, 3)
        grid.addWidget(self.borders, 0, len(rows[0]))
        grid.setColumnStretch(len(rows[0]) + 1, 1)
        return grid

    def _box(self, words: str, tip: str) -> TickBox:
        box = TickBox(words, self)
        box.setToolTip(tip)
        box.setAccessibleDescription(tip)
        return box

    def _list(self, name: str, words: tuple[str, ...]) -> Chooser:
        box = Chooser(words, self)
        box.setAccessibleName(name)
        box.setToolTip(name)
        return box

    def _count(self, name: str, value: int) -> QSpinBox:
        box = QSpinBox(self)
        box.setRange(1, MOST_LABELS)
        box.setValue(value)
        return _named(box, name)

    def _length(self, name: str, value: float) -> QDoubleSpinBox:
        box = QDoubleSpinBox(self)
        box.setRange(0.0, MOST_MM)
        box.setDecimals(1)
        box.setSingleStep(0.5)
        box.setValue(value)
        return _named(box, f"{name}, mm")


def _named(box: Spin, name: str) -> Spin:
    box.setFixedWidth(NUMBER_PX)
    box.setAccessibleName(name)
    box.setToolTip(name)
    return box


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
        row = across(Label("A reader has", self), on=self, edges=BARE)
        self.fields = {name: self._field(row, words, tip) for name, words, tip in FIELDS}
        tip = "The same piece, planned anew as a project of its own"
        self.plan = button("Plan reader's variant", self, self.wanted, tip, enter=True)
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

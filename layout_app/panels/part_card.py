"""The selected part with its sums: finished size, bands, cut size."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QVBoxLayout, QWidget

from layout_app.document import Document
from layout_app.panels.parts import bands_text
from shared.lengths import LengthStyle, format_length, format_pair
from shared.parts import Part


def sums_of(part: Part, style: LengthStyle) -> list[tuple[str, str]]:
    """Return what stands on the card, as words and values, the sums written out."""
    bands = part.bands
    lines = [("finished", format_pair(part.length, part.width, style))]
    if any((bands.top, bands.bottom, bands.left, bands.right)):
        lines += [
            ("bands", bands_text(part, style)),
            ("cut L", _sum(part.length, (bands.left, bands.right), part.cut_length, style)),
            ("cut W", _sum(part.width, (bands.top, bands.bottom), part.cut_width, style)),
        ]
    else:
        lines.append(("bands", "none taken off"))
    lines.append(("grain", str(part.grain_rule)))
    return lines + ([("note", part.note)] if part.note else [])


def _sum(finished: int, bands: tuple[int, int], cut: int, style: LengthStyle) -> str:
    taken = "".join(f" − {format_length(band, style)}" for band in bands if band)
    return f"{format_length(finished, style)}{taken} = {format_length(cut, style)}"


class PartCard(QFrame):
    """Takes no room while no part is selected."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setObjectName("partCard")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        self._title = QLabel(self)
        self._title.setObjectName("strong")
        column.addWidget(self._title)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(1, 1)
        self._grid.setVerticalSpacing(2)
        column.addLayout(self._grid)
        document.job_changed.connect(self.refresh)
        document.selection.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the one part that is selected."""
        ids = {part for part, _ in self._document.selection.parts}
        part = self._document.job.part(ids.pop()) if len(ids) == 1 else None
        self.setVisible(part is not None)
        if part is None:
            return
        self._title.setText(part.name)
        self._clear()
        for row, (words, value) in enumerate(sums_of(part, self._document.job.style)):
            self._add(row, words, value)

    def _add(self, row: int, words: str, value: str) -> None:
        name, text = QLabel(words, self), QLabel(value, self)
        name.setObjectName("quiet")
        text.setWordWrap(True)
        text.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._grid.addWidget(name, row, 0)
        self._grid.addWidget(text, row, 1)

    def _clear(self) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

"""The selected part with its sums: finished size, bands, allowance, cut size; its match group."""

from collections.abc import Callable, Sequence
from functools import partial
from itertools import zip_longest

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QWidget

from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.model.broken_sets import broken_sets
from layout_app.model.words.wording import counted
from layout_app.panels.columns import measured_size, size_text
from layout_app.panels.entry import Accept, Field
from layout_app.panels.parts import bands_text
from layout_app.panels.widgets import BARE, TickBox, across, down, label
from shared.amounts import parse_count
from shared.check import plannable
from shared.groups import blocks_of, members, names
from shared.job import Job
from shared.lengths import LengthStyle, format_length, format_pair
from shared.parts import Part
from shared.plan import Plan

NOTHING = ("", "")


def sums_of(part: Part, style: LengthStyle) -> list[tuple[str, str]]:
    """Return what stands on the card, as words and values, the sums written out."""
    bands = part.bands
    lines = [("finished", format_pair(part.length, part.width, style))]
    banded = any((bands.top, bands.bottom, bands.left, bands.right))
    lines.append(("bands", bands_text(part, style) if banded else "none taken off"))
    more = [one for one in (part.fit_allowance, part.oversize) if one]
    if banded or more:
        what = "blank" if more else "cut"
        along, across = (bands.left, bands.right), (bands.top, bands.bottom)
        lines += [
            (f"{what} L", _sum(part.length, along, more, part.cut_length, style)),
            (f"{what} W", _sum(part.width, across, more, part.cut_width, style)),
        ]
    lines += _of_blank(part, style) if more else []
    lines.append(("grain", str(part.grain_rule)))
    return lines + ([("note", part.note)] if part.note else [])


def _of_blank(part: Part, style: LengthStyle) -> list[tuple[str, str]]:
    """Return what a blank is cut to in the end, or what it waits for."""
    if part.waits:
        return [("final", "waits for its mate to be measured")]
    measured = ", as measured" if part.fit_allowance else ""
    return [("final", format_pair(part.sawn_length, part.sawn_width, style) + measured)]


def _sum(
    finished: int, bands: tuple[int, int], more: Sequence[int], cut: int, style: LengthStyle
) -> str:
    taken = "".join(f" − {format_length(band, style)}" for band in bands if band)
    added = "".join(f" + {format_length(one, style)}" for one in more)
    return f"{format_length(finished, style)}{taken}{added} = {format_length(cut, style)}"


def grid_of(job: Job, group: str, plan: Plan | None = None) -> list[tuple[str, str]]:
    """Return what is said of a match group: its grid, and the block or blocks it is cut from.

    Where it lies in more blocks in a plan than it has to, both are said.
    """
    lines = [("match group", group)]
    sound = plannable(job)
    if group not in names(sound):
        return lines
    wholes = [block.as_part() for block in blocks_of(sound, group)]
    rows = len(members(sound, group)) // job.columns_of(group)
    sizes = dict.fromkeys(format_pair(one.length, one.width, job.style) for one in wholes)
    lines.append(("grid", f"{counted(rows, 'row')} of {job.columns_of(group)}"))
    found = broken_sets(job, plan) if plan is not None else ()
    lies = next((len(told.blocks) for told, _ in found if told.name == group), 0)
    if lies:
        lines.append(("lies in", f"{counted(lies, 'block')}: the figure breaks"))
    would_be = "could lie in " if lies else ""
    return [*lines, (would_be + counted(len(wholes), "block"), "; ".join(sizes))]


class PartCard(QFrame):
    """Takes no room while no part is selected."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setObjectName("partCard")
        self._title = label("", self, "strong")
        self._title.setWordWrap(True)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(1, 1)
        self._grid.setVerticalSpacing(2)
        self._lines: list[tuple[Label, Label]] = []
        self.finishing = Finishing(document, self)
        self._columns = Field(self._set_columns, self)
        self._rows_label = label("parts in a row", self, "quiet")
        lines = (self._title, self._grid, self.finishing, self._in_a_row())
        down(*lines, on=self, edges=(12, 8, 12, 10))
        document.job_changed.connect(self.refresh)
        document.layout_changed.connect(self._follow_layout)
        document.selection.changed.connect(self.refresh)
        self.refresh()

    def _in_a_row(self) -> QHBoxLayout:
        """Return the line in which the length of a group's rows is set."""
        words = "Parts of the match group that lie beside each other; the next row lies below"
        self._rows_label.setBuddy(self._columns)
        self._columns.setAccessibleName("parts in a row")
        self._columns.setToolTip(words)
        self._columns.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._columns.setFixedWidth(self._columns.fontMetrics().horizontalAdvance("0" * 8))
        return across((self._rows_label, 1), self._columns)

    def refresh(self) -> None:
        """Show the one part that is selected."""
        part = self._part
        self.setVisible(part is not None)
        if part is None:
            return
        job = self._document.job
        self._title.setText(part.name)
        self._show_sums(part)
        self.finishing.show_part(part, job.style)
        for widget in (self._rows_label, self._columns):
            widget.setVisible(bool(part.group))
        self._columns.show_text(str(job.columns_of(part.group)))

    def _follow_layout(self) -> None:
        """Say anew into how many blocks the figure breaks, and leave what is being typed."""
        part = self._part
        if part is not None and part.group:
            self._show_sums(part)

    @property
    def _part(self) -> Part | None:
        ids = {part for part, _ in self._document.selection.parts}
        return self._document.job.part(ids.pop()) if len(ids) == 1 else None

    def _set_columns(self, text: str) -> None:
        number = parse_count(text)
        if number == 0:
            raise ValueError("A row has 1 part or more.")
        part = self._part
        if part is not None and part.group:
            edit_parts.set_columns(self._document, part.group, number)

    def _show_sums(self, part: Part) -> None:
        """Show the lines of words and values."""
        job, plan = self._document.job, self._document.plan
        matched = grid_of(job, part.group, plan) if part.group else []
        self._show_lines([*sums_of(part, job.style), *matched])

    def _show_lines(self, lines: Sequence[tuple[str, str]]) -> None:
        """Show lines of words and values in the rows there are, and make those that lack.

        Rows are kept: what `QGridLayout.takeAt` gives out would never be freed.
        """
        while len(self._lines) < len(lines):
            self._lines.append(self._new_line(len(self._lines)))
        for labels, line in zip_longest(self._lines, lines):
            for words, text in zip(labels, line or NOTHING, strict=True):
                words.setText(text)
                words.setVisible(line is not None)

    def _new_line(self, row: int) -> tuple[Label, Label]:
        name, value = label("", self, "quiet"), Label(parent=self)
        value.setWordWrap(True)
        value.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._grid.addWidget(name, row, 0)
        self._grid.addWidget(value, row, 1)
        return name, value


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
        tip = "Cut oversize first, then to its size at the table saw"
        self.table = self._box(TABLE, tip, edit_parts.finish_at_table)
        tip = "Its mate is built first: its blank is cut larger, and last; measured, it is finished"
        self.fit = self._box(FIT, tip, edit_parts.set_fit_part)
        self.measured_length = self._field("measured L", partial(self._measure, "length"))
        self.measured_width = self._field("measured W", partial(self._measure, "width"))
        self._measured = QWidget(self)
        self._arrange()

    def _arrange(self) -> None:
        boxes = across(self.show_face, self.table, self.fit, None, gap=8)
        measured, along, wide = (
            label(text, self._measured, "quiet") for text in ("measured", "L", "W")
        )
        along.setBuddy(self.measured_length)
        wide.setBuddy(self.measured_width)
        across(
            *(measured, along, (self.measured_length, 1), wide, (self.measured_width, 1)),
            on=self._measured,
            edges=BARE,
        )
        down(boxes, self._measured, on=self, edges=(0, 4, 0, 0))

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

    def _measure(self, side: str, text: str) -> None:
        """Take a measured length or width."""
        if (part := self._part) is not None:
            sizes = {"length": part.measured_length, "width": part.measured_width}
            sizes[side] = measured_size(text, self._document.job.style)
            edit_parts.measure(self._document, part.id, sizes["length"], sizes["width"])

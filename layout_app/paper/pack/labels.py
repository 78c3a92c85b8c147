"""Labels for parts, one for each copy, and for offcuts, on sheets of labels of any division.

A label says part, copy, sizes, grain, banded edges, where it was cut and what comes next; its
matrix code (a QR Code, ISO/IEC 18004) is the part's id and the number of the copy.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import TypeAlias

import segno

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Paper, page_words
from layout_app.paper.pack.lists import bands_words
from layout_app.paper.pack.setting import length_of, shortened, two_lines, words, wrapped
from shared.drawing.words import MEASURE_FIRST
from shared.lengths import LengthStyle, format_pair
from shared.offcuts import Keeper, offcut_size
from shared.parts import GrainRule, Part

NAME, TEXT = 4.2, 3.0
"""Text sizes in mm, for what is read in the hand; larger where a label has room for it."""
LARGER = (1.6, 1.4, 1.2, 1.0)
"""So many times as large."""
INSIDE = 1.8
"""Free at the borders of a label, in mm."""
LINE = 1.3
"""From line to line, in text sizes."""
_Line = tuple[str, float, bool]
BORDER = 5.0
"""Most printers reach so near the edges of the paper, in mm."""
QUIET = 4
"""White modules around a code, as ISO/IEC 18004 asks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """How a sheet of labels is divided; lengths in mm.

    Attributes
    ----------
    columns, rows
        Labels beside and below each other.
    left, top
        From the paper's edges to the first label; the other sides have the same.
    between_columns, between_rows
        Free between labels.
    cut_lines
        Whether the borders are drawn, for plain paper that is cut.
    """

    columns: int = 2
    rows: int = 7
    left: float = 8.0
    top: float = 12.0
    between_columns: float = 4.0
    between_rows: float = 0.0
    cut_lines: bool = True

    def faults(self, paper: Paper) -> Iterator[str]:
        """Yield why labels cannot be printed so; one sentence each."""
        if self.columns < 1 or self.rows < 1:
            yield "A sheet of labels needs one column and one row at least."
            return
        free = (self.left, self.top, self.between_columns, self.between_rows)
        if min(free) < 0:
            yield "Margins and gaps of labels cannot be less than nothing."
        length, width = self.size(paper)
        if length < LEAST[0] or width < LEAST[1]:
            yield (
                f"Labels would be {length:.1f} by {width:.1f} mm: they need"
                f" {LEAST[0]:.0f} by {LEAST[1]:.0f} at least. Take fewer columns or rows."
            )

    def size(self, paper: Paper) -> tuple[float, float]:
        """Return length and width of one label in mm."""
        length, width = paper.value
        length -= 2 * self.left + (self.columns - 1) * self.between_columns
        width -= 2 * self.top + (self.rows - 1) * self.between_rows
        return length / self.columns, width / self.rows


LEAST = (38.0, 20.0)
"""The smallest label that has room for name, size and code, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLabel:
    """What one label says."""

    part: Part
    copy: int
    sheet: str
    next_step: str

    @property
    def code(self) -> str:
        """What its matrix code holds: id of the part, a slash, number of the copy."""
        return f"{self.part.id}/{self.copy}"


def labels_of(matter: Matter) -> list[PartLabel]:
    """Return the labels of all copies that lie on a sheet, in the order of the take-off."""
    placed = {
        box.copy_key: drawing.sheet
        for drawing in matter.drawings
        for box in drawing.boxes
        if box.part
    }
    return [
        PartLabel(
            part=part, copy=copy, sheet=placed[part.id, copy], next_step=next_step(part, matter)
        )
        for part in matter.job.parts
        for copy in range(1, part.copies + 1)
        if (part.id, copy) in placed
    ]


def next_step(part: Part, matter: Matter) -> str:
    """Say what is done with a part once it is sawn from its sheet."""
    first = matter.first_steps.get(part.id, "")
    if part.waits:
        return MEASURE_FIRST
    if part.oversize or part.fit_allowance:
        size = format_pair(part.sawn_length, part.sawn_width, matter.style)
        return f"finish to {size}"
    return first or bands_words(part.bands, matter.style) or "assemble"


def label_pages(
    matter: Matter, form: LabelSheet | None = None, paper: Paper = Paper.A4, before: int = 0
) -> tuple[ink.Page, ...]:
    """Compose the label sheets, behind so many other pages; ValueError if the form has a fault.

    They are numbered where the margin has room for it.
    """
    form = form or LabelSheet()
    for fault in form.faults(paper):
        raise ValueError(fault)
    offcuts = [one for one in matter.kept if one.sheet]
    labels: list[PartLabel | Keeper] = [*labels_of(matter), *offcuts]
    each = form.columns * form.rows
    sheets = [labels[at : at + each] for at in range(0, len(labels), each)]
    total = before + len(sheets)
    return tuple(
        _page(sheet, form, paper, matter, page_words(number, total))
        for number, sheet in enumerate(sheets, before + 1)
    )


def _page(
    labels: Sequence[PartLabel | Keeper],
    form: LabelSheet,
    paper: Paper,
    matter: Matter,
    number: str,
) -> ink.Page:
    length, width = paper.value
    size = form.size(paper)
    items: list[ink.Item] = []
    if matter.banner:
        said = shortened(matter.banner, length - 2 * form.left, TEXT, bold=True)
        items.append(words(said, form.left, form.top / 2, TEXT, bold=True))
    if form.top >= BORDER + LINE * TEXT and form.left >= BORDER:
        foot = width - form.top + LINE / 2 * TEXT
        items.append(words(number, length - form.left, foot, TEXT, anchor=ink.Anchor.END))
    for place, label in enumerate(labels):
        row, column = divmod(place, form.columns)
        frame = ink.Spread(
            x=form.left + column * (size[0] + form.between_columns),
            y=form.top + row * (size[1] + form.between_rows),
            length=size[0],
            width=size[1],
        )
        items += _label(label, frame, form, matter.style)
    return ink.Page(
        length=length, width=width, items=tuple(items), title=f"{matter.job.name}: labels"
    )


def _label(
    label: PartLabel | Keeper, frame: ink.Spread, form: LabelSheet, style: LengthStyle
) -> Iterator[ink.Item]:
    if form.cut_lines:
        pen = ink.Pen(width=0.18, colour="#777777")
        yield frame.plate(pen=pen)
    inner = frame.inside(INSIDE)
    if isinstance(label, Keeper):
        yield from _words(partial(_offcut_lines, label, style), inner)
        return
    side = min(inner.width * 0.62, inner.length * 0.28)
    corner = ink.Spread(x=inner.right - side, y=inner.y, length=side, width=side)
    yield from _code(_modules(label.code), corner)
    below = ink.Spread(
        x=corner.x, y=corner.bottom + 0.8, length=side, width=inner.bottom - corner.bottom - 0.8
    )
    yield from label_picture(label.part, below)
    room = ink.Spread(x=inner.x, y=inner.y, length=inner.length - side - 2, width=inner.width)
    yield from _words(partial(_lines, label, style), room)


@lru_cache(maxsize=512)
def _modules(code: str) -> tuple[bytes, ...]:
    """Return the rows of a code, each dark module as 1: a preview and its print have the same."""
    return tuple(map(bytes, segno.make_qr(code, error="m").matrix))


def _code(matrix: Sequence[bytes], corner: ink.Spread) -> Iterator[ink.Item]:
    """Draw the modules as squares; the quiet zone lies inside the corner."""
    module = corner.length / (len(matrix) + 2 * QUIET)
    squares = [
        _square(corner, (column + QUIET) * module, (row + QUIET) * module, module)
        for row, line in enumerate(matrix)
        for column, dark in enumerate(line)
        if dark
    ]
    yield ink.Patch(outlines=tuple(squares), fill="#000000")


def _square(corner: ink.Spread, x: float, y: float, side: float) -> tuple[ink.Spot, ...]:
    left, top = corner.x + x, corner.y + y
    right, bottom = left + side * 1.002, top + side * 1.002  # no white hairline between squares
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _words(say: "_Say", room: ink.Spread) -> Iterator[ink.Item]:
    """Write what has room, the name first; a long name takes two lines, then dots."""
    down = room.y
    for text, size, bold in _largest(say, room):
        if down + LINE * size > room.bottom + 0.01:
            return
        fits = min(size, room.length / max(length_of(text, 1.0, bold=bold), 0.01))
        yield words(text, room.x, down + LINE / 2 * size, fits, bold=bold)
        down += LINE * size


def _largest(say: "_Say", room: ink.Spread) -> list[_Line]:
    """Return the lines of the largest size at which all have room, or of the least."""
    lines: list[_Line] = []
    for larger in LARGER:
        lines = list(say(room.length, larger))
        if sum(LINE * size for _, size, _ in lines) <= room.width:
            break
    return lines


_Say: TypeAlias = Callable[[float, float], Iterator[_Line]]
"""Yields the lines of a label for a room of so many mm, so many times as large as the least."""


def _offcut_lines(
    offcut: Keeper, style: LengthStyle, room: float, larger: float
) -> Iterator[_Line]:
    """Yield what the label of an offcut says: its name, size, material, and sheet."""
    size = larger * TEXT
    yield offcut.called, larger * NAME, True
    yield offcut_size(offcut.length, offcut.width, style), 1.1 * size, True
    for text in (offcut.material, f"from sheet {offcut.sheet}"):
        yield from ((line, size, False) for line in wrapped(text, room, size))


def _lines(label: PartLabel, style: LengthStyle, room: float, larger: float) -> Iterator[_Line]:
    """Yield all a label says: words, text size in mm, whether they are bold."""
    part, size = label.part, larger * TEXT
    for line in two_lines(part.name or part.id, room, larger * NAME):
        yield line, larger * NAME, True
    yield format_pair(part.cut_length, part.cut_width, style), 1.1 * size, True
    for text in (f"{label.copy} of {part.copies}, sheet {label.sheet}", f"next: {label.next_step}"):
        yield from ((line, size, False) for line in wrapped(text, room, size))


THIN, BAND = 0.3, 1.0
"""Widths of a bare and of a banded edge, in mm."""


def label_picture(part: Part, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw a part to scale in a frame: a heavy line is a banded edge, the V the reference corner.

    The double-headed line runs the way the grain runs; none is drawn where it may run either way.
    """
    length, width = part.cut_length, part.cut_width
    free = frame.length - 2 * BAND, frame.width - 2 * BAND - 1.4
    if min(free) <= 1 or min(length, width) <= 0:
        return
    scale = min(free[0] / length, free[1] / width)
    box = ink.Spread(
        x=frame.x + (frame.length - length * scale) / 2,
        y=frame.y + BAND + 1.4 + (free[1] - width * scale) / 2,
        length=length * scale,
        width=width * scale,
    )
    yield from _edges(part, box)
    yield from _grain(part, box)
    tip = box.x + min(1.2, box.length / 2)
    mark = ((tip - 0.7, box.y - 1.3), (tip, box.y), (tip + 0.7, box.y - 1.3))
    yield ink.Strokes(lines=(mark,), pen=ink.Pen(width=THIN))


def _edges(part: Part, box: ink.Spread) -> Iterator[ink.Item]:
    bands = part.bands
    sides = (
        (bands.top, (box.x, box.y), (box.right, box.y)),
        (bands.bottom, (box.x, box.bottom), (box.right, box.bottom)),
        (bands.left, (box.x, box.y), (box.x, box.bottom)),
        (bands.right, (box.right, box.y), (box.right, box.bottom)),
    )
    for band, start, end in sides:
        yield ink.Strokes(lines=((start, end),), pen=ink.Pen(width=BAND if band else THIN))


def _grain(part: Part, box: ink.Spread) -> Iterator[ink.Item]:
    if part.grain_rule is GrainRule.EITHER:
        return
    along = part.grain_rule is GrainRule.ALONG_LENGTH
    x, y = box.x + box.length / 2, box.y + box.width / 2
    half = 0.35 * (box.length if along else box.width)
    head = min(0.9, half / 2)
    line = _turned(((-half, 0.0), (half, 0.0)), x, y, along=along)
    heads = [
        _turned(
            ((end * (half - head), -head / 2), (end * half, 0.0), (end * (half - head), head / 2)),
            x,
            y,
            along=along,
        )
        for end in (-1, 1)
    ]
    yield ink.Strokes(lines=(line, *heads), pen=ink.Pen(width=0.25))


def _turned(
    spots: tuple[ink.Spot, ...], x: float, y: float, *, along: bool
) -> tuple[ink.Spot, ...]:
    return tuple((x + a, y + b) if along else (x + b, y + a) for a, b in spots)

"""Sheets of labels, of any division, for the parts and the offcuts to keep of a plan."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Final, TypeAlias

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Paper, page_words
from layout_app.paper.pack.label_face import LINE, at_most, draw_label, draw_note, face_of
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.pack.label_words import labels_of, lacking
from layout_app.paper.pack.setting import length_of, words

TEXT: Final = 3.2
"""Size of what stands beside the labels, in mm."""
BORDER: Final = 5.0
"""Most printers reach so near the edges of the paper, in mm."""


def label_pages(
    matter: Matter, form: LabelSheet | None = None, paper: Paper = Paper.A4, before: int = 0
) -> tuple[ink.Page, ...]:
    """Compose the label sheets, behind so many other pages; ValueError if the form has a fault.

    Where the margins have room, title, plan and day stand above, what is lacking and the page
    below; else what is lacking stands on a label of its own, the first.
    """
    form = form or LabelSheet()
    for fault in form.faults(paper):
        raise ValueError(fault)
    labels = labels_of(matter)
    margins = _Margins(matter, form, paper)
    faces: list[_Face] = [partial(draw_note, margins.note)] if labels and margins.crowded else []
    face = face_of(labels, form.size(paper), matter.number)
    faces += [partial(draw_label, label, face) for label in labels]
    each = form.columns * form.rows
    sheets = [faces[at : at + each] for at in range(0, len(faces), each)]
    total = before + len(sheets)
    return tuple(
        ink.Page(
            length=paper.value[0],
            width=paper.value[1],
            items=(*margins.items(page_words(number, total)), *_labels(sheet, form, paper)),
            title=f"{matter.job.name}: labels",
            chapter="Labels",
        )
        for number, sheet in enumerate(sheets, before + 1)
    )


_Face: TypeAlias = Callable[[ink.Spread], Iterator[ink.Item]]
"""Draws a label in its frame."""


def _labels(faces: Sequence[_Face], form: LabelSheet, paper: Paper) -> Iterator[ink.Item]:
    for draw, frame in zip(faces, form.frames(paper), strict=False):
        if form.borders:
            yield frame.plate(pen=ink.Pen(width=0.18, colour="#777777"))
        yield from draw(frame)


class _Margins:
    """What stands above and below the labels: title and identity, what is lacking, the page."""

    def __init__(self, matter: Matter, form: LabelSheet, paper: Paper) -> None:
        self._title, self._identity = f"{matter.job.name}: labels", matter.identity
        self._top, (self._length, self._width) = form.top, paper.value
        self._side = max(form.left, BORDER)
        self.note = " ".join(filter(None, (matter.banner, *lacking(matter))))

    @property
    def _lines(self) -> int:
        """How many lines a margin has room for."""
        return int((self._top - BORDER) / (LINE * TEXT) + 1e-6)

    @property
    def crowded(self) -> bool:
        """Whether the margins have no room for what is lacking."""
        return bool(self.note) and not self._lines

    def items(self, number: str) -> Iterator[ink.Item]:
        """Write what the margins have room for."""
        middle = self._top - LINE / 2 * TEXT
        if self._lines:
            yield from self._both_ends(self._title, self._identity, middle, 1)
            yield from self._both_ends(self.note, number, self._width - middle, self._lines)

    def _both_ends(self, first: str, last: str, y: float, most: int) -> Iterator[ink.Item]:
        """Write at both ends of a line; at the left so many lines, their end dots if need be."""
        right = self._length - self._side
        room = right - self._side - length_of(last, TEXT) - 2 * TEXT
        for place, line in enumerate(at_most(first, room, TEXT, most, bold=True)):
            yield words(line, self._side, y + place * LINE * TEXT, TEXT, bold=True)
        yield words(last, right, y, TEXT, anchor=ink.Anchor.END)

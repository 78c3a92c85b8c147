"""Panels put on pages: they flow down, and over pages between their rows where they must."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.blocks import height
from layout_app.paper.pack.book import MARGIN, Book
from layout_app.paper.pack.setting import rule
from layout_app.paper.pack.tables import TableRow
from layout_app.paper.panels.gathering import Panel, panels_of
from layout_app.paper.panels.picture import PanelPicture
from layout_app.paper.panels.saying import Line, PanelWords, RowWords, telling_of, words_of
from layout_app.paper.panels.setting import (
    SetRow,
    bar_block,
    head_block,
    line_block,
    row_blocks,
)
from shared.lengths import LengthStyle
from shared.shop import Axis
from shared.telling import Instruction

PANELS: Final = "Cuts (drawings not to scale)"
"""The chapter: narrow pieces are drawn wide enough for their names."""
PICTURE: Final = 70.0
"""Length of the column of pictures, in mm."""
GUTTER: Final = 4.0
COLUMN: Final = 180.0
"""A column of panels is at least so long, in mm."""
BETWEEN: Final = 8.0
"""Free between two columns of panels, in mm."""
LOW, HIGH, BOTH, MOST = 32.0, 48.0, 64.0, 90.0
"""A picture is at most so high, in mm: beside a few lines, beside many, where the piece is both
ripped and crosscut, and where it has many strips."""
STRIP: Final = 9.0
"""Each strip may ask for so much of that, in mm."""
GAP: Final = 2.0
"""Free above and below the rule between panels, in mm."""
ROWS: Final = 1.6
"""Free between two rows, in mm."""
TALL: Final = 0.45
"""A panel taller than so much of a page may be split between its rows."""
FULL: Final = 0.5
"""So full a page is at least before the next one is begun."""


def put_panels(book: Book, matter: Matter) -> None:
    """Put the panels of all cuts in their order, in columns where the page is wide enough."""
    lying = _columns(max(book.paper.value)) > _columns(min(book.paper.value))
    book.turn(PANELS, lying=lying)
    flow = _Flow(book, _columns(max(book.paper.value) if lying else min(book.paper.value)))
    telling = telling_of(matter)
    for panel in panels_of(matter.told):
        flow.put(_SetPanel.of(panel, words_of(panel, telling), matter, flow.length))
    flow.end()


def _columns(long: float) -> int:
    """Return how many columns have room on a page so many mm long."""
    return max(1, int((long - 2 * MARGIN + BETWEEN) / (COLUMN + BETWEEN)))


@dataclass(frozen=True, slots=True)
class _Body:
    """What of a panel stands below its head, and how high that is, in mm.

    Attributes
    ----------
    over, beneath
        Lines over picture and rows, and beneath the picture.
    placed
        Where each row begins below ``over``, whether beside the picture, and its blocks.
    """

    over: tuple[TableRow, ...]
    beneath: tuple[TableRow, ...]
    placed: Sequence[tuple[float, bool, SetRow]]
    height: float


@dataclass(frozen=True, kw_only=True)
class _SetPanel:
    """A panel, or what of it goes on on another page; lengths in mm.

    Below bars, head and what holds at all cuts the picture stands at the left. Rows stand beside
    it as far down as it reaches, and then over the whole length.
    """

    name: str
    words: PanelWords
    rows: tuple[RowWords, ...]
    drawn: tuple[tuple[Instruction, ...], ...]
    style: LengthStyle
    length: float
    made: frozenset[int]
    several: bool
    continued: bool = False

    @classmethod
    def of(cls, panel: Panel, said: PanelWords, matter: Matter, length: float) -> "_SetPanel":
        """Set the words of a panel over so many mm."""
        mine = {one.number for one in panel.drawn}
        return cls(
            name=panel.first.piece,
            words=said,
            rows=said.rows,
            drawn=tuple(
                tuple(one for one in row.passes if one.number in mine) for row in panel.rows
            ),
            style=matter.style,
            length=length,
            made=frozenset(matter.made),
            several=len(panel.stacks) > 1,
        )

    @cached_property
    def _above(self) -> tuple[TableRow, ...]:
        """What stands over both columns."""
        name = f"{self.words.name}, continued" if self.continued else self.words.name
        bars = () if self.continued else self.words.bars
        head = "" if self.continued else self.words.head
        return (
            *(bar_block(bar, self.length) for bar in bars),
            head_block(name, head, self.length),
        )

    def _common(self, length: float) -> tuple[TableRow, ...]:
        return tuple(line_block(line, length, 0.0) for line in self.words.common)

    @cached_property
    def _blocks(self) -> list[tuple[SetRow, SetRow]]:
        """Each row set beside the picture, and over the whole length."""
        beside = self.length - PICTURE - GUTTER
        return [(row_blocks(row, beside), row_blocks(row, self.length)) for row in self.rows]

    @cached_property
    def _picture(self) -> PanelPicture:
        rows = sum(narrow.height for narrow, _ in self._blocks)
        axes = [one.stroke.axis for row in self.drawn for one in row]
        most = BOTH if len(set(axes)) > 1 else HIGH
        strips = STRIP * (axes.count(Axis.RIP) + 1)
        high = max(min(most, max(LOW, rows)), min(MOST, strips))
        return PanelPicture(self.drawn, self.style, (PICTURE, high), self.made)

    @cached_property
    def _caption(self) -> tuple[TableRow, ...]:
        said = f"Drawn: {self.name}"
        return (line_block(Line(text=said), PICTURE, 0.0),) if self.several else ()

    @cached_property
    def _body(self) -> _Body:
        """What stands below the head: what holds at all cuts where it takes least room."""
        over = self._set(self._common(self.length), self._caption)
        beneath = self._set((), (*self._caption, *self._common(PICTURE)))
        return beneath if beneath.height < over.height else over

    def _set(self, over: tuple[TableRow, ...], beneath: tuple[TableRow, ...]) -> _Body:
        """Set rows beside the picture as far down as it and what stands beneath it reach."""
        left = self._picture.height + height(beneath)
        placed, down, beside = [], 0.0, True
        for narrow, broad in self._blocks:
            top = max(down, left + ROWS)
            beside = beside and down + narrow.height <= top + broad.height
            set_row, start = (narrow, down) if beside else (broad, top)
            placed.append((start, beside, set_row))
            down = start + set_row.height + ROWS
        return _Body(over, beneath, placed, height(over) + max(left, down - ROWS))

    @cached_property
    def height(self) -> float:
        """Of all of it."""
        return height(self._above) + self._body.height

    def split(self, room: float, *, must: bool) -> "tuple[_SetPanel | None, _SetPanel]":
        """Part it between rows so that the first has room; if it must be, between passes."""
        for count in range(len(self.rows) - 1, 0, -1):
            first = replace(self, rows=self.rows[:count])
            if first.height <= room:
                return first, self._rest(self.rows[count:])
        return self._within(room) if must else (None, self)

    def _rest(self, rows: tuple[RowWords, ...]) -> "_SetPanel":
        told = {one.number for row in self.rows for one in row.passes}
        to_come = {one.number for row in rows for one in row.passes}
        made = self.made | (told - to_come)
        return replace(self, rows=rows, continued=True, made=made)

    def _within(self, room: float) -> "tuple[_SetPanel | None, _SetPanel]":
        """Part its first row: so many of its passes as have room."""
        row, *others = self.rows
        for count in range(len(row.passes) - 1, 0, -1):
            first = replace(self, rows=(replace(row, passes=row.passes[:count]),))
            if first.height <= room:
                left = replace(row, bars=(), passes=row.passes[count:])
                return first, self._rest((left, *others))
        return None, self

    def draw(self, x: float, y: float) -> ink.Item:
        """Draw it from its top left corner."""
        body, down = self._body, y + height(self._above)
        items = list(_drawn((*self._above, *body.over), x, y, self.length))
        down += height(body.over)
        items += self._picture.draw(x, down, PICTURE)
        items += _drawn(body.beneath, x, down + self._picture.height, PICTURE)
        for start, beside, row in body.placed:
            left = PICTURE + GUTTER if beside else 0.0
            items += _drawn(row.blocks, x + left, down + start, self.length - left)
        first = min(one.number for one in self.rows[0].passes)
        return ink.Group(name=f"panel-{self.name}-{first}", items=tuple(items))


def _drawn(blocks: Sequence[TableRow], x: float, y: float, length: float) -> Iterator[ink.Item]:
    for block in blocks:
        yield from block.draw(x, y, length)
        y += block.height


class _Flow:
    """Columns of pages that are filled with panels; begins on the page that is begun."""

    def __init__(self, book: Book, number: int) -> None:
        self._book, self._number = book, number
        whole = book.whole()
        self._whole = whole
        self.length = (whole.length - (number - 1) * BETWEEN) / number
        self._at, self._down = 0, 0.0
        self._items: list[ink.Item] = []

    @property
    def _room(self) -> float:
        """What is free of the column below a rule."""
        return self._whole.width - self._down - (2 * GAP if self._down else 0.0)

    def put(self, panel: _SetPanel) -> None:
        """Put a panel, parts of it on other pages if it must be."""
        left = panel
        while left.height > self._room:
            part = None
            if left.height > TALL * self._whole.width or self._is_bare:
                part, left = left.split(self._room, must=not self._down)
            if part is not None:
                self._place(part)
            elif not self._down:
                break  # one cut alone is higher than a page
            self._on()
        self._place(left)

    @property
    def _is_bare(self) -> bool:
        return self._down < FULL * self._whole.width

    def _place(self, panel: _SetPanel) -> None:
        x = self._whole.x + self._at * (self.length + BETWEEN)
        if self._down:
            self._down += GAP
            self._items.append(rule(x, x + self.length, self._whole.y + self._down))
            self._down += GAP
        self._items.append(panel.draw(x, self._whole.y + self._down))
        self._down += panel.height

    def _on(self) -> None:
        """Go on in the next column, or on the next page."""
        self._at, self._down = self._at + 1, 0.0
        if self._at == self._number:
            self._book.fill(self._items)
            self._book.turn(PANELS, lying=self._number > 1)
            self._at, self._items = 0, []

    def end(self) -> None:
        """Put what the last page holds."""
        self._book.fill(self._items)

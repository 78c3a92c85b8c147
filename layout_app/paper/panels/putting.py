"""Panels put on pages: they flow down, and over pages between their rows where they must."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.blocks import height
from layout_app.paper.pack.book import MARGIN, TEXT, Book
from layout_app.paper.pack.setting import rule, words
from layout_app.paper.pack.tables import TableRow
from layout_app.paper.panels.gathering import Panel, panels_of
from layout_app.paper.panels.picture import PanelPicture
from layout_app.paper.panels.saying import PanelWords, RowWords, telling_of, words_of
from layout_app.paper.panels.setting import (
    LINE,
    SetRow,
    bar_block,
    head_block,
    line_block,
    row_blocks,
)
from shared.lengths import LengthStyle
from shared.telling import Instruction

PANELS: Final = "Cuts"
"""The chapter."""
PICTURE: Final = 76.0
"""Length of the column of pictures, in mm."""
GUTTER: Final = 5.0
COLUMN: Final = 180.0
"""A column of panels is at least so long, in mm."""
BETWEEN: Final = 8.0
"""Free between two columns of panels, in mm."""
LEAST, MOST = 36.0, 64.0
"""Heights of a picture, in mm: so high at most where its rows take less, and where more."""
GAP: Final = 2.4
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


@dataclass(frozen=True, kw_only=True)
class _SetPanel:
    """A panel, or what of it goes on on another page; lengths in mm."""

    name: str
    words: PanelWords
    rows: tuple[tuple[RowWords, SetRow], ...]
    drawn: tuple[tuple[Instruction, ...], ...]
    style: LengthStyle
    length: float
    made: frozenset[int]
    several: bool
    continued: bool = False

    @classmethod
    def of(cls, panel: Panel, said: PanelWords, matter: Matter, length: float) -> "_SetPanel":
        """Set the words of a panel over so many mm."""
        first, broad = panel.first, length - PICTURE - GUTTER
        mine = {one.number for one in panel.drawn}
        return cls(
            name=first.piece,
            words=said,
            rows=tuple((row, row_blocks(row, broad)) for row in said.rows),
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

    @cached_property
    def _common(self) -> tuple[TableRow, ...]:
        return tuple(line_block(line, PICTURE, 0.0) for line in self.words.common)

    @cached_property
    def _right(self) -> float:
        between = ROWS * (len(self.rows) - 1)
        return sum(row.height for _, row in self.rows) + between

    @cached_property
    def _picture(self) -> PanelPicture:
        high = min(MOST, max(LEAST, self._right - height(self._common) - 2.0))
        return PanelPicture(self.drawn, self.style, (PICTURE, high), self.made)

    @cached_property
    def _caption(self) -> str:
        which = f"Drawn: {self.name}" if self.several else ""
        scale = "" if self._picture.to_scale else "not to scale"
        said = ", ".join(filter(None, (which, scale)))
        return said[:1].upper() + said[1:]

    @cached_property
    def _left(self) -> float:
        caption = LINE * TEXT if self._caption else 0.0
        return self._picture.height + caption + 1.0 + height(self._common)

    @cached_property
    def height(self) -> float:
        """Of all of it."""
        return height(self._above) + max(self._left, self._right)

    def split(self, room: float, *, must: bool) -> "tuple[_SetPanel | None, _SetPanel | None]":
        """Part it between rows so that the first has room; if it must be, within a row."""
        for count in range(len(self.rows) - 1, 0, -1):
            first = replace(self, rows=self.rows[:count])
            if first.height <= room:
                return first, self._rest(self.rows[count:])
        return self._within(room) if must else (None, self)

    def _rest(self, rows: tuple[tuple[RowWords, SetRow], ...]) -> "_SetPanel":
        told = {one.number for row, _ in self.rows for one in row.passes}
        to_come = {one.number for row, _ in rows for one in row.passes}
        return replace(self, rows=rows, continued=True, made=self.made | (told - to_come))

    def _within(self, room: float) -> "tuple[_SetPanel | None, _SetPanel | None]":
        """Part its first row: so many of its blocks as have room, at least its head."""
        said, row = self.rows[0]
        free = room - height(self._above)
        count = row.head
        while count < len(row.blocks) and height(row.blocks[: count + 1]) <= free:
            count += 1
        if count == len(row.blocks):
            rows = self.rows[1:]
            return replace(self, rows=self.rows[:1]), self._rest(rows) if rows else None
        begun = (said, SetRow(row.blocks[:count], row.head))
        left = (said, SetRow(row.blocks[count:], 1))
        return replace(self, rows=(begun,)), self._rest((left, *self.rows[1:]))

    def draw(self, x: float, y: float) -> ink.Item:
        """Draw it from its top left corner."""
        items: list[ink.Item] = []
        down = y
        for block in self._above:
            items += block.draw(x, down, self.length)
            down += block.height
        items += self._drawn_left(x, down)
        items += self._drawn_right(x + PICTURE + GUTTER, down)
        first = min(one.number for one in self.rows[0][0].passes)
        return ink.Group(name=f"panel-{self.name}-{first}", items=tuple(items))

    def _drawn_left(self, x: float, y: float) -> Iterator[ink.Item]:
        yield from self._picture.draw(x, y, PICTURE)
        down = y + self._picture.height
        if self._caption:
            yield words(self._caption, x, down + LINE * TEXT / 2, TEXT)
            down += LINE * TEXT
        yield from _drawn(self._common, x, down + 1.0, PICTURE)

    def _drawn_right(self, x: float, y: float) -> Iterator[ink.Item]:
        broad = self.length - PICTURE - GUTTER
        for _, row in self.rows:
            yield from _drawn(row.blocks, x, y, broad)
            y += row.height + ROWS


def _drawn(blocks: Sequence[TableRow], x: float, y: float, length: float) -> Iterator[ink.Item]:
    for block in blocks:
        yield from block.draw(x, y, length)
        y += block.height


class _Flow:
    """Columns of pages that are filled with panels; begins on the page that is begun."""

    def __init__(self, book: Book, number: int) -> None:
        self._book, self._number, self._lying = book, number, False
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
        left: _SetPanel | None = panel
        while left is not None:
            if left.height <= self._room:
                self._place(left)
                return
            may = left.height > TALL * self._whole.width or self._is_bare
            part = None
            if may:
                part, left = left.split(self._room, must=not self._down)
            if part is not None:
                self._place(part)
            if left is not None:
                self._on()

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

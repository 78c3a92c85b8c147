"""Pages that are filled from top to bottom: headings, paragraphs, tables, blocks of any kind."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from layout_app.paper import ink
from layout_app.paper.pack import blocks
from layout_app.paper.pack.blocks import Rows
from layout_app.paper.pack.setting import (
    LEADING,
    Draw,
    length_of,
    rule,
    shortened,
    words,
    wrapped,
)
from layout_app.paper.pack.tables import Table, TableColumn, TableRow, filled
from layout_app.paper.pens import OUTLINE

MARGIN = 10.0
"""Free on all sides of a page, in mm: most printers reach that far."""
HEAD = 9.0
"""What the line above the content takes, in mm."""
TEXT, LARGE, TITLE = 4.0, 5.0, 9.0
"""Text sizes in mm."""
LEAST_TITLE = 20.0
"""A title that has less room in the head of a page is left out, in mm."""
MEASURE, GUTTER = 85.0, 8.0
"""Length of lines of a column at least, and free between two, in mm."""


class Paper(Enum):
    """Sizes of paper in mm, upright: ISO 216, and Letter as ANSI/ASME Y14.1 has it."""

    A4 = (210.0, 297.0)
    A3 = (297.0, 420.0)
    LETTER = (215.9, 279.4)


@dataclass(slots=True)
class _Leaf:
    """A page being filled."""

    length: float
    width: float
    heading: str
    items: list[ink.Item]


def page_words(number: int, total: int) -> str:
    """Say which page of how many one is."""
    return f"page {number} of {total}"


class Book:
    """Pages of one kind of paper under one title; ``identity`` names plan and day on each."""

    def __init__(self, paper: Paper, title: str, banner: str = "", identity: str = "") -> None:
        self._paper, self._title, self._banner = paper, title, banner
        self._identity = identity
        self._leaves: list[_Leaf] = []
        self._chapter = ""
        self._down = 0.0

    # --- pages -------------------------------------------------------------------------

    def turn(self, heading: str, *, lying: bool = False) -> None:
        """Begin a page; ``lying`` is wider than high."""
        length, width = self._paper.value
        if lying:
            length, width = width, length
        self._leaves.append(_Leaf(length=length, width=width, heading=heading, items=[]))
        self._chapter = heading
        self._down = self._top

    def follow(self, heading: str, height: float) -> None:
        """Begin a chapter on this page if so much of it is free, in mm, and it stands upright."""
        if not self.upright or self.room.width < height - 1e-6:
            self.turn(heading)
            return
        leaf = self._leaves[-1]
        leaf.heading += f", {heading[0].lower()}{heading[1:]}"
        self._chapter = heading

    def _again(self) -> None:
        """Go on on a page like this one."""
        self.turn(self._chapter, lying=not self.upright)

    @property
    def paper(self) -> Paper:
        """What it is printed on."""
        return self._paper

    @property
    def upright(self) -> bool:
        """Whether there is a page yet, and it is higher than wide."""
        return bool(self._leaves) and self._leaves[-1].length < self._leaves[-1].width

    @property
    def next_number(self) -> int:
        """The number of the page that would be begun next."""
        return len(self._leaves) + 1

    @property
    def _top(self) -> float:
        return MARGIN + HEAD + self._banner_height(self._leaves[-1].length)

    @property
    def room(self) -> ink.Spread:
        """What is still free of the page."""
        leaf = self._leaves[-1]
        return ink.Spread(
            x=MARGIN,
            y=self._down,
            length=leaf.length - 2 * MARGIN,
            width=leaf.width - MARGIN - self._down,
        )

    def whole(self) -> ink.Spread:
        """Return what is free of an empty page like this one."""
        room = self.room
        return ink.Spread(x=room.x, y=self._top, length=room.length, width=room.bottom - self._top)

    def empty(self, *, lying: bool) -> ink.Spread:
        """Return what would be free of a page that is begun."""
        length, width = sorted(self._paper.value, reverse=lying)
        top = MARGIN + HEAD + self._banner_height(length)
        return ink.Spread(x=MARGIN, y=top, length=length - 2 * MARGIN, width=width - MARGIN - top)

    # --- content -----------------------------------------------------------------------

    def put(self, height: float, draw: Draw) -> None:
        """Put a block of that height below what is there, on the next page if it must be."""
        if height > self.room.width + 1e-6 and self._down > self._top:
            self._again()
        room = self.room
        self._leaves[-1].items += draw(room.x, room.y, room.length)
        self._down += height

    def fill(self, items: Sequence[ink.Item]) -> None:
        """Put items that were made for all of this page's room, as `whole` gives it."""
        self._leaves[-1].items += items
        self._down = self.room.bottom

    def gap(self, height: float) -> None:
        """Leave room, but none at the top of a page."""
        if self._down > self._top:
            self._down += height

    def keep(self, height: float) -> None:
        """Begin a page if so much does not fit on this one any more."""
        if height > self.room.width and self._down > self._top:
            self._again()

    def heading(self, text: str, size: float = LARGE) -> None:
        """Write a heading, together with a few lines of what follows."""
        self.gap(0.6 * size)
        self.keep(LEADING * size + 4 * LEADING * TEXT)
        self.paragraph(text, size, bold=True)

    def paragraph(self, text: str, size: float = TEXT, *, bold: bool = False) -> None:
        """Write a text over as many lines as it takes."""
        self._rows(blocks.paragraph(text, self.room.length, size, bold=bold))

    def points(self, texts: Sequence[str], size: float = TEXT) -> None:
        """Write a list, a dot before each."""
        for rows in blocks.points(texts, self.room.length, size):
            self.keep(blocks.height(rows))
            self._rows(rows)

    def columns(self, units: Callable[[float], Sequence[Rows]]) -> None:
        """Put blocks in as many columns as the page is wide enough for, over pages if they must.

        ``units`` makes them for columns so many mm long.
        """
        number = max(1, int((self.room.length + GUTTER) / (MEASURE + GUTTER)))
        length = (self.room.length - (number - 1) * GUTTER) / number
        left = list(units(length))
        while left:
            self.keep(blocks.height(left[0]))
            stacks, left = blocks.poured(left, number, self.room.width)
            row = blocks.beside(stacks, length + GUTTER)
            self.put(row.height, row.draw)
            if left:
                self._again()

    def _rows(self, rows: Sequence[TableRow]) -> None:
        for row in rows:
            self.put(row.height, row.draw)

    def table(
        self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], size: float = TEXT
    ) -> None:
        """Write a table; its headings stand again on each page. Empty columns are left out.

        Where it goes on on another page, a few rows stand on either.
        """
        table = Table(*filled(columns, rows), self.room.length, size)
        together = table.together(self.whole().width / 2)
        self.keep(table.head.height + sum(row.height for row in together[0]))
        self.put(table.head.height, table.head.draw)
        for rows_of in together:
            if sum(row.height for row in rows_of) > self.room.width + 1e-6:
                self._again()
                self.put(table.head.height, table.head.draw)
            self._rows(rows_of)
        self.gap(0.5 * TEXT)

    def headed_table(
        self, heading: str, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]
    ) -> None:
        """Write a heading and a table below it; a short one on one page."""
        table = Table(*filled(columns, rows), self.room.length, TEXT)
        first = (table.head, *table.together(self.whole().width / 2)[0])
        self.gap(0.6 * LARGE)
        self.keep(sum(row.height for row in first) + LEADING * LARGE)
        self.paragraph(heading, LARGE, bold=True)
        self.table(columns, rows)

    # --- whole -------------------------------------------------------------------------

    def _banner_height(self, length: float) -> float:
        return LEADING * LARGE * len(self._banner_lines(length)) + 3.0 if self._banner else 0.0

    def _banner_lines(self, length: float) -> list[str]:
        return wrapped(self._banner, length - 2 * MARGIN - 4, LARGE, bold=True)

    def pages(self, behind: int = 0) -> tuple[ink.Page, ...]:
        """Return all pages, each with title, page number and banner; so many others come behind."""
        total = len(self._leaves) + behind
        return tuple(self._page(leaf, number, total) for number, leaf in enumerate(self._leaves, 1))

    def _page(self, leaf: _Leaf, number: int, total: int) -> ink.Page:
        head = ink.Group(
            name="head", layer="Head", items=tuple(self._furniture(leaf, number, total))
        )
        return ink.Page(
            length=leaf.length,
            width=leaf.width,
            items=(head, ink.Group(name="content", layer="Content", items=tuple(leaf.items))),
            title=f"{self._title}: {leaf.heading}",
            chapter=leaf.heading,
        )

    def _furniture(self, leaf: _Leaf, number: int, total: int) -> Iterator[ink.Item]:
        """Yield what stands above the content: heading and title, then plan, day and page."""
        right, y = leaf.length - MARGIN, MARGIN + TEXT / 2 + 0.6
        told = " · ".join(filter(None, (self._identity, page_words(number, total))))
        room = right - MARGIN - length_of(told, TEXT) - TEXT
        heading = shortened(leaf.heading, room, TEXT, bold=True)
        room -= length_of(heading, TEXT, bold=True) + TEXT
        yield words(heading, MARGIN, y, TEXT, bold=True)
        if room > LEAST_TITLE:
            title = shortened(self._title, room, TEXT)
            start = MARGIN + length_of(heading, TEXT, bold=True) + TEXT
            yield words(title, start, y, TEXT)
        yield words(told, right, y, TEXT, anchor=ink.Anchor.END)
        yield rule(MARGIN, right, MARGIN + 6.2)
        if self._banner:
            yield from self._banner_items(right)

    def _banner_items(self, right: float) -> Iterator[ink.Item]:
        top = MARGIN + HEAD
        lines = wrapped(self._banner, right - MARGIN - 4, LARGE, bold=True)
        height = LEADING * LARGE * len(lines)
        pen = ink.Pen(width=2 * OUTLINE)
        yield ink.Plate(x=MARGIN, y=top, length=right - MARGIN, width=height, pen=pen)
        for place, line in enumerate(lines):
            y = top + (place + 0.5) * LEADING * LARGE
            yield words(line, MARGIN + 2, y, LARGE, bold=True)

"""Panels put on pages: columns beside each other, read from top to bottom, then from the left.

A column goes on with the rows of a panel that the one before it began; on another page the
piece is drawn again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.blocks import height
from layout_app.paper.pack.book import MARGIN, TEXT, Book
from layout_app.paper.pack.setting import words
from layout_app.paper.pack.tables import TableRow
from layout_app.paper.panels.gathering import Panel, panels_of
from layout_app.paper.panels.picture import PanelPicture
from layout_app.paper.panels.saying import PanelWords, RowWords, telling_of, words_of
from layout_app.paper.panels.setting import (
    LINE,
    bar_block,
    gone_on_block,
    head_block,
    line_block,
    row_blocks,
)
from layout_app.paper.pens import NARROW
from shared.lengths import LengthStyle
from shared.telling import Instruction

PANELS: Final = "Cuts (drawings not to scale)"
"""The chapter: narrow pieces are drawn wide enough for their names."""
COLUMN: Final = 84.0
"""A column of panels is at least so long, in mm."""
BETWEEN: Final = 7.0
"""Free between two columns, in mm; a rule stands in the middle."""
HIGH: Final = {1: 24.0, 2: 28.0}
"""Heights of a picture of so many cuts at most, in mm."""
HIGHEST: Final = 54.0
"""The same for more."""
LOWER: Final = (0.85, 0.7, 0.55)
"""Shares of these that a picture may be lower by, so that a panel begins in a column."""
SMALL: Final = 0.6
"""What holds at all cuts may stand beside a picture that takes such a share of the column."""
BESIDE: Final = 3.0
"""Free between such a picture and the words, in mm."""
GAP: Final = 1.8
"""Free above and below the rule between panels, in mm."""
ROWS: Final = 1.2
"""Free above a row, in mm."""


def put_panels(book: Book, matter: Matter) -> None:
    """Put the panels of all cuts in their order, in as many columns as have room."""
    long, short = max(book.paper.value), min(book.paper.value)
    lying = _columns(long) // _columns(short) > 1
    book.turn(PANELS, lying=lying)
    flow = _Flow(book, _columns(long if lying else short), lying=lying)
    telling = telling_of(matter)
    for panel in panels_of(matter.told):
        flow.put(_SetPanel.of(panel, words_of(panel, telling), matter, flow.length))
    flow.end()


def _columns(long: float) -> int:
    """Return how many columns have room on a page so many mm long."""
    return max(1, int((long - 2 * MARGIN + BETWEEN) / (COLUMN + BETWEEN)))


@dataclass(frozen=True, slots=True)
class _Unit:
    """Blocks that stay together where a column has room for them."""

    blocks: tuple[TableRow, ...]
    first: int

    @property
    def height(self) -> float:
        return height(self.blocks)


@dataclass(frozen=True, kw_only=True)
class _SetPanel:
    """A panel set over so many mm: its opening, and each row."""

    words: PanelWords
    rows: tuple[RowWords, ...]
    drawn: tuple[tuple[Instruction, ...], ...]
    style: LengthStyle
    length: float
    made: frozenset[int]
    piece: str

    @classmethod
    def of(cls, panel: Panel, said: PanelWords, matter: Matter, length: float) -> "_SetPanel":
        """Set the words of a panel over so many mm."""
        mine = {one.number for one in panel.drawn}
        return cls(
            words=said,
            rows=said.rows,
            drawn=tuple(
                tuple(one for one in row.passes if one.number in mine) for row in panel.rows
            ),
            style=matter.style,
            length=length,
            made=frozenset(matter.made),
            piece=panel.first.piece if len(panel.stacks) > 1 else "",
        )

    def opening(self, share: float = 1.0) -> _Unit:
        """Set bars, head, picture, and what holds at all cuts.

        The picture may be so high at most, in shares of what it may be.
        """
        bars = (bar_block(bar, self.length) for bar in self.words.bars)
        head = head_block(self.words.name, self.words.head, self.length)
        return _Unit((*bars, head, *self._with_common(self.made, share)), self._first(0))

    def _with_common(self, made: frozenset[int], share: float = 1.0) -> tuple[TableRow, ...]:
        """Set what holds at all cuts below the picture; beside a small one, where it takes less."""
        picture = self._picture(made, share)
        drawn, caption = _drawn(picture), self._caption()
        left = picture.length + BESIDE
        below = (drawn, *caption, *self._common(self.length))
        if left > SMALL * self.length:
            return below
        beside = _beside(drawn, (*caption, *self._common(self.length - left)), left)
        return (beside,) if beside.height < height(below) else below

    def _common(self, length: float) -> tuple[TableRow, ...]:
        return tuple(line_block(line, length, 0.0) for line in self.words.common)

    @cached_property
    def units(self) -> tuple[_Unit, ...]:
        """The rows, each set once."""
        return tuple(
            _Unit((_free(ROWS), *row_blocks(row, self.length)), self._first(place))
            for place, row in enumerate(self.rows)
        )

    def continued(self, place: int, *, again: bool) -> tuple[TableRow, ...]:
        """Set what stands above a row in another column.

        ``again``: on another page, with its picture and what holds at all cuts. Numbers of cuts
        that were told before are not bold there.
        """
        head = gone_on_block(f"{self.words.name}, continued", self.length)
        if not again:
            return (head,)
        told = {one.number for row in self.rows[:place] for one in row.passes}
        return (head, *self._with_common(self.made | told))

    def _first(self, place: int) -> int:
        return min(one.number for one in self.rows[place].passes)

    def _picture(self, made: frozenset[int], share: float) -> PanelPicture:
        high = share * HIGH.get(sum(map(len, self.drawn)), HIGHEST)
        return PanelPicture(self.drawn, self.style, (self.length, high), made)

    def _caption(self) -> tuple[TableRow, ...]:
        """Set which of equal pieces is drawn."""
        tall, said = LINE * TEXT, f"Drawn: {self.piece}"
        line = TableRow(tall, lambda x, y, _: [words(said, x, y + tall / 2, TEXT)])
        return (line,) if self.piece else ()


def _drawn(picture: PanelPicture) -> TableRow:
    return TableRow(picture.height + 0.8, lambda x, y, long: list(picture.draw(x, y, long)))


def _beside(picture: TableRow, lines: Sequence[TableRow], left: float) -> TableRow:
    """Set lines beside a picture, in the middle of its height."""
    tall = height(lines)
    whole = max(picture.height, tall)

    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        items = list(picture.draw(x, y + (whole - picture.height) / 2, length))
        down = y + (whole - tall) / 2
        for line in lines:
            items += line.draw(x + left, down, length - left)
            down += line.height
        return items

    return TableRow(whole, draw)


def _free(tall: float) -> TableRow:
    return TableRow(tall, lambda _x, _y, _long: [])


class _Flow:
    """Columns of pages that are filled with panels; begins on the page that is begun."""

    def __init__(self, book: Book, number: int, *, lying: bool) -> None:
        self._book, self._number, self._lying = book, number, lying
        self._whole = book.whole()
        self.length = (self._whole.length - (number - 1) * BETWEEN) / number
        self._at, self._down = 0, 0.0
        self._page, self._deepest = 0, 0.0
        self._items: list[ink.Item] = []
        self._panel: list[ink.Item] = []
        self._first = 0

    @property
    def _room(self) -> float:
        return self._whole.width - self._down

    @property
    def _last(self) -> bool:
        return self._at == self._number - 1

    def put(self, panel: _SetPanel) -> None:
        """Put a panel, parts of it in other columns if it must be."""
        kept = panel.units[0].height if self._last else 0.0  # a first row stays on its page
        opening = self._fitting(panel, kept)
        if self._down and 2 * GAP + opening.height + kept > self._room:
            self._on()
        elif self._down:
            self._rule()
        self._begin(opening)
        self._place(panel, opening, 0)
        for place, row in enumerate(panel.units):
            if row.height > self._room and self._down:
                self._go_on(panel, row, place)
            self._place(panel, row, place)
        self._close(panel)

    def _fitting(self, panel: _SetPanel, kept: float) -> _Unit:
        """Return an opening that has room with what is kept with it, its picture lower if need be.

        Where none has, the one that is largest.
        """
        room = self._room - 2 * GAP - kept
        whole = panel.opening()
        if not self._down or whole.height <= room or whole.height > room + HIGHEST:
            return whole
        lower = (panel.opening(share) for share in LOWER)
        return next((one for one in lower if one.height <= room), whole)

    def _begin(self, unit: _Unit) -> None:
        self._panel, self._first = [], unit.first

    def _close(self, panel: _SetPanel) -> None:
        """Put what a column holds of a panel as one group."""
        if self._panel:
            name = f"panel-{panel.words.name}-{self._first}"
            self._items.append(ink.Group(name=name, items=tuple(self._panel)))
        self._panel = []

    def _go_on(self, panel: _SetPanel, unit: _Unit, place: int) -> None:
        """Go on with a row in another column."""
        page = self._page
        self._close(panel)
        self._on()
        self._begin(unit)
        self._draw(panel.continued(place, again=page != self._page))

    def _place(self, panel: _SetPanel, unit: _Unit, place: int) -> None:
        """Put blocks that have room; where even a bare column has none they go on in the next."""
        for block in unit.blocks:
            if block.height > self._room and self._down:
                self._go_on(panel, unit, place)
            self._draw((block,))

    def _draw(self, blocks: Sequence[TableRow]) -> None:
        x = self._whole.x + self._at * (self.length + BETWEEN)
        for block in blocks:
            self._panel += block.draw(x, self._whole.y + self._down, self.length)
            self._down += block.height

    def _rule(self) -> None:
        x = self._whole.x + self._at * (self.length + BETWEEN)
        y = self._whole.y + self._down + GAP
        line = ((x, y), (x + self.length, y))
        self._items.append(ink.Strokes(lines=(line,), pen=ink.Pen(width=2 * NARROW)))
        self._down += 2 * GAP

    def _on(self) -> None:
        """Go on in the next column, or on the next page."""
        self._deepest = max(self._deepest, self._down)
        self._at, self._down = self._at + 1, 0.0
        if self._at == self._number:
            self._fill()
            self._book.turn(PANELS, lying=self._lying)
            self._at, self._items, self._page, self._deepest = 0, [], self._page + 1, 0.0

    def _fill(self) -> None:
        """Put the columns on their page, with rules between them."""
        deepest = self._whole.y + max(self._deepest, self._down)
        for at in range(1, self._at + (self._down > 0)):
            x = self._whole.x + at * (self.length + BETWEEN) - BETWEEN / 2
            line = ((x, self._whole.y), (x, deepest))
            self._items.append(ink.Strokes(lines=(line,), pen=ink.Pen(width=NARROW)))
        self._book.fill(self._items)

    def end(self) -> None:
        """Put what the last page holds."""
        self._fill()

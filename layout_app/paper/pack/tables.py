"""Tables of a page: columns as wide as their words ask for, rows as high as their lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from layout_app.paper import ink
from layout_app.paper.letters import solid_words
from layout_app.paper.pack.setting import LEADING, Draw, length_of, rule, words, wrapped

PAD = 1.4
"""Free at both sides of a cell's words, in mm."""
ABOVE = 0.6
"""Free above and below a cell's words, in mm."""


class Align(Enum):
    """Where a cell's words stand."""

    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"


@dataclass(frozen=True, slots=True, kw_only=True)
class TableColumn:
    """A column of a table: its heading, and its share of what no column needs."""

    heading: str
    share: float
    align: Align = Align.LEFT


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: its height in mm, and how it is drawn."""

    height: float
    draw: Draw


def filled(
    columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]
) -> tuple[list[TableColumn], list[list[str]]]:
    """Return columns and rows without the columns that say nothing in any row."""
    kept = [at for at in range(len(columns)) if not rows or any(row[at] for row in rows)]
    return [columns[at] for at in kept], [[row[at] for at in kept] for row in rows]


TOGETHER = 3
"""So many rows stand together at the beginning and at the end of a table."""


class Table:
    """A table of so many mm across: the row of headings, and the rows below."""

    def __init__(
        self,
        columns: Sequence[TableColumn],
        rows: Sequence[Sequence[str]],
        length: float,
        size: float,
    ) -> None:
        self._columns, self._size = columns, size
        self.lengths = lengths(columns, rows, length, size)
        self.head = self._row([column.heading for column in columns], bold=True)
        self.rows = [self._row(row) for row in rows]

    def together(self, most: float) -> list[list[TableRow]]:
        """Return the rows in groups between which a page may end.

        A short table is one group; a group that is higher than so many mm is parted.
        """
        count = len(self.rows)
        first = count if count < 2 * TOGETHER else TOGETHER
        last = max(first, count - TOGETHER)
        groups = [self.rows[:first], *([row] for row in self.rows[first:last]), self.rows[last:]]
        found: list[list[TableRow]] = []
        for group in groups:
            high = sum(row.height for row in group) > most
            found += [[row] for row in group] if high else [list(group)]
        return [group for group in found if group] or [[]]

    def _row(self, texts: Sequence[str], *, bold: bool = False) -> TableRow:
        cells = [
            wrapped(text, length - 2 * PAD, self._size, bold=bold)
            for text, length in zip(texts, self.lengths, strict=True)
        ]
        height = max(map(len, cells)) * LEADING * self._size + 2 * ABOVE

        def draw(x: float, y: float, length: float) -> list[ink.Item]:
            items: list[ink.Item] = []
            left = x
            for lines, column, room in zip(cells, self._columns, self.lengths, strict=True):
                items += _cell(lines, column.align, (left, y), room, self._size, bold=bold)
                left += room
            return [*items, rule(x, x + length, y + height, heavy=bold)]

        return TableRow(height, draw)


def lengths(
    columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], length: float, size: float
) -> list[float]:
    """Share a length among columns, in mm.

    Each has room for the longest word of its heading; then for its longest word or size, as far
    as its share allows; then for its longest cell: those that ask for little first.
    """
    cells = list(zip(*rows, strict=True)) if rows else [()] * len(columns)
    heads = [_longest_word(column.heading, size, bold=True) for column in columns]
    shares = [length * column.share / sum(one.share for one in columns) for column in columns]
    longest = [max([_longest_word(text, size) for text in texts], default=0.0) for texts in cells]
    wholes = [
        max([length_of(text, size) + 2 * PAD + 0.01 for text in texts], default=0.0)
        for texts in cells
    ]
    least = _towards(heads, [min(a, b) for a, b in zip(longest, shares, strict=True)], length)
    wide = _towards(least, wholes, length)
    left = length - sum(wide)
    return [one + left * share / length for one, share in zip(wide, shares, strict=True)]


def _towards(low: Sequence[float], high: Sequence[float], length: float) -> list[float]:
    """Widen columns towards what they wish, all by as much: those that wish little get it all."""
    wished = [max(0.0, b - a) for a, b in zip(low, high, strict=True)]
    free, more = length - sum(low), 0.0
    for place, wish in enumerate(ordered := sorted(wished)):
        more = min(wish, max(0.0, free) / (len(ordered) - place))
        free -= more
    return [a + min(wish, more) for a, wish in zip(low, wished, strict=True)]


def _longest_word(text: str, size: float, *, bold: bool = False) -> float:
    """Return what the longest word or size of a cell takes."""
    found = (length_of(word, size, bold=bold) for word in solid_words(text))
    return max(found, default=0.0) + 2 * PAD + 0.01


def _cell(
    lines: Sequence[str],
    align: Align,
    corner: ink.Spot,
    room: float,
    size: float,
    *,
    bold: bool,
) -> Iterator[ink.Item]:
    places = {
        Align.LEFT: (corner[0] + PAD, ink.Anchor.START),
        Align.RIGHT: (corner[0] + room - PAD, ink.Anchor.END),
        Align.CENTRE: (corner[0] + room / 2, ink.Anchor.MIDDLE),
    }
    x, anchor = places[align]
    for number, line in enumerate(lines):
        y = corner[1] + ABOVE + (number + 0.5) * LEADING * size
        yield words(line, x, y, size, bold=bold, anchor=anchor)

"""Blocks of words set for a given length: paragraphs, points, and columns beside each other."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from layout_app.paper import ink
from layout_app.paper.pack.setting import LEADING, Draw, length_of, words, wrapped
from layout_app.paper.pack.tables import TableRow

BLACK = "#000000"
DOT = "\N{BULLET}"
"""Before a point that has no mark of its own."""
Chapter = tuple[str, Sequence[str]]
"""A heading and the points below it."""


def paragraph(
    text: str, length: float, size: float, *, bold: bool = False, leading: float = LEADING
) -> list[TableRow]:
    """Break a text into lines of at most so many mm at a text size in mm.

    ``leading`` is from line to line, in text sizes.
    """
    lines = wrapped(text, length, size, bold=bold)
    return [
        TableRow(leading * size, _line(line, size, bold=bold, leading=leading)) for line in lines
    ]


def points(
    texts: Sequence[str], length: float, size: float, marks: Sequence[str] = ()
) -> Iterator[list[TableRow]]:
    """Yield the lines of each point, a dot or its own mark before it."""
    widest = max((length_of(mark, size, bold=True) for mark in marks), default=0.0)
    inside = widest + size if marks else 1.2 * size
    for text, mark in zip(texts, marks or [DOT] * len(texts), strict=True):
        lines = wrapped(text, length - inside, size)
        yield [
            TableRow(LEADING * size, _line(line, size, inside=inside, mark="" if number else mark))
            for number, line in enumerate(lines)
        ]


@dataclass(frozen=True, slots=True)
class RowBlock:
    """Rows that stay together; ``begins`` a chapter, which has a gap above it in its column."""

    rows: tuple[TableRow, ...]
    begins: bool = False


def chapter(found: Chapter, length: float, sizes: tuple[float, float]) -> Iterator[RowBlock]:
    """Set a heading, which stays with its first point, and its points; sizes of both in mm."""
    head, text = sizes
    rows = paragraph(found[0], length, head, bold=True)
    first, *others = points(found[1], length, text)
    yield RowBlock((*rows, *first), begins=True)
    yield from (RowBlock(tuple(other)) for other in others)


def columns(units: Sequence[RowBlock], number: int, gap: float) -> list[list[TableRow]]:
    """Share units among so many columns in their order, so that the highest is least high.

    ``gap`` is left above what begins a chapter, in mm.
    """
    places = range(1, len(units))
    shares = [
        [_joined(units[a:b], gap) for a, b in zip((0, *cuts), (*cuts, len(units)), strict=True)]
        for cuts in combinations(places, min(number, len(units)) - 1)
    ]
    return min(shares, key=lambda share: max(map(height, share)))


def poured(
    units: Sequence[RowBlock], number: int, gap: float, room: float
) -> tuple[list[list[TableRow]], list[RowBlock]]:
    """Share as many units as have room among columns, and return those that are left.

    They keep their order and are level where all have room; else each goes to the first column
    that has room for it. ``room`` is the height of a column in mm; the first unit is always taken.
    """
    level = columns(units, number, gap)
    if max(map(height, level)) <= room:
        return level, []
    stacks: list[list[RowBlock]] = [[units[0]], *([] for _ in range(number - 1))]
    left: list[RowBlock] = []
    for unit in units[1:]:
        found = (one for one in stacks if height(_joined([*one, unit], gap)) <= room)
        next(found, left).append(unit)
    return [_joined(stack, gap) for stack in stacks if stack], left


def _joined(units: Sequence[RowBlock], gap: float) -> list[TableRow]:
    rows: list[TableRow] = []
    for unit in units:
        rows += [TableRow(gap, _nothing), *unit.rows] if unit.begins and rows else unit.rows
    return rows


def height(rows: Sequence[TableRow]) -> float:
    """Return how high rows are below each other, in mm."""
    return sum(row.height for row in rows)


def beside(stacks: Sequence[Sequence[TableRow]], step: float) -> TableRow:
    """Set stacks beside each other, each so many mm to the right of the one before."""

    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        items: list[ink.Item] = []
        for place, stack in enumerate(stacks):
            down = y
            for row in stack:
                items += row.draw(x + place * step, down, length)
                down += row.height
        return items

    return TableRow(max(map(height, stacks)), draw)


def _nothing(x: float, y: float, length: float) -> list[ink.Item]:
    del x, y, length
    return []


def _line(
    text: str,
    size: float,
    *,
    bold: bool = False,
    inside: float = 0.0,
    mark: str = "",
    leading: float = LEADING,
) -> Draw:
    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        del length
        middle = y + leading * size / 2
        line = words(text, x + inside, middle, size, bold=bold)
        if mark == DOT:
            return [ink.Disc(x=x + 0.4 * size, y=middle, radius=0.14 * size, fill=BLACK), line]
        return [words(mark, x, middle, size, bold=True), line] if mark else [line]

    return draw

"""Blocks of words set for a given length: paragraphs, points, and columns beside each other."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

from layout_app.paper import ink
from layout_app.paper.pack.setting import LEADING, Draw, words, wrapped
from layout_app.paper.pack.tables import TableRow

BLACK = "#000000"
Rows: TypeAlias = Sequence[TableRow]
"""Below each other."""


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


def points(texts: Sequence[str], length: float, size: float) -> Iterator[list[TableRow]]:
    """Yield the lines of each point, a dot before it."""
    inside = 1.2 * size
    for text in texts:
        lines = wrapped(text, length - inside, size)
        yield [
            TableRow(LEADING * size, _line(line, size, inside=inside, dot=not place))
            for place, line in enumerate(lines)
        ]


def columns(units: Sequence[Rows], number: int) -> list[list[TableRow]]:
    """Share units among so many columns in their order, so that the highest is least high.

    The rows of a unit stay together.
    """
    places = range(1, len(units))
    shares = [
        [_joined(units[a:b]) for a, b in zip((0, *cuts), (*cuts, len(units)), strict=True)]
        for cuts in combinations(places, min(number, len(units)) - 1)
    ]
    return min(shares, key=lambda share: max(map(height, share)))


def poured(
    units: Sequence[Rows], number: int, room: float
) -> tuple[list[list[TableRow]], list[Rows]]:
    """Share as many units as have room among columns, and return those that are left.

    They keep their order and are level where all have room; else each goes to the first column
    that has room for it. ``room`` is the height of a column in mm; the first unit is always taken.
    """
    level = columns(units, number)
    if max(map(height, level)) <= room:
        return level, []
    stacks: list[list[Rows]] = [[units[0]], *([] for _ in range(number - 1))]
    left: list[Rows] = []
    for unit in units[1:]:
        found = (one for one in stacks if height(_joined([*one, unit])) <= room)
        next(found, left).append(unit)
    return [_joined(stack) for stack in stacks if stack], left


def _joined(units: Sequence[Rows]) -> list[TableRow]:
    return [row for unit in units for row in unit]


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


def _line(
    text: str,
    size: float,
    *,
    bold: bool = False,
    inside: float = 0.0,
    dot: bool = False,
    leading: float = LEADING,
) -> Draw:
    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        del length
        middle = y + leading * size / 2
        line = words(text, x + inside, middle, size, bold=bold)
        if dot:
            return [ink.Disc(x=x + 0.4 * size, y=middle, radius=0.14 * size, fill=BLACK), line]
        return [line]

    return draw

"""The words of panels set in lines: bars, heads, rows with their boxes, cautions with signs.

Capitals of all words are at least 2.8 mm high: at 60 cm that is 16 minutes of arc, the least
that ISO 9241-303 (from memory) asks of what has to be read with ease.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.book import LARGE, TEXT
from layout_app.paper.pack.setting import length_of, words, wrapped
from layout_app.paper.pack.signs import SIGN, danger_sign, handling_mark, tick_box
from layout_app.paper.pack.tables import TableRow
from layout_app.paper.panels.saying import Bar, BarKind, Line, Pass, RowWords, Sign
from layout_app.paper.panels.signs_of_bars import ROOM, bar_sign, has_sign
from layout_app.paper.pens import OUTLINE

HARD: Final = "\N{NO-BREAK SPACE}"
LINE: Final = 1.2
"""From line to line, in text sizes."""
NAME: Final = 7.0
"""Text size of the name of a panel, in mm."""
SET: Final = 5.5
"""Text size of what is set, in mm."""
BAR: Final = "#dedede"
PAD: Final = 0.8
"""Free above and below the words of a bar, in mm."""
AFTER: Final = 1.0
"""Free below a bar, in mm."""
SIDE: Final = 6.5
"""Of the box to tick, in mm."""
INDENT: Final = SIDE + 2.0
"""Before the lines of a row, in mm: the box, or a sign, has room there."""
CELL: Final = 1.5
"""Free between two passes beside each other, in mm."""
LEAST: Final = 20.0
"""Words have at least so much room beside a name, in mm; else they stand below it."""


# --- bars ------------------------------------------------------------------------------


def bar_block(bar: Bar, length: float) -> TableRow:
    """Set a bar over so many mm: what is to be done in bold, then the rest in size of lines."""
    size = SET if bar.kind is BarKind.SET else LARGE
    inside = (ROOM if has_sign(bar.kind) else 0.0) + 2.0
    room = length - inside - 2.0
    lines = wrapped(bar.text, room, size, bold=True)
    beside, below = _behind(bar.more, room, length_of(lines[-1], size, bold=True) + 3.0)
    tall = LINE * size * len(lines) + LINE * TEXT * len(below) + 2 * PAD

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        pen = ink.Pen(width=OUTLINE) if bar.kind is BarKind.CHECK else None
        items: list[ink.Item] = [
            ink.Plate(x=x, y=y, length=length, width=tall, fill=BAR, pen=pen),
            *bar_sign(bar.kind, x + 2.0, y + PAD + LINE * size / 2),
        ]
        down = y + PAD
        for line in lines:
            middle = down + LINE * size / 2
            items.append(words(line, x + inside, middle, size, bold=True))
            down += LINE * size
        if beside:
            at = x + inside + length_of(lines[-1], size, bold=True) + 3.0
            items.append(words(beside, at, down - LINE * size / 2, TEXT))
        items += _lines(below, x + inside, down)
        return items

    return TableRow(tall + AFTER, draw)


def _behind(text: str, room: float, taken: float) -> tuple[str, list[str]]:
    """Break a text that goes on behind ``taken`` mm of a line, and below it."""
    if not text:
        return "", []
    if length_of(text, TEXT) <= room - taken:
        return text, []
    return "", wrapped(text, room, TEXT)


def _lines(texts: Sequence[str], x: float, top: float, *, bold: bool = False) -> list[ink.Item]:
    return [
        words(text, x, top + (place + 0.5) * LINE * TEXT, TEXT, bold=bold)
        for place, text in enumerate(texts)
    ]


# --- heads -----------------------------------------------------------------------------


def head_block(name: str, details: str, length: float) -> TableRow:
    """Set the name of a piece large, and behind it how large it is and where it comes from."""
    broad = length - LEAST
    names = wrapped(name, broad, NAME, bold=True)
    start = length_of(names[-1], NAME, bold=True) + 3.0
    beside = wrapped(details, length - start, TEXT) if len(names) == 1 else []
    hangs = 0 < len(beside) <= 3
    below = [] if hangs else wrapped(details, length, TEXT)
    high = LINE * NAME * len(names)
    more = LINE * TEXT * (len(below) if not hangs else len(beside) - 1)

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        items: list[ink.Item] = []
        for place, line in enumerate(names):
            items.append(words(line, x, y + (place + 0.5) * LINE * NAME, NAME, bold=True))
        if hangs:
            # Capitals of both sizes stand on one line.
            first = y + 0.5 * LINE * NAME + ink.CAP_MIDDLE * (NAME - TEXT)
            items += _lines(beside, x + start, first - 0.5 * LINE * TEXT)
        else:
            items += _lines(below, x, y + high)
        return items

    return TableRow(high + more + 0.8, draw)


def gone_on_block(text: str, length: float) -> TableRow:
    """Set what stands above the rows of a panel that goes on in another column."""
    lines = wrapped(text, length, LARGE, bold=True)

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        return [
            words(line, x, y + (place + 0.5) * LINE * LARGE, LARGE, bold=True)
            for place, line in enumerate(lines)
        ]

    return TableRow(LINE * LARGE * len(lines) + 0.6, draw)


# --- lines -----------------------------------------------------------------------------


def line_block(line: Line, length: float, indent: float) -> TableRow:
    """Set a line; a sign stands in the indent, the letter of its caution before its words."""
    sign = SIGN if line.sign is not Sign.NONE else 0.0
    start = max(indent, sign)
    letter = f"{line.letter}: " if line.letter else ""
    texts = wrapped(letter + _kept(line.text), length - start, TEXT, bold=line.bold)

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        middle = y + LINE * TEXT / 2
        left = x + start - SIGN
        items: list[ink.Item] = []
        if line.sign is Sign.DANGER:
            items += danger_sign(left, middle)
        elif line.sign is Sign.HANDLING:
            items += handling_mark(left, middle)
        return [*items, *_lines(texts, x + start, y, bold=line.bold)]

    return TableRow(LINE * TEXT * len(texts), draw)


def _kept(text: str) -> str:
    """Return a text whose dots end a line rather than begin one, and whose sums stay whole."""
    return text.replace(" \N{MIDDLE DOT} ", f"{HARD}\N{MIDDLE DOT} ").replace(
        " + ", f"{HARD}+{HARD}"
    )


# --- rows ------------------------------------------------------------------------------


def row_blocks(row: RowWords, length: float) -> tuple[TableRow, ...]:
    """Set a row over so many mm: bars, title, boxes, then its lines."""
    bars = [bar_block(bar, length) for bar in row.bars]
    if len(row.passes) == 1 and not row.passes[0].makes:
        head = [_title(row, length, row.passes[0])]
    else:
        head = [_title(row, length, None), *_grid(row.passes, length)]
    lines = [line_block(line, length, INDENT) for line in row.lines]
    return (*bars, *head, *lines)


def _title(row: RowWords, length: float, single: Pass | None) -> TableRow:
    """Set the title, before it the box and number of an only pass, behind it its dangers."""
    letters = " ".join(filter(None, row.dangers))
    danger = SIGN + length_of(letters, TEXT, bold=True) + 1.0 if row.dangers else 0.0
    number = "" if single is None else str(single.number)
    start = 0.0 if single is None else INDENT
    behind = start + (length_of(number, LARGE, bold=True) + 2.5 if number else 0.0)
    lines = wrapped(row.title, length - danger - behind, LARGE, bold=True)
    tall = max(LINE * LARGE * len(lines), SIDE + 0.7 if single else 0.0)

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        first = y + (SIDE + 0.7 if single else LINE * LARGE) / 2
        items: list[ink.Item] = []
        if single is not None:
            box = tick_box(x, first, SIDE, ticked=single.made)
            told = words(number, x + start, first, LARGE, bold=True)
            items.append(ink.Group(name=f"pass-{number}", items=(*box, told)))
        for place, line in enumerate(lines):
            middle = first + place * LINE * LARGE
            items.append(words(line, x + behind, middle, LARGE, bold=True))
        if row.dangers:
            at = x + length - danger + 1.0
            items += danger_sign(at, first)
            items.append(words(letters, at + SIGN, first, TEXT, bold=True))
        return items

    return TableRow(tall + (SIDE + 0.7 - LINE * LARGE if len(lines) > 1 and single else 0.0), draw)


def _grid(passes: Sequence[Pass], length: float) -> Iterator[TableRow]:
    """Yield lines of passes, as many beside each other as have room."""
    free = 2.0 + max(length_of(str(one.number), LARGE, bold=True) for one in passes)
    inside = INDENT - 0.5 + free
    cells = [inside + length_of(one.makes, TEXT) for one in passes]
    most = max(1, int((length + CELL) / (max(cells) + CELL)))
    step = (length + CELL) / most
    for at in range(0, len(passes), most):
        yield _grid_line(passes[at : at + most], step, inside)


def _grid_line(passes: Sequence[Pass], step: float, inside: float) -> TableRow:
    texts = [wrapped(one.makes, step - CELL - inside, TEXT) for one in passes]
    tall = max(SIDE + 1.0, 0.5 * (SIDE + 1.0) + LINE * TEXT * (max(map(len, texts)) - 0.5))

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        items: list[ink.Item] = []
        middle = y + (SIDE + 1.0) / 2
        for place, (one, lines) in enumerate(zip(passes, texts, strict=True)):
            left = x + place * step
            number = words(str(one.number), left + INDENT - 0.5, middle, LARGE, bold=True)
            makes = _lines(lines, left + inside, middle - LINE * TEXT / 2)
            box = tick_box(left, middle, SIDE, ticked=one.made)
            items.append(ink.Group(name=f"pass-{one.number}", items=(*box, number, *makes)))
        return items

    return TableRow(tall, draw)

"""Cut cards in large type, in sawing order: all that is needed to make the cut, top to bottom.

Capitals of all words are at least 2.8 mm high: at 60 cm that is 16 minutes of arc, the least
that ISO 9241-303 (from memory) asks of what has to be read with ease.

A card stands for one thing that is done: a cut, the check of a sheet before its first cut, or
the turning over of a piece. Dangers have the danger sign, handling a quiet mark; what holds at
every cut stands once at the front.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook, CutPicture
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import LARGE, TEXT, Book
from layout_app.paper.pack.setting import LEADING, length_of, rule, two_lines, words, wrapped
from layout_app.paper.pack.signs import SIGN, danger_sign, handling_mark
from layout_app.paper.pens import BLACK_AND_WHITE, HATCH, NARROW, OUTLINE
from shared.drawing.words import sheet_title
from shared.shop import Axis
from shared.telling import Instruction
from shared.telling.words import size_words

CARDS: Final = "Cut cards"

GAP = 2.5
LINE = 1.25
"""From line to line on a card, in text sizes: three cards have room on most pages."""
NUMBER, SIZE = 10.0, 7.0
"""Text sizes in mm of the cut's number and of what is set."""
HEAD = 11.0
"""Height of number, title and box, in mm."""
PICTURE = (60.0, 31.0)
"""Length and height of the picture of the piece, in mm."""
LEAST = 130.0
"""A card is at least so many mm long."""
INSIDE = 2.2
"""Free at the borders of a card, in mm."""
BOX = 8.0
"""Side of the box to tick, in mm."""

LOOK = CutLook(
    stays="#ffffff",
    off="#d9d9d9",
    waste="#ffffff",
    hatching=ink.Pen(width=HATCH),
    apart=2.2,
    kerf=BLACK_AND_WHITE.kerf,
    sliver=1.0,
    outline=ink.Pen(width=OUTLINE),
    rail=ink.Pen(width=0.9),
    dashes=(2.0, 1.2),
    beyond=3.0,
    mark=ink.Pen(width=0.5),
    mark_at=(5.0, 3.0),
    mark_half=1.5,
    mark_tall=2.4,
)
"""Of the picture of a cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing that a card says; ``sign`` is what stands before it.

    It may stand on the line of the one before it if both have the same word as ``joins``.
    """

    text: str
    bold: bool = False
    sign: str = ""
    joins: str = ""


DANGER, HANDLING = "danger", "handling"


def put_cards(book: Book, matter: Matter) -> None:
    """Put the cards of all cuts in their order, as many beside each other as have room."""
    book.turn(CARDS)
    columns = max(1, int((book.room.length + GAP) / (LEAST + GAP)))
    length = (book.room.length - (columns - 1) * GAP) / columns
    stacks = list(_stacks(matter))
    for at in range(0, len(stacks), columns):
        row = _Row(stacks[at : at + columns], length)
        book.gap(GAP)
        book.put(row.height, row.draw)


def _stacks(matter: Matter) -> Iterator[list["_Card"]]:
    """Yield the card of each cut with those above it of what has to be done before."""
    stack: list[_Card] = []
    for card in _cards(matter):
        stack.append(card)
        if card.told is not None:
            yield stack
            stack = []


def _cards(matter: Matter) -> Iterator["_Card"]:
    for told in matter.told:
        if told.sheet_check:
            said = (_sheet(told, matter), *told.sheet_check)
            yield _Card(
                name=f"check-{told.number}",
                title=f"Check sheet {told.sheet} first",
                lines=tuple(Line(text=text) for text in said),
            )
        if told.turn:
            yield _Card(name=f"turn-{told.number}", title=told.turn)
        whole = told.piece == told.sheet
        yield _Card(
            name=f"card-{told.number}",
            title=told.title if whole else f"{told.title}, sheet\N{NO-BREAK SPACE}{told.sheet}",
            told=told,
            lines=tuple(lines_of(told)),
        )


def _sheet(told: Instruction, matter: Matter) -> str:
    """Say which sheet is taken, and how thick it is."""
    sheet = told.stroke.sheet
    size = sheet.length, sheet.width
    which = sheet_title(sheet.name, sheet.material, size, sheet.grain, matter.style)
    thick = size_words(sheet.thickness, replace(matter.style, denominator=64, decimals=1))
    return f"{which}, {thick} thick."


def lines_of(told: Instruction) -> Iterator[Line]:
    """Yield what stands beside the picture of a cut, in the order in which it is needed."""
    laid = told.record.rail
    yield Line(text=f"Piece: {_listed(told.before, told.weight)}")
    yield from _said(f"On {told.support}", told.face, told.square, told.guard, joins="lies")
    yield Line(text=f"{told.keep}; {told.bed}", bold=True)
    changed = laid is not None and (laid.change or laid.fetched)
    yield from _said(_listed(told.led, told.reach), bold=changed, joins="" if changed else "led")
    yield from _said(told.enter, joins="led")
    yield from _said(f"Makes {told.makes}", f"Left: {told.left}", joins="made")
    yield from _said(told.measure, *told.checks, bold=True)
    for caution in told.dangers:
        yield Line(text=f"Danger: {caution.sentence}", bold=True, sign=DANGER)
    for caution in told.handling:
        yield Line(text=f"Handling: {caution.sentence}", sign=HANDLING)


def _listed(*texts: str) -> str:
    return "; ".join(filter(None, texts))


def _said(*texts: str, bold: bool = False, joins: str = "") -> Iterator[Line]:
    """Yield a line for each text that says something, its first letter large."""
    for text in filter(None, texts):
        yield Line(text=text[0].upper() + text[1:], bold=bold, joins=joins)


def _joined(lines: Iterable[Line], room: float) -> list[Line]:
    """Put those behind each other that may be, wherever they take fewer lines so."""
    found: list[Line] = []
    for line in lines:
        if found and line.joins and line.joins == found[-1].joins:
            text = f"{found[-1].text}. {line.text}"
            if _tall(text, room) < _tall(found[-1].text, room) + _tall(line.text, room):
                found[-1] = replace(line, text=text)
                continue
        found.append(line)
    return found


def _tall(text: str, room: float) -> int:
    return len(wrapped(text, room, TEXT))


class _Row:
    """Stacks of cards beside each other, all as high as the highest."""

    def __init__(self, stacks: Sequence[Sequence["_Card"]], length: float) -> None:
        self._stacks, self._length = stacks, length
        self.height = max(map(self._high, stacks))

    def _high(self, stack: Sequence["_Card"]) -> float:
        return sum(card.height(self._length) for card in stack) + (len(stack) - 1) * GAP

    def draw(self, x: float, y: float, length: float) -> list[ink.Item]:
        """Draw them from the left, each from its top; the last cards reach down to one line."""
        del length
        items: list[ink.Item] = []
        for place, stack in enumerate(self._stacks):
            left, top = x + place * (self._length + GAP), y
            for card in stack:
                high = card.height(self._length)
                if card is stack[-1]:
                    high = y + self.height - top
                frame = ink.Spread(x=left, y=top, length=self._length, width=high)
                items.append(card.drawn(frame))
                top += high + GAP
        return items


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    """One card; ``told`` is the cut's, ``None`` where nothing is cut; lengths in mm."""

    name: str
    title: str
    told: Instruction | None = None
    lines: tuple[Line, ...] = ()

    def height(self, length: float) -> float:
        """Return how high it is at that length: words take the lines they need."""
        room = length - 2 * INSIDE
        taken = 2 * INSIDE + HEAD
        if self.told is None:
            return taken + _high(_set(self.lines, room))
        taken += len(self._set_lines(room)) * LEADING * LARGE + 1.5 * INSIDE
        return taken + BESIDE + _high(self._shared(room)[1])

    def drawn(self, frame: ink.Spread) -> ink.Item:
        """Draw it into a frame."""
        x, length = frame.x + INSIDE, frame.length - 2 * INSIDE
        items: list[ink.Item] = [frame.plate(pen=ink.Pen(width=NARROW))]
        top = frame.y + INSIDE
        items += self._head(x, top, length)
        top += HEAD
        if self.told is not None:
            for text in self._set_lines(length):
                middle = top + LEADING * LARGE / 2
                items.append(words(text, x, middle, LARGE, bold=self._fresh))
                top += LEADING * LARGE
            long = x + length, top - LEADING * LARGE / 2
            items.append(words(self._long, *long, TEXT, anchor=ink.Anchor.END))
            top += INSIDE / 2
            items.append(rule(frame.x, frame.right, top, heavy=self._fresh))
            top += INSIDE
            items += _picture(self.told, x, top)
            beside, below = self._shared(length)
            items += _lines_at(beside, x + PICTURE[0] + GAP, top)
            items += _lines_at(below, x, top + BESIDE)
        else:
            items += _lines_at(_set(self.lines, length), x, top)
        return ink.Group(name=self.name, items=tuple(items))

    def _shared(self, length: float) -> tuple["_Broken", "_Broken"]:
        """Break the lines that have room beside the picture, and those that go on below it."""
        room, count = length - PICTURE[0] - GAP, len(self.lines)
        while _high(_set(self.lines[:count], room)) > BESIDE:
            count -= 1
        return _set(self.lines[:count], room), _set(self.lines[count:], length)

    @property
    def _fresh(self) -> bool:
        """Whether something is set for this cut."""
        return self.told is not None and self.told.record.anew

    def _set_lines(self, room: float) -> list[str]:
        """Break what is set into lines; behind the last one the length of the cut has room."""
        if self.told is None:
            return []
        free = room - length_of(self._long, TEXT) - GAP
        return wrapped(self.told.set_line, free, LARGE, bold=self._fresh)

    @property
    def _long(self) -> str:
        return "" if self.told is None else f"cut {self.told.long}"

    def _head(self, x: float, y: float, length: float) -> Iterator[ink.Item]:
        middle, start = y + HEAD / 2, x
        if self.told is not None:
            number = str(self.told.number)
            yield words(number, x, middle, NUMBER, bold=True)
            start += length_of(number, NUMBER, bold=True) + 3
        lines, size = _two_lines(self.title, x + length - BOX - 3 - start)
        for place, line in enumerate(lines):
            down = middle + (place - (len(lines) - 1) / 2) * 1.25 * size
            yield words(line, start, down, size, bold=True)
        left, top = x + length - BOX, middle - BOX / 2
        yield ink.Plate(x=left, y=top, length=BOX, width=BOX, pen=ink.Pen(width=OUTLINE))


_Broken: TypeAlias = list[tuple[Line, list[str]]]


def _set(lines: Iterable[Line], room: float) -> _Broken:
    """Break lines that have so many mm."""
    return [
        (line, wrapped(line.text, room - (SIGN if line.sign else 0), TEXT, bold=line.bold))
        for line in _joined(lines, room)
    ]


def _high(broken: _Broken) -> float:
    return sum(len(texts) for _, texts in broken) * LINE * TEXT


def _lines_at(broken: _Broken, x: float, top: float) -> Iterator[ink.Item]:
    for line, texts in broken:
        yield from _line_at(line, texts, x, top)
        top += len(texts) * LINE * TEXT


BESIDE = PICTURE[1] + LEADING * (SIZE + TEXT)
"""Height of the picture and of what is set, in large type below it, in mm."""


def _picture(told: Instruction, x: float, y: float) -> Iterator[ink.Item]:
    """Draw the piece, and write what is set in large type below it."""
    room = PICTURE[0]
    frame = ink.Spread(x=x, y=y, length=room, width=PICTURE[1])
    picture = CutPicture(told, frame.inside(LOOK.beyond + 1), LOOK)
    yield from (*picture.wood(), *picture.marks())
    down = y + PICTURE[1]
    edge = "edge" if told.stroke.axis is Axis.RIP else "end"
    measured = f"factory {edge}" if told.stroke.is_trim else told.record.first_edge
    whence = f"from the {measured}"
    said = (told.size, SIZE, True), (whence, TEXT, False)
    for line, size, bold in said:
        fits = min(size, room / length_of(line, 1.0, bold=bold))
        at = x + room / 2, down + LEADING * size / 2
        yield words(line, *at, fits, bold=bold, anchor=ink.Anchor.MIDDLE)
        down += LEADING * size


def _two_lines(text: str, room: float) -> tuple[list[str], float]:
    """Break a title into at most two lines, smaller if need be; returns them and the text size."""
    lines = wrapped(text, room, LARGE, bold=True)
    return (lines, LARGE) if len(lines) <= 2 else (two_lines(text, room, TEXT), TEXT)


def _line_at(line: Line, texts: Sequence[str], x: float, top: float) -> Iterator[ink.Item]:
    middle = top + LINE * TEXT / 2
    if line.sign == DANGER:
        yield from danger_sign(x, middle)
    elif line.sign == HANDLING:
        yield from handling_mark(x, middle)
    start = x + SIGN if line.sign else x
    for place, text in enumerate(texts):
        yield words(text, start, middle + place * LINE * TEXT, TEXT, bold=line.bold)

"""Cut cards in large type: one a cut, with the picture of the piece, grouped by set-up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from layout_app.paper import ink
from layout_app.paper.letters import width_of, wrapped
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import BLACK, LARGE, LEADING, TEXT, Book
from layout_app.paper.pack.piece_picture import piece_picture
from shared.telling import Instruction

GAP = 4.0
NUMBER, SIZE = 9.0, 7.0
"""Text sizes in mm of the cut's number and of what is set."""
PICTURE = 24.0
"""Height of the picture of the piece, in mm."""
LEAST = 84.0
"""A card is at least so many mm long."""
INSIDE = 2.5
"""Free at the borders of a card, in mm."""
BOX = 7.0
"""Side of the box to tick, in mm."""


def put_cards(book: Book, matter: Matter) -> None:
    """Put the cards of all cuts, in sawing order, a line above each set-up."""
    for setting, group in groupby(matter.told, key=lambda told: told.setting):
        cards = [_Card(told, setting.size) for told in group]
        label = setting.words(matter.style)
        _put_group(book, f"{label} ({cards[0].told.tool})", cards)


def _put_group(book: Book, label: str, cards: Sequence["_Card"]) -> None:
    columns = max(1, int((book.room.length + GAP) / (LEAST + GAP)))
    length = (book.room.length - (columns - 1) * GAP) / columns
    rows = [cards[at : at + columns] for at in range(0, len(cards), columns)]
    heads = wrapped(label, book.room.length / LARGE, bold=True)
    book.keep(len(heads) * LEADING * LARGE + _height(rows[0], length) + 2)
    for line in heads:
        book.paragraph(line, LARGE, bold=True)
    for row in rows:
        book.put(_height(row, length) + GAP, _drawn(row, length))


def _height(row: Sequence["_Card"], length: float) -> float:
    return max(card.height(length) for card in row)


def _drawn(row: Sequence["_Card"], length: float):
    height = _height(row, length)

    def draw(x: float, y: float, _: float) -> list[ink.Item]:
        return [
            card.drawn(x + place * (length + GAP), y, length, height)
            for place, card in enumerate(row)
        ]

    return draw


@dataclass(frozen=True, slots=True)
class _Card:
    """One card; all its lengths in mm."""

    told: Instruction
    size: int

    def height(self, length: float) -> float:
        """Return how high it is at that length: words take the lines they need."""
        lines = len(list(self._lines(length)))
        return 2 * INSIDE + NUMBER * 1.3 + 2 + PICTURE + SIZE * LEADING + lines * LEADING * TEXT

    def drawn(self, x: float, y: float, length: float, height: float) -> ink.Item:
        """Draw it into a frame."""
        frame = ink.Plate(x=x, y=y, length=length, width=height, pen=ink.Pen(width=0.35))
        items = [frame, *self._head(x + INSIDE, y + INSIDE, length - 2 * INSIDE)]
        top = y + INSIDE + NUMBER * 1.3 + 2
        picture = ink.Spread(x=x + INSIDE, y=top, length=length - 2 * INSIDE, width=PICTURE)
        items += piece_picture(self.told, picture)
        top += PICTURE
        items.append(self._set(x + INSIDE, top, length - 2 * INSIDE))
        top += SIZE * LEADING
        for number, (text, bold) in enumerate(self._lines(length)):
            middle = top + (number + 0.5) * LEADING * TEXT
            items.append(ink.Words(text=text, x=x + INSIDE, y=middle, size=TEXT, bold=bold))
        return ink.Group(name=f"card-{self.told.number}", items=tuple(items))

    def _head(self, x: float, y: float, length: float) -> Iterator[ink.Item]:
        middle = y + NUMBER * 0.65
        number = str(self.told.number)
        yield ink.Words(text=number, x=x, y=middle, size=NUMBER, bold=True)
        start = x + width_of(number, bold=True) * NUMBER + 3
        room = x + length - BOX - 3 - start
        lines = wrapped(f"{self.told.title}, sheet {self.told.sheet}", room / LARGE, bold=True)[:2]
        size = LARGE if len(lines) == 1 else 0.85 * LARGE
        for place, line in enumerate(lines):
            down = middle + (place - (len(lines) - 1) / 2) * 1.25 * size
            yield ink.Words(text=line, x=start, y=down, size=size, bold=True)
        yield ink.Plate(
            x=x + length - BOX, y=y + 1, length=BOX, width=BOX, pen=ink.Pen(width=0.5)
        )

    def _set(self, x: float, y: float, length: float) -> ink.Words:
        text = self.told.size
        size = min(SIZE, length / width_of(text, bold=True))
        return ink.Words(
            text=text, x=x, y=y + SIZE * LEADING / 2, size=size, bold=True, colour=BLACK
        )

    def _lines(self, length: float) -> Iterator[tuple[str, bool]]:
        """Yield the lines below the picture, and whether they are cautions."""
        room = (length - 2 * INSIDE) / TEXT
        told = self.told
        said = [("", told.set_to)]
        said += [(f"{heading}: ", text) for heading, text in _told(told)]
        for heading, text in said:
            yield from ((line, False) for line in wrapped(heading + text, room))
        for caution in told.cautions:
            lines = wrapped(f"Mind: {caution.sentence}", room, bold=True)
            yield from ((line, True) for line in lines)


def _told(told: Instruction) -> Iterator[tuple[str, str]]:
    """Yield what a card says, with headings; the tool stands above the group."""
    for heading, text in told.lines:
        if heading not in {"saw", "set"}:
            yield heading, text

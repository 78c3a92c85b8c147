"""Cut cards in large type: in sawing order, a heavy line where something new is set.

Capitals of all words are at least 2.8 mm high: at 60 cm that is 16 minutes of arc, the least
that ISO 9241-303 (from memory) asks of what has to be read with ease.

Cautions of the cuts stand in full once, in a list with letters, and on the cards in short by
these letters. The list stands before the first card, so it goes to the saw with the cards. What
only one cut has to mind stands in full on its card and has no letter.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import Final

from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook, CutPicture
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import LARGE, TEXT, Book
from layout_app.paper.pack.setting import LEADING, length_of, rule, two_lines, words, wrapped
from layout_app.paper.pens import BLACK_AND_WHITE, HATCH, NARROW, OUTLINE
from shared.plan import Keep
from shared.telling import Instruction
from shared.telling.minding import PRACTICE, Caution

CARDS: Final = "Cut cards"
HEADING: Final = "Cautions on the cards"
HOW: Final = (
    "A card names by its letter what its cut has to mind: read here in full what the letters stand"
    " for before you saw. Your saw's manual comes first. Common practice, where no source is named."
)
MIND: Final = "Mind"

Marks = Mapping[str, str]
"""Letters by the full text of what they stand for."""


def marks(told: Iterable[Instruction]) -> dict[str, str]:
    """Give a letter to each caution of more than one cut, in the order of the cuts."""
    counts = Counter(full(caution) for one in told for caution in one.cautions)
    shared = [text for text, cuts in counts.items() if cuts > 1]
    return {text: letters(place) for place, text in enumerate(shared)}


def full(caution: Caution) -> str:
    """Return what holds wherever a caution applies, and its source."""
    named = "" if caution.source == PRACTICE else f" ({caution.source})"
    return f"{caution.full}{named}"


def letters(place: int) -> str:
    """Return A to Z for 0 to 25, then AA, AB and so on."""
    before, last = divmod(place, len(ascii_uppercase))
    return (letters(before - 1) if before else "") + ascii_uppercase[last]


def on_card(caution: Caution, known: Marks) -> str:
    """Say a caution on the card of its cut: by its letter, or in full where it has none."""
    mark = known.get(full(caution))
    return f"{MIND}: {caution.sentence}" if mark is None else f"{MIND} {mark}: {caution.short}"


def begin_cards(book: Book, known: Marks) -> None:
    """Begin the page of the first cards, with what the letters on them stand for.

    All pages of cards name the page with that list.
    """
    if not known:
        book.turn(CARDS)
        return
    book.turn(f"{CARDS} (letters of cautions on page {book.next_number})")
    book.heading(HEADING)
    book.paragraph(HOW)
    book.points(tuple(known), marks=tuple(known.values()))


GAP = 3.0
NUMBER, SIZE = 10.0, 7.0
"""Text sizes in mm of the cut's number and of what is set."""
HEAD = 11.0
"""Height of number, title and box, in mm."""
PICTURE = 20.0
"""Height of the picture of the piece, and of what is set beside it, in mm."""
LEAST = 84.0
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
    outline=ink.Pen(width=OUTLINE),
    rail=ink.Pen(width=0.9),
    dashes=(2.0, 1.2),
    beyond=3.0,
    mark=ink.Pen(width=0.5),
    mark_at=(5.0, 3.0),
    mark_half=1.5,
    mark_tall=2.4,
    mark_strays=True,
)
"""Of the picture of a cut."""


def put_cards(book: Book, matter: Matter) -> None:
    """Put the cautions and the cards of all cuts, as many beside each other as have room."""
    known = marks(matter.told)
    begin_cards(book, known)
    columns = max(1, int((book.room.length + GAP) / (LEAST + GAP)))
    length = (book.room.length - (columns - 1) * GAP) / columns
    cards = list(_cards(matter, known))
    for at in range(0, len(cards), columns):
        row = _RowOfCards(cards[at : at + columns], length)
        book.gap(GAP)
        book.put(row.height, row.draw)


def _cards(matter: Matter, known: Marks) -> Iterator["_Card"]:
    before = None
    for told in matter.told:
        label = told.setting.label(matter.style)
        fresh = (told.setting, told.tool) != before
        before = told.setting, told.tool
        minded = tuple(on_card(caution, known) for caution in told.cautions)
        yield _Card(told=told, setting=label, fresh=fresh, minded=minded)


class _RowOfCards:
    """Cards beside each other, all as high as the highest."""

    def __init__(self, cards: Sequence["_Card"], length: float) -> None:
        self._cards, self._length = cards, length
        self.height = max(card.height(length) for card in cards)

    def draw(self, x: float, y: float, length: float) -> list[ink.Item]:
        """Draw them from the left."""
        del length
        step = self._length + GAP
        return [
            card.drawn(ink.Spread(x=x + place * step, y=y, length=self._length, width=self.height))
            for place, card in enumerate(self._cards)
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    """One card; ``fresh`` where another thing is set than for the cut before; lengths in mm.

    ``minded`` is what is said of each caution.
    """

    told: Instruction
    setting: str
    fresh: bool
    minded: tuple[str, ...]

    def height(self, length: float) -> float:
        """Return how high it is at that length: words take the lines they need."""
        room = length - 2 * INSIDE
        taken = len(self._setting_lines(room)) * LEADING * LARGE
        taken += len(list(self._lines(room))) * LEADING * TEXT
        return 3 * INSIDE + HEAD + PICTURE + taken

    def drawn(self, frame: ink.Spread) -> ink.Item:
        """Draw it into a frame."""
        x, length = frame.x + INSIDE, frame.length - 2 * INSIDE
        pen = ink.Pen(width=NARROW)
        items: list[ink.Item] = [frame.plate(pen=pen)]
        top = frame.y + INSIDE
        lines = self._setting_lines(length)
        items += _lines_at([(line, self.fresh) for line in lines], x, top, LARGE)
        top += len(lines) * LEADING * LARGE + 0.5
        items.append(rule(frame.x, frame.right, top, heavy=self.fresh))
        items += self._head(x, top + 0.5, length)
        top += HEAD + 0.5
        items += self._picture(ink.Spread(x=x, y=top, length=length, width=PICTURE))
        items += _lines_at(list(self._lines(length)), x, top + PICTURE, TEXT)
        return ink.Group(name=f"card-{self.told.number}", items=tuple(items))

    def _setting_lines(self, room: float) -> list[str]:
        said = f"Set {self.setting}" if self.fresh else f"{self.setting}, as before"
        return wrapped(said, room, LARGE, bold=self.fresh)

    def _head(self, x: float, y: float, length: float) -> Iterator[ink.Item]:
        middle = y + HEAD / 2
        number = str(self.told.number)
        yield words(number, x, middle, NUMBER, bold=True)
        start = x + length_of(number, NUMBER, bold=True) + 3
        said = f"{self.told.title}, sheet\N{NO-BREAK SPACE}{self.told.sheet}"
        lines, size = _two_lines(said, x + length - BOX - 3 - start)
        for place, line in enumerate(lines):
            down = middle + (place - (len(lines) - 1) / 2) * 1.25 * size
            yield words(line, start, down, size, bold=True)
        left, top = x + length - BOX, middle - BOX / 2
        yield ink.Plate(x=left, y=top, length=BOX, width=BOX, pen=ink.Pen(width=OUTLINE))

    def _picture(self, frame: ink.Spread) -> Iterator[ink.Item]:
        """Draw the piece at the left, what is set in large type at the right."""
        text, room = self.told.size, frame.length / 2
        half = ink.Spread(x=frame.x, y=frame.y, length=frame.length - room - 2, width=frame.width)
        picture = CutPicture(self.told, half.inside(LOOK.beyond + 1), LOOK)
        yield from (*picture.wood(), *picture.marks())
        keep = "keep the V side" if self.told.stroke.cut.keep is Keep.NEAR else "keep the far side"
        said = [(text, SIZE, True), (keep, TEXT, False)]
        said += [(line, TEXT, False) for line in (self._long,) if _has_room(line, room)]
        down = frame.y
        for line, size, bold in said:
            fits = min(size, room / length_of(line, 1.0, bold=bold))
            at = frame.right - room / 2, down + 0.6 * size
            yield words(line, *at, fits, bold=bold, anchor=ink.Anchor.MIDDLE)
            down += LEADING * size

    @property
    def _long(self) -> str:
        return f"cut {self.told.long}"

    def _lines(self, room: float) -> Iterator[tuple[str, bool]]:
        """Yield the lines below the picture, and whether they are bold."""
        told = self.told
        said = [told.position] if told.position else []
        said += [] if _has_room(self._long, room / 2) else [self._long]
        said += [f"{name}: {text}" for name, text in told.lines if name in SAID]
        for text in said:
            yield from ((line, False) for line in wrapped(text, room, TEXT))
        for text in self.minded:
            yield from ((line, True) for line in wrapped(text, room, TEXT, bold=True))


def _has_room(text: str, room: float) -> bool:
    return length_of(text, TEXT) <= room


SAID = {"rail", "weight", "makes", "left"}
"""What of an instruction stands below the picture; the rest is the same at every cut."""


def _two_lines(text: str, room: float) -> tuple[list[str], float]:
    """Break a title into at most two lines, smaller if need be; returns them and the text size."""
    lines = wrapped(text, room, LARGE, bold=True)
    return (lines, LARGE) if len(lines) <= 2 else (two_lines(text, room, TEXT), TEXT)


def _lines_at(
    lines: Sequence[tuple[str, bool]], x: float, top: float, size: float
) -> Iterator[ink.Words]:
    for number, (text, bold) in enumerate(lines):
        y = top + (number + 0.5) * LEADING * size
        yield words(text, x, y, size, bold=bold)

"""A reader who has only the pages saws a job again: every question has its answer on the cards.

The reader knows the size of each whole sheet and the kerfs from the cover, keeps a stack of named
pieces, and does what the cards say: which piece, along or across, set to what, from which edge,
which side is kept, what becomes of both. Sizes are worked out by the reader: extent less size less
kerf. What a card says of a piece has to be what the reader holds.
"""

import re
from collections import Counter
from dataclasses import dataclass, field

from layout_app.paper import ink
from layout_app.paper.front_words import assumptions
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cards import put_cards
from shared.lengths import INCH, MM, Unit, parse_length
from shared.shop import RunsOn


def cards_of(made: Matter) -> list[str]:
    """Return the words of each card of a cut in order of the pages, as they would be read."""
    book = Book(Paper.A4, "Trial")
    put_cards(book, made)
    items = [one for page in book.pages() for group in page.items for one in group.items]
    found = [one for one in items if isinstance(one, ink.Group) and one.name.startswith("card-")]
    return [_read([one]) for one in found]


def _read(items: list[ink.Item]) -> str:
    text = " ".join(words.text for words, _ in ink.words_on(items))
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


SIZE = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?: shy| strong)?"
NAME = r"(?:offcut of )?(?:sheet )?\w+"
THERE = "as it lies|turn it a quarter|turned over"
"""Of a piece that lies on the sawhorses."""
CARD = re.compile(
    rf"(?P<number>\d+) (?P<title>.+?) "
    rf"(?:Set \w+ |Guide |Stop |Fence |Mark )(?P<size>{SIZE})(?P<how>.*?) "
    rf"cut (?P<cut>{SIZE}) long .*?Piece: (?P<piece>{NAME}), (?P<long>{SIZE}) x (?P<wide>{SIZE}), "
    rf"(?P<whence>whole sheet|{THERE}|from the stack \(cut (?P<since>\d+)\)).*?"
    rf"Keep (?P<kept>{NAME}) \((?P<side>V|far) side\); .*?"
    rf"(?P<enter>Enter at the \w+ (?:end|edge)|\w+ (?:end|edge) first).*?"
    rf"Makes (?P<made>{NAME}), (?P<made_l>{SIZE}) x (?P<made_w>{SIZE}): (?P<fate>.+?) "
    rf"Left: (?P<left>.+)"
)
BESIDE = re.compile(r"rail on [^;:,]+, one kerf past the line")
RAIL = re.compile(
    rf"(?:(\d+) x )?({SIZE}) (?:in|mm) (?:rail|straightedge)s?(?: joined)?(?:, [^;]*)?;"
    rf" about ({SIZE}) (past|short of) (?:both|the \w+ (?:end|edge), ({SIZE}) (past|short of) the)"
)
LEFT = re.compile(rf"(?P<name>{NAME}), (?P<l>{SIZE}) x (?P<w>{SIZE}): (?P<fate>\w.*)")


def at_table(text: str) -> bool:
    """Say whether a cut is made at the table saw."""
    return any(f"; {how} the fence" in text for how in AT_TABLE)


AT_TABLE = ("left end against", "right end against", "reference edge against")
AT_TABLE += ("far edge against", "on the sled, clear of")


@dataclass
class Reader:
    """Someone at the saw with the pages alone; lengths in ticks, to the width of a pencil line."""

    unit: Unit
    kerfs: dict[bool, int]
    """Of the saw on the rail, and at the table, where the piece runs against the fence."""
    sheets: dict[str, tuple[int, int]]
    base: bool = False
    """Whether the base of the saw runs along a straightedge, which is narrow and clamped."""
    pieces: dict[str, tuple[int, int]] = field(default_factory=dict)
    made_at: dict[str, int] = field(default_factory=dict)
    wanted_at: dict[str, int] = field(default_factory=dict)
    sawn: int = 0
    parts: Counter[tuple[str, int, int]] = field(default_factory=Counter)

    def size(self, text: str) -> int:
        """Read a size off a rule."""
        return parse_length(re.sub(" (shy|strong)", "", text), self.unit)

    def same(self, text: str, ticks: int) -> bool:
        """Say whether a size on the card is what is held, to 0.2 mm or 1/32 in.

        Three sizes, each rounded to 0.01 mm or 1/64 in, come together in one.
        """
        return abs(self.size(text) - ticks) <= max(MM // 5, INCH // 32)

    def saw(self, text: str) -> None:
        """Do what one card says."""
        card = CARD.match(text)
        assert card is not None, text
        number, name = int(card["number"]), card["piece"]
        held = self._take(card, number, name)
        along = "end" in card["enter"]
        whole = held[1] if along else held[0]
        kerf = self.kerfs[at_table(text)]
        size = self.size(card["size"])
        near, far = size, max(0, whole - size - kerf)
        if card["side"] == "far":
            near, far = size - kerf, whole - size
        kept, rest = (far, near) if card["side"] == "far" else (near, far)
        assert card["made"] == card["kept"]
        self._lay_rail(text, self.size(card["cut"]), kept, rest)
        del self.pieces[name]
        made = card["made"], card["made_l"], card["made_w"]
        self._put(made, _laid(held, kept, along=along), number, card["fate"])
        self._leave(card["left"], _laid(held, rest, along=along), rest, number)
        self.sawn += 1

    def _take(self, card: re.Match[str], number: int, name: str) -> tuple[int, int]:
        if card["whence"] == "whole sheet":
            self.pieces[name] = self.sheets[name.removeprefix("sheet ")]
        elif re.fullmatch(THERE, card["whence"]):
            assert self.made_at[name] == number - 1
        else:
            assert self.made_at[name] == int(card["since"])
        assert self.wanted_at.pop(name, number) == number
        held = self.pieces[name]
        assert self.same(card["long"], held[0])
        assert self.same(card["wide"], held[1])
        return held

    def _lay_rail(self, text: str, long: int, kept: int, rest: int) -> None:
        """Lay the rail: it is as long as the cut and what stands free, and lies on enough wood.

        What stands free is said in steps of 5 mm or 1/4 in, never more than it is. A rail 180 mm
        wide lies on the wider side, or on one as wide as itself (workshop practice).
        """
        if at_table(text) or "edge guide along" in text:
            return
        laid = RAIL.search(text)
        assert laid is not None, text
        ends = [
            (1 if how == "past" else -1) * self.size(free)
            for free, how in ((laid[3], laid[4]), (laid[5] or laid[3], laid[6] or laid[4]))
        ]
        over = int(laid[1] or 1) * self.size(laid[2]) - long - sum(ends)
        assert -MM <= over <= 2 * max(5 * MM, INCH // 4) + MM, text
        under, beside = (rest, kept) if BESIDE.search(text) else (kept, rest)
        assert under >= 180 * MM or under >= beside or "on scrap" in text or self.base, text

    def _leave(self, said: str, size: tuple[int, int], rest: int, number: int) -> None:
        if said.startswith("nothing"):
            assert rest == 0
        elif said.startswith("waste"):
            found = re.match(rf"waste ({SIZE})", said)
            assert found is not None
            assert self.same(found[1], rest), said
        else:
            found = LEFT.match(said)
            assert found is not None, said
            self._put((found["name"], found["l"], found["w"]), size, number, found["fate"])

    def _put(
        self, made: tuple[str, str, str], size: tuple[int, int], number: int, fate: str
    ) -> None:
        """Compare a piece with what the card says of it, and put it where it says."""
        name, *said = made
        assert name not in self.pieces
        assert all(map(self.same, said, size)), (made, size)
        self.pieces[name] = self.size(said[0]), self.size(said[1])
        self.made_at[name] = number
        later = re.match(r"(next, |on the stack for |blank of .+?; finish at )cut (\d+)", fate)
        if later is not None:
            self.wanted_at[name] = int(later[2])
            assert fate.startswith("next") <= (int(later[2]) == number + 1)
            assert fate.startswith("on the stack") <= (int(later[2]) > number + 1)
        elif (part := re.match(r"(.+?)(?: \d+)?, done, label it", fate)) is not None:
            short, long = sorted(round(side / MM) for side in size)
            self.parts[part[1], long, short] += 1
        else:
            assert name.startswith("offcut of "), name
            assert fate.startswith("label it"), fate


def _laid(held: tuple[int, int], wide: int, *, along: bool) -> tuple[int, int]:
    return (held[0], wide) if along else (wide, held[1])


KERF = re.compile(r"Kerf of the (.+): (.+)\.")


def kerfs_of(made: Matter) -> dict[bool, int]:
    """Read the kerfs off the cover, that of the table saw under ``True``."""
    found = (KERF.match(said) for said in assumptions(made))
    unit = made.style.unit
    read = {one[1]: one[2].rpartition("exactly ")[2] for one in found if one is not None}
    return {saw == "table saw": parse_length(kerf, unit) for saw, kerf in read.items()}


def reader_of(made: Matter) -> Reader:
    """Return someone with the pages of a job and its sheets."""
    sheets = {sheet.id: (sheet.length, sheet.width) for sheet in made.plan.sheets}
    clamped = made.job.shop.runs_on is RunsOn.STRAIGHTEDGE
    return Reader(made.style.unit, kerfs_of(made), sheets, base=clamped)

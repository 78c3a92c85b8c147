"""A reader who has only the cards saws the job again: every question has its answer on them.

The reader knows the size of each whole sheet and the kerfs, keeps a stack of named pieces, and does
what the cards say: which piece, along or across, set to what, from which edge, which side is
kept, what becomes of both. Sizes are worked out by the reader: extent less size less kerf. What
a card says of a piece has to be what the reader holds, and in the end every part lies there.
"""

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from functools import lru_cache

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cards import put_cards
from layout_app.paper.pack.cover import assumptions
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit, parse_length
from shared.parts import GrainRule, Part
from shared.practice import running_on, usual, usual_table
from shared.shop import RunsOn, Shop
from shared.stock import SheetGrain, Stock, Trims
from solver.budget.stop import Budget
from solver.run import run

PLY, BOARD = "18 birch", "12 board"
ROWS = (
    ("Bunk side", 2, 1960, 320, PLY, True),
    ("Bunk end", 2, 880, 320, PLY, True),
    ("Ladder rail", 2, 1500, 95, PLY, False),
    ("Ladder tread", 4, 400, 110, PLY, False),
    ("Wall side", 2, 1800, 280, PLY, False),
    ("Wall shelf", 5, 780, 270, PLY, False),
    ("Desk top", 1, 1180, 560, PLY, True),
    ("Slat bearer", 2, 1900, 60, PLY, False),
    ("Slat", 12, 600, 45, PLY, False),
    ("Door", 2, 600, 385, BOARD, True),
    ("Back panel", 2, 1780, 400, BOARD, False),
    ("Drawer base", 3, 430, 360, BOARD, False),
    ("Divider", 4, 250, 220, BOARD, False),
)
"""A reading loft for two children: name, copies, L, W in mm, material, whether the face shows.

Doors are finished at the table saw, where there is one.
"""


def loft(shop: Shop, unit: Unit) -> Job:
    """Return the job in a shop."""
    parts = (
        Part(
            id=name,
            name=name,
            copies=copies,
            length=length * MM,
            width=width * MM,
            material=material,
            grain_rule=GrainRule.ALONG_LENGTH if material == PLY else GrainRule.EITHER,
            show=show,
            oversize=6 * MM if shop.table is not None and name == "Door" else 0,
        )
        for name, copies, length, width, material, show in ROWS
    )
    stock = (
        Stock(
            id=material,
            name=material,
            material=material,
            length=2440 * MM,
            width=1220 * MM,
            thickness=thick * MM,
            density=680,
            grain=grain,
            trims=Trims(near=10 * MM, start=10 * MM),
        )
        for material, thick, grain in (
            (PLY, 18, SheetGrain.ALONG_L),
            (BOARD, 12, SheetGrain.NONE),
        )
    )
    style = LengthStyle(unit=unit, denominator=64, decimals=2)
    return Job(name="Reading loft", parts=tuple(parts), stock=tuple(stock), shop=shop, style=style)


def shop_of(name: str, unit: Unit) -> Shop:
    """Return the usual shop, or one with a table saw, or one without a rail."""
    shop = usual(unit)
    if name == "straightedge":
        return running_on(shop, RunsOn.STRAIGHTEDGE, unit)
    return shop if name == "rail" else replace(shop, table=usual_table(unit))


@lru_cache
def matter(name: str, unit: Unit) -> Matter:
    """Return the job with its first plan."""
    job = loft(shop_of(name, unit), unit)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    assert not plan.unplaced
    return matter_of(job, plan)


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
NAME = r"(?:sheet )?\w+"
CARD = re.compile(
    rf"(?P<number>\d+) (?P<title>.+?) "
    rf"(?:Set \w+ |Guide |Stop |Fence |Mark )(?P<size>{SIZE})(?P<how>.*?) "
    rf"Piece: (?P<piece>{NAME}), (?P<long>{SIZE}) x (?P<wide>{SIZE}), "
    rf"(?P<whence>whole sheet|as it lies|from the stack \(cut (?P<since>\d+)\)).*?"
    rf"Keep (?P<kept>{NAME}) \((?P<side>V|far) side\); .*?"
    rf"(?P<enter>Enter at the \w+ (?:end|edge)|\w+ (?:end|edge) first)[^;]*;"
    rf" cut (?P<cut>{SIZE}) long.*?"
    rf"Makes (?P<made>{NAME}), (?P<made_l>{SIZE}) x (?P<made_w>{SIZE}): (?P<fate>.+?) "
    rf"Left: (?P<left>.+)"
)
RAIL = re.compile(
    rf"(?:(\d+) x )?({SIZE}) (?:in|mm) (?:rail|straightedge)s?(?: joined)?(?:, [^;]*)?;"
    rf" ({SIZE}) (past|short of) (?:both|the \w+ (?:end|edge), ({SIZE}) (past|short of) the)"
)
LEFT = re.compile(rf"(?P<name>{NAME}), (?P<l>{SIZE}) x (?P<w>{SIZE}): (?P<fate>\w.*)")


@dataclass
class Reader:
    """Someone at the saw with the pages alone; lengths in ticks, to the width of a pencil line."""

    unit: Unit
    kerfs: dict[bool, int]
    """Of the saw on the rail, and at the table, where the piece runs against the fence."""
    sheet: tuple[int, int]
    base: bool = False
    """Whether the base of the saw runs along a straightedge, which is narrow and clamped."""
    pieces: dict[str, tuple[int, int]] = field(default_factory=dict)
    made_at: dict[str, int] = field(default_factory=dict)
    wanted_at: dict[str, int] = field(default_factory=dict)
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
        kerf = self.kerfs["against the fence" in text]
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

    def _take(self, card: re.Match[str], number: int, name: str) -> tuple[int, int]:
        if card["whence"] == "whole sheet":
            self.pieces[name] = self.sheet
        elif card["whence"] == "as it lies":
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
        if "against the fence" in text or "edge guide along" in text:
            return
        laid = RAIL.search(text)
        assert laid is not None, text
        ends = [
            (1 if how == "past" else -1) * self.size(free)
            for free, how in ((laid[3], laid[4]), (laid[5] or laid[3], laid[6] or laid[4]))
        ]
        over = int(laid[1] or 1) * self.size(laid[2]) - long - sum(ends)
        assert -MM <= over <= 2 * max(5 * MM, INCH // 4) + MM, text
        under, beside = (rest, kept) if "rail on the waste side" in text else (kept, rest)
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
            assert fate.startswith("offcut, label it"), fate


def _laid(held: tuple[int, int], wide: int, *, along: bool) -> tuple[int, int]:
    return (held[0], wide) if along else (wide, held[1])


KERF = re.compile(r"Kerf of the (.+): (.+)\.")


def kerfs_of(made: Matter) -> dict[bool, int]:
    """Read the kerfs off the cover, that of the table saw under ``True``."""
    found = (KERF.match(said) for said in assumptions(made))
    unit = made.style.unit
    read = {one[1]: re.sub(" (shy|strong)", "", one[2]) for one in found if one is not None}
    return {saw == "table saw": parse_length(kerf, unit) for saw, kerf in read.items()}


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("name", ["rail", "straightedge", "table saw"])
def test_every_part_comes_of_the_cards_alone(name: str, unit: Unit) -> None:
    """Counted and measured: all 43 parts, each as long and wide as the list asks for."""
    made = matter(name, unit)
    reader = Reader(unit, kerfs_of(made), (2440 * MM, 1220 * MM), base=name == "straightedge")
    cards = cards_of(made)
    assert len(cards) == len(made.plan.cuts) > 50
    for card in cards:
        reader.saw(card)
    assert not reader.wanted_at
    wanted = {(row[0], max(row[2:4]), min(row[2:4])): row[1] for row in ROWS}
    assert reader.parts == wanted

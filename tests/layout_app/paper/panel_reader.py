"""What panels say of each cut, read as a maker reads them: the panel, its row, what names the cut.

Nothing here asks how a cut is made: only the words and drawings of the panels are read.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from layout_app.paper.matter import Matter
from layout_app.paper.pack.reading_terms import terms_of
from layout_app.paper.panels.gathering import panels_of
from layout_app.paper.panels.saying import Bar, BarKind, Line, PanelWords, telling_of, words_of
from tests.layout_app.paper.panel_pictures import arrows

SOME = re.compile(r"(?:(?P<which>[\d, to]+|first of each|last of each|all but the last of each): )")
"""What stands before words that hold at some cuts alone."""
ENTERS = re.compile(r"(?:enter at )?the (?P<edge>\w+ \w+)|(?P<first>\w+ \w+) first into the blade")
TOWARDS = re.compile(r"(?P<edge>(?:left|right) end|(?:reference|far) edge) towards you(?! for)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """All that is said of one cut, and in what words.

    Attributes
    ----------
    head, bars, title, makes
        Of its panel; before its row, and before the panel if it is its first; of the row and box.
    facts
        Everything else that holds at this cut, from the panel and its row.
    signs
        Dangers and handling that hold at it: sign, letter and words.
    begins
        Whether it is the first of its piece in the panel: the head tells of the piece before it.
    ends
        Whether it is the last of its row through its piece: what remains is said of that one.
    arrow
        The edge or end at which its number and arrow stand in the drawing.
    """

    number: int
    piece: str
    head: str
    bars: tuple[str, ...]
    title: str
    makes: str
    facts: tuple[str, ...]
    signs: tuple[tuple[str, str, str], ...]
    dangers: tuple[str, ...]
    begins: bool
    ends: bool
    made: bool
    arrow: str

    @property
    def enters(self) -> str:
        """Where words say that the saw enters; ``""`` where the drawing alone says it."""
        for text in self.facts:
            if (found := ENTERS.fullmatch(text.lower())) is not None:
                return found["edge"] or found["first"]
        towards = TOWARDS.search(self.head)
        return towards["edge"] if towards else ""


def how_to_read(matter: Matter) -> tuple[str, ...]:
    """Return what is said of each term on how to read, without pictures, behind its name."""
    found = (one for one in terms_of(matter) if one.said)
    return tuple(f"{one.name}: {' '.join(one.said)}" for one in found)


def panels_in_words(made: Matter) -> list[PanelWords]:
    """Return what all panels of a job say."""
    telling = telling_of(made)
    return [words_of(panel, telling) for panel in panels_of(made.told)]


def sayings_of(made: Matter) -> list[Saying]:
    """Return what is said of each cut, in the order of their numbers."""
    shown = arrows(made)
    found = [one for panel in panels_in_words(made) for one in read_panel(panel, shown)]
    return sorted(found, key=lambda one: one.number)


def read_panel(panel: PanelWords, shown: Mapping[int, str]) -> Iterator[Saying]:
    """Yield what a panel says of each of its cuts; ``shown`` is where arrows stand.

    Only the first of equal pieces is drawn: cuts of the others are made as those in their places.
    """
    pieces = names_in(panel.name)
    every = sorted(one.number for row in panel.rows for one in row.passes)
    for place, row in enumerate(panel.rows):
        numbers = [one.number for one in row.passes]
        each, rest = divmod(len(numbers), len(pieces))
        assert not rest, panel
        for at, one in enumerate(row.passes):
            said = [*panel.common, *row.lines, *_earlier(panel, place)]
            lines = list(_holding(said, one.number, numbers, each))
            bars = [*(panel.bars if not place and not at else ()), *_before(row.bars, at, each)]
            yield Saying(
                number=one.number,
                piece=pieces[at // each],
                head=panel.head,
                bars=tuple(f"{bar.text}; {bar.more}".removesuffix("; ") for bar in bars),
                title=row.title,
                makes=one.makes,
                facts=tuple(text for sign, _, text in lines if not sign),
                signs=tuple(line for line in lines if line[0]),
                dangers=row.dangers,
                begins=not place and at % each == 0,
                ends=at % each == each - 1,
                made=one.made,
                arrow=_shown(numbers[at % each], numbers[:each], shown),
            )
    assert len(every) == len(set(every))


def _shown(number: int, row: Sequence[int], shown: Mapping[int, str]) -> str:
    """Return where the arrow of a cut stands: where the others of its row do, if it is left out."""
    if number in shown:
        return shown[number]
    (side,) = {shown[one] for one in row if one in shown}
    return side


def _before(bars: Sequence[Bar], at: int, each: int) -> Iterator[Bar]:
    """Yield the bars of a row that hold at a pass: what is set at all, a move once a piece."""
    for bar in bars:
        moves = bar.kind is BarKind.MOVE and at % each == 0
        if bar.kind is BarKind.SET or moves or not at:
            yield bar


def _earlier(panel: PanelWords, place: int) -> Iterator[Line]:
    """Yield cautions of earlier rows that name their cuts: they may name one of this row."""
    for row in panel.rows[:place]:
        yield from (line for line in row.lines if line.sign.value and _begins_with_numbers(line))


def _begins_with_numbers(line: Line) -> bool:
    found = SOME.match(line.text)
    return found is not None and found["which"][0].isdigit()


def _holding(
    lines: Sequence[Line], number: int, row: Sequence[int], each: int
) -> Iterator[tuple[str, str, str]]:
    """Yield what of some lines holds at a cut: sign, letter, words without their numbers."""
    for line in lines:
        texts = [line.text] if line.sign.value else line.text.split(" \N{MIDDLE DOT} ")
        for text in texts:
            found = SOME.match(text)
            if found is None:
                yield line.sign.value, line.letter, text
            elif _names(found["which"], number, row, each):
                yield line.sign.value, line.letter, text[found.end() :]


def _names(which: str, number: int, row: Sequence[int], each: int) -> bool:
    if which[0].isdigit():
        return number in numbers_in(which)
    last = (row.index(number) + 1) % each == 0
    first = row.index(number) % each == 0
    return {"first of each": first, "last of each": last}.get(which, not last)


def numbers_in(text: str) -> set[int]:
    """Read numbers of cuts, such as ``1 to 4, 6``."""
    found: set[int] = set()
    for run in text.split(", "):
        first, _, last = run.partition(" to ")
        found |= set(range(int(first), int(last or first) + 1))
    return found


def names_in(text: str) -> list[str]:
    """Read names of pieces, such as ``2d6, 2d1 to 2d5``."""
    found: list[str] = []
    for run in text.split(", "):
        first, _, last = run.partition(" to ")
        found.append(first)
        while last and found[-1] != last:
            found.append(_next(found[-1]))
    return found


def _next(name: str) -> str:
    stem, end = re.fullmatch(r"(.*?)(\d+|[a-z])", name).groups()  # type: ignore[union-attr]
    return f"{stem}{int(end) + 1}" if end.isdigit() else f"{stem}{chr(ord(end) + 1)}"

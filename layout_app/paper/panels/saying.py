"""What a panel says: of the piece, of all its cuts, and of each row of equal passes.

Only words; nothing here knows sizes of type or where anything stands on a page.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.caution_letters import letters_of
from layout_app.paper.matter import Matter
from layout_app.paper.panels.gathering import Panel, Row
from shared.lengths import LengthStyle
from shared.plan import CutKind
from shared.shop import Axis, Shop
from shared.telling import Instruction
from shared.telling.words import KINDS, sides_words


class BarKind(Enum):
    """What a bar between panels or rows asks for."""

    CHECK = "check"
    TURN = "turn over"
    MOVE = "move"
    """The piece is turned a quarter, or the maker walks round it."""
    RAIL = "rail"
    SET = "set"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """What is done before the next cut: a check, a turning over, a change of rail, a set-up."""

    kind: BarKind
    text: str


class Sign(Enum):
    """What stands before a line."""

    NONE = ""
    DANGER = "danger"
    HANDLING = "handling"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing that is said; ``letter`` is that of a caution, explained at the front."""

    text: str
    bold: bool = False
    sign: Sign = Sign.NONE
    letter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One box to tick: number of the cut, the piece it is sawn of, what it makes.

    ``piece`` is ``""`` where the panel has one piece. ``makes`` is ``""`` where the title of
    the row says it, as it does for a row of one pass: box, number and title have one line then.
    """

    number: int
    made: bool
    piece: str
    makes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RowWords:
    """What a row says: bars before it, its title, its passes, and lines below.

    ``dangers`` are the letters of all dangers of its cuts, those too that an earlier row or the
    panel explains: they stand with the sign beside the title.
    """

    bars: tuple[Bar, ...]
    title: str
    passes: tuple[Pass, ...]
    lines: tuple[Line, ...]
    dangers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelWords:
    """What a panel says.

    Attributes
    ----------
    name
        Of the piece, or of its pieces.
    head
        How large it is, where it comes from, how it lies, what it weighs.
    bars
        What is done before its first cut.
    common
        What holds at all its cuts.
    rows
        What each row of equal passes says.
    """

    name: str
    head: str
    bars: tuple[Bar, ...]
    common: tuple[Line, ...]
    rows: tuple[RowWords, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Telling:
    """What the words of all panels of a job have in common.

    ``letters`` are those of the cautions by their code, ``made`` the numbers of cuts made already.
    """

    shop: Shop
    style: LengthStyle
    letters: Mapping[str, str]
    made: frozenset[int] = frozenset()


def telling_of(matter: Matter) -> Telling:
    """Return what the words of all panels of a job have in common."""
    return Telling(
        shop=matter.job.shop,
        style=matter.style,
        letters=letters_of(matter.told),
        made=frozenset(matter.made),
    )


def words_of(panel: Panel, telling: Telling) -> PanelWords:
    """Return all that a panel says."""
    first = panel.first
    names = [stack[0].piece for stack in panel.stacks]
    return PanelWords(
        name=", ".join(names),
        head=first.before.partition(", ")[2],
        bars=tuple(_bars_before(first)),
        common=tuple(_common(panel)),
        rows=tuple(_row(row, panel, telling, place) for place, row in enumerate(panel.rows)),
    )


def _bars_before(first: Instruction) -> Iterator[Bar]:
    if first.sheet_check:
        yield Bar(kind=BarKind.CHECK, text=" ".join(first.sheet_check))
    if first.turn:
        yield Bar(kind=BarKind.TURN, text=first.turn)
    yield from _rail(first)


def _rail(one: Instruction) -> Iterator[Bar]:
    laid = one.record.rail
    if laid is not None and (laid.change or laid.fetched):
        yield Bar(kind=BarKind.RAIL, text=one.led)


COMMON: tuple[Callable[[Instruction], str], ...] = (
    lambda one: one.face,
    lambda one: one.support,
    lambda one: one.square,
    lambda one: one.enter,
    lambda one: one.reach,
)
"""What is said once for a panel where all its cuts say the same."""


def _common(panel: Panel) -> Iterator[Line]:
    told = [one for stack in panel.stacks for one in stack]
    for find in COMMON:
        said = {find(one) for one in told}
        if len(said) == 1 and (text := said.pop()):
            yield Line(text=text[0].upper() + text[1:])


def _row(row: Row, panel: Panel, telling: Telling, place: int) -> RowWords:
    first, last = row.first, row.passes[-1]
    several = len(panel.stacks) > 1
    bars = [*(_rail(first) if place else ())]
    if first.record.anew:
        bars.append(
            Bar(
                kind=BarKind.SET,
                text=" \N{MIDDLE DOT} ".join(filter(None, (first.set_line, first.measure))),
            )
        )
    return RowWords(
        bars=tuple(bars),
        dangers=tuple(_dangers(row, telling)),
        title=_kind(first),
        passes=tuple(
            Pass(
                number=one.number,
                made=one.number in telling.made,
                piece=one.piece if several else "",
                makes=" ".join(filter(None, (one.record.makes.name, one.record.makes.part))),
            )
            for one in row.passes
        ),
        lines=(
            *(() if first.record.anew else (Line(text=first.set_line, bold=True),)),
            Line(text=f"{first.keep}; {first.bed}"),
            Line(text=f"Makes {sides_words(first.record.makes.rect, telling.style)}"),
            Line(text=f"Left: {last.left}"),
            *_cautions(row, telling),
        ),
    )


def _kind(first: Instruction) -> str:
    if first.record.kind is CutKind.LAST_TRIM:
        return "Rip" if first.stroke.axis is Axis.RIP else "Crosscut"
    return KINDS[first.record.kind]


def _dangers(row: Row, telling: Telling) -> Iterator[str]:
    """Yield the letter of each danger of a row once."""
    codes = dict.fromkeys(caution.code for one in row.passes for caution in one.dangers)
    yield from (telling.letters.get(code, "") for code in codes)


def _cautions(row: Row, telling: Telling) -> Iterator[Line]:
    said: dict[tuple[str, str, bool], list[int]] = {}
    for one in row.passes:
        for caution in one.cautions:
            key = caution.code, caution.sentence, caution.danger
            said.setdefault(key, []).append(one.number)
    for (code, sentence, danger), numbers in said.items():
        some = len(numbers) < len(row.passes)
        yield Line(
            text=f"{numbers_in_words(numbers)}: {sentence}" if some else sentence,
            bold=danger,
            sign=Sign.DANGER if danger else Sign.HANDLING,
            letter=telling.letters.get(code, ""),
        )

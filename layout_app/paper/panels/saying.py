"""What a panel says: of the piece, of all its cuts, and of each row of equal passes.

Only words; nothing here knows sizes of type or where anything stands on a page.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import groupby
from typing import Final

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.matter import Matter
from layout_app.paper.panels.becoming import becomes, checks, pass_words, set_words, title_words
from layout_app.paper.panels.facts import FACTS, OWN_LINE, SETUP, Fact, Told, changes, enters
from layout_app.paper.panels.gathering import Panel, Row
from layout_app.paper.panels.minded import Minded, minded
from layout_app.paper.panels.naming import head_words, move_words, panel_name, towards_words
from shared.lengths import LengthStyle
from shared.making.record import Way
from shared.shop import Shop
from shared.telling import Instruction
from shared.telling.squareness import sheet_in_brief

JOIN: Final = " \N{MIDDLE DOT} "
"""Between short facts on one line."""


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
    """What is done before the next cut: a check, a turning over, a change of rail, a set-up.

    ``text`` is large, such as ``Set stop 17 5/16``; ``more`` goes on in the size of lines.
    """

    kind: BarKind
    text: str
    more: str = ""


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
    """One box to tick: number of the cut, and what it makes, with the name of its piece.

    ``makes`` is ``""`` where the title of
    the row says it, as it does for a row of one pass: box, number and title have one line then.
    """

    number: int
    made: bool
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
        letters=matter.letters,
        made=frozenset(matter.made),
    )


def words_of(panel: Panel, telling: Telling) -> PanelWords:
    """Return all that a panel says."""
    cuts = [_told(one, telling) for stack in panel.stacks for one in stack]
    shared = [fact for fact in FACTS if _is_shared(fact, cuts)]
    known = {enters} if towards_words(panel) else set()
    everywhere, somewhere = _parted(minded(cuts), len(cuts))
    return PanelWords(
        name=panel_name(panel),
        head=head_words(panel, telling.style),
        bars=tuple(_bars_before(_told(panel.first, telling))),
        common=(
            *_common([fact for fact in shared if fact not in known], cuts),
            *(_caution(one, telling) for one in everywhere),
        ),
        rows=tuple(
            RowWords(
                bars=tuple(_bars(_told(row.first, telling), begins=not place)),
                title=title_words(passes),
                passes=tuple(_passes(passes, telling)),
                lines=(
                    *_lines(passes, [fact for fact in FACTS if fact not in shared], panel),
                    *_cautions(row, somewhere, telling),
                ),
                dangers=tuple(_dangers(row, telling)),
            )
            for place, row in enumerate(panel.rows)
            for passes in [[_told(one, telling) for one in row.passes]]
        ),
    )


def _is_shared(fact: Fact, cuts: Sequence[Told]) -> bool:
    """Say whether a panel says a fact, for all cuts or for runs of them; else its rows do."""
    runs = [said for said, _ in groupby(fact(told) for told in cuts)]
    return len(runs) == 1 or (fact in SETUP and len(runs) == len(set(runs)))


def _common(facts: Sequence[Fact], cuts: Sequence[Told]) -> Iterator[Line]:
    """Yield what holds at all cuts of a panel, then what holds at each run of them.

    Where the saw enters now here, now there stands on a line of its own.
    """
    of: dict[tuple[int, ...], list[str]] = {}
    for fact in facts:
        said_of = list(_by_saying(fact, cuts))
        if fact is enters and len(said_of) > 1:
            continue
        for text, numbers in said_of:
            of.setdefault(numbers, []).append(text)
    every = tuple(told.one.number for told in cuts)
    if all_said := of.pop(every, []):
        yield Line(text=sentence(JOIN.join(all_said)))
    for numbers, said in sorted(of.items()):
        yield Line(text=f"{numbers_in_words(numbers)}: {', '.join(said)}")
    if enters in facts and len(at := list(_by_saying(enters, cuts))) > 1:
        yield Line(text=JOIN.join(_entries(at)))


def _entries(at: Sequence[tuple[str, tuple[int, ...]]]) -> Iterator[str]:
    """Yield where the saw enters at runs of cuts; that it enters is said once."""
    for place, (text, numbers) in enumerate(at):
        said = text.removeprefix("enter at ") if place else text
        yield f"{numbers_in_words(numbers)}: {said}"


def _told(one: Instruction, telling: Telling) -> Told:
    return Told(one=one, shop=telling.shop, style=telling.style)


def _parted(cautions: Sequence[Minded], number: int) -> tuple[Sequence[Minded], Sequence[Minded]]:
    """Part the cautions of all of so many cuts from those of some."""
    everywhere = [one for one in cautions if len(one.numbers) == number]
    return everywhere, [one for one in cautions if len(one.numbers) < number]


def _bars_before(told: Told) -> Iterator[Bar]:
    one, check, laid = told.one, told.record.sheet_check, told.record.rail
    checks_with_it = check is not None and laid is not None and check.rail == laid.rail
    if checks_with_it:
        yield from _rail(told)
    if one.sheet_check:
        figures = sheet_in_brief(told.record, told.shop, told.style)
        yield Bar(kind=BarKind.CHECK, text=f"Check sheet {one.sheet}", more=figures)
    if one.turn:
        text, _, more = one.turn.partition("; ")
        yield Bar(kind=BarKind.TURN, text=text, more=more)
    if not checks_with_it:
        yield from _rail(told)


def _bars(told: Told, *, begins: bool) -> Iterator[Bar]:
    """Yield what is done before a row, beside what is done before a panel that it ``begins``."""
    if not begins:
        yield from _rail(told)
        if moved := move_words(told.one):
            yield Bar(kind=BarKind.MOVE, text=sentence(moved), more=_towards(told))
    if told.record.anew:
        whence = f"from the {told.record.first_edge}" if told.record.mirrored else ""
        measure = "measure the first piece" if told.one.measure else ""
        more = "; ".join(filter(None, (whence, measure)))
        yield Bar(kind=BarKind.SET, text=told.one.set_line, more=more)


def _towards(told: Told) -> str:
    """Say which edge is towards the maker once a piece is turned, or walked round, for a cut."""
    if told.record.way is Way.FENCE:
        return ""
    return f"{told.record.enters} towards you for cut {told.record.number}"


def _rail(told: Told) -> Iterator[Bar]:
    if change := changes(told):
        yield Bar(kind=BarKind.RAIL, text=change)


def _passes(passes: Sequence[Told], telling: Telling) -> Iterator[Pass]:
    for told in passes:
        number = told.one.number
        makes = pass_words(told, passes) if len(passes) > 1 else ""
        yield Pass(number=number, made=number in telling.made, makes=makes)


def _lines(passes: Sequence[Told], own: Sequence[Fact], panel: Panel) -> Iterator[Line]:
    """Yield what a row says of its passes, with ``own`` facts that the panel does not say."""
    if not passes[0].record.anew:
        yield Line(text=set_words(passes[0]), bold=True)
    yield from _said({fact: list(_of_some(fact, passes)) for fact in own})
    for text in becomes(passes, several=len(panel.stacks) > 1):
        yield Line(text=text)
    yield from (Line(text=sentence(text), bold=True) for text in _of_some(checks, passes))


def _said(facts: Mapping[Fact, Sequence[str]]) -> Iterator[Line]:
    """Yield what facts say: short ones behind each other on a line."""
    short = [text for fact, said in facts.items() if fact not in OWN_LINE for text in said]
    if short:
        yield Line(text=sentence(JOIN.join(short)))
    for fact, said in facts.items():
        yield from (Line(text=sentence(text)) for text in said if fact in OWN_LINE)


def _of_some(fact: Fact, passes: Sequence[Told]) -> Iterator[str]:
    """Yield what a fact says of passes: once, or with the numbers of the cuts it is true of."""
    for text, numbers in _by_saying(fact, passes):
        if len(numbers) == len(passes):
            yield text
        else:
            yield f"{_which(numbers, passes)}: {text}"


def _by_saying(fact: Fact, cuts: Sequence[Told]) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Yield each thing that a fact says of any of the cuts, with the numbers of these."""
    said: dict[str, list[int]] = {}
    for told in cuts:
        said.setdefault(fact(told), []).append(told.one.number)
    yield from ((text, tuple(numbers)) for text, numbers in said.items() if text)


def _which(numbers: Sequence[int], passes: Sequence[Told]) -> str:
    """Name cuts of a row: of equal pieces, by their places among the passes of each."""
    stacks = [
        [told.one.number for told in group]
        for _, group in groupby(passes, key=lambda told: (told.one.sheet, told.one.piece))
    ]
    places = {tuple(at for at, one in enumerate(stack) if one in numbers) for stack in stacks}
    most = len(stacks[0])
    if len(stacks) == 1 or len(places) > 1:
        return numbers_in_words(numbers)
    named = {
        tuple(range(most - 1)): "all but the last of each",
        (most - 1,): "last of each",
        (0,): "first of each",
    }
    return named.get(places.pop(), numbers_in_words(numbers))


def _cautions(row: Row, cautions: Sequence[Minded], telling: Telling) -> Iterator[Line]:
    """Yield the cautions that hold from this row on, but not at all cuts of the panel."""
    for one in cautions:
        if one.numbers[0] in row.numbers:
            named = one.numbers != tuple(sorted(row.numbers))
            yield _caution(one, telling, named=named)


def _caution(one: Minded, telling: Telling, *, named: bool = False) -> Line:
    text = f"{numbers_in_words(one.numbers)}: {one.sentence}" if named else sentence(one.sentence)
    sign = Sign.DANGER if one.danger else Sign.HANDLING
    return Line(text=text, bold=one.danger, sign=sign, letter=telling.letters.get(one.code, ""))


def _dangers(row: Row, telling: Telling) -> Iterator[str]:
    """Yield the letter of each danger of a row once."""
    codes = dict.fromkeys(caution.code for one in row.passes for caution in one.dangers)
    yield from (telling.letters.get(code, "") for code in codes)


def sentence(text: str) -> str:
    """Return words with a large first letter."""
    return text[:1].upper() + text[1:]

"""Panels say of every cut what its record holds: nothing is lost, and nothing said of another.

What is expected is worded here from the record of each cut by itself; it has to be among the
words that a reader of its panel takes to hold at this very cut. So equal passes may share a row
only where they are equal in all that counts.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import fields

import pytest

from layout_app.paper.caution_letters import letters_of
from layout_app.paper.matter import Matter
from layout_app.paper.pack.at_every_cut import cautions_once
from layout_app.paper.panels.gathering import panels_of
from layout_app.paper.panels.saying import BarKind
from layout_app.paper.published.reader import for_reader
from shared.lengths import Unit
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord, Face, Guard, SquaredBy, Way
from shared.making.settings import Device
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import Instruction
from shared.telling.words import written
from tests.layout_app.paper import packs
from tests.layout_app.paper.panel_reader import Saying, panels_in_words, sayings_of
from tests.layout_app.paper.test_sawn_from_panels import matter as loft

JOBS = ("rail", "table saw", "straightedge", 2, 9, 14, 21)


def job(of: str | int) -> Matter:
    """Return the reading loft in a kind of shop, or the random job of a number."""
    return loft(of, Unit.INCH) if isinstance(of, str) else packs.matter(of)


@pytest.mark.parametrize("of", JOBS)
def test_every_cut_is_in_one_row_and_has_one_box(of: str | int) -> None:
    """Counted over all rows; the pieces of a panel follow each other in sawing order."""
    made = job(of)
    panels, told = panels_of(made.told), [one.number for one in made.told]
    assert [number for panel in panels for number in panel.numbers] == told
    for of_panel in (panels, panels_in_words(made)):
        boxes = [one.number for panel in of_panel for row in panel.rows for one in row.passes]
        assert Counter(boxes) == Counter(told)


ARROW = "arrow at the "
Expect = Callable[[Instruction, Matter], Iterator[str]]


def _nothing(one: Instruction, made: Matter) -> Iterator[str]:
    """Of a field that words are found from but that is no fact of its own."""
    del one, made
    yield from ()


def _piece(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    stroke = one.stroke
    if stroke.is_trim:
        yield f"trim the {one.record.first_edge}"
    elif one.kind != "Finish":
        yield "rip" if stroke.axis is Axis.RIP else "crosscut"
    yield f"keep the {'far' if stroke.cut.keep is Keep.FAR else 'v'} side"


def _makes(one: Instruction, made: Matter) -> Iterator[str]:
    side = one.record.makes
    yield f"makes {_size(side, made)}"
    if not one.stroke.is_trim:
        yield side.name.casefold() if side.name != one.piece or not side.part else ""
    yield from _fate(one, side)


def _left(one: Instruction, made: Matter) -> Iterator[str]:
    side = one.record.left
    if side is None or not side.rect.area:
        return
    if side.end is PieceFate.WASTE:
        yield written(one.stroke.other, made.style)
        yield "waste"
    elif side.name != one.piece or side.next_cut != one.number + 1:
        yield _size(side, made)
        yield from _fate(one, side)


def _fate(one: Instruction, side: Side) -> Iterator[str]:
    if side.end in {PieceFate.PART, PieceFate.KEEPER}:
        yield "label"
    elif side.end is PieceFate.PIECE and side.next_cut == one.number + 1:
        yield "" if side.name == one.piece else "stays"
    elif side.end is PieceFate.PIECE:
        yield "stack"
    elif side.end is PieceFate.WAITS:
        yield "measure the opening first"
    elif side.end is PieceFate.BLANK:
        yield "blank"


def _size(side: Side, made: Matter) -> str:
    return " × ".join(written(one, made.style) for one in (side.rect.length, side.rect.width))


def _bed(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    record = one.record
    if record.way in {Way.FENCE, Way.EDGE_GUIDE}:
        yield one.bed
    elif record.way is Way.STRAIGHTEDGE:
        yield f"straightedge on {'the other' if record.bed is Bed.WASTE else 'it'}, its edge"
    else:
        lies = {
            Bed.KEEP: "rail on it",
            Bed.WASTE: "rail on the other, one kerf past the line",
            Bed.PACKED: "rail on it and on scrap",
        }
        yield lies[record.bed]


def _rail(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    laid = one.record.rail
    if laid is None:
        yield one.tool.casefold()
        return
    named = one.led.removeprefix(f"{one.tool}, ").removeprefix("lay ")
    yield named.rpartition("change to ")[2]
    if not one.reach.endswith((" past both ends", " past both edges")):  # as the reading page says
        yield from (figure for figure in one.reach.replace(",", "").split() if figure[0].isdigit())
    if laid.change or laid.fetched:
        yield "change to" if laid.change else "lay"


def _set(one: Instruction, made: Matter) -> Iterator[str]:
    size = written(one.record.size, made.style)
    if one.record.setting.device in {Device.MARK, Device.BOTH_ENDS}:
        off = " off," if one.record.setting.device is Device.MARK else ""
        yield f"mark {size}{off} at"
        yield one.set_line.partition("at ")[2]
    else:
        yield str(one.record.setting.device)
        yield size


def _measure(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    yield "measure the first piece" if one.measure else ""


def _square(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    squared = one.record.squared
    if squared is None:
        return
    yield str(one.record.lies(squared.edge))
    yield {SquaredBy.SQUARE: "square on the", SquaredBy.BOTH_ENDS: "", SquaredBy.DEVICE: ""}[
        squared.by
    ]


def _check(one: Instruction, made: Matter) -> Iterator[str]:
    check, record = one.record.sheet_check, one.record
    if check is None:
        return
    yield f"check sheet {one.sheet}"
    for side in (record.stroke.piece.length, record.stroke.piece.width):
        yield written(side, made.style)
    yield "may differ by up to" if check.absorbs > 2 * made.job.shop.kerf else "diagonals"


def _checks(one: Instruction, made: Matter) -> Iterator[str]:
    for check in one.record.checks:
        what = "you keep" if check.side == one.record.makes else "remains"
        yield f"measure what {what}: {written(check.size, made.style)}"


def _enters(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    yield f"{ARROW}{one.record.enters}"


def _face(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    yield "show face down" if one.record.up is Face.BACK else one.face


def _turned(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    if one.record.turn_over:
        yield "over, left end to right"
        yield "pencil ref and left again"


def _guards(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    of = {Guard.SCORE: "score", Guard.TAPE: "tape the line", Guard.SPLINTER_GUARD: "splinter guard"}
    yield from (of[guard] for guard in one.record.guards)


def _bears(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    record = one.record
    if record.way is Way.FENCE:
        yield "stand behind the saw"
    elif record.bearers is None:
        yield f"{record.support} under both sides"
    else:
        yield "bearers"
        counts = [len(record.bearers.keep), len(record.bearers.other)]
        yield from (str(count) for count in counts if count > 1)
        yield "+ 0" if one.stroke.other and not counts[1] else ""


def _moved(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    moved = one.record.moved
    if not one.record.turn_over:
        yield {Moved.TURNED: "turn it a quarter", Moved.ROUND: "walk round"}.get(moved, "")


def _weight(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    yield one.weight if one.record.moved is Moved.LAID else ""


def _since(one: Instruction, made: Matter) -> Iterator[str]:
    del made
    record = one.record
    if record.since and record.since < one.number - 1:
        yield "from the stack"
    elif not record.since:
        yield "from the stack" if one.stroke.sheet.piece else "whole sheet"


EXPECTED: dict[str, Expect] = {
    "stroke": _piece,
    "since": _since,
    "grams": _weight,
    "makes": _makes,
    "left": _left,
    "way": _bed,
    "rail": _rail,
    "bed": _bed,
    "setting": _set,
    "anew": _set,
    "again": _nothing,  # a set-up once more is told as any other
    "proves": _measure,
    "squared": _square,
    "sheet_check": _check,
    "checks": _checks,
    "position": _nothing,  # for tables alone
    "entry": _enters,
    "up": _face,
    "turn_over": _turned,
    "face_matters": _face,
    "guards": _guards,
    "support": _bears,
    "bearers": _bears,
    "moved": _moved,
    "find_hazards": _nothing,  # below
}
"""What each field of a record is expected to be said as, in small letters."""


def words_on(said: Saying) -> str:
    """Return all that is said or drawn of one cut, in small letters."""
    arrow = f"{ARROW}{said.arrow}"
    parts = (said.head, *said.bars, said.title, said.piece, said.makes, *said.facts, arrow)
    return " | ".join(parts).replace("\N{NO-BREAK SPACE}", " ").casefold()


def test_each_field_of_a_record_has_its_words() -> None:
    """None that is new to the record is forgotten."""
    assert set(EXPECTED) == {field.name for field in fields(CutRecord)}


def _goes_on(one: Instruction) -> bool:
    left = one.record.left
    return left is not None and (left.name, left.next_cut) == (one.piece, one.number + 1)


@pytest.mark.parametrize("of", JOBS)
def test_what_a_record_holds_is_said_of_its_cut(of: str | int) -> None:
    """Each fact, among the words that hold at that cut by their numbers."""
    made = job(of)
    for one, said in zip(made.told, sayings_of(made), strict=True):
        assert said.number == one.number
        assert said.enters in {"", said.arrow}
        words = words_on(said)
        for name, expect in EXPECTED.items():
            if name == "left" and (not said.ends or _goes_on(one)):
                continue  # what remains is sawn on at the next box, or the next cut
            for text in expect(one, made):
                assert text.casefold() in words, (name, text, one.number, words)


@pytest.mark.parametrize("of", JOBS)
def test_each_caution_of_a_cut_is_signed_with_its_letter(of: str | int) -> None:
    """Dangers too beside the title of the row; none is said of a cut that has it not."""
    made = job(of)
    letters = letters_of(made.told)
    for one, said in zip(made.told, sayings_of(made), strict=True):
        for sort, cautions in (("danger", one.dangers), ("handling", one.handling)):
            signed = Counter(letter for sign, letter, _ in said.signs if sign == sort)
            assert signed == Counter(letters[caution.code] for caution in cautions), one.number
        assert {letters[caution.code] for caution in one.dangers} <= set(said.dangers)


@pytest.mark.parametrize("of", JOBS)
def test_boxes_stand_in_the_order_of_sawing(of: str | int) -> None:
    """From row to row, in every panel and from one to the next: nobody goes back up a column."""
    made = job(of)
    boxes = [
        one.number for panel in panels_in_words(made) for row in panel.rows for one in row.passes
    ]
    assert boxes == sorted(boxes)


def test_what_checks_a_sheet_is_laid_before_the_check() -> None:
    """Where the rail of the first cut is the one that lies along the reference edge."""
    tried = 0
    for of in JOBS:
        made = job(of)
        for panel, words in zip(panels_of(made.told), panels_in_words(made), strict=True):
            check, laid = panel.first.record.sheet_check, panel.first.record.rail
            kinds = [bar.kind for bar in words.bars]
            if check is None or laid is None or BarKind.RAIL not in kinds:
                continue
            before = kinds.index(BarKind.RAIL) < kinds.index(BarKind.CHECK)
            assert before is (check.rail == laid.rail)
            tried += 1
    assert tried


def test_a_published_plan_has_the_letters_of_the_pack() -> None:
    """Though it leaves out what its maker can lift: one letter is one caution on every page."""
    for of in JOBS:
        made = job(of)
        mine = {one.letter: one.do for one in cautions_once(made)}
        told = {one.letter: one.do for one in cautions_once(for_reader(made))}
        assert told.items() <= mine.items()

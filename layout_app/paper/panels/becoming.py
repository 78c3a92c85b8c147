"""What a row of cuts is called and set to, what each pass makes, and what remains."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.panels.facts import Told
from layout_app.paper.panels.naming import names_in_words, size_words
from shared.drawing.words import MEASURE_FIRST
from shared.lengths import format_length, with_unit
from shared.making.outcome import PieceFate, Side
from shared.making.settings import Device
from shared.plan import CutKind
from shared.shop import Axis
from shared.telling import words

ARROW: Final = "\N{RIGHTWARDS ARROW}"
_PARTS: Final = {PieceFate.PART, PieceFate.BLANK, PieceFate.WAITS}


def kind_words(told: Told) -> str:
    """Say what kind of cut it is: a last trim is sawn as any other cut of its axis."""
    kind = told.record.kind
    if kind is CutKind.LAST_TRIM:
        return "Rip" if told.record.stroke.axis is Axis.RIP else "Crosscut"
    return words.KINDS[kind]


def title_words(passes: Sequence[Told]) -> str:
    """Say what a row makes: ``Rip → 1b2a Partition``, ``Trim the left end``.

    The panel names the piece. Copies of one part are named once, and numbered at their boxes.
    """
    first = passes[0]
    begun = kind_words(first)
    if first.record.stroke.is_trim:
        return f"{begun} the {first.record.first_edge}"
    if len(passes) == 1:
        return f"{begun} {ARROW} {_called(first, first.record.makes)}"
    if part := _one_part(passes):
        return f"{begun} {ARROW} {part}"
    if any(told.record.makes.part for told in passes):
        return begun
    return (
        f"{begun} {ARROW} {names_in_words([_called(told, told.record.makes) for told in passes])}"
    )


def pass_words(told: Told, passes: Sequence[Told]) -> str:
    """Say what one of several passes makes: a copy's number where the title names the part."""
    made = told.record.makes
    part = _one_part(passes)
    if not part or made.part == part:
        return _called(told, made)
    return f"{made.name} no. {made.part.removeprefix(part).strip()}"


def _one_part(passes: Sequence[Told]) -> str:
    """Return the part that all passes make copies of, without their numbers; else ``""``."""
    parts = {re.sub(r" \d+$", "", told.record.makes.part) for told in passes}
    ends = all(told.record.makes.end in _PARTS for told in passes)
    return parts.pop() if ends and len(parts) == 1 else ""


def _called(told: Told, side: Side) -> str:
    name = words.side_name(told.record.stroke, side)
    return f"{name} {side.part}" if side.part and side.end in _PARTS else name


def set_words(told: Told) -> str:
    """Say what is set or marked: a size from the V, or what a trim takes off a factory edge."""
    record = told.record
    if record.setting.device is not Device.MARK:
        return told.one.set_line
    size = words.written(record.size, told.style)
    return f"Mark {size} off, at {words.marked_at(record)}"


def becomes(passes: Sequence[Told], *, several: bool) -> Iterator[str]:
    """Yield how large is what is kept and what becomes of it, and what remains."""
    made, *remains = [_makes(passes), *_remains(passes, several=several)]
    if len(remains) > 1:
        yield from (made, *remains)
    else:
        yield ". ".join((made, *remains))


def _makes(passes: Sequence[Told]) -> str:
    made = passes[0].record.makes.rect
    size = size_words(made.length, made.width, passes[0].style)
    return _with(f"Makes {size}", _fate([(told, told.record.makes) for told in passes]))


def _remains(passes: Sequence[Told], *, several: bool) -> Iterator[str]:
    """Yield what remains of each piece after its last pass, equal remainders once."""
    lasts = [a for a, b in pairwise(passes) if _piece(a) != _piece(b)] + [passes[-1]]
    found: dict[tuple[object, ...], list[Told]] = {}
    for told in lasts:
        left = told.record.left
        gone = left is None or not left.rect.area
        key = (left.end, left.rect.length, left.rect.width) if left and not gone else ()
        found.setdefault(key, []).append(told)
    for alike in found.values():
        if all(_is_sawn_on(one) for one in alike):
            continue
        some = "" if len(found) == 1 else f"{numbers_in_words([_number(one) for one in alike])}: "
        yield f"{some}{_remainder(alike, several=several)}"


def _is_sawn_on(told: Told) -> bool:
    """Say whether what remains is sawn at the next cut, where it is drawn as it is then."""
    side = told.record.left
    goes_on = side is not None and side.end is PieceFate.PIECE and side.name == told.one.piece
    return goes_on and side is not None and side.next_cut == _number(told) + 1


def _piece(told: Told) -> tuple[str, str]:
    return told.one.sheet, told.one.piece


def _number(told: Told) -> int:
    return told.one.number


def _remainder(alike: Sequence[Told], *, several: bool) -> str:
    first = alike[0]
    side, style = first.record.left, first.style
    of_each = " of each" if several else ""
    if side is None or not side.rect.area:
        return f"Nothing remains{of_each}"
    if side.end is PieceFate.WASTE:
        return _waste(first, side, of_each)
    sides = [(told, told.record.left) for told in alike if told.record.left is not None]
    size = size_words(side.rect.length, side.rect.width, style)
    if side.end is PieceFate.PIECE:
        return _with(f"Remains{of_each} {size}", _fate(sides))
    name = ", ".join(_called(told, side) for told, side in sides)
    if several and side.end is PieceFate.KEEPER:
        name = "offcut of each"
    return _with(f"{name[0].upper()}{name[1:]}, {size}", _fate(sides))


def _waste(told: Told, side: Side, of_each: str) -> str:
    """Say how much waste remains; of a trim squared from one mark, that no less may go."""
    record, rect = told.record, side.rect
    wide = rect.width if record.stroke.axis is Axis.RIP else rect.length
    whole = ", whole end" if record.stroke.is_trim and record.squared else ""
    return f"Waste{of_each} {words.written(wide, told.style)}{whole}"


def _with(said: str, fate: str) -> str:
    return f"{said}, {fate}" if fate else said


def _fate(sides: Sequence[tuple[Told, Side]]) -> str:
    """Say what becomes of equal sides of cuts."""
    end, many = sides[0][1].end, len(sides) > 1
    nexts = [side.next_cut for _, side in sides if side.next_cut]
    if end is PieceFate.PIECE:
        return _waiting(sides)
    if end is PieceFate.BLANK:
        later = f", finish at {cuts_words(nexts)}" if nexts else ""
        return f"{'blanks' if many else 'blank'}{later}"
    return {
        PieceFate.PART: "label each" if many else "label it",
        PieceFate.WAITS: f"blank, {MEASURE_FIRST}",
        PieceFate.KEEPER: "label each" if many else "label it",
        PieceFate.WASTE: "waste",
    }[end]


def _waiting(sides: Sequence[tuple[Told, Side]]) -> str:
    """Say for which cuts pieces wait on the stack, and which stays on the sawhorses.

    Nothing is said of what is sawn on in the same panel.
    """
    stay = [(told, side) for told, side in sides if side.next_cut == _number(told) + 1]
    stacked = [side.next_cut for told, side in sides if side.next_cut != _number(told) + 1]
    nexts = [number for number in stacked if number]
    waits = f"stack{f' for {cuts_words(nexts)}' if nexts else ''}" if stacked else ""
    if not stay:
        return waits
    told, side = stay[0]
    if side.name == told.one.piece:
        return waits
    return f"{waits}; {side.name} stays" if waits else "stays"


def cuts_words(numbers: Sequence[int]) -> str:
    """Write numbers of cuts, such as ``cut 3`` or ``cuts 2 to 5``."""
    return f"cut{'s' if len(numbers) > 1 else ''} {numbers_in_words(sorted(numbers))}"


def checks(told: Told) -> str:
    """Say what has to be measured after the cut; ``""`` where nothing has."""
    record, style = told.record, told.style
    across = "wide" if record.stroke.axis is Axis.RIP else "long"
    within = with_unit(format_length(words.RIGHT[style.unit], style), style)
    said = [
        f"measure what {'you keep' if check.side == record.makes else 'remains'}:"
        f" {words.written(check.size, style)} {across}, within {within}"
        for check in record.checks
    ]
    return "; ".join(said)

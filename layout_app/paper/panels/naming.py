"""Names and heads of panels: which pieces, how large, where from, how they lie, how heavy."""

import re
from collections.abc import Iterator, Sequence

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.panels.gathering import Panel
from shared.drawing.words import sheet_title
from shared.lengths import LengthStyle
from shared.making.lifting import Moved
from shared.making.record import Face, Way
from shared.telling import Instruction, words

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
"""Of equal pieces; more are written in figures."""
RUN = 3
"""So many names that follow each other are written as a run."""


def size_words(length: int, width: int, style: LengthStyle) -> str:
    """Write a size in ticks, L first, without labels."""
    return f"{words.written(length, style)} × {words.written(width, style)}"


def names_in_words(names: Sequence[str]) -> str:
    """Write names of pieces with their runs, such as ``2d6, 2d1 to 2d5``."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    said = (f"{run[0]} to {run[-1]}" if len(run) >= RUN else ", ".join(run) for run in runs)
    return ", ".join(said)


def _follows(before: str, name: str) -> bool:
    """Say whether a name is the next one of the same piece: 2d2 after 2d1, 1b after 1a."""
    first, last = (re.fullmatch(r"(.*?)(\d+|[a-z])", one) for one in (before, name))
    if first is None or last is None or first[1] != last[1]:
        return False
    if first[2].isdigit() and last[2].isdigit():
        return int(last[2]) == int(first[2]) + 1
    return not (first[2] + last[2]).isdigit() and ord(last[2][0]) == ord(first[2][0]) + 1


def panel_name(panel: Panel) -> str:
    """Name the piece, such as ``Sheet 2`` or ``2a``; or its pieces."""
    first = panel.first
    name = words.piece_name(first.stroke, first.piece)
    if len(panel.stacks) == 1:
        return name[0].upper() + name[1:]
    return names_in_words([stack[0].piece for stack in panel.stacks])


def head_words(panel: Panel, style: LengthStyle) -> str:
    """Say how large the piece is, where it comes from, how it lies, and what it weighs."""
    return ", ".join(filter(None, _head(panel, style)))


def _head(panel: Panel, style: LengthStyle) -> Iterator[str]:
    first, several = panel.first, len(panel.stacks) > 1
    stroke = first.stroke
    if several:
        many = len(panel.stacks)
        count = NUMBERS[many] if many < len(NUMBERS) else str(many)
        yield f"{count} equal pieces, one after the other"
    if _is_whole(first):
        sheet = stroke.sheet
        size = sheet.length, sheet.width
        yield sheet_title(sheet.name, sheet.material, size, sheet.grain, style)
        yield f"{words.thickness_words(sheet.thickness, style)} thick"
    else:
        sides = stroke.piece.length, stroke.piece.width
        length, width = (words.written(side, style) for side in sides)
        yield f"L {length} × W {width}"
    yield from _whence(panel)
    yield towards_words(panel) or _turned_for(first)
    yield _faces(panel)
    yield f"{first.weight} each" if several and first.weight else first.weight


def _is_whole(first: Instruction) -> bool:
    return not first.record.since and not first.stroke.sheet.piece


def _whence(panel: Panel) -> Iterator[str]:
    """Say where the piece comes from; of several, which lies there already."""
    firsts = [stack[0] for stack in panel.stacks]
    if len(firsts) == 1:
        yield _one_whence(firsts[0])
        return
    there = [one for one in firsts if _on_horses(one)]
    stacked = [one for one in firsts if not _on_horses(one)]
    for one in there:
        yield f"{one.piece} {_one_whence(one)}"
    if stacked:
        others = "the others" if len(stacked) > 1 else "the other"
        which = f"{others} " if there else ""
        cuts = sorted({one.record.since for one in stacked if one.record.since})
        of = f" ({_cuts(cuts)})" if cuts else ""
        yield f"{which}from the stack{of}"


def _on_horses(one: Instruction) -> bool:
    return bool(one.record.since) and one.record.since == one.number - 1


def _one_whence(one: Instruction) -> str:
    record = one.record
    if _is_whole(one):
        return "whole sheet"
    if _on_horses(one):
        return "turned over" if record.turn_over else move_words(one) or "as it lies"
    return f"from the stack (cut {record.since})" if record.since else "from the stack"


def _cuts(numbers: Sequence[int]) -> str:
    return f"cut{'s' if len(numbers) > 1 else ''} {numbers_in_words(numbers)}"


def towards_words(panel: Panel) -> str:
    """Say which edge is towards the maker; ``""`` if the saw does not always enter there.

    The saw is pushed away from the body: so where it enters is the side towards the maker.
    """
    records = [one.record for stack in panel.stacks for one in stack]
    edges = {None if record.way is Way.FENCE else record.enters for record in records}
    edge = edges.pop()
    return "" if edges or edge is None else f"{edge} towards you"


def _turned_for(first: Instruction) -> str:
    """Say which edge is towards the maker at the first cut, where a piece is turned for it."""
    moves = first.record.moved in {Moved.TURNED, Moved.ROUND}
    if not moves or first.record.way is Way.FENCE:
        return ""
    return f"{first.record.enters} towards you for cut {first.number}"


def move_words(one: Instruction) -> str:
    """Say how a piece on the sawhorses is turned, or where one walks; ``""`` if it stays so."""
    return {
        Moved.NOTHING: "",
        Moved.LAID: "laid on",
        Moved.TURNED: "turn it a quarter",
        Moved.ROUND: "walk round",
    }[one.record.moved]


def _faces(panel: Panel) -> str:
    """Say which face is up, if that matters at any cut of the panel, or as a sheet is laid on."""
    first = panel.first
    if first.record.up is Face.BACK:
        return "show face down"
    matters = any(one.face for stack in panel.stacks for one in stack)
    laid_on = _is_whole(first) and first.record.up is Face.SHOW
    return "show face up" if matters or laid_on else ""

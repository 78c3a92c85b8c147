"""Panels of a sequence of cuts: what is sawn of a piece while it lies there, equal cuts together.

A panel begins where another piece is taken, a piece is turned over, or a whole sheet is checked.
Pieces that follow each other, are equally large and are sawn in the same way share one panel.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from shared.making.lifting import Moved
from shared.making.record import CutRecord
from shared.plan import CutKind
from shared.telling import Instruction

Key: TypeAlias = tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Passes of one kind at one setting, each with its box to tick, in sawing order.

    ``passes`` are those of the panel's first piece, then of its second, and so on.
    """

    passes: tuple[Instruction, ...]

    @property
    def first(self) -> Instruction:
        """The pass that decides what has to be set before the row."""
        return self.passes[0]

    @property
    def numbers(self) -> tuple[int, ...]:
        """Of its cuts."""
        return tuple(one.number for one in self.passes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """What is sawn of a piece, or of equal pieces one after the other.

    Attributes
    ----------
    stacks
        The cuts of each piece, in sawing order; the pieces in the order they are taken.
    rows
        The same cuts, equal ones together.
    """

    stacks: tuple[tuple[Instruction, ...], ...]
    rows: tuple[Row, ...]

    @property
    def first(self) -> Instruction:
        """Its first cut: it says how the piece lies and where it comes from."""
        return self.stacks[0][0]

    @property
    def drawn(self) -> tuple[Instruction, ...]:
        """The cuts of the piece that is drawn, the first."""
        return self.stacks[0]

    @property
    def numbers(self) -> tuple[int, ...]:
        """Of all its cuts, ascending."""
        return tuple(one.number for stack in self.stacks for one in stack)


def panels_of(told: Sequence[Instruction]) -> tuple[Panel, ...]:
    """Return the panels of cuts in sawing order; every cut is in one row of one panel."""
    return tuple(map(_panel, _shared(list(_stays(told)))))


def _stays(told: Sequence[Instruction]) -> Iterator[tuple[Instruction, ...]]:
    """Yield the cuts of each stay of a piece on the sawhorses."""
    begun: list[Instruction] = []
    for one in told:
        if begun and not _stays_on(begun[-1], one):
            yield tuple(begun)
            begun = []
        begun.append(one)
    if begun:
        yield tuple(begun)


def _stays_on(before: Instruction, one: Instruction) -> bool:
    """Say whether a cut goes on with what the one before it left on the sawhorses, as it lies."""
    same = (before.sheet, before.piece) == (one.sheet, one.piece)
    return same and not one.turn and before.record.mirrored == one.record.mirrored


def _shared(stays: Sequence[tuple[Instruction, ...]]) -> Iterator[list[tuple[Instruction, ...]]]:
    """Yield equal stays that follow each other together."""
    group: list[tuple[Instruction, ...]] = []
    for stay in stays:
        if group and not _follows(group[0], stay):
            yield group
            group = []
        group.append(stay)
    if group:
        yield group


def _follows(first: Sequence[Instruction], stay: Sequence[Instruction]) -> bool:
    """Say whether a stay repeats the first of a group, with nothing to be set or changed for it."""
    if any(_disturbs(one) for one in stay) or len(first) != len(stay):
        return False
    if len(list(_rows(first))) > 1:  # else its boxes would not stand in the order of sawing
        return False
    alike = all(pass_key(a) == pass_key(b) for a, b in zip(first, stay, strict=True))
    moved = [[one.record.moved for one in cuts[1:]] for cuts in (first, stay)]
    return alike and _lies(first[0]) == _lies(stay[0]) and moved[0] == moved[1]


def _disturbs(one: Instruction) -> bool:
    """Say whether anything is checked, turned over, set or exchanged before a cut."""
    laid = one.record.rail
    changed = laid is not None and (laid.change or laid.fetched)
    return bool(one.sheet_check or one.turn or one.record.anew or changed)


def _lies(one: Instruction) -> Key:
    piece, sheet = one.stroke.piece, one.stroke.sheet
    return piece.length, piece.width, one.record.mirrored, sheet.thickness, sheet.material


def _panel(stacks: Sequence[tuple[Instruction, ...]]) -> Panel:
    firsts = list(_rows(stacks[0]))
    ends = list(pairwise([0, *(firsts[at][1] for at in range(len(firsts)))]))
    rows = tuple(
        Row(passes=tuple(one for stack in stacks for one in stack[start:end]))
        for start, end in ends
    )
    return Panel(stacks=tuple(stacks), rows=rows)


def _rows(stack: Sequence[Instruction]) -> Iterator[tuple[int, int]]:
    """Yield where rows of equal passes begin and end."""
    start = 0
    for at in range(1, len(stack) + 1):
        if at == len(stack) or _parts(stack[at - 1], stack[at]):
            yield start, at
            start = at


def _parts(before: Instruction, one: Instruction) -> bool:
    """Say whether a row ends between two cuts of a piece."""
    moved = one.record.moved is not Moved.NOTHING
    return moved or _disturbs(one) or pass_key(before) != pass_key(one)


def pass_key(one: Instruction) -> Key:
    """Return all that passes of a row share; what else differs is said with their numbers."""
    record, stroke = one.record, one.stroke
    return (
        *(_kind(record), stroke.axis, record.size, stroke.cut.keep, stroke.cut.tool),
        *(record.bed, record.way, record.rail and record.rail.rail, record.setting.device),
        *(record.squared, record.entry, record.mirrored),
        *(record.makes.end, record.makes.rect.length, record.makes.rect.width),
    )


def _kind(record: CutRecord) -> CutKind | None:
    """A last trim is sawn as any other cut."""
    return record.kind if record.kind in {CutKind.TRIM, CutKind.FINISH} else None

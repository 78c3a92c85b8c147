"""What a cut card says: one for each cut, in sawing order, bracketed by set-up."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from shared.drawing.marks import axis_at
from shared.drawing.sheet import tints
from shared.drawing.state import sides
from shared.geometry import Rect
from shared.lengths import LengthStyle, format_length, with_unit
from shared.plan import Cut, CutKind, Keep, Plan, PlanSheet
from shared.shop import Axis
from shared.stock import SheetGrain
from shared.tree import extent, span

_KINDS = {
    CutKind.TRIM: "Trim",
    CutKind.RIP: "Rip",
    CutKind.CROSSCUT: "Crosscut",
    CutKind.LAST_TRIM: "Last trim",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Words and picture of one cut.

    Attributes
    ----------
    number, sheet, setup
        Of the cut.
    title, size_words, size, running, long, off, caution
        What stands on it; ``off`` says what falls away.
    piece, near, far, dust
        What is cut, what is sawn off, what stays, and the slot; in the sheet's frame.
    axis, keep
        Direction of the cut, and the side that is kept as the wanted piece.
    waste
        Whether what is sawn off is no part and no piece to saw further.
    tint
        Index of the tint of the strip it comes from.
    grain
        Which way the sheet's grain runs.
    """

    number: int
    sheet: str
    setup: str
    title: str
    size_words: str
    size: str
    running: str
    long: str
    off: str
    caution: str = ""
    piece: Rect
    near: Rect
    far: Rect
    dust: Rect
    axis: Axis
    keep: Keep
    waste: bool
    tint: int | None = None
    grain: SheetGrain

    @property
    def spoken(self) -> str:
        """The card in one sentence."""
        parts = (
            f"Cut {self.number}, {self.title} of sheet {self.sheet}",
            f"{self.size_words} {self.size}",
            f"running {self.running}",
            self.long,
            self.off,
            self.caution,
        )
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """Cards made with one setting of guide or stop, on one sheet."""

    label: str
    cards: tuple[Card, ...]


def brackets(cards: tuple[Card, ...]) -> tuple[Bracket, ...]:
    """Group consecutive cards of one set-up and sheet."""
    groups = groupby(cards, key=lambda card: (card.setup, card.sheet))
    made = (tuple(group) for _, group in groups)
    return tuple(Bracket(label=_label(group[0]), cards=group) for group in made)


def _label(card: Card) -> str:
    if card.title.startswith(_KINDS[CutKind.TRIM]):
        return "square edge" if card.axis is Axis.RIP else "square end"
    return f"{'guide' if card.axis is Axis.RIP else 'stop'} {card.size}"


def cards_of(plan: Plan, style: LengthStyle) -> tuple[Card, ...]:
    """Return the card of every cut of a plan."""
    return tuple(_cards(plan, style))


class _Pass(NamedTuple):
    """A cut with the piece it goes through, and what it saws off and leaves."""

    cut: Cut
    sheet: PlanSheet
    axis: Axis
    piece: Rect
    near: Rect
    far: Rect


def _passes(plan: Plan) -> Iterator[_Pass]:
    """Yield every cut with the piece as the cuts before have left it."""
    sheets = {sheet.id: sheet for sheet in plan.sheets}
    lying = {sheet.id: sheet.rect for sheet in plan.sheets}
    for cut in plan.cuts:
        piece, sheet = lying[cut.piece], sheets[cut.sheet]
        axis = axis_at(cut.level, sheet)
        near, far = sides(cut, piece, axis)
        lying[cut.piece] = far
        if cut.off:
            lying[cut.off] = near
        yield _Pass(cut, sheet, axis, piece, near, far)


def _cards(plan: Plan, style: LengthStyle) -> Iterator[Card]:
    ends, strips = _ends(plan), _Strips(plan)
    falls = {(fall.sheet, fall.rect) for fall in plan.offcuts}
    for cut, sheet, axis, piece, near, far in _passes(plan):
        yield Card(
            number=cut.number,
            sheet=cut.sheet,
            setup=cut.setup,
            title=f"{_KINDS[cut.kind]} {cut.piece}",
            size_words="take off" if cut.kind is CutKind.TRIM else "piece size",
            size=format_length(cut.size, style),
            running=format_length(cut.running, style),
            long=f"{with_unit(format_length(span(piece, axis), style), style)} long",
            off=_off(cut, ends.get((cut.sheet, near), "")),
            caution="skim: blade half in air" if _is_skim(cut) else "",
            piece=piece,
            near=near,
            far=far,
            dust=cut.rect,
            axis=axis,
            keep=cut.keep,
            waste=not cut.off or (cut.sheet, near) in falls,
            tint=strips.tint(cut, piece, sheet),
            grain=sheet.grain,
        )


class _Strips:
    """Knows which strip every piece comes from, and so its tint."""

    def __init__(self, plan: Plan) -> None:
        self._tints = tints(plan)
        self._of: dict[str, int | None] = {}

    def tint(self, cut: Cut, piece: Rect, sheet: PlanSheet) -> int | None:
        """Return the tint of what a cut saws off."""
        if cut.level == 1:
            found = None if cut.kind is CutKind.TRIM else self._tints.get(cut.size)
        elif cut.piece in self._of:
            found = self._of[cut.piece]
        else:  # the last strip of an exactly filled sheet was never sawn off
            found = self._tints.get(extent(piece, axis_at(1, sheet)))
        if cut.off:
            self._of[cut.off] = found
        return found


def _is_skim(cut: Cut) -> bool:
    return min(cut.length, cut.width) < cut.kerf


def _off(cut: Cut, end: str) -> str:
    if not cut.off:
        return "falls away: waste"
    return f"{cut.off}: {end}" if end else f"falls away: {cut.off}"


def _ends(plan: Plan) -> dict[tuple[str, Rect], str]:
    """Return what finished pieces are: a part by its name, an offcut to keep, or waste."""
    parts = {part.id: part for part in plan.parts}
    ends = {(fall.sheet, fall.rect): "keep" if fall.keep else "waste" for fall in plan.offcuts}
    for one in plan.placements:
        part = parts[one.part]
        ends[one.sheet, one.rect] = f"{part.name} {one.copy}" if part.copies > 1 else part.name
    return ends

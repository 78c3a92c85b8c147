"""What a cut card says: one for each cut, in sawing order, bracketed by set-up."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from layout_app.panels.card_words import (
    from_words,
    guard_words,
    keep_words,
    left_words,
    makes_words,
    rail_words,
    set_words,
    unbroken,
)
from shared.drawing.marks import axis_at
from shared.drawing.sheet import tints
from shared.job import Job
from shared.lengths import Length, LengthStyle
from shared.making.record import CutRecord
from shared.making.strokes import Stroke
from shared.plan import Plan
from shared.shop import Shop
from shared.telling import Instruction, Untold, untold
from shared.tree import extent

NONE_CHOSEN = "Select a cut first: Right goes to the first one."
NO_TINTS: Final[Mapping[Length, int]] = {}
"""Each plan numbers its rip widths anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Words and picture of one cut.

    Attributes
    ----------
    untold
        What is told of the cut when it is asked for; a card shows what fits on it.
    style
        How lengths are written.
    label
        What is set and to what, in few words: the same for all cuts of one setting.
    tint
        Index of the tint of the strip it comes from.
    """

    untold: Untold
    style: LengthStyle
    label: str
    tint: int | None = None

    @property
    def told(self) -> Instruction:
        """All there is to say of the cut."""
        return self.untold.told

    @property
    def record(self) -> CutRecord:
        """How the cut is made, in figures."""
        return self.untold.record

    @property
    def number(self) -> int:
        """Of the cut."""
        return self.record.number

    @property
    def title(self) -> str:
        """Kind and piece, such as ``Rip 1a``."""
        return f"{self.told.kind} {self.told.piece}"

    @property
    def set_words(self) -> str:
        """What the size is set at."""
        return set_words(self.record)

    @property
    def lines(self) -> tuple[str, ...]:
        """What stands below the size, in the order in which it is needed."""
        record = self.record
        found = (
            "Turn it over first" if record.turn_over else "",
            from_words(record),
            guard_words(record),
            rail_words(record, self.style),
            keep_words(record),
            makes_words(record),
            left_words(record, self.style),
        )
        return tuple(unbroken(line) for line in found if line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """Consecutive cards made with one setting of guide, stop or fence."""

    label: str
    cards: tuple[Card, ...]


def brackets(cards: tuple[Card, ...]) -> tuple[Bracket, ...]:
    """Group consecutive cards of one setting, whatever the sheet, as long as it stays set."""
    made: list[list[Card]] = []
    for card in cards:
        if made and card.untold.setting == made[-1][0].untold.setting and not card.record.anew:
            made[-1].append(card)
        else:
            made.append([card])
    return tuple(Bracket(label=group[0].label, cards=tuple(group)) for group in made)


def cards_of(
    plans: Sequence[Plan],
    job: Job,
    stable: Mapping[Length, int] = NO_TINTS,
) -> tuple[Card, ...]:
    """Return the card of every cut, for the shop and the units of a job.

    Plans come in the order in which they are sawn: what was sawn before first. ``stable`` are
    the tints of rip widths that have one.
    """
    return tuple(_cards(plans, job.shop, job.style, stable))


def _cards(
    plans: Sequence[Plan],
    shop: Shop,
    style: LengthStyle,
    stable: Mapping[Length, int],
) -> Iterator[Card]:
    found = untold(plans, shop, style)
    tints = strip_tints(plans, [one.stroke for one in found], stable)
    labels = {one: one.label(style) for one in {each.setting for each in found}}
    for one in found:
        yield Card(
            untold=one,
            style=style,
            label=labels[one.setting],
            tint=tints[one.stroke.cut.number],
        )


def strip_tints(
    plans: Sequence[Plan], found: Sequence[Stroke], stable: Mapping[Length, int] = NO_TINTS
) -> dict[int, int | None]:
    """Return the tint of what each cut saws off, by the cut's number.

    ``found`` are the cuts of all plans over their pieces, in sawing order.
    """
    ahead = iter(found)
    tints: dict[int, int | None] = {}
    for plan in plans:
        strips = _Strips(plan, stable)
        tints |= {one.cut.number: strips.tint(one) for one in islice(ahead, len(plan.cuts))}
    return tints


class _Strips:
    """Knows which strip every piece comes from, and so its tint."""

    def __init__(self, plan: Plan, stable: Mapping[Length, int]) -> None:
        self._tints = {width: stable.get(width, at) for width, at in tints(plan).items()}
        self._of: dict[str, int | None] = {}

    def tint(self, stroke: Stroke) -> int | None:
        """Return the tint of what a cut saws off."""
        cut = stroke.cut
        if cut.level == 1:
            found = None if stroke.is_trim else self._tints.get(cut.size)
        elif cut.piece in self._of:
            found = self._of[cut.piece]
        else:  # the last strip of an exactly filled sheet was never sawn off
            found = self._tints.get(extent(stroke.piece, axis_at(1, stroke.sheet)))
        if cut.off:
            self._of[cut.off] = found
        return found

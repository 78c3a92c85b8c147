"""What the walk shows, one moment after the other: the cautions, set-ups, cuts, the end."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from layout_app.panels.cards import Card
from shared.making.settings import Device
from shared.telling import Setting


@dataclass(frozen=True, slots=True)
class Start:
    """The usual cautions, before anything is sawn."""


@dataclass(frozen=True, slots=True)
class SetUp:
    """Guide, stop or fence is set; ``numbers`` are the cuts made with it one after the other."""

    setting: Setting
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CutNow:
    """One pass of the saw."""

    card: Card


@dataclass(frozen=True, slots=True)
class End:
    """No cut is left."""


Moment = Start | SetUp | CutNow | End

_AT_EACH_CUT = (Device.MARK, Device.BOTH_ENDS)
"""What is measured anew at every cut needs no moment of its own."""


def moments_of(cards: Sequence[Card]) -> tuple[Moment, ...]:
    """Return the moments of a sequence, set-up changes before the first cut of each."""
    found: list[Moment] = [Start()]
    for setting, group in groupby(cards, key=lambda card: card.told.setting):
        mine = tuple(group)
        if setting.device not in _AT_EACH_CUT:
            found.append(SetUp(setting, tuple(card.number for card in mine)))
        found += map(CutNow, mine)
    return (*found, End())


def place_of(moments: Sequence[Moment], number: int | None) -> int:
    """Return where a cut is shown; the last place if there is no such cut.

    The set-up is shown first where the cut is the first one made with it.
    """
    for place, moment in enumerate(moments):
        if isinstance(moment, CutNow) and moment.card.number == number:
            before = moments[place - 1]
            return place - 1 if isinstance(before, SetUp) else place
    return len(moments) - 1


def same_place(moments: Sequence[Moment], shown: Moment) -> int:
    """Return where a moment of an earlier sequence is shown in this one, as near as can be."""
    if isinstance(shown, Start):
        return 0
    number = None
    if isinstance(shown, CutNow):
        number = shown.card.number
        cuts = (m.card.number if isinstance(m, CutNow) else None for m in moments)
        return next((place for place, n in enumerate(cuts) if n == number), len(moments) - 1)
    if isinstance(shown, SetUp):
        number = shown.numbers[0]
    return place_of(moments, number)

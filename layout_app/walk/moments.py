"""What the walk shows, one moment after the other: the cautions, what comes before a cut, cuts.

All of it follows from the records of the cuts: what has to be changed is a moment of its own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from layout_app.panels.cards import Card
from shared.cautions import CAUTIONS
from shared.making.settings import Setting
from shared.shop import Rail


@dataclass(frozen=True, slots=True)
class Start:
    """What holds at every cut, before anything is sawn: one page of it, counted from 1."""

    cautions: tuple[str, ...] = CAUTIONS
    page: int = 1
    pages: int = 1

    @property
    def is_first(self) -> bool:
        """Whether it is the first thing that is shown."""
        return self.page == 1

    @property
    def is_last(self) -> bool:
        """Whether the first cut comes after it."""
        return self.page == self.pages

    def title(self, words: str) -> str:
        """Return its title, with which page it is where there are several."""
        return words if self.pages == 1 else f"{words}, {self.page} of {self.pages}"


@dataclass(frozen=True, slots=True)
class CheckSheet:
    """A sheet is looked over before its first cut: is it straight, is it square."""

    card: Card


@dataclass(frozen=True, slots=True)
class TurnOver:
    """The piece of a cut is turned over before it is sawn."""

    card: Card


@dataclass(frozen=True, slots=True)
class RailChange:
    """A rail is laid, or rails are joined or parted; ``before`` is the one it is exchanged for.

    ``None`` for the first one, and for one that is taken up again.
    """

    card: Card
    before: Rail | None


@dataclass(frozen=True, slots=True)
class SetUp:
    """Guide, stop or fence is set; ``numbers`` are the cuts made before it is set again."""

    card: Card
    numbers: tuple[int, ...]

    @property
    def setting(self) -> Setting:
        """What is set."""
        return self.card.record.setting


@dataclass(frozen=True, slots=True)
class CutNow:
    """One pass of the saw."""

    card: Card


@dataclass(frozen=True, slots=True)
class End:
    """No cut is left."""


Before = CheckSheet | TurnOver | RailChange | SetUp
"""What has to be done before a cut."""
Moment = Start | Before | CutNow | End


def moments_of(cards: Sequence[Card], cautions: tuple[str, ...] = CAUTIONS) -> tuple[Moment, ...]:
    """Return the moments of a sequence: before each cut what has to be changed for it."""
    found: list[Moment] = list(_starts(cautions))
    rail: Rail | None = None
    for place, card in enumerate(cards):
        record = card.record
        found += _before_setting(card, rail)
        rail = rail if record.rail is None else record.rail.rail
        if record.anew:
            found.append(SetUp(card, tuple(_served(cards, place))))
        found.append(CutNow(card))
    return (*found, End())


def _before_setting(card: Card, in_hand: Rail | None) -> Iterator[Before]:
    """Yield what is done before guide, stop or fence are set.

    A rail that its sheet is checked with, too, is laid before that.
    """
    record, laying = card.record, tuple(_laying(card, in_hand))
    check = record.sheet_check
    serves = check is not None and record.rail is not None and check.rail == record.rail.rail
    if serves:
        yield from laying
    if check is not None:
        yield CheckSheet(card)
    if record.turn_over:
        yield TurnOver(card)
    if not serves:
        yield from laying


def _laying(card: Card, in_hand: Rail | None) -> Iterator[RailChange]:
    laid = card.record.rail
    if laid is not None and (laid.change or laid.fetched):
        yield RailChange(card, in_hand if laid.change else None)


MOST_CAUTIONS: Final = 8
"""So many are read from two metres on one page."""


def _starts(cautions: tuple[str, ...]) -> Iterator[Start]:
    """Yield the cautions on as few pages as can be read, each as full as the others."""
    pages = max(1, ceil(len(cautions) / MOST_CAUTIONS))
    each = ceil(len(cautions) / pages)
    for page in range(pages):
        yield Start(cautions[page * each : (page + 1) * each], page + 1, pages)


def _served(cards: Sequence[Card], place: int) -> Iterator[int]:
    """Yield the numbers of the cuts made with what is set for the one at a place."""
    setting = cards[place].record.setting
    for later in range(place, len(cards)):
        record = cards[later].record
        if record.setting != setting:
            continue
        if record.anew and later > place:
            return
        yield record.number


def place_of(moments: Sequence[Moment], number: int | None) -> int:
    """Return where a cut is shown; the last place if there is no such cut.

    What has to be changed before it is shown first.
    """
    place = cut_place(moments, number)
    while place > 0 and isinstance(moments[place - 1], Before) and place < len(moments) - 1:
        place -= 1
    return place


def same_place(moments: Sequence[Moment], shown: Moment) -> int:
    """Return where a moment of an earlier sequence is shown in this one, as near as can be."""
    if isinstance(shown, Start):
        starts = sum(isinstance(moment, Start) for moment in moments)
        return min(shown.page, starts) - 1
    if isinstance(shown, End):
        return len(moments) - 1
    if isinstance(shown, CutNow):
        return cut_place(moments, shown.card.number)
    first = place_of(moments, shown.card.number)
    last = cut_place(moments, shown.card.number)
    alike = (place for place in range(first, last) if type(moments[place]) is type(shown))
    return next(alike, first)


def cut_place(moments: Sequence[Moment], number: int | None) -> int:
    """Return the place of a cut itself; the last place if there is no such cut."""
    for place, moment in enumerate(moments):
        if isinstance(moment, CutNow) and moment.card.number == number:
            return place
    return len(moments) - 1

"""Which rail, or rails joined end to end, a cut takes: by what is in hand and what is joined.

The shop has so many rails of a length, up to so many of them joined. What is joined is used up
until it is parted: only the others of that length can be laid singly meanwhile.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from shared.lengths import Length
from shared.remembered import Remembered
from shared.shop import Rail, Shop


class Rails(NamedTuple):
    """Which rail is in hand, and how many of each length are joined; in hand is none at first."""

    hand: Rail | None = None
    joined: tuple[tuple[Length, int], ...] = ()


class Taken(NamedTuple):
    """What taking a rail in hand leads to: what is in hand then, and what that took.

    ``first`` says that none was in hand before.
    """

    rails: Rails
    rail: Rail
    first: bool
    change: bool
    joins: bool
    parted: bool


class RailChoice:
    """Chooses rails for the cuts of a shop.

    The one in hand is laid again if it reaches with run-up and run-out and no more of it stands
    free than lies on the piece, or if there is none that would stand less free. Else it is the
    shortest single rail that reaches, or the shortest of as few joined as can be.
    """

    def __init__(self, shop: Shop) -> None:
        self._beyond = shop.beyond
        self.ways = tuple(_ways(_by_length(shop)))
        """Every length that can be laid: single rails first, the shortest first."""

    @property
    def longest(self) -> Rail:
        """The longest that can be laid, of as few rails as can be."""
        return max(self.ways, key=lambda one: (one.whole, -one.joined))

    def take(self, rails: Rails, long: Length) -> Taken:
        """Say which rail a cut so long, in ticks, takes, and what that means for the others."""
        rail = self._chosen(rails.hand, long)
        if rail == rails.hand:
            return Taken(rails, rail, first=False, change=False, joins=False, parted=False)
        together = dict(rails.joined)
        joined = together.get(rail.length, 0)
        parted = False
        if rail.joined > 1:
            parted, together[rail.length] = joined > rail.joined, rail.joined
        elif joined and rail.count <= joined:
            parted, together[rail.length] = True, 0
        return Taken(
            rails=Rails(rail, tuple(sorted(together.items()))),
            rail=rail,
            first=rails.hand is None,
            change=rails.hand is not None,
            joins=rail.joined > max(1, joined),
            parted=parted,
        )

    def _chosen(self, hand: Rail | None, long: Length) -> Rail:
        least = long + self._beyond
        if hand is not None and hand.whole >= least and hand.whole <= 2 * long:
            return hand
        for way in self.ways:
            if way.whole >= least:
                return way
        return self.longest


rail_choice = Remembered(RailChoice, 32)
"""Returns the choice of a shop."""


def _by_length(shop: Shop) -> Iterator[Rail]:
    """Yield the rails of each length once: how many there are, and how many can be joined."""
    counts: dict[Length, int] = {}
    joined: dict[Length, int] = {}
    for one in shop.rails:
        counts[one.length] = counts.get(one.length, 0) + max(one.count, one.joined, 1)
        joined[one.length] = max(joined.get(one.length, 1), one.joined)
    for length, count in counts.items():
        yield Rail(length=length, joined=joined[length], count=count)


def _ways(rails: Iterable[Rail]) -> list[Rail]:
    found = [replace(rail, joined=count) for rail in rails for count in range(1, rail.joined + 1)]
    return sorted(found, key=lambda one: (one.joined, one.length))

"""A pass moved by hand to another place in the order: where it may go, and what stands in the way.

All other passes keep their order. A pass may go anywhere between the last one that it needs
and the first one that needs it; the pieces of a run change place on their sheet with it.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from itertools import pairwise

from shared.cuts.freedom import Freedom
from shared.cuts.growing import grow
from shared.cuts.order_problem import Wishes, ancestors, bits, problem_of
from shared.job import Job
from shared.layout import CutBefore, LayoutSheet
from shared.plan import CutKind


class Why(Enum):
    """Why one pass has to come before another."""

    MADE = auto()
    """It is made already."""
    PIECE = auto()
    """It saws off the piece that the other cuts."""
    REST = auto()
    """It takes from the piece what has to be off before the other cuts it."""
    TRIM = auto()
    """It makes the edge that the other is measured from."""
    LIES = auto()
    """Their pieces stay where they lie."""
    HAND = auto()
    """The maker set it so."""
    LAST = auto()
    """The last cut of their piece would leave too little, or a part would lie in lost stock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One pass that has to come before another, by their places in the order, and why."""

    first: int
    then: int
    why: Why


class Order:
    """The passes of a job in an order, and what each of them needs."""

    def __init__(
        self,
        job: Job,
        sheets: Sequence[LayoutSheet],
        keys: Sequence[str],
        *,
        fixed: frozenset[str] = frozenset(),
        made: int = 0,
    ) -> None:
        """Take the keys of all passes of some sheets, in an order that the saw can follow.

        ``fixed`` are sheets on which nothing may change place; the first ``made`` passes
        stay where they are.
        """
        self._forest, self._freedom = grow(job, sheets), Freedom(job, sheets)
        spoiled = {row.id for row in job.stock if row.no_go}
        still = fixed | {sheet.id for sheet in sheets if sheet.stock in spoiled}
        wishes = Wishes(fixed=still, is_fixed=self._freedom.is_matched, made=tuple(keys[:made]))
        self._problem = problem_of(self._forest, range(len(self._forest.runs)), wishes)
        self._number = {one.key: place for place, one in enumerate(self._problem.made)}
        self.passes = tuple(self._problem.made[self._number[key]] for key in keys)
        self.made = made
        self._place_of = {self._number[key]: place for place, key in enumerate(keys)}
        self._of_run: dict[int, list[int]] = {}
        for place, one in enumerate(self.passes):
            if one.kind is not CutKind.TRIM:
                self._of_run.setdefault(one.run, []).append(place)
        self._places: dict[int, tuple[int, ...]] = {}

    def places(self, place: int) -> tuple[int, ...]:
        """Return the places that a pass may go to, its own among them."""
        if place not in self._places:
            between = self._between(place)
            self._places[place] = tuple(to for to in between if self._suits(place, to))
        return self._places[place]

    def _between(self, place: int) -> range:
        """Return the places between what a pass needs and what needs it."""
        if place < self.made:
            return range(place, place + 1)
        number = self._at(place)
        needs = [n for n in range(place) if self._needs(number, self._at(n))]
        needed = (n for n in range(place + 1, len(self.passes)) if self._needs(self._at(n), number))
        low = max([self.made - 1, *needs]) + 1
        return range(low, next(needed, len(self.passes)))

    def _suits(self, place: int, to: int) -> bool:
        """Whether the run of a pass can be sawn with it at another place.

        Then the shop's limits are kept, and no part comes to lie in lost stock.
        """
        if to == place:
            return True
        run = self._forest.runs[self.passes[place].run]
        own = [one.key for one in run.passes if one.kind is not CutKind.TRIM]
        beside = to + (0.5 if to > place else -0.5)
        order = sorted(
            self._of_run.get(self.passes[place].run, ()),
            key=lambda n: beside if n == place else n,
        )
        pieces = [own.index(self.passes[n].key) for n in order]
        sizes = [run.run.pieces[piece].size for piece in pieces]
        return self._freedom.suits(run, sizes) and self._freedom.lies_well(run, pieces)

    def _at(self, place: int) -> int:
        return self._number[self.passes[place].key]

    def _needs(self, number: int, other: int) -> bool:
        return bool(self._problem.before[number] >> other & 1)

    def moved(self, place: int, to: int) -> tuple[str, ...]:
        """Return the keys with one pass at another place; ValueError if it may not go there."""
        if to not in self.places(place):
            raise ValueError(f"the pass at {place} may not go to {to}")
        keys = [one.key for one in self.passes]
        keys.insert(to, keys.pop(place))
        return tuple(keys)

    def against(self, wishes: Iterable[CutBefore]) -> Iterator[tuple[CutBefore, tuple[Link, ...]]]:
        """Yield the wishes that the pieces, or the wishes before them, make impossible.

        Each comes with the chain that forbids it, from the pass that is wished to be later to the
        one wished to be first: each link is a pass that has to come before the next. It is empty
        where both are the same pass. A wish of a pass that is not there is no such wish.
        """
        before, set_so = list(self._problem.before), set[tuple[int, int]]()
        for wish in wishes:
            one, other = self._number.get(wish.first), self._number.get(wish.then)
            if one is None or other is None:
                continue
            if one == other or ancestors(before, one) >> other & 1:
                way = _way(before, one, other)
                yield wish, tuple(self._link(pair, set_so) for pair in pairwise(way))
            else:
                before[other] |= 1 << one
                set_so.add((one, other))

    def _link(self, pair: tuple[int, int], set_so: Collection[tuple[int, int]]) -> Link:
        first, then = (self._place_of[number] for number in pair)
        by_hand = pair in set_so and not self._problem.before[pair[1]] >> pair[0] & 1
        return Link(first=first, then=then, why=Why.HAND if by_hand else self._why(first, then))

    def chain(self, place: int, to: int) -> tuple[Link, ...]:
        """Return what stands in the way of a pass at another place, nearest first.

        Each link is a pass that has to come before the next: going back from the pass that
        is moved, or on from it. Empty if it may go there.
        """
        allowed = self._between(place)
        if to in allowed:
            last = max(n for n in range(len(self.passes)) if self._same_run(n, place))
            return () if self._suits(place, to) else (Link(first=place, then=last, why=Why.LAST),)
        if place < self.made or to < self.made:
            first = min(to, place) if place < self.made else self.made - 1
            return (Link(first=first, then=place, why=Why.MADE),)
        return self._back(place, to) if to < allowed.start else self._on(place, to)

    def _same_run(self, place: int, other: int) -> bool:
        return self.passes[place].run == self.passes[other].run

    def _back(self, place: int, to: int) -> tuple[Link, ...]:
        links, at = list[Link](), place
        while True:
            number = self._at(at)
            needed = [n for n in range(to, at) if self._needs(number, self._at(n))]
            if not needed:
                return tuple(links)
            links.append(Link(first=needed[-1], then=at, why=self._why(needed[-1], at)))
            at = needed[-1]

    def _on(self, place: int, to: int) -> tuple[Link, ...]:
        links, at = list[Link](), place
        while True:
            number = self._at(at)
            later = range(at + 1, to + 1)
            needing = next((n for n in later if self._needs(self._at(n), number)), None)
            if needing is None:
                return tuple(links)
            links.append(Link(first=at, then=needing, why=self._why(at, needing)))
            at = needing

    def _why(self, first: int, then: int) -> Why:
        one, other = self.passes[first], self.passes[then]
        if one.run == other.run:
            return Why.TRIM if one.kind is CutKind.TRIM else Why.LIES
        return Why.PIECE if one.opens == other.run else Why.REST


def _way(before: Sequence[int], number: int, first: int) -> list[int]:
    """Return the shortest way from a pass to one that needs it, each needed right by the next."""
    after: dict[int, int] = {}
    ahead = deque([number])
    while ahead and first not in after and first != number:
        then = ahead.popleft()
        for needed in bits(before[then]):
            if needed not in after:
                after[needed] = then
                ahead.append(needed)
    way = [first]
    while way[-1] != number:
        way.append(after[way[-1]])
    return way


def wishes_after(
    wishes: Sequence[CutBefore], keys: Sequence[str], moved: str
) -> tuple[CutBefore, ...]:
    """Return what the maker wants of the order once a pass was moved by hand.

    It stays behind the pass before it and ahead of the one after it; earlier wishes hold as
    far as the new order bears them out.
    """
    place = {key: number for number, key in enumerate(keys)}
    at = place[moved]
    new = [CutBefore(first=keys[at - 1], then=moved)] if at else []
    new += [CutBefore(first=moved, then=keys[at + 1])] if at + 1 < len(keys) else []
    kept = [
        wish
        for wish in wishes
        if place.get(wish.first, -1) < place.get(wish.then, len(keys)) and wish not in new
    ]
    return (*kept, *new)


def still_possible(wishes: Sequence[CutBefore], keys: Sequence[str]) -> tuple[CutBefore, ...]:
    """Return the wishes of which both passes are still there."""
    known = set(keys)
    return tuple(wish for wish in wishes if {wish.first, wish.then} <= known)


def borne_out(wishes: Sequence[CutBefore], keys: Sequence[str]) -> tuple[CutBefore, ...]:
    """Return the wishes of which both passes are there, in the order that is wished."""
    place = {key: number for number, key in enumerate(keys)}
    return tuple(
        wish
        for wish in wishes
        if wish.first in place and wish.then in place and place[wish.first] < place[wish.then]
    )

"""The pace a maker keeps, found from the times between ticks at the saw.

An interval is the sum of its kinds of work (`shared.making.work_of_cut`). A figure is told only
from intervals with and without its kind that are alike in all else that is not told yet; what
always comes together is not told apart.
What is left out and what is told follows from the intervals alone, whatever figures the shop has;
only a cut is told beside the shop's own share for length where that is to stand.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from statistics import median
from typing import Final, NamedTuple

from shared.check_shop import LONGEST_STEP_S
from shared.making.work_of_cut import BASE, FIGURES, METRE, Interval
from shared.practice import USUAL_SHOP
from shared.shop import Shop

LEAST: Final = 8
"""So many intervals with a kind of work, and so many without it, a figure takes to be told."""
STEP_S: Final = 5
"""Figures are offered in steps of so many seconds."""
LATEST: Final = 200
"""So many intervals are looked at, the latest: a pace changes."""
ALIKE: Final = 4
"""So many intervals of the same kinds of work say how fast it is done, against practice."""
PAUSE_TIMES, PAUSE_MORE_S = 2, 60
"""An interval so many times as long as expected, and so many seconds longer, holds a pause."""
QUICK: Final = 0.25
"""One shorter than this share of what is expected was ticked after the work, with others."""
APART_M: Final = 0.25
"""Cuts whose lengths differ by less, in metres, say nothing of the share for length."""
ROUNDS: Final = 8
"""What is left out settles in fewer rounds, or is taken as it is then."""
MEDIAN_ERROR, SHIFT_ERROR, SCALE = 1.2533, 1.0233, 1.4826
"""Standard errors of median and of shift by those of a mean; deviation by a median one; normal."""

_PRACTISED: Final = {figure: float(getattr(USUAL_SHOP, figure)) for figure in FIGURES}
_PLACES: Final = {figure: place for place, figure in enumerate(FIGURES)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a kind of work takes at the saw.

    Attributes
    ----------
    figure
        The field of the shop.
    seconds
        As it was found.
    count
        Of intervals with that kind of work it rests on.
    noise
        Twice its standard error, in seconds: what differs by less may not differ at all.
    alone
        Whether nothing but cutting is in any of those intervals.
    """

    figure: str
    seconds: float
    count: int
    noise: float
    alone: bool = False

    @property
    def rounded(self) -> int:
        """In steps of `STEP_S`; a cut takes one step at least."""
        least = STEP_S if self.figure == BASE else 0
        return max(least, STEP_S * round(self.seconds / STEP_S))

    def differs(self, own: int) -> bool:
        """Whether it is another than the shop's own by a step, and by more than the noise.

        No work takes no time: what comes out at 0 is no figure to go by.
        """
        sure = abs(self.seconds - own) > self.noise
        return sure and abs(self.rounded - own) >= STEP_S and 0 < self.rounded <= LONGEST_STEP_S


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceHeard:
    """What the ticks say of the pace.

    ``count`` intervals were used; ``pauses`` were left out because they are far too long for
    their work, ``quick`` because several cuts were ticked one after the other. ``waiting`` says
    of other kinds of work in them, apart from the share for length, in how many they are.
    """

    told: tuple[Told, ...] = ()
    count: int = 0
    pauses: int = 0
    quick: int = 0
    waiting: tuple[tuple[str, int], ...] = ()

    def other_than(self, shop: Shop) -> tuple[Told, ...]:
        """Return the figures that differ from those of a shop."""
        return tuple(one for one in self.told if one.differs(getattr(shop, one.figure)))


def pace_heard(intervals: Sequence[Interval], shop: Shop) -> PaceHeard:
    """Return what intervals, in the order in which they were heard, say of the pace.

    Of the shop's own figures only the share for length is asked: a cut is told beside it, unless
    another share is to stand.
    """
    latest = intervals[-LATEST:]
    kept = _without_outliers(latest, {})
    telling = _Telling(kept.intervals)
    for _ in range(ROUNDS):
        now = _without_outliers(latest, telling.fitted())
        if now == kept:
            break
        kept, telling = now, _Telling(now.intervals)
    told = telling.told(shop.metre_s)
    found = tuple(told[figure] for figure in FIGURES if figure in told)
    return PaceHeard(
        told=found,
        count=len(kept.intervals),
        pauses=kept.pauses,
        quick=kept.quick,
        waiting=telling.waiting(told),
    )


class _Kept(NamedTuple):
    intervals: list[Interval]
    pauses: int
    quick: int


def _without_outliers(intervals: Sequence[Interval], fitted: Mapping[str, float]) -> _Kept:
    """Leave long pauses out, and cuts that were ticked together, of which none is known alone."""
    expected = _expected(intervals, fitted)
    quick = {one.number for one in intervals if one.seconds < QUICK * expected(one)}
    together = quick | {number - 1 for number in quick}
    stay, pauses, left = [], 0, 0
    for one in intervals:
        due = expected(one)
        if one.seconds > max(PAUSE_TIMES * due, due + PAUSE_MORE_S):
            pauses += 1
        elif one.number in together:
            left += 1
        else:
            stay.append(one)
    return _Kept(stay, pauses, left)


def _expected(
    intervals: Sequence[Interval], fitted: Mapping[str, float]
) -> Callable[[Interval], float]:
    """Return what says how long an interval is expected to be.

    By the figures that fit the others; else by common practice, as much faster or slower as this
    maker mostly is at the same kinds of work, or at all of them where these are rare.
    """
    alike: defaultdict[object, list[float]] = defaultdict(list)
    for one in intervals:
        alike[one.work[2:]].append(one.seconds / _sum(one, _PRACTISED))
    tempo = median(ratio for ratios in alike.values() for ratio in ratios) if alike else 1.0

    def expected(one: Interval) -> float:
        if all(figure in fitted for figure, times in zip(FIGURES, one.work, strict=True) if times):
            return max(0.0, _sum(one, fitted))
        ratios = alike[one.work[2:]]
        by_kinds = median(ratios) if len(ratios) >= ALIKE else tempo
        return by_kinds * _sum(one, _PRACTISED)

    return expected


def _sum(one: Interval, paced: Mapping[str, float]) -> float:
    return sum(
        times * paced[figure] for figure, times in zip(FIGURES, one.work, strict=True) if times
    )


class _Telling:
    """Tells figures one after the other, each known one making more intervals alike."""

    def __init__(self, intervals: Sequence[Interval]) -> None:
        self._intervals = intervals
        self._known: dict[str, float] = {}
        works = [one.work for one in intervals]
        self._there = [
            figure for i, figure in enumerate(FIGURES) if i >= 2 and any(work[i] for work in works)
        ]
        self._found: dict[str, Told] = {}
        while (figure := self._next()) is not None:
            self._take(figure)
        for figure in tuple(self._found):
            self._take(figure)

    def _take(self, figure: str) -> None:
        told = self._metre() if figure == METRE else self._kind(figure)
        self._found[figure], self._known[figure] = told, told.seconds

    def fitted(self) -> dict[str, float]:
        """Return the seconds that fit best: where length says nothing, beside practice for it."""
        metre = self._known.get(METRE, _PRACTISED[METRE])
        base = self._base(metre)
        its = {} if base is None else {BASE: base.seconds}
        return self._known | {METRE: metre} | its

    def told(self, own_metre: int) -> dict[str, Told]:
        """Return all that can be told, the base of a cut last.

        It is told beside the share for length that is to stand: the one that is told if it
        differs, else the shop's own. A share of no time is not told from the base.
        """
        found = dict(self._found)
        if METRE in found and not found[METRE].rounded:
            del found[METRE]
        metre = found.get(METRE)
        stands = own_metre if metre is None or not metre.differs(own_metre) else metre.rounded
        base = self._base(stands)
        if base is not None:
            found[BASE] = base
        return found

    def waiting(self, told: Mapping[str, Told]) -> tuple[tuple[str, int], ...]:
        """Return the kinds of work that are not told, and in how many intervals each is."""
        bases = [] if BASE in told else [(BASE, len(self._all_else_known()))]
        rest = (
            (figure, sum(bool(one.work[_PLACES[figure]]) for one in self._intervals))
            for figure in self._there
            if figure not in told
        )
        return (*bases, *rest)

    def _next(self) -> str | None:
        """Return the figure that most intervals tell, of those not known; length before all."""
        if METRE not in self._known and self._tells(METRE) >= LEAST:
            return METRE
        tells = {one: self._tells(one) for one in self._there if one not in self._known}
        best = max(tells, key=lambda one: tells[one], default=None)
        return best if best is not None and tells[best] >= LEAST else None

    def _tells(self, figure: str) -> int:
        """Return how many intervals tell a figure; of both sides the smaller number."""
        if figure == METRE:
            return sum(len(group) for group in self._groups(METRE) if _spread(group) >= APART_M)
        sides = self._sides(figure)
        return min(sum(len(side.beside) for side in sides), sum(len(side.bare) for side in sides))

    def _groups(self, figure: str) -> list[list[tuple[float, float]]]:
        """Return intervals that are alike in all but one figure and those known.

        Of each how often the figure is in it, and the seconds less what is known.
        """
        groups: defaultdict[object, list[tuple[float, float]]] = defaultdict(list)
        place = _PLACES[figure]
        known = [(_PLACES[one], of) for one, of in self._known.items() if one != figure]
        open_ = [_PLACES[one] for one in self._there if one != figure and one not in self._known]
        by_length = figure != METRE and METRE not in self._known
        for _, seconds, work in self._intervals:
            length = round(work[1] / APART_M) if by_length else 0
            key = (length, *[work[i] for i in open_])
            groups[key].append((work[place], seconds - sum([work[i] * of for i, of in known])))
        return list(groups.values())

    def _sides(self, figure: str) -> "list[_Sides]":
        found = []
        for group in self._groups(figure):
            beside = [(times, left) for times, left in group if times]
            bare = [left for times, left in group if not times]
            if beside and bare:
                found.append(_Sides(beside, bare))
        return found

    def _metre(self) -> Told:
        """Return the median slope between intervals that are alike but for their length."""
        groups = [group for group in self._groups(METRE) if _spread(group) >= APART_M]
        slope = median(
            (left - other_left) / (metres - other)
            for group in groups
            for (metres, left), (other, other_left) in combinations(group, 2)
            if abs(metres - other) >= APART_M
        )
        rest = [[left - slope * metres for metres, left in group] for group in groups]
        squares = sum((metres - _mean(group)) ** 2 for group in groups for metres, _ in group)
        noise = 2 * SHIFT_ERROR * _deviation(rest) / sqrt(squares)
        return Told(figure=METRE, seconds=slope, count=sum(map(len, groups)), noise=noise)

    def _kind(self, figure: str) -> Told:
        """Return the median difference between intervals with a kind of work and without it."""
        sides = self._sides(figure)
        seconds = median(
            (left - other) / times
            for side in sides
            for times, left in side.beside
            for other in side.bare
        )
        beside = [[left - times * seconds for times, left in side.beside] for side in sides]
        bare = [side.bare for side in sides]
        count, without = (sum(map(len, groups)) for groups in (beside, bare))
        errors = _deviation(beside) ** 2 / count + _deviation(bare) ** 2 / without
        noise = 2 * SHIFT_ERROR * sqrt(errors)
        return Told(figure=figure, seconds=seconds, count=count, noise=noise)

    def _base(self, metre: float) -> Told | None:
        """Return what is left of intervals of which all else is known, at a share for length."""
        rest = self._all_else_known()
        if len(rest) < LEAST:
            return None
        known = self._known | {METRE: metre}
        left = [one.seconds - _sum(_without_base(one), known) for one in rest]
        noise = 2 * MEDIAN_ERROR * _deviation([left]) / sqrt(len(left))
        alone = not any(any(one.work[2:]) for one in rest)
        return Told(figure=BASE, seconds=median(left), count=len(left), noise=noise, alone=alone)

    def _all_else_known(self) -> list[Interval]:
        return [
            one
            for one in self._intervals
            if all(
                figure in self._known
                for figure, times in zip(FIGURES[2:], one.work[2:], strict=True)
                if times
            )
        ]


class _Sides(NamedTuple):
    """Intervals alike in all but one kind of work: with it, and how often; and without it."""

    beside: list[tuple[float, float]]
    bare: list[float]


def _without_base(one: Interval) -> Interval:
    """Return an interval without the base of its cut."""
    return one._replace(work=(0.0, *one.work[1:]))


def _spread(group: Iterable[tuple[float, float]]) -> float:
    metres = [one for one, _ in group]
    return max(metres) - min(metres)


def _mean(group: Sequence[tuple[float, float]]) -> float:
    return sum(metres for metres, _ in group) / len(group)


def _deviation(groups: Iterable[Sequence[float]]) -> float:
    """Return the standard deviation within groups, by the median one from each group's median."""
    off = [abs(one - median(group)) for group in groups for one in group if len(group) > 1]
    return SCALE * median(off) if off else 0.0

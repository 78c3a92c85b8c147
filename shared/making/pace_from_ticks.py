"""The pace a maker keeps, found from the times between ticks at the saw.

An interval goes from one tick to that of the next cut, so it is the work of that cut: the sum of
its kinds, as in `shared.making.timing`. A figure is told only from intervals with and without its
kind that are alike in all else that is not told yet; what always comes together is not told apart.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from math import sqrt
from statistics import median
from typing import Any, Final, NamedTuple

from shared.check_shop import LONGEST_STEP_S, SECONDS
from shared.making.record import CutRecord
from shared.making.timing import seconds_of
from shared.shop import Shop

BASE: Final = "cut_s"
METRE: Final = "metre_s"
FIGURES: Final = (BASE, METRE, *(field for field in SECONDS if field not in {BASE, METRE}))
"""Fields of the shop that say what each kind of work takes, in seconds."""

LEAST: Final = 8
"""So many intervals with a kind of work, and so many without it, a figure takes to be told."""
STEP_S: Final = 5
"""Figures are offered in steps of so many seconds."""
LATEST: Final = 200
"""So many intervals are looked at, the latest: a pace changes."""
ALIKE: Final = 4
"""So many intervals of the same kinds of work say how fast it is done, against the shop's."""
PAUSE_TIMES, PAUSE_MORE_S = 2, 60
"""An interval so many times as long as expected, and so many seconds longer, holds a pause."""
QUICK: Final = 0.25
"""One shorter than this share of what is expected was ticked after the work, with others."""
APART_M: Final = 0.25
"""Cuts whose lengths differ by less, in metres, say nothing of the share for length."""
PER_MICROMETRE: Final = 1_000_000
SECOND: Final = 1_000
"""Seconds of the second kind of work that is told in one sum; no cut has the first so often."""
MEDIAN_ERROR, SHIFT_ERROR, SCALE = 1.2533, 1.0233, 1.4826
"""Standard errors of median and of shift by those of a mean; deviation by a median one; normal."""

_PLACES: Final = {figure: place for place, figure in enumerate(FIGURES)}


class Interval(NamedTuple):
    """The time to one cut from the one before it, in seconds, and the work that was in it.

    ``work`` says how often each of `FIGURES` is in it; of the share for length, how many metres.
    """

    number: int
    seconds: float
    work: tuple[float, ...]


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
    """

    figure: str
    seconds: float
    count: int
    noise: float

    @property
    def rounded(self) -> int:
        """In steps of `STEP_S`; a cut takes one step at least."""
        least = STEP_S if self.figure == BASE else 0
        return max(least, STEP_S * round(self.seconds / STEP_S))

    def differs(self, own: int) -> bool:
        """Whether it is another than the shop's own by a step, and by more than the noise."""
        sure = abs(self.seconds - own) > self.noise
        return sure and abs(self.rounded - own) >= STEP_S and self.rounded <= LONGEST_STEP_S


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceHeard:
    """What the ticks say of the pace.

    ``count`` intervals were used; ``pauses`` were left out because they are far too long for
    their work, ``quick`` because several cuts were ticked one after the other.
    """

    told: tuple[Told, ...] = ()
    count: int = 0
    pauses: int = 0
    quick: int = 0

    def other_than(self, shop: Shop) -> tuple[Told, ...]:
        """Return the figures that differ from those of a shop."""
        return tuple(one for one in self.told if one.differs(getattr(shop, one.figure)))


def interval_of(record: CutRecord, seconds: float, shop: Shop) -> Interval | None:
    """Return the interval of a cut made in a shop; ``None`` if it holds work without a figure.

    Before the first cut of a sheet that sheet is checked, which no figure is for.
    """
    if record.sheet_check is not None:
        return None
    return Interval(record.number, seconds, work_of(record, shop))


def work_of(record: CutRecord, shop: Shop) -> tuple[float, ...]:
    """Return how often each kind of work is in a cut; of length, how many metres.

    Counted by the time model itself, in a shop whose seconds of each kind cannot be mistaken for
    those of another.
    """
    told = seconds_of(record, _telling_shop(shop.lift_g, shop.turn_g))
    joins, rails = divmod(told.rails, SECOND)
    more, lifts = divmod(told.lifting, SECOND)
    heavy, turns = divmod(more, SECOND)
    often = {
        BASE: 1,
        METRE: told.cutting / PER_MICROMETRE,
        "setup_s": told.setting,
        "measure_s": told.measuring,
        "unguided_s": told.marking,
        "rail_s": rails,
        "join_s": joins,
        "lift_s": lifts,
        "turn_s": turns,
        "heavy_s": heavy,
        "skim_s": told.skimming,
    }
    return tuple(float(often[figure]) for figure in FIGURES)


@lru_cache(4)
def _telling_shop(lift_g: int, turn_g: int) -> Shop:
    """Return a shop in which a sum of seconds says how often each kind of work is in it."""
    first: dict[str, Any] = dict.fromkeys(FIGURES, 1)
    others = {"join_s": SECOND, "turn_s": SECOND, "heavy_s": SECOND**2}
    weights = {"lift_g": lift_g, "turn_g": turn_g}
    return replace(Shop(), **first | others | {BASE: 0, METRE: PER_MICROMETRE} | weights)


def pace_heard(intervals: Sequence[Interval], shop: Shop) -> PaceHeard:
    """Return what intervals, in the order in which they were heard, say of the pace.

    The shop's own figures only say what is expected until something is told, and stand where
    what is told of the share for length does not differ from them.
    """
    latest = intervals[-LATEST:]
    own = {figure: float(getattr(shop, figure)) for figure in FIGURES}
    told: dict[str, Told] = {}
    kept = _Kept([], 0, 0)
    for _ in range(2):
        kept = _without_outliers(latest, own, told)
        told = _Telling(kept.intervals, own).told()
    found = tuple(told[figure] for figure in FIGURES if figure in told)
    return PaceHeard(told=found, count=len(kept.intervals), pauses=kept.pauses, quick=kept.quick)


class _Kept(NamedTuple):
    intervals: list[Interval]
    pauses: int
    quick: int


def _without_outliers(
    intervals: Sequence[Interval], own: Mapping[str, float], told: Mapping[str, Told]
) -> _Kept:
    """Leave long pauses out, and cuts that were ticked together, of which none is known alone."""
    expected = _expected(intervals, own, told)
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
    intervals: Sequence[Interval], own: Mapping[str, float], told: Mapping[str, Told]
) -> Callable[[Interval], float]:
    """Return what says how long an interval is expected to be.

    By the figures that are told; else by the shop's own, as much faster or slower as this maker
    mostly is at the same kinds of work, or at all of them where these are rare.
    """
    alike: defaultdict[object, list[float]] = defaultdict(list)
    for one in intervals:
        alike[one.work[2:]].append(one.seconds / max(1.0, _sum(one, own)))
    tempo = median(ratio for ratios in alike.values() for ratio in ratios) if alike else 1.0

    def expected(one: Interval) -> float:
        if all(figure in told for figure, times in zip(FIGURES, one.work, strict=True) if times):
            return max(0.0, _sum(one, {figure: of.seconds for figure, of in told.items()}))
        ratios = alike[one.work[2:]]
        by_kinds = median(ratios) if len(ratios) >= ALIKE else tempo
        return by_kinds * max(1.0, _sum(one, own))

    return expected


def _sum(one: Interval, paced: Mapping[str, float]) -> float:
    return sum(
        times * paced[figure] for figure, times in zip(FIGURES, one.work, strict=True) if times
    )


class _Telling:
    """Tells figures one after the other, each known one making more intervals alike."""

    def __init__(self, intervals: Sequence[Interval], own: Mapping[str, float]) -> None:
        self._intervals, self._own = intervals, own
        self._known: dict[str, float] = {}
        works = [one.work for one in intervals]
        self._there = [
            figure for i, figure in enumerate(FIGURES) if i >= 2 and any(work[i] for work in works)
        ]

    def told(self) -> dict[str, Told]:
        """Return all that can be told, the base of a cut last."""
        found: dict[str, Told] = {}
        while (figure := self._next()) is not None:
            self._take(self._tell(figure), found)
        for figure in tuple(found):
            self._take(self._tell(figure), found)
        base = self._base()
        if base is not None:
            found[BASE] = base
        return found

    def _take(self, told: Told, found: dict[str, Told]) -> None:
        """Note a figure; the shop's own share for length stands if this is not surely another."""
        figure, own = told.figure, self._own[told.figure]
        same = figure == METRE and abs(told.seconds - own) <= told.noise
        found[figure], self._known[figure] = told, own if same else told.seconds

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

    def _tell(self, figure: str) -> Told:
        return self._metre() if figure == METRE else self._kind(figure)

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

    def _base(self) -> Told | None:
        """Return what is left of intervals of which all else is known."""
        if METRE not in self._known:
            return None
        left = [
            one.seconds - _sum(_without_base(one), self._known)
            for one in self._intervals
            if all(
                figure in self._known
                for figure, times in zip(FIGURES[1:], one.work[1:], strict=True)
                if times
            )
        ]
        if len(left) < LEAST:
            return None
        noise = 2 * MEDIAN_ERROR * _deviation([left]) / sqrt(len(left))
        return Told(figure=BASE, seconds=median(left), count=len(left), noise=noise)


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

"""The pace from ticks: known figures come back, and what cannot be told apart is not told."""

import random
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest

from shared.making.pace_from_ticks import LEAST, PaceHeard, pace_heard
from shared.making.recording import records
from shared.making.timing import seconds_of
from shared.making.work_of_cut import FIGURES, Interval, interval_of, work_of
from shared.practice import USUAL_SHOP
from tests.soak.recording import any_plan, any_shop
from tests.soak.timing import paced

KINDS: Sequence[tuple[str, ...]] = (
    (),
    ("setup_s",),
    ("setup_s", "measure_s"),
    ("setup_s", "lift_s"),
    ("lift_s",),
    ("unguided_s",),
    ("setup_s", "rail_s", "lift_s"),
    ("unguided_s", "turn_s"),
    ("lift_s", "heavy_s"),
    ("unguided_s", "skim_s"),
)
"""What comes with a cut, as it does in plans of furniture."""
TOLD = ("cut_s", "metre_s", *dict.fromkeys(name for kinds in KINDS for name in kinds))


def work(kinds: Iterable[str], metres: float) -> tuple[float, ...]:
    """Return the work of a cut so long, in metres, with some kinds of work besides."""
    return (1.0, metres, *(float(name in kinds) for name in FIGURES[2:]))


def takes(its: Sequence[float], true: Mapping[str, float]) -> float:
    """Return the seconds of some work by known figures."""
    return sum(times * true.get(name, 0) for name, times in zip(FIGURES, its, strict=True))


def heard(
    kinds: Sequence[tuple[str, ...]], each: int, true: Mapping[str, float], chance: random.Random
) -> list[Interval]:
    """Return intervals without noise, so many of each kind, their lengths drawn, in any order."""
    works = [work(its, chance.uniform(0.3, 2.4)) for its in kinds for _ in range(each)]
    chance.shuffle(works)
    return [Interval(number, takes(its, true), its) for number, its in enumerate(works, 2)]


def figures(chance: random.Random) -> dict[str, float]:
    """Draw what each kind of work takes, from 5 s to 2 min."""
    drawn = {name: 5.0 * chance.randint(1, 24) for name in FIGURES}
    return drawn | {"cut_s": 5.0 * chance.randint(3, 18), "metre_s": chance.choice([10.0, 30.0])}


@pytest.mark.parametrize("seed", range(3))
def test_without_noise_figures_are_those_of_least_squares(seed: int) -> None:
    """Checked against numpy.linalg.lstsq, a general solver of linear least squares (LAPACK)."""
    assert_least_squares(random.Random(seed))


def assert_least_squares(chance: random.Random) -> None:
    """Tell drawn figures from times without noise, and solve for them."""
    intervals = heard(KINDS, 9, figures(chance), chance)
    columns = [FIGURES.index(name) for name in TOLD]
    matrix = np.array([one.work for one in intervals])[:, columns]
    solved, *_ = np.linalg.lstsq(matrix, np.array([one.seconds for one in intervals]), rcond=None)
    told = {one.figure: one.seconds for one in pace_heard(intervals, USUAL_SHOP).told}
    assert told.keys() == set(TOLD)
    for name, seconds in zip(TOLD, solved, strict=True):
        assert told[name] == pytest.approx(seconds, abs=1e-6)


@pytest.mark.parametrize("seed", range(4))
def test_known_figures_come_back_through_noise_and_pauses(seed: int) -> None:
    """Known figures, 3 s of noise, whole seconds, and every fifth interval with a pause in it."""
    missing, off = come_back(random.Random(seed))
    assert not missing
    assert not off


def come_back(chance: random.Random) -> tuple[set[str], list[str]]:
    """Tell drawn figures from rough times, a fifth of them with pauses at random.

    Return those that are not told, and those that are more than 5 s off.
    """
    true = figures(chance)
    exact = heard(KINDS, 16, true, chance)
    paused = set(chance.sample(range(len(exact)), len(exact) // 5))
    rough = [
        round(max(1.0, one.seconds + chance.gauss(0, 3)))
        + (chance.randint(60, 1800) if place in paused else 0)
        for place, one in enumerate(exact)
    ]
    intervals = [one._replace(seconds=took) for one, took in zip(exact, rough, strict=True)]
    found = pace_heard(intervals, USUAL_SHOP)
    assert found.count + found.pauses + found.quick == len(intervals)
    off = [one.figure for one in found.told if abs(one.rounded - true[one.figure]) > 5]
    return set(TOLD) - {one.figure for one in found.told}, off


def test_fewer_than_eight_tell_nothing() -> None:
    """Seven set-ups, or seven cuts without one, are too few; eight of both are enough."""
    chance = random.Random(1)
    true = figures(chance)
    for alone, setups in ((20, 7), (7, 20), (8, 8)):
        kinds = [()] * alone + [("setup_s",)] * setups
        told = {one.figure for one in pace_heard(heard(kinds, 1, true, chance), USUAL_SHOP).told}
        assert ("setup_s" in told) is (min(alone, setups) >= LEAST)
    assert pace_heard(heard([()], 7, true, chance), USUAL_SHOP).told == ()
    assert pace_heard([], USUAL_SHOP).told == ()


@pytest.mark.parametrize("seed", range(4))
def test_what_always_comes_together_is_not_told(seed: int) -> None:
    """Every set-up also a change of the rail, every cut also a lift: only length is told."""
    chance = random.Random(seed)
    kinds = [("lift_s",), ("setup_s", "rail_s", "lift_s")]
    intervals = heard(kinds, 20, figures(chance), chance)
    told = pace_heard(intervals, USUAL_SHOP).told
    assert [one.figure for one in told] == ["metre_s"]


def test_length_and_set_up_that_come_together_are_not_told_apart() -> None:
    """All cuts alone 0.4 m long, all with a set-up 2.4 m: nobody knows which of both took long.

    A cut is told beside the shop's own share for length, 15 s a metre: 51 s less 6 s.
    """
    short, long = work((), 0.4), work(("setup_s",), 2.4)
    intervals = [
        Interval(number, 51.0 if its is short else 141.0, its)
        for number, its in enumerate([short, long] * 12, 2)
    ]
    found = pace_heard(intervals, USUAL_SHOP)
    assert [(one.figure, one.seconds) for one in found.told] == [("cut_s", 45.0)]
    assert found.waiting == (("setup_s", 12),)
    assert found.other_than(USUAL_SHOP) == ()


def test_a_set_up_of_75_s_by_hand() -> None:
    """Ten cuts take 45 s and 15 s a metre, ten with a set-up 75 s more; two hold a pause.

    The shop says 60 s, so that alone is another figure.
    """
    lengths = [0.4, 0.8, 1.2, 1.6, 2.0, 2.4, 0.6, 1.0, 1.4, 1.8]
    alone = [(45 + 15 * metres, work((), metres)) for metres in lengths]
    set_up = [(45 + 15 * metres + 75, work(("setup_s",), metres)) for metres in lengths]
    pauses = [(1800.0, work((), 0.5)), (900.0, work(("setup_s",), 0.5))]
    every = [*alone, *set_up, *pauses]
    found = pace_heard([Interval(n, *one) for n, one in enumerate(every, 2)], USUAL_SHOP)
    assert (found.count, found.pauses, found.quick) == (20, 2, 0)
    [other] = found.other_than(USUAL_SHOP)
    assert (other.figure, other.rounded, other.count) == ("setup_s", 75, 10)
    assert found.other_than(replace(USUAL_SHOP, setup_s=75)) == ()


def test_cuts_ticked_one_after_the_other_are_left_out() -> None:
    """Four cuts are made, then ticked within seconds: the first of them took the time of all."""
    true = {"cut_s": 45.0, "metre_s": 15.0, "setup_s": 60.0}
    intervals = heard([(), ("setup_s",)], 12, true, random.Random(4))
    late = sum(one.seconds for one in intervals[8:12])
    ticked = [
        *intervals[:8],
        intervals[8]._replace(seconds=late),
        *(one._replace(seconds=1.0) for one in intervals[9:12]),
        *intervals[12:],
    ]
    found = pace_heard(ticked, USUAL_SHOP)
    assert (found.count, found.pauses + found.quick) == (20, 4)
    assert found.other_than(USUAL_SHOP) == ()


def test_what_may_be_noise_is_not_another_figure() -> None:
    """Times that scatter by 40 s say nothing of a set-up that takes 10 s more than the shop's."""
    chance = random.Random(18)
    true = {"cut_s": 100.0, "metre_s": 15.0, "setup_s": 70.0}
    exact = heard([(), ("setup_s",)], 9, true, chance)
    rough = [one._replace(seconds=one.seconds + chance.gauss(0, 40)) for one in exact]
    shop = replace(USUAL_SHOP, cut_s=100)
    assert [one.figure for one in pace_heard(exact, shop).other_than(shop)] == ["setup_s"]
    assert "setup_s" in {one.figure for one in pace_heard(rough, shop).told}
    assert pace_heard(rough, shop).other_than(shop) == ()


QUICK_WALK: Sequence[tuple[int, float, tuple[str, ...]]] = (
    (5, 2.44, ()),
    (12, 2.44, ("setup_s",)),
    (11, 0.36, ("rail_s", "turn_s")),
    (8, 0.36, ("setup_s", "measure_s")),
    *((seconds, 0.36, ()) for seconds in (6, 5, 6, 3, 5)),
    (4, 0.38, ("lift_s",)),
    *((seconds, 0.38, ()) for seconds in (5, 5)),
    (22, 0.38, ("setup_s", "measure_s")),
    (5, 0.38, ()),
    (6, 0.38, ("lift_s",)),
    *((seconds, 0.38, ()) for seconds in (6, 5)),
    *((seconds, 2.44, ("unguided_s",)) for seconds in (3, 5)),
    (13, 0.15, ("rail_s", "turn_s")),
    (12, 0.15, ("setup_s", "measure_s")),
    *((seconds, 0.15, ()) for seconds in (6, 3, 71, 4, 5)),
    (5, 0.1, ("lift_s",)),
    (10, 0.1, ("setup_s", "measure_s")),
    *((seconds, 0.1, ()) for seconds in (4, 4, 6)),
    (6, 0.39, ("lift_s",)),
    (11, 0.39, ("setup_s", "measure_s")),
    (6, 0.39, ()),
)
"""What a walk by keys through 36 cuts left: seconds, metres and kinds of work."""


def quick_walk() -> list[Interval]:
    """Return the intervals of that walk; the first cut of the second sheet, 19, is none."""
    numbers = [number for number in range(2, 37) if number != 19]
    return [
        Interval(number, seconds, work(kinds, metres))
        for number, (seconds, metres, kinds) in zip(numbers, QUICK_WALK, strict=True)
    ]


def test_no_time_for_length_is_not_offered_and_the_cut_is_told_beside_the_shops() -> None:
    """A long cut took no longer than a short one: nobody saws 2.4 m in no time."""
    found = pace_heard(quick_walk(), USUAL_SHOP)
    assert [one.figure for one in found.told] == ["cut_s"]
    [cut] = found.other_than(USUAL_SHOP)
    assert (cut.rounded, cut.count, cut.alone) == (5, 19, True)
    assert (found.count, found.pauses, found.quick) == (32, 1, 1)
    counts = {"setup_s": 6, "measure_s": 5, "unguided_s": 1, "rail_s": 2, "lift_s": 4, "turn_s": 2}
    assert dict(found.waiting) == counts
    assert pace_heard(quick_walk(), replace(USUAL_SHOP, cut_s=5)).other_than(USUAL_SHOP) == (cut,)


def test_work_that_comes_out_at_no_time_is_not_offered() -> None:
    """Twelve lifts that took no time at all: no figure to go by, so the shop's stands."""
    true = {"cut_s": 45.0, "metre_s": 15.0, "lift_s": 0.0}
    found = pace_heard(heard([(), ("lift_s",)], 12, true, random.Random(7)), USUAL_SHOP)
    assert {one.figure: one.rounded for one in found.told}["lift_s"] == 0
    assert found.other_than(USUAL_SHOP) == ()


def drawn_ticks(chance: random.Random) -> list[Interval]:
    """Return rough times of drawn work, some with pauses, some ticked together."""
    kinds = chance.sample(KINDS, chance.randint(1, len(KINDS)))
    ticks = []
    for one in heard(kinds, chance.choice([3, 8, 16]), figures(chance), chance):
        took = max(1, round(one.seconds * chance.gauss(1, chance.choice([0.05, 0.3]))))
        drawn = chance.random()
        took = took + chance.randint(30, 900) if drawn < 0.15 else 1 if drawn > 0.9 else took
        ticks.append(one._replace(seconds=took))
    return ticks


def any_pace(chance: random.Random) -> dict[str, int]:
    """Draw the shop's seconds of each kind of work, none among them."""
    return {name: chance.choice([0, 5, 20, 60, 400]) for name in FIGURES}


@pytest.mark.parametrize("seed", range(12))
def test_what_is_told_does_not_hang_on_the_shops_figures(seed: int) -> None:
    """Whatever the shop says now, the same ticks tell the same; taken over, nothing is left."""
    assert_free_of_the_shop(random.Random(seed))


def assert_free_of_the_shop(chance: random.Random) -> None:
    """Draw ticks and shops, tell the pace for each, and take all of it over.

    A cut is told beside the share for length that is to stand, which may be the shop's own.
    """
    ticks = quick_walk() if chance.random() < 0.1 else drawn_ticks(chance)
    for _ in range(3):
        shop, other = (replace(USUAL_SHOP, **any_pace(chance)) for _ in range(2))
        found, again = pace_heard(ticks, shop), pace_heard(ticks, other)
        assert pace_heard(ticks, replace(other, metre_s=shop.metre_s)) == found
        assert _but_the_cut(again) == _but_the_cut(found)
        taken = {one.figure: one.rounded for one in found.other_than(shop)}
        after = replace(shop, **taken)
        assert pace_heard(ticks, after) == found
        assert pace_heard(ticks, after).other_than(after) == ()


def _but_the_cut(found: PaceHeard) -> PaceHeard:
    told = tuple(one for one in found.told if one.figure != "cut_s")
    return replace(found, told=told)


def test_the_work_of_a_record_adds_up_to_its_seconds() -> None:
    """Kinds counted and paced are the time model's sum, in 16 random jobs and shops; all are met.

    A sheet's first cut, before which it is checked, is no interval.
    """
    met = Counter[str]()
    for seed in range(16):
        chance = random.Random(seed)
        shop = paced(any_shop(chance), chance)
        plan = any_plan(chance, shop)
        own = {name: getattr(shop, name) for name in FIGURES}
        for record in records([] if plan is None else [plan], shop):
            its = work_of(record, shop)
            met.update(name for name, often in zip(FIGURES, its, strict=True) if often)
            assert takes(its, own) == pytest.approx(seconds_of(record, shop).total, abs=0.51)
            interval = interval_of(record, 50, shop)
            assert (interval is None) is (record.sheet_check is not None)
    assert met.keys() == set(FIGURES)

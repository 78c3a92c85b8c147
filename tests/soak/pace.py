"""Whether known figures come back from ticks: ``python -m tests.soak.pace [--n 200]``.

Draws what each kind of work takes, and times of 160 cuts by it with noise and pauses, as
`tests.shared.making.test_pace_from_ticks` does for a few; and the real cuts of workshop lists,
planned in little time, with a scatter of 5 % and 15 % and a fifth of them with pauses. Counts
figures that are told, how far they are off, and offers that are further from the truth than what
the shop says.
"""

import argparse
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path
from random import Random

from shared.making.pace_from_ticks import pace_heard
from shared.making.recording import records
from shared.making.work_of_cut import Interval, interval_of
from shared.practice import USUAL_SHOP
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import load
from tests.shared.making.test_pace_from_ticks import (
    assert_free_of_the_shop,
    assert_least_squares,
    come_back,
    figures,
    takes,
)

WORKSHOP = Path(__file__).parents[1] / "benchmarks" / "workshop"
SCATTERS = (0.05, 0.15)


def intervals_of(path: Path) -> list[Interval]:
    """Return the work between the ticks of a list in the usual shop; the seconds are 0."""
    [listed] = load(path)
    job = replace(listed.job, shop=replace(USUAL_SHOP, kerf=listed.job.shop.kerf))
    plan = run(job, Budget(time_s=0.0), lambda event: None)
    assert plan is not None
    found = (interval_of(one, 0, job.shop) for one in records([plan], job.shop)[1:])
    return [one for one in found if one is not None]


def rough(
    intervals: list[Interval], true: dict[str, float], scatter: float, chance: Random
) -> Iterator[Interval]:
    """Yield the intervals with times that scatter, and a pause in a fifth of them."""
    for one in intervals:
        took = takes(one.work, true) * chance.gauss(1, scatter)
        pause = chance.uniform(60, 1800) if chance.random() < 0.2 else 0
        yield one._replace(seconds=round(max(1.0, took) + pause))


def real_cuts(path: Path, scatter: float, draws: int) -> tuple[int, int, int, list[float]]:
    """Return how many figures were told, were offered, were offered wrongly, and how far off."""
    intervals = intervals_of(path)
    told, offers, worse, off = 0, 0, 0, []
    for seed in range(draws):
        chance = Random(seed)
        true = figures(chance)
        heard = pace_heard(list(rough(intervals, true, scatter, chance)), USUAL_SHOP)
        told += len(heard.told)
        off += [abs(one.seconds - true[one.figure]) for one in heard.told]
        for one in heard.other_than(USUAL_SHOP):
            offers += 1
            own, it_is = getattr(USUAL_SHOP, one.figure), true[one.figure]
            worse += abs(one.rounded - it_is) > abs(own - it_is)
    return told, offers, worse, off


def drawn(count: int) -> tuple[int, int]:
    """Return in how many draws a figure was not told, and in how many one was far off.

    Without noise all are those of least squares, and whatever the shop says, the same ticks tell
    the same, or this ends.
    """
    silent = wrong = 0
    for seed in range(count):
        missing, off = come_back(Random(seed))
        silent, wrong = silent + bool(missing), wrong + bool(off)
        assert_least_squares(Random(seed))
        assert_free_of_the_shop(Random(seed))
    return silent, wrong


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=200)
    parser.add_argument("--lists", type=int, default=30)
    parser.add_argument("--draws", type=int, default=10)
    given = parser.parse_args()
    silent, wrong = drawn(given.n)
    print(f"{given.n} draws, as least squares has them without noise; with noise and pauses:")
    print(f"a figure not told, too many of its times with pauses: {silent}; one off: {wrong}")
    for scatter in SCATTERS:
        told, offers, worse, off = 0, 0, 0, []
        for path in islice(sorted(WORKSHOP.glob("shop*.json")), given.lists):
            more = real_cuts(path, scatter, given.draws)
            told, offers, worse = told + more[0], offers + more[1], worse + more[2]
            off += more[3]
        off.sort()
        print(
            f"scatter {scatter:.0%}: told {told}, off by {off[len(off) // 2]:.1f} s on the middle"
            f" and {off[int(0.95 * len(off))]:.1f} s at p95; offers {offers}, worse {worse}"
        )


if __name__ == "__main__":
    main()

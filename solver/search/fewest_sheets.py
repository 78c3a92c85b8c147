"""Stage A: the same items on cheaper sheets, one fleet after the other."""

from collections import Counter
from collections.abc import Iterator
from itertools import count

import numpy as np

from solver.budget.effort import Effort
from solver.budget.phase import Method
from solver.budget.statistics import WorkDone
from solver.budget.stop import Stop
from solver.material.instance import Laid, Solution
from solver.search.kernel.fleet import desk, left_of, off_of, to_sheets
from solver.search.kernel.squeeze import squeeze
from solver.search.sheet_mixes import Fleet, cheaper_fleets, everything, fleet_of, worth
from solver.search.tempo import Tempo
from solver.solutions.incumbent import Incumbent

HOT = 0.02
"""Threshold at the start of an attempt, in sheets; it falls to nothing."""
COOLER = 10
"""On more sheets than this it is lower in proportion: what each try may lose adds up."""
SHORTEST = 40_000
"""Tries of the first attempt at a fleet; how long it takes to find a way in varies by
orders of magnitude, so attempts double and begin from different states."""
LONGER = 60
"""With more items than this attempts are longer in proportion: a try changes few of them."""


def squeeze_stock(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Look for solutions on cheaper sheets until the incumbent is proven or time is up.

    When the stock cannot hold every item, look for solutions that leave less off instead.
    """
    _squeeze(incumbent, _Squeezer(incumbent, stop.when(incumbent.is_proven), effort), effort)


def thin_stock(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Look for fewer sheets at the price, once it is proven that nothing costs less."""
    if incumbent.is_proven():
        _squeeze(incumbent, _Squeezer(incumbent, stop, effort, as_dear=True), effort)


def _squeeze(incumbent: Incumbent, squeezer: "_Squeezer", effort: Effort) -> None:
    effort.by(Method.SQUEEZING)
    items = sum(item.demand for item in incumbent.instance.items)
    shortest = SHORTEST * max(1, items // LONGER)
    while fleets := squeezer.fleets():
        for fleet, tries in _attempts(fleets, shortest):
            if squeezer.over():
                return
            if squeezer.attempt(fleet, tries):
                break


def _attempts(fleets: list[Fleet], shortest: int) -> Iterator[tuple[Fleet, int]]:
    """Yield each fleet with a number of tries, in rounds of ever longer attempts."""
    for length in count():
        for fleet in fleets:
            yield fleet, shortest << length


class _Squeezer:
    """Makes attempts and counts the work they take."""

    def __init__(
        self, incumbent: Incumbent, stop: Stop, effort: Effort, as_dear: bool = False
    ) -> None:
        """With ``as_dear`` only fleets of the same price, on fewer sheets, are tried."""
        self._incumbent = incumbent
        self._as_dear = as_dear
        self._stop = stop
        self._effort = effort
        self._left = effort.work
        self._tempo = Tempo(steady=effort.work is not None)
        self._seeds = count(effort.seed * 1_000_003)

    def over(self) -> bool:
        """Whether there is nothing more to gain, or to spend."""
        return bool(self._stop) or self._left == 0

    def fleets(self) -> list[Fleet]:
        """Return what to try: cheaper sheets, or all there are when items are left off."""
        fleet = fleet_of(self._incumbent.solution.sheets)
        if self._incumbent.complete:
            instance = self._incumbent.instance
            least = self._incumbent.cost.price if self._as_dear else 0
            return [f for f in cheaper_fleets(instance, fleet) if worth(instance, f)[0] >= least]
        return [everything(self._incumbent.instance, fleet)]

    def attempt(self, fleet: Fleet, tries: int) -> bool:
        """Try to lay all items on a fleet; say whether the incumbent got better."""
        tries = tries if self._left is None else min(tries, self._left)
        seed = next(self._seeds)
        attempt = _Attempt(self._incumbent, fleet, seed)
        while attempt.made < tries and not self._stop and attempt.goes_on():
            if attempt.go_on(self._tempo, tries):
                break
        self._effort.did(WorkDone(attempts=1, tries=attempt.made))
        if self._left is not None:
            self._left -= attempt.made
        return attempt.better


class _Attempt:
    """One run of ruin and recreate on one fleet."""

    def __init__(self, incumbent: Incumbent, fleet: Fleet, seed: int) -> None:
        self.made = 0
        self.better = False
        self._incumbent = incumbent
        self._worth = worth(incumbent.instance, fleet)
        begin = _beginning(incumbent, fleet, fresh=seed % 2 == 1)
        total = sum(item.demand for item in incumbent.instance.items)
        self._off, self._best_off = off_of(begin, total), off_of(begin, total)
        kinds = [sheet.kind for sheet in begin.sheets]
        rest = (Counter(fleet) - Counter(kinds)).elements()
        self._search = desk(incumbent.instance, begin.sheets, [*kinds, *rest], seed)
        self._hot = HOT * min(1.0, COOLER / len(fleet))
        # A solution worth keeping leaves off less than that.
        least = 1e300 if incumbent.complete else float(incumbent.cost.unplaced)
        self._heat = np.array([self._hot, self._hot, least], np.float64)

    def goes_on(self) -> bool:
        """Whether items are off, and nobody else found a solution as cheap."""
        incumbent = self._incumbent
        if (
            incumbent.complete
            and worth(incumbent.instance, fleet_of(incumbent.solution.sheets)) <= self._worth
        ):
            self.better = True
        return not self.better and bool(self._off[0])

    def go_on(self, tempo: Tempo, tries: int) -> bool:
        """Make some tries; say whether the incumbent took a solution."""
        target = self._heat[2]
        self.made += tempo.take(lambda some: self._work(some, tries), tries - self.made)
        if self._heat[2] < target and (self._best_off[0] == 0 or not self._incumbent.complete):
            sheets = to_sheets(self._search.best, self._search.rooms)
            left = left_of(self._incumbent.instance, self._best_off)
            self.better = self._incumbent.offer(Solution(sheets, left))
        return self.better

    def _work(self, some: int, tries: int) -> int:
        self._heat[0] = self._hot * (1 - self.made / tries)
        self._heat[1] = self._hot * (1 - (self.made + some) / tries)
        return squeeze(self._search, self._off, self._best_off, some, self._heat)


def _beginning(incumbent: Incumbent, fleet: Fleet, *, fresh: bool) -> Solution:
    """Return the fullest sheets of the best solution that the fleet has, or empty sheets."""
    if fresh and incumbent.complete:
        return Solution((), tuple(item.demand for item in incumbent.instance.items))
    kept: list[Laid] = []
    free = list(fleet)
    begun = incumbent.instance.is_begun
    for sheet in sorted(
        incumbent.solution.sheets, key=lambda s: (begun(s.kind), -_filled(incumbent, s))
    ):
        if sheet.kind in free:
            free.remove(sheet.kind)
            kept.append(sheet)
    laid = Solution(tuple(kept), ())
    left = [item.demand for item in incumbent.instance.items]
    for lying in laid.lying():
        left[lying.item] -= 1
    return Solution(laid.sheets, tuple(left))


def _filled(incumbent: Incumbent, sheet: Laid) -> float:
    items, kind = incumbent.instance.items, incumbent.instance.kinds[sheet.kind]
    lying = Solution((sheet,), ()).lying()
    area = sum(items[it.item].length * items[it.item].width for it in lying)
    return area / (kind.length * kind.width)

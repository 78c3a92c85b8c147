"""Stages B and C: less sawing on the same sheets, then the best remainder.

For dearer stock, too: what one sheet more than the best solution takes saves.
"""

import time
from collections import Counter
from collections.abc import Sequence
from math import ceil, gcd
from typing import NamedTuple

import numpy as np

from solver.budget.effort import Effort
from solver.budget.phase import Method
from solver.budget.statistics import WorkDone
from solver.budget.stop import Stop
from solver.limits.measure import counts_sheets
from solver.material.instance import Instance, Solution, StockRow
from solver.search.kernel.fleet import desk, to_sheets
from solver.search.kernel.rng import Floats
from solver.search.kernel.saving import Ledger, energy, save
from solver.search.kernel.setups import no_setups
from solver.search.kernel.sheets import copy_all
from solver.search.sheet_mixes import with_begun
from solver.search.tempo import Tempo
from solver.solutions.incumbent import Incumbent

HOT, COLD = 0.5, 0.05
"""Temperature at the start and the end, in times of a cut and a set-up together."""
REMAINDER = 0.06
"""Share of an annealing, at its end, that goes to the remainder."""
SHOW_S = 0.25
"""Least time between two solutions shown."""


def save_sawing(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Anneal the best solution once, cooling by the effort's tries or by its seconds."""
    anneal(incumbent, incumbent.solution, stop, effort)


def anneal(
    incumbent: Incumbent, start: Solution, stop: Stop, effort: Effort, more: Sequence[int] = ()
) -> None:
    """Anneal a solution once, with empty sheets of ``more`` kinds beside its own.

    Less sawing comes first (stage B); at the end, of equal sawing, the better remainder
    (stage C).
    """
    if not start.sheets:
        return
    effort.by(Method.ANNEALING)
    cooling = _Cooling(incumbent, start, effort, more)
    clock = _Clock(stop, effort)
    unit = max(1.0, float(cooling.weights.cut_s + cooling.weights.setup_s))
    cooling.cool(clock, HOT * unit, COLD * unit, until=1.0 - REMAINDER)
    if clock.share() < 1.0:
        spare = cooling.look_at_remainders()
        cooling.cool(clock, HOT * spare, COLD * spare, until=1.0)


class _Cooling:
    """The sheets of a solution being annealed."""

    def __init__(
        self, incumbent: Incumbent, start: Solution, effort: Effort, more: Sequence[int]
    ) -> None:
        instance = incumbent.instance
        kinds = [*(sheet.kind for sheet in start.sheets), *more]
        rest = (Counter(with_begun(instance, kinds)) - Counter(kinds)).elements()
        self.weights = weights = instance.weights
        self._incumbent = incumbent
        self._left = start.left
        self._search = desk(instance, start.sheets, [*kinds, *rest], effort.seed)
        cut, setup, skim = float(weights.cut_s), float(weights.setup_s), float(weights.skim_s)
        unguided = float(weights.unguided_s)
        self._ledger = Ledger(no_setups(), cut, setup, skim, 0.0, unguided)
        self._now = energy(self._search, self._ledger)
        self._tempo = Tempo(steady=effort.work is not None)
        self._shows = effort.work is None  # what is counted does not depend on the clock
        self._shown, self._shown_at = self._now, time.monotonic()

    def look_at_remainders(self) -> float:
        """Go on from the best state with remainders in view; return their weight in seconds.

        It is so small that all remainders together weigh less than any saving of time.
        """
        weights = self.weights
        least = gcd(weights.cut_s, weights.setup_s, weights.skim_s, weights.unguided_s)
        spare = 0.9 * max(1, least) / len(self._search.rooms)
        copy_all(self._search.best, self._search.laid)
        self._ledger = self._ledger._replace(spare=spare)
        self._now = energy(self._search, self._ledger)
        self._shown = self._now
        return spare

    def cool(self, clock: "_Clock", hot: float, cold: float, until: float) -> None:
        """Cool from one temperature to another, in seconds, until so much is spent."""
        began = clock.share()
        heat = np.array([hot, hot, self._now, self._now], np.float64)
        while (share := clock.share()) < until:
            heat[0] = heat[1]
            heat[1] = hot * (cold / hot) ** ((share - began) / (until - began))
            clock.took(self._tempo.take(lambda some: self._work(some, heat), clock.left(until)))
            late = self._shows and time.monotonic() - self._shown_at > SHOW_S
            if late and heat[3] < self._shown:
                self._show(heat[3])
        if heat[3] < self._shown:
            self._show(heat[3])

    def _work(self, some: int, heat: Floats) -> int:
        save(self._search, self._ledger, some, heat)
        return some

    def _show(self, least: float) -> None:
        self._incumbent.offer(
            Solution(to_sheets(self._search.best, self._search.rooms), self._left)
        )
        self._shown, self._shown_at = least, time.monotonic()


class _Clock:
    """How much of an effort is spent, by tries if it counts them, else by time."""

    def __init__(self, stop: Stop, effort: Effort) -> None:
        self.made = 0
        self._stop = stop
        self._effort = effort
        self._began = time.monotonic()

    def left(self, until: float) -> int:
        """Return the tries left until so much is spent, at least one."""
        work = self._effort.work
        return 1 << 30 if work is None else max(1, ceil(until * work) - self.made)

    def took(self, tries: int) -> None:
        """Count tries that were made."""
        self.made += tries
        self._effort.did(WorkDone(tries=tries))

    def share(self) -> float:
        """Return the part that is spent, 1.0 at the end or when stopped."""
        if self._stop:
            return 1.0
        if self._effort.work is not None:
            return self.made / max(1, self._effort.work)
        return (time.monotonic() - self._began) / max(1e-3, self._effort.seconds)


class Offer(NamedTuple):
    """A solution to begin with, and kinds of empty sheets laid beside it."""

    solution: Solution
    more: tuple[int, ...] = ()


def save_sawing_dearer(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Anneal once on stock that is a sheet dearer than the best; seeds take turns at which.

    What is found goes to the incumbent's Pareto front.
    """
    offers = dearer(incumbent)
    if offers and incumbent.complete:
        solution, more = offers[effort.seed % len(offers)]
        anneal(incumbent, solution, stop, effort, more)


def dearer(incumbent: Incumbent) -> list[Offer]:
    """Return what to begin with: the best with a sheet more, and the next on the front."""
    more = _cheapest_more(incumbent.instance, incumbent.solution)
    above = [c.solution for c in incumbent.front.candidates if c.stock > incumbent.stock[1:]]
    return [*(Offer(incumbent.solution, (kind,)) for kind in more), *map(Offer, above[:1])]


def _cheapest_more(instance: Instance, solution: Solution) -> list[int]:
    """Return the kinds of the cheapest further sheet that costs anything, the roomiest of equal.

    One that costs nothing beside others that do would make no dearer plan.
    """
    counted = counts_sheets(instance)
    used = Counter(instance.kinds[sheet.kind].row for sheet in solution.sheets)
    rows = {
        kind.row: (instance.rows[kind.row].price, -kind.length * kind.width)
        for kind in instance.kinds
        if (counted or instance.rows[kind.row].price)
        and _is_left(instance.rows[kind.row], used[kind.row])
        and any(kind.orientations)
    }
    cheapest = min(rows, key=lambda row: rows[row], default=None)
    return [number for number, kind in enumerate(instance.kinds) if kind.row == cheapest]


def _is_left(row: StockRow, used: int) -> bool:
    return not row.begun and (row.at_hand is None or used < row.at_hand)

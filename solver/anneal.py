"""Stage B: less sawing on the same sheets, by ruin and recreate under annealing.

The energy is the time for cuts, distinct set-ups and skims. A third of the ruins aim at
a set-up that few sheets need, on the sheets that need it. Method: Kirkpatrick, Gelatt,
Vecchi, "Optimization by simulated annealing", Science 220 (1983).
"""

from collections.abc import Callable
from math import exp
from random import Random

from solver.budget import LOOK_EVERY, Budget
from solver.instance import Instance, Solution
from solver.ledger import Entry, Ledger, users_of
from solver.measure import cost
from solver.order import Order
from solver.ruin import ruin, take_marked
from solver.state import Rip, Sheet, Table, freeze, thaw
from solver.thrift import lay_all

HOT, COLD = 0.5, 0.05
"""First and last temperature, in times of a cut and a set-up together."""
AIMED = 0.35
"""Share of ruins that aim at a rare set-up."""
ALSO = 0.2
"""Chance of a block beside those aimed at."""
SPREADS = (1, 2, 2, 3, 3, 4)
GREEDS = (2, 6, 15, 40, 100)
"""What wasting a whole sheet may cost, in fifths of a cut and a set-up together."""


def anneal(
    instance: Instance,
    solution: Solution,
    rng: Random,
    budget: Budget,
    *,
    on_better: Callable[[Solution], object] = lambda _: None,
) -> Solution:
    """Return the solution of least sawing found on the same sheets; never a worse one.

    Cools from hot to cold over what the budget has. What is left over stays so.
    ``on_better`` hears of each better solution, at most once in every few steps.
    """
    if not solution.sheets:
        return solution
    return _Anneal(instance, solution, rng, on_better).run(budget)


class _Anneal:
    """Sheets under change, what sawing them takes, and the best state so far."""

    def __init__(
        self,
        instance: Instance,
        solution: Solution,
        rng: Random,
        on_better: Callable[[Solution], object],
    ) -> None:
        self._instance, self._rng, self._on_better = instance, rng, on_better
        self._table = table = Table(instance)
        self._ledger = Ledger(table)
        self._order = Order(table, rng)
        self._unit = max(1, instance.weights.cut_s + instance.weights.setup_s)
        self._sheets, self._left = thaw(table, solution)
        self._entries = [self._ledger.entry(sheet) for sheet in self._sheets]
        self._ledger.add(self._entries)
        self._energy = self._ledger.seconds(self._entries)
        self._best = self._rating()
        self._best_sheets = list(self._sheets)
        self._news = False
        self._told = solution

    def run(self, budget: Budget) -> Solution:
        """Cool down; return the best solution."""
        start = budget.spend(0)
        while (share := budget.spend(LOOK_EVERY)) < 1.0:
            progress = (share - start) / (1.0 - start)
            temperature = HOT * self._unit * (COLD / HOT) ** progress
            for _ in range(LOOK_EVERY):
                self._step(temperature)
            self._tell()
        return self._told

    def _rating(self) -> tuple[float, float]:
        """Rate the state: seconds, then minus the largest strip still on one sheet."""
        spare = max([sheet.free * self._table.length[sheet.kind] for sheet in self._sheets])
        return self._energy, -spare

    def _step(self, temperature: float) -> None:
        """Lay part of a few sheets anew; keep it by the rule of annealing."""
        ledger, sheets = self._ledger, self._sheets
        aim = self._rare_setup() if self._rng.random() < AIMED else None
        chosen = self._choose(aim)
        before = [self._entries[index] for index in chosen]
        thinned, pool = self._ruin([sheets[index] for index in chosen], aim)
        self._order.sort(pool)
        ledger.take(before)
        rest = [ledger.entry(sheet) for sheet in thinned]
        ledger.add(rest)
        greed = self._rng.choice(GREEDS) * self._unit / 5
        went = bool(pool) and lay_all(ledger, thinned, pool, self._rng, greed)
        ledger.take(rest)
        after = [ledger.entry(sheet) for sheet in thinned] if went else before
        ledger.add(after)
        if went:
            self._judge(chosen, thinned, before, after, temperature)

    def _judge(
        self,
        chosen: list[int],
        laid: list[Sheet],
        before: list[Entry],
        after: list[Entry],
        temperature: float,
    ) -> None:
        """Keep the sheets as laid, or count the former ones in again."""
        entries = self._entries
        for index, entry in zip(chosen, after, strict=True):
            entries[index] = entry
        energy = self._ledger.seconds(entries)
        change = energy - self._energy
        if change > 0 and self._rng.random() >= exp(-change / temperature):
            self._ledger.take(after)
            self._ledger.add(before)
            for index, entry in zip(chosen, before, strict=True):
                entries[index] = entry
            return
        self._energy = energy
        for index, sheet in zip(chosen, laid, strict=True):
            self._sheets[index] = sheet
        if energy <= self._best[0] and (rating := self._rating()) < self._best:
            self._best, self._best_sheets, self._news = rating, list(self._sheets), True

    def _rare_setup(self) -> int | None:
        """Draw four set-ups and return the one that the fewest sheets need."""
        rng, keys = self._rng, []
        for _ in range(4):
            setups = rng.choice(self._entries).setups
            if setups:
                keys.append(rng.choice(setups))
        return min(keys, key=self._ledger.users.__getitem__, default=None)

    def _choose(self, aim: int | None) -> list[int]:
        """Choose up to four sheets, first those that need the set-up aimed at."""
        rng, entries = self._rng, self._entries
        count = min(len(entries), rng.choice(SPREADS))
        order = rng.sample(range(len(entries)), len(entries))
        if aim is None:
            return order[:count]
        users = [index for index in order if aim in entries[index].setups][:3]
        return users + [index for index in order if index not in users][: count - len(users)]

    def _ruin(self, sheets: list[Sheet], aim: int | None) -> tuple[list[Sheet], list[int]]:
        if aim is None:
            return ruin(self._table, sheets, self._rng)
        random = self._rng.random

        def marked(rip: Rip) -> list[bool]:
            users = users_of(rip, aim)
            return [cell in users or random() < ALSO for cell in (*rip.open, *rip.closed)]

        return take_marked(self._table, sheets, marked)

    def _tell(self) -> None:
        """Tell the best solution if there is a new one, better than the last one told."""
        if not self._news:
            return
        self._news = False
        solution = freeze(self._table, self._best_sheets, self._left)
        if cost(self._instance, solution) < cost(self._instance, self._told):
            self._told = solution
            self._on_better(solution)

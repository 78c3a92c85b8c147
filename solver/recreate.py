"""Stage A: the same parts from cheaper sheets, by ruin and recreate fleet by fleet.

Every fleet that costs less than the best plan and has enough area is tried in rounds, the
most promising first. The rounds of a fleet grow, start from different layouts, because the
time to success varies more from start to start than by anything else.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from random import Random

from solver.budget import Budget
from solver.fleets import Fleet, Limit, fleets, refit
from solver.instance import Instance, Solution
from solver.measure import cost, counts_sheets, goal_value
from solver.packer import Packer, Recipe
from solver.start import passes
from solver.state import Sheet, Table, freeze, items_on, thaw

Layout = tuple[Sequence[Sheet], Sequence[int]]

STEPS, LONGER, LONGEST = 4000, 1.5, 30_000
HEAT = 0.02
GROWTHS = (2e-5, 1e-4)
TIE_ROUNDS = 3
"""Rounds for each fleet of the same price with fewer sheets, when prices differ."""


@dataclass(slots=True)
class Trial:
    """A fleet to try, the rounds it had, and the least share of a sheet left over.

    It has succeeded when no more than ``goal`` in area is left over.
    """

    fleet: Fleet
    goal: int
    rounds: int = 0
    most_rounds: float = float("inf")
    least: float = 1.0
    layout: Layout | None = field(default=None, repr=False)

    @property
    def rank(self) -> float:
        """Small for a fleet that had few rounds or came close."""
        return (self.rounds + 1) * (self.least + 0.02)


def squeeze(
    instance: Instance,
    solution: Solution,
    rng: Random,
    budget: Budget,
    *,
    on_better: Callable[[Solution], object] = lambda _: None,
    bound: Callable[[], int] = lambda: 0,
) -> Solution:
    """Return the cheapest solution found, never worse than the given one.

    ``on_better`` hears of each better one at once. ``bound`` is asked between rounds for
    the least goal value (`measure.goal_value`) known to be possible; the search ends when
    it is reached, when no cheaper fleet has the area, or when the budget is spent.
    """
    search = _Squeeze(instance, solution, rng, on_better)
    while budget.spend(0) < 1.0 and search.promising(bound()):
        search.round(budget)
    return search.best


class _Squeeze:
    """The best solution so far, and the fleets that may beat it."""

    def __init__(
        self,
        instance: Instance,
        solution: Solution,
        rng: Random,
        on_better: Callable[[Solution], object],
    ) -> None:
        self._instance, self._rng, self._on_better = instance, rng, on_better
        self._table = Table(instance)
        self._starts = passes(instance, rng)
        self._adopt(solution)

    def _adopt(self, solution: Solution) -> None:
        """Make a solution the best, and list the fleets to try next."""
        table, instance = self._table, self._instance
        self.best = solution
        self._cost = cost(instance, solution)
        sheets, left = thaw(table, solution)
        self._layout: Layout = sheets, [item for item in left if table.fits(item)]
        self._misfits = [item for item in left if not table.fits(item)]
        self._spilled = sum(table.area[item] for item in self._layout[1])
        self._trials = [*self._all_stock(), *self._by_price(), *self._by_sheets()]

    def _all_stock(self) -> list[Trial]:
        """When something is left over: all sheets there are."""
        if not self._spilled:
            return []
        most = self._cost.sheets + 1
        stock = (most if row.at_hand is None else row.at_hand for row in self._instance.rows)
        return [Trial(tuple(stock), self._spilled - 1)]

    def _by_price(self) -> list[Trial]:
        """Fleets of a lower price, unless all have the same."""
        if counts_sheets(self._instance) or not self._cost.price:
            return []
        limit = Limit(self._cost.price - 1, 2 * self._cost.sheets + 2)
        return [Trial(fleet, self._spilled) for fleet in self._fleets(limit)]

    def _by_sheets(self) -> list[Trial]:
        """Fleets of fewer sheets and no higher price; a mere tie-break if prices differ."""
        limit = Limit(self._cost.price, self._cost.sheets - 1)
        most = float("inf") if counts_sheets(self._instance) else TIE_ROUNDS
        return [Trial(fleet, self._spilled, most_rounds=most) for fleet in self._fleets(limit)]

    def _fleets(self, limit: Limit) -> list[Fleet]:
        """Return fleets within a limit that may take what is laid now."""
        laid = [item for sheet in self._layout[0] for item in items_on(sheet)]
        return fleets(self._table, limit, laid) if laid else []

    def promising(self, bound: int) -> bool:
        """Whether a better solution may exist; drops the fleets that cannot give one."""
        if not self._spilled and goal_value(self._instance, self.best) <= bound:
            self._trials = [t for t in self._trials if t.most_rounds == TIE_ROUNDS]
        self._trials = [t for t in self._trials if t.rounds < t.most_rounds]
        return bool(self._trials)

    def round(self, budget: Budget) -> None:
        """Give the most promising fleet one more round."""
        trial = min(self._trials, key=lambda trial: trial.rank)
        layout = refit(self._table, trial.fleet, self._start(trial), self._rng)
        packer = Packer(self._table, *layout, self._rng)
        packer.run(self._recipe(trial), budget, goal=trial.goal)
        budget.spend(1)
        trial.rounds += 1
        trial.least = min(trial.least, packer.share_left)
        trial.layout = packer.best
        self._consider(packer.best)

    def _start(self, trial: Trial) -> Layout:
        """Choose a layout to begin with: the best one first, later others too."""
        if trial.rounds == 0:
            return self._layout
        if trial.layout is not None and self._rng.random() < 0.5:
            return trial.layout
        sheets, left = thaw(self._table, next(self._starts))
        return sheets, [item for item in left if self._table.fits(item)]

    def _recipe(self, trial: Trial) -> Recipe:
        steps = min(LONGEST, int(STEPS * LONGER ** min(trial.rounds, 20)))
        return Recipe(steps, HEAT, self._rng.choice(GROWTHS))

    def _consider(self, layout: Layout) -> None:
        solution = freeze(self._table, layout[0], [*layout[1], *self._misfits])
        if cost(self._instance, solution) < self._cost:
            self._adopt(solution)
            self._on_better(solution)

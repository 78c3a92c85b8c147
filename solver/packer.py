"""Ruin and recreate on a given set of sheets, until nothing is left over.

Each step takes part of what lies on one to six sheets away, lays it again together with
what is left over, in a new order and by other habits, and keeps the result unless it is
much worse. Method: Schrimpf, Schneider, Stamm-Wilbrandt, Dueck, "Record breaking
optimization results using the ruin and recreate principle", J. Comput. Phys. 159 (2000),
accepted by a falling threshold.

What is left over weighs by its area, and by how long it has been left over: without that,
an awkward item stays behind for ever because its area is small.
"""

from collections.abc import Sequence
from random import Random
from typing import NamedTuple

from solver.budget import LOOK_EVERY, Budget
from solver.insert import Habits, fill
from solver.order import Order
from solver.ruin import ruin
from solver.state import Sheet, Table

SPREADS = (1, 2, 3, 4, 5, 6)
"""How many sheets a step touches."""

TOLERANCES = (0.02, 0.1, 0.3, 1.0, 3.0)
TALL, BLINK = 0.3, 0.02
GATHERING = 0.05
"""Worth of having all free room on one sheet, in sheets."""


class Recipe(NamedTuple):
    """How a run of steps behaves.

    ``steps`` are done at most; the threshold falls from ``heat`` (in sheets) to nothing
    over them. What is left over gains ``growth`` of its area in weight at each step.
    """

    steps: int
    heat: float
    growth: float


class Packer:
    """Sheets, the item types left over, and the running totals of one search.

    ``least`` is the smallest area left over so far, ``best`` the sheets and left-overs then.
    """

    def __init__(
        self, table: Table, sheets: Sequence[Sheet], left: Sequence[int], rng: Random
    ) -> None:
        self.sheets = list(sheets)
        self.left = list(left)
        self._table = table
        self._rng = rng
        self._unit = max(1.0, sum(table.size[s.kind] for s in sheets) / max(1, len(sheets)))
        self._weight = [area / self._unit for area in table.area]
        self._order = Order(table, rng)
        self._note()

    def _note(self) -> None:
        self.least = sum(self._table.area[item] for item in self.left)
        self.best = list(self.sheets), list(self.left)

    @property
    def share_left(self) -> float:
        """Least area left over so far, in sheets."""
        return self.least / self._unit

    def run(self, recipe: Recipe, budget: Budget, goal: int = 0) -> None:
        """Do the steps of a recipe, or until no more than ``goal`` in area is left over."""
        for step in range(recipe.steps if self.sheets else 0):
            if self.least <= goal:
                break
            if step % LOOK_EVERY == 0 and budget.spend(LOOK_EVERY) >= 1.0:
                break
            self._step(recipe.heat * (1 - step / recipe.steps))
            self._grow(recipe.growth)

    def _step(self, heat: float) -> None:
        """Take away and lay again on a few sheets; keep it if the threshold allows."""
        table, rng, sheets = self._table, self._rng, self.sheets
        chosen = rng.sample(range(len(sheets)), min(len(sheets), rng.choice(SPREADS)))
        before = [sheets[index] for index in chosen]
        after, pool = ruin(table, before, rng)
        pool += self.left
        self._order.sort(pool)
        left = fill(table, after, pool, rng, habits=Habits(rng.choice(TOLERANCES), TALL, BLINK))
        change = self._load(left) - self._load(self.left) + self._gap(after) - self._gap(before)
        if change <= heat * rng.random() ** 2:
            for index, sheet in zip(chosen, after, strict=True):
                sheets[index] = sheet
            self.left = left
            if sum([table.area[item] for item in left]) < self.least:
                self._note()

    def _load(self, left: list[int]) -> float:
        weight = self._weight
        return sum([weight[item] for item in left])

    def _gap(self, sheets: list[Sheet]) -> float:
        """Return minus the worth of free room lying together on few sheets."""
        size = self._table.size
        return -GATHERING * sum([(1 - sheet.used / size[sheet.kind]) ** 2 for sheet in sheets])

    def _grow(self, growth: float) -> None:
        scale = growth / self._unit
        for item in self.left:
            self._weight[item] += scale * self._table.area[item]

"""What parts count in the proof: the duals of strips and sheets, part by part.

The prices that prove a bound stay feasible when parts are left out, so without a part the
bound is at least what it was less that part's price: weak duality of linear programming.
What a price cannot release is ruled out without solving anything.
"""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

import numpy as np

from solver.advice.ground import PlannedMaterial
from solver.advice.words import forcing_sentence
from solver.budget.stop import Stop
from solver.material.instance import Instance
from solver.outcome import Force, Forcing
from solver.proof.bounds import item_extents, round_up
from solver.proof.column_generation import ColumnGeneration
from solver.proof.price_relaxation import Floats

SLACK = 1e-6
"""Prices are floats: what is nearer than this to ruling something out does not."""
MOST_NAMED = 5
"""Parts named as forcing the last sheet, at most."""


class Worths(NamedTuple):
    """What each part counts.

    Attributes
    ----------
    need
        What all parts need, before it is rounded up; in units of the instance's goal.
    price
        By part id, what one copy counts of it, in the same units; of what the block of a
        match group counts, each member's share.
    copies
        By part id, how many are planned.
    unit
        Price of the dearest sheet in these units.
    """

    need: float
    price: Mapping[str, float]
    copies: Mapping[str, int]
    unit: int

    def holds_without(self, ground: PlannedMaterial, relief: float) -> bool:
        """Whether the proof still rules out to save anything when so much less is needed."""
        left = Fraction(max(0.0, self.need - relief - SLACK * self.unit))
        bound = round_up(ground.instance, _costs(ground.instance), left)
        return ground.rules_out(ground.instance, bound)

    def start(self, instance: Instance) -> Floats:
        """Return prices of the items of a changed job, for its proof to begin with."""
        return np.array(
            [
                sum(self.price.get(part, 0.0) for part, _ in item.members) / item.demand / self.unit
                for item in instance.items
            ]
        )


def worths(ground: PlannedMaterial, stop: Stop, steps: int | None, seed: int) -> Worths:
    """Prove what the parts need, as far as time allows."""
    instance = ground.instance
    columns = ColumnGeneration(instance, seed=seed)
    columns.run(stop, lambda: None, lambda _: None, steps, tight=True)
    unit = max(_costs(instance), default=1) or 1
    price: dict[str, float] = {}
    copies: dict[str, int] = {}
    for item, worth in zip(instance.items, columns.prices.tolist(), strict=True):
        for part, _ in item.members:
            price[part] = worth * unit / item.cells
            copies[part] = copies.get(part, 0) + 1
    return Worths(float(columns.need), price, copies, unit)


def forcing(ground: PlannedMaterial, worth: Worths) -> Forcing:
    """Name the parts that force the last sheet.

    First those whose absence lets the bound fall; among these, those first that count more
    than their area.
    """
    forces = [force for force in _forces(ground, worth) if force.releases]
    forces.sort(key=lambda force: (force.area - force.worth, -force.worth))
    told = Forcing(
        material=ground.material,
        goal=ground.goal,
        value=ground.value,
        need=int(1000 * worth.need * ground.unit_price),
        parts=tuple(forces[:MOST_NAMED]),
        sentence="",
    )
    return replace(told, sentence=forcing_sentence(ground.job, told, proven=ground.proven))


def _forces(ground: PlannedMaterial, worth: Worths) -> list[Force]:
    area = _areas(ground.instance)
    return [
        Force(
            part=part,
            copies=worth.copies[part],
            worth=round(1000 * price / worth.unit),
            area=area[part],
            releases=not worth.holds_without(ground, price),
        )
        for part, price in worth.price.items()
    ]


def _areas(instance: Instance) -> dict[str, int]:
    """Return the share of each copy in the area of the largest sheet, in thousandths."""
    largest = max(kind.length * kind.width for kind in instance.kinds)
    extents = item_extents(instance)
    return {
        part: round(1000 * min((x * y for x, y in lies), default=0) / item.cells / largest)
        for item, lies in zip(instance.items, extents, strict=True)
        for part, _ in item.members
    }


def _costs(instance: Instance) -> list[int]:
    return [row.price for row in instance.rows]

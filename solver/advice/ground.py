"""What a plan takes of one material: the ground that every change is measured against."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from shared.asked import Settled
from shared.check import sawable
from shared.costs import Costs, costs_of
from shared.job import Job
from shared.plan import Goal, Plan
from solver.material.instance import Instance, Solution
from solver.planning.proof_status import unit_of
from solver.prepare.instances import Prepared, prepare


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedMaterial:
    """One material as it is planned.

    Attributes
    ----------
    job
        Its parts and stock alone.
    settled
        What planning leaves alone of it.
    instance
        What was solved.
    fixed_parts, fixed_rows
        Ids of parts that lie on sheets of yours or are held, and of the rows of these sheets.
    fixed_sheets
        Numbers of these sheets.
    sheets, price
        What the plan takes besides these sheets; the price in units of ``costs``.
    costs
        What the sheets of the material count.
    proven
        Whether nothing less will do for the job as it is.
    """

    job: Job
    settled: Settled
    instance: Instance
    fixed_parts: frozenset[str]
    fixed_rows: frozenset[str]
    fixed_sheets: frozenset[str]
    sheets: int
    price: int
    costs: Costs
    proven: bool

    @property
    def material(self) -> str:
        """Its name."""
        return self.instance.material

    @property
    def goal(self) -> Goal:
        """Sheets are counted where all of them cost the same."""
        return self.costs.goal if len({*self.costs.each.values()}) > 1 else Goal.FEWEST_SHEETS

    @property
    def value(self) -> int:
        """What the plan takes, in units of the goal."""
        return self.sheets if self.goal is Goal.FEWEST_SHEETS else self.price

    def taken(self, instance: Instance, solution: Solution) -> tuple[int, int]:
        """Return sheets and price of a solution of the changed job."""
        kinds = [sheet.kind for sheet in solution.sheets if not instance.is_begun(sheet.kind)]
        rows = [instance.rows[instance.kinds[kind].row].stock for kind in kinds]
        return len(rows), sum(self.costs.each[row] for row in rows)

    def saves(self, instance: Instance, solution: Solution) -> bool:
        """Whether a solution of the changed job lays all parts and takes less."""
        sheets, price = self.taken(instance, solution)
        fewest = self.goal is Goal.FEWEST_SHEETS
        less = sheets < self.sheets if fewest else price < self.price
        return less and not any(solution.left)

    def rules_out(self, instance: Instance, bound: int) -> bool:
        """Whether a bound of the changed job, in units of its own goal, leaves nothing to save.

        A bound of sheets on clear rectangles says nothing of plans that go round bad places.
        """
        if any(row.no_go for row in self.job.stock):
            return False
        return bound * self._per_unit(instance) >= self.value

    @property
    def unit_price(self) -> int:
        """What one unit of the instance's goal is in units of this goal."""
        return self._per_unit(self.instance)

    def _per_unit(self, instance: Instance) -> int:
        """Return 1, or the cost of a unit where an instance counts what has a price here."""
        return 1 if self.goal is Goal.FEWEST_SHEETS else unit_of(instance, self.costs)

    def changed(self, job: Job) -> Prepared:
        """Return what there is to solve of this material in a changed job."""
        return prepare(job, self.settled)

    def bought(self, plan: Plan) -> tuple[int, int]:
        """Return sheets and price of what a plan takes besides the fixed sheets."""
        return _bought(plan, self.costs, self.material, self.fixed_sheets)


def grounds(job: Job, plan: Plan, settled: Settled) -> Iterator[PlannedMaterial]:
    """Yield the materials of a plan that might take less.

    One that leaves parts off needs more stock, and nobody does with less than one sheet.
    """
    sound = sawable(job)
    lying = {p.key for p in plan.placements}
    for name in sound.materials:
        alone = _alone(sound, name)
        prepared = prepare(alone, settled.of(alone))
        members = {m for one in prepared.instances for item in one.items for m in item.members}
        if members and members <= lying:
            ground = _ground(alone, plan, prepared, settled.of(alone))
            if ground.sheets > 1 or ground.goal is not Goal.FEWEST_SHEETS:
                yield ground


def _ground(job: Job, plan: Plan, prepared: Prepared, settled: Settled) -> PlannedMaterial:
    [instance] = prepared.instances
    begun, kept = prepared.begun, settled.kept
    fixed_sheets = frozenset({sheet.id for sheet in kept} | {sheet.sheet for sheet in begun})
    placed = {place.part for sheet in kept for place in sheet.placements}
    costs = costs_of(job, instance.material)
    sheets, price = _bought(plan, costs, instance.material, fixed_sheets)
    return PlannedMaterial(
        job=job,
        settled=settled,
        instance=instance,
        fixed_parts=frozenset(placed.union(*({part for part, _ in b.lying} for b in begun))),
        fixed_rows=frozenset({sheet.stock for sheet in kept} | {b.stock.id for b in begun}),
        fixed_sheets=fixed_sheets,
        sheets=sheets,
        price=price,
        costs=costs,
        proven=any(p.material == instance.material and p.proven for p in plan.proof.materials),
    )


def _alone(job: Job, material: str) -> Job:
    """Return the job with the parts and stock of one material."""
    return replace(
        job,
        parts=tuple(part for part in job.parts if part.material == material),
        stock=tuple(row for row in job.stock if row.material == material),
    )


def _bought(plan: Plan, costs: Costs, material: str, fixed: frozenset[str]) -> tuple[int, int]:
    mine = [one for one in plan.sheets if one.material == material and one.id not in fixed]
    whole = [sheet.stock for sheet in mine if not sheet.piece]
    return len(whole), sum(costs.each[row] for row in whole)

"""How good a plan is, material by material and as a whole."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from shared.amounts import format_price
from shared.costs import Basis, Costs, area_price
from shared.finding import called
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Goal, MaterialProof, Proof
from shared.proof_rule import LIMITED, rule_in_words
from shared.shop import CutRule, FirstCut
from shared.stock import Stock
from solver.limits.cut_run import limits_of
from solver.limits.measure import goal_of, goal_value
from solver.material.instance import Instance, Solution
from solver.material.started_sheets import StartedSheet
from solver.solutions.incumbent import Incumbent


class Over(NamedTuple):
    """What a material with bad places is held against: itself as if it had none.

    Attributes
    ----------
    goal, unit
        What is made least, and what one unit of it costs, as `unit_of` says.
    bound
        What all plans cost at least, however they go round the bad places.
    worths
        For each stock row of the instance, what a sheet is in units of the goal.
    sheets
        For each kind, the number of the sheet that it is a room of, -1 for none.
    paid
        What these sheets are in units of the goal.
    ways
        Whether sheets may be crosscut first, as the bound has it: one or both.
    missing
        Area, in square ticks, of what the instance has no room for at all.
    """

    goal: Goal
    unit: int
    bound: int
    worths: tuple[int, ...]
    sheets: tuple[int, ...]
    paid: tuple[int, ...]
    ways: frozenset[bool]
    missing: int = 0

    def value(self, instance: Instance, solution: Solution) -> int:
        """Return what a solution takes, sheets used around their bad places included."""
        kinds = [sheet.kind for sheet in solution.sheets]
        around = {self.sheets[kind] for kind in kinds} - {-1}
        new = sum(self.worths[instance.kinds[k].row] for k in kinds if not instance.is_begun(k))
        return new + sum(self.paid[number] for number in around)


class Spoiled(Incumbent):
    """An incumbent of a material with bad places; ``sound`` is the one as if there were none."""

    provable = False

    def __init__(
        self, instance: Instance, solution: Solution, sound: Incumbent, over: Over
    ) -> None:
        """Take ``over`` without its bound: that is the one of ``sound``."""
        super().__init__(instance, solution)
        self.sound = sound
        self._over = over

    @property
    def over(self) -> Over:
        """What it is held against."""
        return self._over._replace(bound=self.sound.bound)

    @property
    def told(self) -> tuple[int, int]:
        """Value and bound of all that is taken."""
        return self._over.value(self.instance, self.solution), self.sound.bound

    @property
    def rank(self) -> tuple[int, int]:
        """What is left out, in square ticks, and the value; less is better."""
        return self.cost.unplaced * self.instance.unit**2 + self._over.missing, self.told[0]

    @property
    def lays_all(self) -> bool:
        """Whether nothing is left out."""
        return self.rank[0] == 0

    @property
    def meets(self) -> bool:
        """Whether it takes no more than the best that is known as if there were no bad places."""
        unplaced = self.sound.cost.unplaced * self.sound.instance.unit**2
        return self.rank <= (unplaced, self.sound.value)


class ProofStatus(NamedTuple):
    """One material: best solution, the bound in units of its goal, and one on its cuts.

    Also whether the solution is proven to take the least sawing, and to leave the best
    remainder of all that do; and what it is held against if it has bad places: then nothing
    is known of its sawing.
    """

    instance: Instance
    solution: Solution
    bound: int
    cuts_bound: int = 0
    least_sawing: bool = False
    best_remainder: bool = False
    over: Over | None = None


def proof_status_of(incumbent: Incumbent) -> ProofStatus:
    """Return where an incumbent stands."""
    if isinstance(incumbent, Spoiled):
        solution, bound, *_ = incumbent.known()
        return ProofStatus(incumbent.instance, solution, bound, over=incumbent.over)
    return ProofStatus(incumbent.instance, *incumbent.known())


def _solved(job: Job, statuses: Iterable[ProofStatus]) -> CutRule:
    """Return the job's rule with the direction that was really solved, where rails decide it."""
    ways = {way for status in statuses for way in _ways(status)}
    if job.shop.reach is None or not ways:
        return job.rule
    if len(ways) > 1:
        return replace(job.rule, first=FirstCut.EITHER)
    return replace(job.rule, first=FirstCut.CROSSCUT if ways.pop() else FirstCut.RIP)


def _ways(status: ProofStatus) -> frozenset[bool]:
    """Return whether new sheets of a material may be crosscut first: one or both."""
    if status.over is not None:
        return status.over.ways
    return ways_of(status.instance)


def ways_of(instance: Instance) -> frozenset[bool]:
    """Return whether new sheets may be crosscut first: one or both."""
    kinds = enumerate(instance.kinds)
    return frozenset(kind.transposed for n, kind in kinds if not instance.is_begun(n))


def proof_of(
    job: Job,
    kept: Sequence[LayoutSheet],
    begun: Sequence[StartedSheet],
    statuses: Iterable[ProofStatus],
    costs: Mapping[str, Costs],
) -> Proof:
    """Return what is known of the kept and begun sheets and the best solutions together.

    ``costs`` are those of each material.
    """
    statuses = tuple(statuses)
    held = [*(job.stock_row(sheet.stock) for sheet in kept), *(sheet.stock for sheet in begun)]
    by_material = {status.instance.material: status for status in statuses}
    claims = [
        _claim(name, costs[name], [row for row in held if row.material == name], known)
        for name in job.materials
        if (known := by_material.get(name)) or any(row.material == name for row in held)
    ]
    goal, counting = _whole_goal(claims)
    values = [claim.value if goal is Goal.FEWEST_SHEETS else claim.cost for claim in counting]
    bounds = [claim.bound if goal is Goal.FEWEST_SHEETS else claim.least for claim in counting]
    return Proof(
        goal=goal,
        value=sum(values),
        bound=sum(bounds),
        proven=all(claim.proven for claim in claims) and values == bounds,
        rule=rule_in_words(
            _solved(job, statuses),
            *([LIMITED] if limits_of(job.shop).bind else []),
            kept=bool(kept),
            held=bool(begun),
        ),
        prices=prices_in_words(job, costs, [one.material for one in claims if one.rests_on_costs]),
        materials=tuple(claim.proof for claim in claims),
    )


def _whole_goal(claims: Sequence["_Claim"]) -> tuple[Goal, Sequence["_Claim"]]:
    """Return the goal of all materials together, and the claims that its sums are made of.

    Money and areas do not add up: where only some materials have prices, theirs are summed.
    """
    money = [one for one in claims if one.costs.is_money]
    if not any(one.cost or one.goal is not Goal.FEWEST_SHEETS for one in money):
        fewest = all(one.goal is Goal.FEWEST_SHEETS for one in claims)
        return (Goal.FEWEST_SHEETS if fewest else Goal.LEAST_AREA), claims
    said = all(one.costs.basis is not Basis.DERIVED for one in money)
    whole = all(one.costs.is_money or not one.cost for one in claims)
    return (Goal.LEAST_PRICE if said and whole else Goal.LEAST_COST), money


class _Claim(NamedTuple):
    """Value and bound of one material, in units of its goal and as costs."""

    material: str
    costs: Costs
    goal: Goal
    value: int
    bound: int
    cost: int
    least: int
    complete: bool
    least_cuts: int = 0
    least_sawing: bool = False
    best_remainder: bool = False

    @property
    def proven(self) -> bool:
        return self.complete and self.bound == self.value

    @property
    def rests_on_costs(self) -> bool:
        """Whether it takes costs, not a number of sheets alone, to say what is least."""
        return self.goal is not Goal.FEWEST_SHEETS

    @property
    def proof(self) -> MaterialProof:
        return MaterialProof(
            material=self.material,
            goal=self.goal,
            value=self.value,
            bound=self.bound,
            proven=self.proven,
            least_cuts=self.least_cuts,
            least_sawing=self.least_sawing,
            best_remainder=self.best_remainder,
        )


def _claim(material: str, costs: Costs, held: Sequence[Stock], known: ProofStatus | None) -> _Claim:
    """Return what is claimed of a material; ``held`` are the rows of its kept sheets."""
    fixed = [costs.each[row.id] for row in held if not row.is_piece]
    if known is None:
        count, cost = len(fixed), sum(fixed)
        return _Claim(material, costs, Goal.FEWEST_SHEETS, count, count, cost, cost, True)
    if known.over is not None:
        return _claim_over(material, costs, known.over, fixed, known)
    instance, solution = known.instance, known.solution
    goal, unit = goal_of(instance), unit_of(instance, costs)
    value = goal_value(instance, solution)
    # Of cuts on kept sheets nothing is known, nor of set-ups in the blocks of match groups.
    whole = not held and all(item.cells == 1 for item in instance.items)
    return _Claim(
        material,
        costs,
        goal,
        *_told(goal, unit, value, min(known.bound, value), fixed),
        not any(solution.left),
        0 if held else _least_cuts(known),
        whole and known.least_sawing,
        whole and known.best_remainder,
    )


def _claim_over(
    material: str, costs: Costs, over: Over, fixed: Sequence[int], known: ProofStatus
) -> _Claim:
    """Return what is claimed of a material with bad places."""
    value = over.value(known.instance, known.solution)
    complete = not any(known.solution.left) and not over.missing
    told = _told(over.goal, over.unit, value, min(over.bound, value), fixed)
    return _Claim(material, costs, over.goal, *told, complete)


def _told(
    goal: Goal, unit: int, value: int, bound: int, fixed: Sequence[int]
) -> tuple[int, int, int, int]:
    """Return value and bound in units of the goal, then as costs, kept sheets included."""
    held = sum(fixed)
    cost, least = held + value * unit, held + bound * unit
    if goal is not Goal.FEWEST_SHEETS:
        return cost, least, cost, least
    return len(fixed) + value, len(fixed) + bound, cost, least


def unit_of(instance: Instance, costs: Costs) -> int:
    """Return what one unit of an instance's prices costs; of a sheet where sheets are counted."""
    priced = (row for row in instance.rows if row.price and not row.begun)
    return next((costs.each[row.stock] // row.price for row in priced), 1)


def _least_cuts(status: ProofStatus) -> int:
    """Return the bound on cuts with those that part the blocks of match groups."""
    blocks = sum(item.demand * (item.cells - 1) for item in status.instance.items)
    return status.cuts_bound + blocks if status.cuts_bound else 0


MOST_NAMED = 3
"""More rows than this are counted, not named."""
NO_PRICES = "by area: no prices given"


def prices_in_words(job: Job, costs: Mapping[str, Costs], materials: Sequence[str]) -> str:
    """Say what counts where the maker gave no price; ``""`` where all prices were given.

    ``materials`` are those of whose sheets not just the number counts.
    """
    said = {name: _of_material(job, name, costs[name]) for name in materials}
    phrases = set(said.values())
    if len(phrases) == 1:
        return phrases.pop()
    return "; ".join(f"{name} {words}" for name, words in said.items() if words)


def _of_material(job: Job, material: str, costs: Costs) -> str:
    given = area_price(job, material)
    if costs.basis is Basis.AREA:
        return NO_PRICES
    if costs.basis is Basis.BY_AREA and given is not None:
        return f"price by area {format_price(given.price)} per {given.per}{_those(job, costs)}"
    if costs.basis is Basis.DERIVED and costs.like is not None:
        names = _those(job, costs)
        return f"no price given{names}: by area, as {called(costs.like)} costs"
    return ""


def _those(job: Job, costs: Costs) -> str:
    """Name the rows that count by area; ``""`` if they are all that have to be bought."""
    rows = [row for row in job.stock if row.id in costs.each and row.at_hand is None]
    if len(rows) == len(costs.blank):
        return ""
    names = [called(row) for row in rows if row.id in costs.blank]
    if len(names) > MOST_NAMED:
        return f" for {len(names)} of {len(rows)} rows to buy"
    return f" for {' and '.join(filter(None, [', '.join(names[:-1]), names[-1]]))}"

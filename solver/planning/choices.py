"""Plans to choose from: what the materials' fronts offer together, at most five."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from shared.costs import Costs
from solver.budget.stop import Stop
from solver.limits.measure import cost
from solver.material.instance import Instance, Solution
from solver.outcome import Choice, by_stock, choice_of
from solver.planning.first_order import in_first_order
from solver.planning.plans import compose
from solver.planning.proof_status import ProofStatus, proof_status_of
from solver.planning.trouble import BeyondLimits, RefusedPlan, Trouble
from solver.prepare.instances import Prepared
from solver.solutions.incumbent import Incumbent
from solver.solutions.pareto_front import Candidate

MOST = 5
"""Choices laid side by side."""
MOST_MET = 40
"""Combinations kept on the way from material to material."""


LEAST_GAIN_S = 5 * 60
LEAST_GAIN = Fraction(1, 20)
"""A dearer plan is worth a look only if it saves so much sawing: five minutes, and a twentieth of
what the cheaper plan takes. The estimate of minutes is no finer than that."""


class ChoicePoint(NamedTuple):
    """Stock and sawing of a choice, and what it is.

    Hundredths, sheets, seconds; square millimetres bought without a price, and from the rack.
    """

    price: int
    sheets: int
    seconds: int
    solutions: tuple[Solution, ...] = ()
    area: int = 0
    rack: int = 0

    @property
    def stock(self) -> tuple[int, ...]:
        """Price, area, what is taken from the rack, then sheets; less is better."""
        return self.price, self.area, self.rack, self.sheets

    @property
    def bought(self) -> tuple[int, int]:
        """Price and area of what has to be bought."""
        return self.price, self.area


def undominated(points: Iterable[ChoicePoint]) -> list[ChoicePoint]:
    """Keep the points that take less sawing than all that take no more stock; least stock first."""
    kept: list[ChoicePoint] = []
    for point in sorted(points, key=lambda one: (one.stock, one.seconds)):
        if not kept or point.seconds < kept[-1].seconds:
            kept.append(point)
    return kept


def dearer(points: Iterable[ChoicePoint]) -> list[ChoicePoint]:
    """Leave out what costs the same as the one before it; least stock first."""
    kept: list[ChoicePoint] = []
    for point in points:
        if not kept or point.bought > kept[-1].bought:
            kept.append(point)
    return kept


def few(points: Sequence[ChoicePoint], most: int = MOST) -> list[ChoicePoint]:
    """Leave out points that save least over the one before, but neither the first nor the last."""
    kept = list(points)
    while len(kept) > max(2, most):
        saved = [one.seconds - other.seconds for one, other in pairwise(kept[:-1])]
        del kept[1 + saved.index(min(saved))]
    return kept


def combined(fronts: Sequence[Sequence[ChoicePoint]]) -> list[ChoicePoint]:
    """Return the undominated combinations of one point of every front."""
    met = [ChoicePoint(0, 0, 0)]
    for front in fronts:
        sums = (_sum(one, other) for one in met for other in front)
        met = few(undominated(sums), MOST_MET)
    return met


def _sum(one: ChoicePoint, other: ChoicePoint) -> ChoicePoint:
    return ChoicePoint(
        one.price + other.price,
        one.sheets + other.sheets,
        one.seconds + other.seconds,
        one.solutions + other.solutions,
        one.area + other.area,
        one.rack + other.rack,
    )


def points_of(costs: Costs, incumbent: Incumbent) -> list[ChoicePoint]:
    """Return what a material offers, its best solution first, at what its sheets cost."""
    best = incumbent.solution
    dearer = [c for c in incumbent.front.candidates if c.stock > incumbent.stock[1:]]
    candidates = [Candidate(cost(incumbent.instance, best), best), *dearer]
    return [_point(costs, incumbent.instance, one) for one in candidates]


def _point(costs: Costs, instance: Instance, candidate: Candidate) -> ChoicePoint:
    rows = (instance.rows[instance.kinds[s.kind].row] for s in candidate.solution.sheets)
    cost = sum(costs.each[row.stock] for row in rows if not row.begun)
    money, area = (cost, 0) if costs.is_money else (0, cost)
    of = candidate.cost
    return ChoicePoint(money, of.sheets, of.seconds, (candidate.solution,), area, of.rack)


class ChoiceMaker:
    """Makes the plans of the combinations, each once, and keeps those worth choosing from."""

    def __init__(
        self,
        prepared: Prepared,
        incumbents: Sequence[Incumbent],
        trouble: Trouble,
        stop: Stop,
    ) -> None:
        self._prepared = prepared
        self._stop = stop
        self._incumbents = incumbents
        self._trouble = trouble
        self._made: dict[object, Choice | None] = {}

    def choices(self) -> tuple[Choice, ...]:
        """Return the best plan and dearer ones that save sawing, least stock first.

        None at all if it is time to stop before all are made.
        """
        statuses = [proof_status_of(incumbent) for incumbent in self._incumbents]
        costs = self._prepared.ground.costs
        fronts = [
            points_of(costs[incumbent.instance.material], incumbent)
            for incumbent in self._incumbents
        ]
        made: dict[object, Choice | None] = {}
        for point in few(dearer(combined(fronts))):
            if self._stop:
                return ()
            told = [_with(s, x) for s, x in zip(statuses, point.solutions, strict=True)]
            key = tuple(one[1:] for one in told)
            made[key] = self._made[key] if key in self._made else self._choice(told)
        if self._stop:
            return ()
        self._made = made
        return tuple(worth_choosing(one for one in made.values() if one is not None))

    def _choice(self, statuses: Sequence[ProofStatus]) -> Choice | None:
        try:
            plan = compose(self._prepared, statuses)
        except BeyondLimits:
            return None
        except RefusedPlan as refusal:
            self._trouble(refusal)
            return None
        ordered = in_first_order(self._prepared, plan, self._stop)
        return None if ordered is None else choice_of(ordered, self._prepared.job)


def _with(status: ProofStatus, solution: Solution) -> ProofStatus:
    """Return the status of another solution; what is known of sawing holds of the best only."""
    if solution is status.solution:
        return status
    return ProofStatus(status.instance, solution, status.bound, over=status.over)


def worth_choosing(choices: Iterable[Choice]) -> Iterator[Choice]:
    """Yield, least stock first, what is dearer than all before and saves enough sawing.

    Materials share set-ups, so a combination may turn out no better than a cheaper one.
    """
    last: Choice | None = None
    for choice in sorted(choices, key=by_stock):
        if last is None or _is_worth_it(choice, last):
            last = choice
            yield choice


def _is_worth_it(choice: Choice, cheaper: Choice) -> bool:
    saved = cheaper.seconds - choice.seconds
    enough = saved >= LEAST_GAIN_S and saved >= LEAST_GAIN * cheaper.seconds
    return enough and choice.spent.bought > cheaper.spent.bought

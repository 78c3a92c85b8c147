"""How good a plan is, material by material and as a whole."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Goal, MaterialProof, Proof
from shared.shop import CutRule, FirstCut
from shared.stock import Stock
from solver.begun import Begun
from solver.board import Board
from solver.instance import Instance, Solution
from solver.limits import limits_of
from solver.measure import counts_sheets

LIMITED = "within the shop's limits"
"""How a rule says that what is too long, too narrow or too small to saw was left out."""
KEPT = "with the other sheets as they lie"
HELD = "around what is held"
"""How the rule of a proof ends that holds only for what was kept."""


class Over(NamedTuple):
    """What a material with bad places is held against: itself as if it had none.

    Attributes
    ----------
    counted, price
        Whether sheets are counted, and what one costs then.
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

    counted: bool
    price: int
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


class Spoiled(Board):
    """A board of a material with bad places; ``sound`` is the one as if there were none."""

    provable = False

    def __init__(self, instance: Instance, solution: Solution, sound: Board, over: Over) -> None:
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


class Standing(NamedTuple):
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


def standing_of(board: Board) -> Standing:
    """Return where a board stands."""
    if isinstance(board, Spoiled):
        solution, bound, *_ = board.known()
        return Standing(board.instance, solution, bound, over=board.over)
    return Standing(board.instance, *board.known())


def is_conditional(rule: str) -> bool:
    """Whether a rule in words speaks of sheets or holds that were kept."""
    return rule.endswith((KEPT, HELD))


def rule_in_words(rule: CutRule, *conditions: str, kept: bool = False, held: bool = False) -> str:
    """Say for which way of cutting something was proven.

    ``conditions`` say what else was kept to, such as the shop's limits.
    """
    first = {
        FirstCut.RIP: "rip first",
        FirstCut.CROSSCUT: "crosscut first",
        FirstCut.EITHER: "rip or crosscut first",
    }[rule.first]
    depth = "three levels and a last trim" if rule.levels == 3 else "two levels and a trim"
    around = [*([KEPT] if kept else []), *([HELD] if held else [])]
    return ", ".join([first, depth, *conditions, *around])


def _solved(job: Job, standings: Iterable[Standing]) -> CutRule:
    """Return the job's rule with the direction that was really solved, where rails decide it."""
    ways = {way for standing in standings for way in _ways(standing)}
    if job.shop.reach is None or not ways:
        return job.rule
    if len(ways) > 1:
        return replace(job.rule, first=FirstCut.EITHER)
    return replace(job.rule, first=FirstCut.CROSSCUT if ways.pop() else FirstCut.RIP)


def _ways(standing: Standing) -> frozenset[bool]:
    """Return whether new sheets of a material may be crosscut first: one or both."""
    if standing.over is not None:
        return standing.over.ways
    return ways_of(standing.instance)


def ways_of(instance: Instance) -> frozenset[bool]:
    """Return whether new sheets may be crosscut first: one or both."""
    kinds = enumerate(instance.kinds)
    return frozenset(kind.transposed for n, kind in kinds if not instance.is_begun(n))


def proof_of(
    job: Job,
    kept: Sequence[LayoutSheet],
    begun: Sequence[Begun],
    standings: Iterable[Standing],
) -> Proof:
    """Return what is known of the kept and begun sheets and the best solutions together."""
    standings = tuple(standings)
    held = [*(job.stock_row(sheet.stock) for sheet in kept), *(sheet.stock for sheet in begun)]
    by_material = {standing.instance.material: standing for standing in standings}
    claims = [
        _claim(job, name, [row for row in held if row.material == name], by_material.get(name))
        for name in job.materials
        if name in by_material or any(row.material == name for row in held)
    ]
    priced = any(claim.goal is Goal.LEAST_PRICE or claim.price for claim in claims)
    values = [claim.price if priced else claim.value for claim in claims]
    bounds = [claim.least_price if priced else claim.bound for claim in claims]
    return Proof(
        goal=Goal.LEAST_PRICE if priced else Goal.FEWEST_SHEETS,
        value=sum(values),
        bound=sum(bounds),
        proven=all(claim.proven for claim in claims) and values == bounds,
        rule=rule_in_words(
            _solved(job, standings),
            *([LIMITED] if limits_of(job.shop).bind else []),
            kept=bool(kept),
            held=bool(begun),
        ),
        materials=tuple(claim.proof for claim in claims),
    )


class _Claim(NamedTuple):
    """Value and bound of one material, in units of its goal and as prices."""

    material: str
    goal: Goal
    value: int
    bound: int
    price: int
    least_price: int
    complete: bool
    least_cuts: int = 0
    least_sawing: bool = False
    best_remainder: bool = False

    @property
    def proven(self) -> bool:
        return self.complete and self.bound == self.value

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


def _claim(job: Job, material: str, held: Sequence[Stock], standing: Standing | None) -> _Claim:
    prices = [row.price for row in held if not row.is_piece]
    if standing is None:
        value, price = len(prices), sum(prices)
        return _Claim(material, Goal.FEWEST_SHEETS, value, value, price, price, True)
    if standing.over is not None:
        return _claim_over(material, standing.over, prices, standing)
    instance, solution = standing.instance, standing.solution
    new = (sheet.kind for sheet in solution.sheets if not instance.is_begun(sheet.kind))
    bought = [_row(job, standing, kind).price for kind in new]
    counted = counts_sheets(instance)
    value = len(bought) if counted else sum(bought)
    bound = min(standing.bound, value)
    least = bound * _price(job, standing) if counted else bound
    held_value = len(prices) if counted else sum(prices)
    # Of cuts on kept sheets nothing is known, nor of set-ups in the blocks of match groups.
    whole = not held and all(item.cells == 1 for item in instance.items)
    return _Claim(
        material,
        Goal.FEWEST_SHEETS if counted else Goal.LEAST_PRICE,
        held_value + value,
        held_value + bound,
        sum(prices) + sum(bought),
        sum(prices) + least,
        not any(solution.left),
        0 if held else _least_cuts(standing),
        whole and standing.least_sawing,
        whole and standing.best_remainder,
    )


def _claim_over(material: str, over: Over, held: Sequence[int], standing: Standing) -> _Claim:
    """Return what is claimed of a material with bad places; ``held`` are prices of kept sheets."""
    value = over.value(standing.instance, standing.solution)
    bound, each = min(over.bound, value), over.price if over.counted else 1
    held_value = len(held) if over.counted else sum(held)
    return _Claim(
        material,
        Goal.FEWEST_SHEETS if over.counted else Goal.LEAST_PRICE,
        held_value + value,
        held_value + bound,
        sum(held) + value * each,
        sum(held) + bound * each,
        not any(standing.solution.left) and not over.missing,
    )


def _least_cuts(standing: Standing) -> int:
    """Return the bound on cuts with those that part the blocks of match groups."""
    blocks = sum(item.demand * (item.cells - 1) for item in standing.instance.items)
    return standing.cuts_bound + blocks if standing.cuts_bound else 0


def _price(job: Job, standing: Standing) -> int:
    """Return the price that all sheets to be had have, 0 when there are none."""
    kinds = range(len(standing.instance.kinds))
    new = (kind for kind in kinds if not standing.instance.is_begun(kind))
    return next((_row(job, standing, kind).price for kind in new), 0)


def _row(job: Job, standing: Standing, kind: int) -> Stock:
    instance = standing.instance
    return job.stock_row(instance.rows[instance.kinds[kind].row].stock)

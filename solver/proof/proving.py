"""Prove that no cheaper stock will do: column generation, then what closes the last gap."""

import time

from solver.budget.effort import Effort
from solver.budget.phase import Method
from solver.budget.stop import Stop
from solver.limits.measure import breaks_limits, counts_sheets
from solver.material.instance import NO_LIMITS, Instance
from solver.proof import guillotine
from solver.proof.column_generation import ColumnGeneration
from solver.proof.cut_bound.bound import CutBound
from solver.proof.guillotine import CompactGoal, CompactResult
from solver.proof.pool import add_strips, choose
from solver.proof.price_relaxation import Floats
from solver.proof.stoppable import Reach
from solver.proof.strip_pool import StripPool
from solver.solutions.incumbent import Incumbent

COMPACT_COPIES = 12
"""Most parts that the compact model is tried on."""
SAWING_COPIES = 8
"""Most parts for which it is asked for the least sawing, which is harder to prove."""
BETWEEN_BOUNDS_S = 0.5
"""Least time between two bounds on cuts that are told."""
WORK_OF_STEP = 1_000
"""Units of work for one step of the bound on cuts."""
WORK_S = 1e-3
"""Deterministic seconds of the compact model for one unit of work."""
SHOT_S = 1.0
"""Most time for choosing among strips, the building of its program included: it finds a
solution soon or not at all. Where work is counted the clock does not matter."""
SAWING_SHARE = 0.3
"""Most of an effort that the compact model may take of it."""


def prove_stock(
    incumbent: Incumbent, stop: Stop, effort: Effort, prices: Floats | None = None
) -> None:
    """Raise the bound of an incumbent until it is proven, or nothing more can be gained.

    ``prices`` of the items, if some are known that are better to begin with than areas.
    """

    def target() -> int | None:
        return incumbent.value if incumbent.complete else None

    def on_bound(bound: int) -> None:
        incumbent.raise_bound(bound)

    columns = ColumnGeneration(incumbent.instance, seed=effort.seed)
    effort.by(Method.COLUMNS)
    try:
        columns.run(stop, target, on_bound, effort.work, prices=prices)
    finally:
        effort.did(columns.work)
    if not incumbent.is_proven() and incumbent.complete and not stop:
        _choose_strips(incumbent, columns.pool, stop, effort)
    if not incumbent.is_proven() and copies(incumbent.instance) <= COMPACT_COPIES:
        _solve_whole(incumbent, stop, effort)


def bound_cuts(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Raise the bound on the cuts of all plans of the price that is proven."""
    effort.by(Method.WASTE)
    steps = None if effort.work is None else effort.work // WORK_OF_STEP
    program = CutBound(incumbent.instance, incumbent.solution)
    told_at = time.monotonic()

    def on_bound(bound: int) -> None:
        """Tell of a bound only now and then: a plan is made of every one that is told."""
        nonlocal told_at
        if time.monotonic() - told_at > BETWEEN_BOUNDS_S:
            told_at = time.monotonic()
            incumbent.raise_cuts_bound(bound)

    incumbent.raise_cuts_bound(program.run(stop, lambda: incumbent.cost.cuts, on_bound, steps))
    effort.did(program.work)


def least_sawing(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Solve a small job whole for the least sawing, then the best remainder, at its price."""
    if copies(incumbent.instance) > SAWING_COPIES or not incumbent.is_proven():
        return
    if not all(kind.is_clear for kind in incumbent.instance.kinds):
        return  # the model does not know how many cuts waste before a room takes
    effort.by(Method.COMPACT)
    if not incumbent.has_least_sawing and _solve_at_price(
        incumbent, CompactGoal.SAWING, stop, effort
    ):
        bound_cuts(incumbent, stop, effort)  # the run may end with the next lines
        incumbent.finish_sawing()
    if incumbent.has_least_sawing and _solve_at_price(
        incumbent, CompactGoal.REMAINDER, stop, effort
    ):
        incumbent.finish_remainder()


def _solve_at_price(incumbent: Incumbent, goal: CompactGoal, stop: Stop, effort: Effort) -> bool:
    """Solve a small job whole at the price it has; say whether nothing is better."""
    cost = incumbent.cost
    result = guillotine.cut(
        incumbent.instance,
        max_sheets=cost.sheets + _begun(incumbent.instance),
        goal=goal,
        most_price=cost.price,
        most_rack=cost.rack,
        most_seconds=cost.seconds if goal is CompactGoal.REMAINDER else None,
        hint=incumbent.solution,
        reach=_reach(effort),
        stop=stop.within(SAWING_SHARE * effort.seconds),
    )
    if result.solution is not None:
        incumbent.offer(result.solution)
    return result.is_proven and _is_met(incumbent, goal, result)


def _is_met(incumbent: Incumbent, goal: CompactGoal, result: CompactResult) -> bool:
    """Whether the best solution is as good as the model says one can be.

    The model may spare a set-up at the end of an exact run that the order the limits and
    the guide demand does not spare.
    """
    if incumbent.instance.limits == NO_LIMITS or result.value is None:
        return True
    reached = incumbent.cost.seconds if goal is CompactGoal.SAWING else incumbent.cost.spare
    return reached <= result.bound


def copies(instance: Instance) -> int:
    """Return how many parts there are."""
    return sum(item.demand for item in instance.items)


def _begun(instance: Instance) -> int:
    """Count the rooms on sheets that are begun."""
    return sum(row.begun for row in instance.rows)


def _choose_strips(incumbent: Incumbent, pool: StripPool, stop: Stop, effort: Effort) -> None:
    """Take one shot at cheaper stock with the strips that were met."""
    effort.by(Method.STRIPS)
    instance, best = incumbent.instance, incumbent.solution
    add_strips(instance, pool, best)
    fewer = 1 if counts_sheets(instance) else 0
    found = choose(
        instance,
        pool,
        max_sheets=incumbent.cost.sheets - fewer + _begun(instance),
        most_price=None if fewer else incumbent.cost.price - 1,
        reach=_reach(effort),
        stop=stop if effort.work is not None else stop.within(SHOT_S),
    )
    # The strips were met by a bound that knows nothing of the shop's limits.
    if found is not None and not breaks_limits(instance, found):
        incumbent.offer(found)


def _solve_whole(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Solve a small job whole for the least price."""
    effort.by(Method.COMPACT)
    hint = incumbent.solution if incumbent.complete else None
    result = guillotine.cut(
        incumbent.instance,
        max_sheets=copies(incumbent.instance),  # more sheets may be cheaper than fewer
        hint=hint,
        reach=_reach(effort),
        stop=stop,
    )
    if result.solution is not None:
        incumbent.offer(result.solution)
    if incumbent.complete:
        incumbent.raise_bound(min(result.bound, incumbent.value))


def _reach(effort: Effort) -> Reach:
    work = None if effort.work is None else WORK_S * effort.work
    return Reach(work=work, seed=effort.seed, notes=effort.notes)

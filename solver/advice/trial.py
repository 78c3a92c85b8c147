"""Solve a changed job, until it saves something or is proven not to."""

import threading
from enum import Enum, auto
from typing import NamedTuple

from shared.changes import Change, ChangeKind, changed
from shared.plan import Plan
from solver.advice.ground import PlannedMaterial
from solver.advice.worths import Worths
from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Stop
from solver.defects.spoiled import is_spoiled
from solver.material.instance import Instance
from solver.planning.plans import compose
from solver.planning.proof_status import ProofStatus
from solver.planning.steps import SOLVER, bound_quickly, take_step
from solver.prepare.instances import Prepared
from solver.search.constructive import first
from solver.solutions.incumbent import Incumbent

START_SHARE, PROVE_SHARE = 0.05, 0.5
"""Parts of the time of a trial that go to constructive plans, and then to bounds."""


class TrialResult(Enum):
    """What came of a trial."""

    SAVES = auto()
    RULED_OUT = auto()
    """Proven to save nothing."""
    OPEN = auto()
    """Neither, in the time there was."""


class Trial(NamedTuple):
    """A changed job that was tried; with what saves, if it does."""

    verdict: TrialResult
    prepared: Prepared | None = None
    incumbent: Incumbent | None = None


def attempt(
    ground: PlannedMaterial, change: Change, worths: Worths, effort: Effort, stop: Stop
) -> Trial:
    """Try a change for so long."""
    prepared = ground.changed(changed(ground.job, change))
    if len(prepared.instances) != 1:
        return Trial(TrialResult.OPEN)
    instance = prepared.instances[0]
    if _copies(instance) != _copies(ground.instance) - (change.kind is ChangeKind.DROP):
        return Trial(TrialResult.RULED_OUT)
    incumbent = Incumbent(instance, first(instance))
    bound_quickly(incumbent)
    _solve(ground, incumbent, worths, effort, stop)
    if ground.saves(instance, incumbent.solution):
        return Trial(TrialResult.SAVES, prepared, incumbent)
    verdict = (
        TrialResult.RULED_OUT if ground.rules_out(instance, incumbent.bound) else TrialResult.OPEN
    )
    return Trial(verdict)


def _copies(instance: Instance) -> int:
    """Return how many parts are planned: a change that leaves any out saves nothing."""
    return sum(len(item.members) for item in instance.items)


def plan_of(ground: PlannedMaterial, trial: Trial) -> Plan:
    """Return the plan of a trial that saves something.

    Raises
    ------
    RefusedPlan
        If the simulated saw does not accept it.
    """
    if trial.prepared is None or trial.incumbent is None:
        raise ValueError("no plan without a solution")
    incumbent = trial.incumbent
    # A bound of sheets on clear rectangles is none for plans that go round bad places.
    bound = 0 if is_spoiled(trial.prepared.job.stock, incumbent.instance) else incumbent.bound
    standing = ProofStatus(incumbent.instance, incumbent.solution, bound)
    return compose(trial.prepared, [standing])


def _solve(
    ground: PlannedMaterial, incumbent: Incumbent, worths: Worths, effort: Effort, stop: Stop
) -> None:
    """Construct, prove and squeeze until it is decided."""
    decided = threading.Event()

    def heard(changed: Incumbent) -> None:
        instance, bound = changed.instance, changed.bound
        if ground.saves(instance, changed.solution) or ground.rules_out(instance, bound):
            decided.set()

    incumbent.listen(heard)
    heard(incumbent)
    ending = stop.within(effort.seconds).when(decided.is_set)
    if not ending:
        take_step(Phase.START, incumbent, ending, _share(effort, START_SHARE))
    if not ending and SOLVER.wait():
        _prove(incumbent, ending, worths, _share(effort, PROVE_SHARE))
    if not ending:
        take_step(Phase.SQUEEZE, incumbent, ending, effort)


def _share(effort: Effort, share: float) -> Effort:
    return effort._replace(seconds=share * effort.seconds)


def _prove(incumbent: Incumbent, stop: Stop, worths: Worths, effort: Effort) -> None:
    from solver.proof.proving import prove_stock  # noqa: PLC0415 - needs OR-Tools

    prove_stock(incumbent, stop.within(effort.seconds), effort, worths.start(incumbent.instance))

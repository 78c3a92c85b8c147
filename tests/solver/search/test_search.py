"""The compiled search, and planning where it cannot be compiled."""

from itertools import islice
from pathlib import Path
from random import Random

import pytest

from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Budget, Stop
from solver.limits.measure import cost
from solver.material.instance import Instance
from solver.planning import steps
from solver.planning.compiling import Readiness
from solver.planning.steps import KERNEL, take_step
from solver.run import run
from solver.search.constructive import passes
from solver.solutions.incumbent import Incumbent
from tests.benchmarks.neutral import load, targets
from tests.solver.some_instances import of_job

LITERATURE = Path(__file__).parents[2] / "benchmarks" / "literature"


def started(instance: Instance, bound: int) -> Incumbent:
    """Return an incumbent with the best of some constructive solutions."""
    solutions = islice(passes(instance, Random(0)), 60)
    return Incumbent(instance, min(solutions, key=lambda s: cost(instance, s)), bound)


def classic(name: str) -> tuple[Incumbent, int]:
    """Return an incumbent for an oriented classic instance, and its published sheet count.

    Source: see tests/benchmarks/README.md (Berkey and Wang 1987, Martello and Vigo 1998).
    """
    path = LITERATURE / f"{name}.json"
    job = next(bench.job for bench in load(path) if bench.variant == "oriented")
    goal = targets(path)["oriented"]
    return started(of_job(job), goal), goal


def fail() -> None:
    """Break, as a compiler that does not run here."""
    raise ImportError("no compiler")


@pytest.mark.parametrize("name", ["cl_03_040_02", "cl_05_040_01", "cl_10_060_02"])
def test_hard_classics_reach_their_published_counts_compiled(name: str) -> None:
    """At most 600,000 tries find what constructive passes and short searches do not."""
    incumbent, goal = classic(name)
    assert len(incumbent.solution.sheets) > goal
    KERNEL.wait()
    take_step(Phase.SQUEEZE, incumbent, Stop(), Effort(60.0, 0, 600_000))
    assert len(incumbent.solution.sheets) == goal


def test_counted_work_gives_the_same_solution_again_compiled() -> None:
    """Seed and tries decide alone, in both stages."""
    solutions = []
    for _ in range(2):
        incumbent, _ = classic("cl_01_040_07")
        for phase in (Phase.SQUEEZE, Phase.SAWING):
            take_step(phase, incumbent, Stop(), Effort(60.0, 3, 20_000))
        solutions.append(incumbent.solution)
    assert solutions[0] == solutions[1]


def test_where_the_compiler_fails_constructing_goes_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A compiler that cannot be loaded is reported; other ways find the sheets of a loose list."""
    monkeypatch.setattr(steps, "KERNEL", Readiness(fail))
    job = next(b.job for b in load(LITERATURE / "A-22.json") if b.variant == "oriented")
    plan = run(job, Budget(work=50), lambda event: None)
    assert "no compiler" in capsys.readouterr().err
    assert plan is not None
    assert len(plan.sheets) == targets(LITERATURE / "A-22.json")["oriented"]

"""The compiled search and the interpreted one that stands in for it."""

from itertools import islice
from pathlib import Path
from random import Random

import pytest

from solver import steps
from solver.board import Board
from solver.effort import Effort
from solver.instance import Instance
from solver.interpreted import save_interpreted, squeeze_interpreted
from solver.measure import cost
from solver.outcome import Phase
from solver.readiness import Readiness
from solver.start import passes
from solver.steps import KERNEL, take_step
from solver.stop import Stop
from tests.benchmarks.neutral import load, targets
from tests.solver.some_instances import of_job

LITERATURE = Path(__file__).parents[1] / "benchmarks" / "literature"


def started(instance: Instance, bound: int) -> Board:
    """Return a board with the best of some constructive solutions."""
    solutions = islice(passes(instance, Random(0)), 60)
    return Board(instance, min(solutions, key=lambda s: cost(instance, s)), bound)


def classic(name: str) -> tuple[Board, int]:
    """Return a board for an oriented classic instance, and its published sheet count.

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
    board, goal = classic(name)
    assert len(board.solution.sheets) > goal
    KERNEL.wait()
    take_step(Phase.SQUEEZE, board, Stop(), Effort(60.0, 0, 600_000))
    assert len(board.solution.sheets) == goal


def test_counted_work_gives_the_same_solution_again_compiled() -> None:
    """Seed and tries decide alone, in both stages."""
    solutions = []
    for _ in range(2):
        board, _ = classic("cl_01_040_07")
        for phase in (Phase.SQUEEZE, Phase.SAWING):
            take_step(phase, board, Stop(), Effort(60.0, 3, 20_000))
        solutions.append(board.solution)
    assert solutions[0] == solutions[1]


def test_the_interpreted_search_finds_fewer_sheets_and_less_sawing() -> None:
    """Without the compiler, some thousand tries still better a constructive solution."""
    board, goal = classic("cl_08_060_01")
    squeeze_interpreted(board, Stop(), Effort(60.0, 1, 20_000))
    assert len(board.solution.sheets) == goal
    before = board.cost
    save_interpreted(board, Stop(), Effort(60.0, 1, 1_000))
    assert board.cost < before


def test_where_the_compiler_fails_the_search_goes_on_interpreted(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A compiler that cannot be loaded is reported, and the sheets are found all the same."""
    monkeypatch.setattr(steps, "KERNEL", Readiness(fail))
    board, goal = classic("cl_08_060_01")
    take_step(Phase.SQUEEZE, board, Stop(), Effort(60.0, 1, 20_000))
    assert len(board.solution.sheets) == goal
    assert "no compiler" in capsys.readouterr().err

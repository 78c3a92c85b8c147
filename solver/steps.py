"""One step of work on one board: the only place that knows every method."""

from collections.abc import Callable
from random import Random
from typing import NamedTuple

from solver.board import Board
from solver.bounds import lower_bound
from solver.outcome import Phase
from solver.start import passes
from solver.stop import Stop


class Effort(NamedTuple):
    """How much a step may take: seconds at most, the seed, and units of work if it counts."""

    seconds: float
    seed: int
    work: int | None = None


def warm_up() -> None:
    """Load what is slow to load, before it is needed."""
    import ortools.sat.python.cp_model  # noqa: F401, PLC0415


def take_step(phase: Phase, board: Board, stop: Stop, effort: Effort) -> None:
    """Work on a board until the phase has nothing more to gain, or is stopped."""
    if phase in _STEPS:
        _STEPS[phase](board, stop.within(effort.seconds), effort)


def _start(board: Board, stop: Stop, effort: Effort) -> None:
    costs = [row.price for row in board.instance.rows]
    board.raise_bound(lower_bound(board.instance, costs))
    for done, solution in enumerate(passes(board.instance, Random(effort.seed)), 1):
        board.offer(solution)
        if stop or board.is_proven() or (effort.work is not None and done >= effort.work):
            return


_STEPS: dict[Phase, Callable[[Board, Stop, Effort], None]] = {
    Phase.START: _start,
    Phase.SAWING: _start,
}

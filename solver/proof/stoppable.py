"""CP-SAT under a stop that is heard at any moment, quiet, and repeatable if need be."""

import threading
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from solver.budget.effort import Notes
from solver.budget.statistics import Solve, WorkDone
from solver.budget.stop import Stop

REPEAT_S = 0.02
"""A word to stop is lost while the native solver only sets up, so it is repeated."""

Variable = Any
"""A variable or linear expression of CP-SAT (the library's types are not checked)."""


class Reach(NamedTuple):
    """How far a solve may go.

    ``work`` is deterministic time: with it and one worker, the same model and seed give the
    same answer on the same kind of machine, unless a stop or ``seconds`` cut it short.
    The solve is noted in ``notes``, if anybody wants to know.
    """

    seconds: float | None = None
    work: float | None = None
    workers: int = 1
    seed: int = 0
    notes: Notes | None = None


class Answer:
    """What CP-SAT says: how it ended, a bound on the objective, and values if it found any."""

    def __init__(self, solver: Any = None, status: Any = cp_model.UNKNOWN) -> None:
        self._solver = solver
        self.is_found = status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
        self.is_optimal = status == cp_model.OPTIMAL
        self.is_impossible = status == cp_model.INFEASIBLE

    def __call__(self, variable: Variable) -> int:
        """Return the value of a variable or expression in the best solution."""
        return int(self._solver.value(variable))

    @property
    def bound(self) -> float:
        """Proven bound on the objective; minus infinity when nothing was solved."""
        return float("-inf") if self._solver is None else self._solver.best_objective_bound


def solve(model: Any, reach: Reach, stop: Stop) -> Answer:
    """Solve until done, out of reach, or stopped.

    Raises
    ------
    ValueError
        When the model itself is not sound.
    """
    if stop:
        return Answer()
    solver = _solver(reach, stop)
    hearer = _Hearer(stop)
    solver.best_bound_callback = lambda bound: hearer.hear(solver)
    done = threading.Event()
    watcher = threading.Thread(target=_watch, args=(solver, stop, done), daemon=True)
    watcher.start()
    try:
        status = solver.solve(model, hearer)
    finally:
        done.set()
        watcher.join()
    _note(solver, status, reach.notes)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    return Answer(solver, status)


def _note(solver: Any, status: Any, notes: Notes | None) -> None:
    if notes is not None:
        took = Solve(
            method=notes.method,
            status=str(solver.status_name(status)),
            work=float(solver.response_proto.deterministic_time),
            seconds=float(solver.wall_time),
        )
        notes.add(WorkDone(solves=(took,)))


def _solver(reach: Reach, stop: Stop) -> Any:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = reach.workers
    parameters.random_seed = reach.seed
    parameters.log_search_progress = False
    parameters.catch_sigint_signal = False  # it is for who asked, and heard again afterwards
    seconds = min(stop.remaining_s, float("inf") if reach.seconds is None else reach.seconds)
    if seconds < float("inf"):
        parameters.max_time_in_seconds = seconds
    if reach.work is not None:
        parameters.max_deterministic_time = reach.work
    return solver


class _Hearer(cp_model.CpSolverSolutionCallback):  # type: ignore[misc] # has no types
    """Looks at the stop with every solution and every bound."""

    def __init__(self, stop: Stop) -> None:
        super().__init__()
        self._stop = stop

    def on_solution_callback(self) -> None:
        if self._stop:
            self.stop_search()

    def hear(self, solver: Any) -> None:
        """Look at the stop when a bound came."""
        if self._stop:
            solver.stop_search()


def _watch(solver: Any, stop: Stop, done: threading.Event) -> None:
    """Repeat the stop until the solver has ended."""
    while not done.wait(REPEAT_S):
        if stop:
            solver.stop_search()

"""What a run did, material by material: phases, the work in them, and the course of the best.

Seconds are counted from the beginning of the run, values and bounds in units of the goal
of their material.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shared.plan import Goal
from solver.budget.phase import Method, Phase

MOST_POINTS = 120
"""Most points of a course that are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solve:
    """One call of CP-SAT.

    ``status`` in the library's words; ``work`` is its deterministic time, which does not
    depend on the machine's load, ``seconds`` the time it took.
    """

    method: Method
    status: str
    work: float
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkDone:
    """How much was done.

    Attributes
    ----------
    constructions
        Solutions made by laying one item after the other.
    attempts
        Fleets of sheets that ruin and recreate tried to fill.
    tries
        Ruins and recreations, in stage A or in annealing.
    rounds
        Steps of column generation, each a linear program and a pricing.
    columns
        Strips and sheets that its linear programs hold.
    lp_value
        Value of the last linear program over the columns known by then: it falls towards
        the bound as columns come; ``None`` without one.
    solves
        Calls of CP-SAT.
    """

    constructions: int = 0
    attempts: int = 0
    tries: int = 0
    rounds: int = 0
    columns: int = 0
    lp_value: float | None = None
    solves: tuple[Solve, ...] = ()

    def __add__(self, more: "WorkDone") -> "WorkDone":
        """Return both together; of two linear programs the later one counts."""
        return WorkDone(
            constructions=self.constructions + more.constructions,
            attempts=self.attempts + more.attempts,
            tries=self.tries + more.tries,
            rounds=self.rounds + more.rounds,
            columns=self.columns + more.columns,
            lp_value=self.lp_value if more.lp_value is None else more.lp_value,
            solves=self.solves + more.solves,
        )


NOTHING = WorkDone()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A process in one phase, without another one between.

    What another process did after its last word is missing from ``work``.
    """

    process: int
    phase: Phase
    begin_s: float
    end_s: float
    work: WorkDone


@dataclass(frozen=True, slots=True, kw_only=True)
class TracePoint:
    """The best that is known after a change, and who changed it by which method.

    ``unplaced`` is the area on no sheet in the solver's units, ``sawing_s`` the sawing time
    by the maker's minutes.
    """

    elapsed_s: float
    process: int
    method: Method
    unplaced: int
    value: int
    bound: int
    cuts: int
    setups: int
    sawing_s: int

    @property
    def reached(self) -> tuple[int, ...]:
        """All that gets better; the same as before where nothing did."""
        return self.unplaced, self.value, -self.bound, self.sawing_s, self.cuts, self.setups


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialStatistics:
    """What was done for one material; ``changes`` counts what the course was thinned from."""

    material: str
    goal: Goal
    stretches: tuple[Stretch, ...]
    course: tuple[TracePoint, ...]
    changes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Statistics:
    """What a run did."""

    materials: tuple[MaterialStatistics, ...]


def thinned(points: Sequence[TracePoint], most: int = MOST_POINTS) -> tuple[TracePoint, ...]:
    """Return at most so many points, evenly chosen, the first and the last among them."""
    if len(points) <= most:
        return tuple(points)
    last = len(points) - 1
    return tuple(points[round(place * last / (most - 1))] for place in range(most))

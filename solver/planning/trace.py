"""Writes down what a run does: who was in which phase for how long, and what came of it."""

import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from solver.budget.effort import Effort, Notes
from solver.budget.phase import Method, Phase
from solver.budget.statistics import (
    MOST_POINTS,
    NOTHING,
    MaterialStatistics,
    Statistics,
    Stretch,
    TracePoint,
    WorkDone,
    thinned,
)
from solver.budget.stop import Stop
from solver.limits.measure import goal_of
from solver.planning.worker_loop import Step
from solver.solutions.incumbent import Incumbent

MOMENT_S = 1e-3
"""A step that did nothing and took no longer is not worth a word."""


@dataclass(slots=True)
class _Stretch:
    """One process in one phase of one incumbent; ``notes`` of every step there."""

    process: int
    phase: Phase
    incumbent: Incumbent
    begin_s: float
    end_s: float
    notes: list[Notes]

    @property
    def work(self) -> WorkDone:
        return sum((note.work for note in self.notes), NOTHING)

    @property
    def is_empty(self) -> bool:
        return self.end_s - self.begin_s < MOMENT_S and self.work == NOTHING

    def goes_on(self, later: "_Stretch") -> bool:
        return (self.incumbent, self.phase) == (later.incumbent, later.phase)

    def told(self) -> Stretch:
        return Stretch(
            process=self.process,
            phase=self.phase,
            begin_s=self.begin_s,
            end_s=self.end_s,
            work=self.work,
        )


class _Course:
    """How the best of one incumbent went on; not more than twice as long as what is told of it."""

    def __init__(self) -> None:
        self.points: list[TracePoint] = []
        self.changes = 0

    def add(self, point: TracePoint) -> None:
        if self.points and point.reached == self.points[-1].reached:
            return
        self.changes += 1
        self.points.append(point)
        if len(self.points) > 2 * MOST_POINTS:
            self.points = list(thinned(self.points))


class Trace:
    """Follows incumbents and the processes at work on them; safe to use from several threads."""

    def __init__(self, incumbents: Sequence[Incumbent], elapsed_s: Callable[[], float]) -> None:
        """Begin with what the incumbents know; ``elapsed_s`` is the clock of the run."""
        self._elapsed_s = elapsed_s
        self._lock = threading.Lock()
        self._here = threading.local()
        self._stretches: dict[int, list[_Stretch]] = {}
        self._courses: dict[int, _Course] = {}
        self.follow(incumbents)

    def follow(self, incumbents: Sequence[Incumbent]) -> None:
        """Follow these incumbents, too, beginning with what they know."""
        self._incumbents = incumbents
        for incumbent in incumbents:
            if id(incumbent) not in self._courses:
                self._courses[id(incumbent)] = _Course()
                self._write(incumbent, 0, Method.CONSTRUCTION)
                incumbent.listen(self._hear)

    def watched(self, process: int, step: Step) -> Step:
        """Return the step of a process, with a record made of it each time."""

        def recorded(phase: Phase, incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
            with self._stretch(process, phase, incumbent) as notes:
                step(phase, incumbent, stop, effort._replace(notes=notes))

        return recorded

    @contextmanager
    def _stretch(self, process: int, phase: Phase, incumbent: Incumbent) -> Iterator[Notes]:
        notes = Notes()
        now = self._elapsed_s()
        stretch = _Stretch(process, phase, incumbent, now, now, [notes])
        self._here.at = process, notes
        try:
            yield notes
        finally:
            del self._here.at
            stretch.end_s = self._elapsed_s()
            self._keep(stretch)

    def _keep(self, stretch: _Stretch) -> None:
        """Add a stretch to those of its process, or to the last one if it goes on with that."""
        if stretch.is_empty:
            return
        with self._lock:
            done = self._stretches.setdefault(stretch.process, [])
            if done and done[-1].goes_on(stretch):
                done[-1].end_s = stretch.end_s
                done[-1].notes += stretch.notes
            else:
                done.append(stretch)

    def _hear(self, incumbent: Incumbent) -> None:
        """Write down a change, made by the thread that tells of it."""
        process, notes = getattr(self._here, "at", (0, None))
        self._write(incumbent, process, Method.QUICK if notes is None else notes.method)

    def _write(self, incumbent: Incumbent, process: int, method: Method) -> None:
        with self._lock:
            cost = incumbent.cost
            value, bound = incumbent.told
            point = TracePoint(
                elapsed_s=self._elapsed_s(),
                process=process,
                method=method,
                unplaced=cost.unplaced,
                value=value,
                bound=bound,
                cuts=cost.cuts,
                setups=cost.setups,
                sawing_s=cost.seconds,
            )
            self._courses[id(incumbent)].add(point)

    def statistics(self, incumbents: Sequence[Incumbent] | None = None) -> Statistics:
        """Return all that was written down of some of the incumbents, or of those followed last."""
        told = self._incumbents if incumbents is None else incumbents
        return Statistics(materials=tuple(self._material(incumbent) for incumbent in told))

    def _material(self, incumbent: Incumbent) -> MaterialStatistics:
        with self._lock:
            course = self._courses[id(incumbent)]
            return MaterialStatistics(
                material=incumbent.instance.material,
                goal=goal_of(incumbent.instance),
                stretches=tuple(
                    one.told()
                    for _, done in sorted(self._stretches.items())
                    for one in done
                    if one.incumbent is incumbent
                ),
                course=thinned(course.points),
                changes=course.changes,
            )

"""What a run tells of itself: counts that repeat, a course that only gets better, phases."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.budget.effort import Effort, Notes
from solver.budget.phase import Method, Phase
from solver.budget.statistics import (
    MOST_POINTS,
    MaterialStatistics,
    Solve,
    Statistics,
    Stretch,
    TracePoint,
    WorkDone,
    thinned,
)
from solver.budget.stop import Budget, Stop
from solver.outcome import Done, EndReason, Event
from solver.planning.trace import Trace
from solver.planning.worker_pool import WorkerPool
from solver.run import run
from solver.search.constructive import first
from solver.solutions.incumbent import Incumbent
from solver.wire import ANSWERS, REQUESTS, answer
from tests.benchmarks.neutral import load
from tests.solver.some_instances import plain

LIST = Path(__file__).parents[2] / "benchmarks" / "workshop" / "shop28.json"
"""A list that quick bounds do not prove, so that every phase has work."""
(BENCHMARK,) = load(LIST)


def told(limits: Budget, **rest: object) -> Statistics:
    """Return the statistics of a run."""
    events: list[Event] = []
    run(BENCHMARK.job, limits, events.append, **rest)
    end = events[-1]
    assert isinstance(end, Done)
    assert end.statistics is not None
    return end.statistics


def only(statistics: Statistics) -> MaterialStatistics:
    """Return the one material's."""
    (material,) = statistics.materials
    return material


def without_clock(work: WorkDone) -> WorkDone:
    """Return the work without what depends on the machine's load."""
    return replace(work, solves=tuple(replace(one, seconds=0.0) for one in work.solves))


def timeless(material: MaterialStatistics) -> tuple[list[object], list[object]]:
    """Return the work of all stretches and the course, without any seconds of the clock."""
    work = [(s.process, s.phase, without_clock(s.work)) for s in material.stretches]
    return [one for one in work if one[2] != WorkDone()], [
        replace(point, elapsed_s=0.0) for point in material.course
    ]


@pytest.fixture(name="by_work", scope="module")
def run_by_work() -> tuple[MaterialStatistics, MaterialStatistics]:
    """Return the statistics of two equal runs with a limit in units of work."""
    limits = Budget(time_s=None, work=100, seed=3)
    return only(told(limits)), only(told(limits))


@pytest.fixture(name="by_time", scope="module")
def run_by_time() -> MaterialStatistics:
    """Return the statistics of a run of two processes."""
    with WorkerPool(1) as pool:
        pool.wait_warm()
        return only(told(Budget(time_s=1.5, workers=2), pool=pool))


@pytest.fixture(name="any_run", params=["by_work", "by_time"])
def either_run(request: pytest.FixtureRequest) -> MaterialStatistics:
    """Return each kind of run."""
    found = request.getfixturevalue(request.param)
    return found[0] if isinstance(found, tuple) else found


def test_equal_runs_by_work_count_the_same(
    by_work: tuple[MaterialStatistics, MaterialStatistics],
) -> None:
    """The same seed and units of work give the same counts, solves and course."""
    assert timeless(by_work[0]) == timeless(by_work[1])


def test_a_limit_in_work_is_what_is_counted(
    by_work: tuple[MaterialStatistics, MaterialStatistics],
) -> None:
    """Annealing makes as many tries as there are units of work, and no phase exceeds them."""
    work = [(one.phase, one.work) for one in by_work[0].stretches]
    assert [one.tries for phase, one in work if phase is Phase.SAWING] == [100]
    assert all(one.tries <= 100 and one.constructions <= 100 for _, one in work)
    assert any(one.rounds and one.columns for phase, one in work if phase is Phase.PROVE)


def test_the_course_only_gets_better(any_run: MaterialStatistics) -> None:
    """From point to point time goes on, value and sawing fall in that order, the bound rises."""
    assert any_run.course
    for before, after in pairwise(any_run.course):
        assert before.elapsed_s <= after.elapsed_s
        assert (after.unplaced, after.value, after.sawing_s) <= (
            before.unplaced,
            before.value,
            before.sawing_s,
        )
        assert before.bound <= after.bound
        assert before.reached != after.reached
    assert any_run.course[-1].bound <= any_run.course[-1].value


def test_a_process_is_in_one_phase_at_a_time(any_run: MaterialStatistics) -> None:
    """Of one process, each stretch ends before the next begins, and none before it began."""
    for process in {one.process for one in any_run.stretches}:
        mine = [one for one in any_run.stretches if one.process == process]
        assert all(one.begin_s <= one.end_s for one in mine)
        assert all(before.end_s <= after.begin_s for before, after in pairwise(mine))


def test_the_second_process_tells_what_it_did(by_time: MaterialStatistics) -> None:
    """What a worker did comes over its line: columns of the proof, or tries of its search."""
    theirs = [one.work for one in by_time.stretches if one.process == 1]
    assert any(one.rounds and one.columns for one in theirs)
    ours = [one.work for one in by_time.stretches if one.process == 0]
    assert any(one.tries for one in ours)
    assert not any(one.rounds for one in ours)


def test_the_line_to_the_window_is_spared_the_statistics() -> None:
    """Over the line a run's end says why and when, and nothing more."""
    statistics = Statistics(materials=())
    end = Done(reason=EndReason.TIME, elapsed_s=1.0, statistics=statistics)
    heard = ANSWERS.decode(REQUESTS.encode(answer(1, end)))
    assert heard == answer(1, Done(reason=EndReason.TIME, elapsed_s=1.0))


def test_statistics_can_be_written_as_json() -> None:
    """They come back from JSON as they were."""
    solve = Solve(method=Method.COMPACT, status="OPTIMAL", work=0.5, seconds=1.0)
    stretch = Stretch(
        process=0, phase=Phase.PROVE, begin_s=0.0, end_s=1.0, work=WorkDone(solves=(solve,))
    )
    before = replace(only(told(Budget(time_s=0.0))), stretches=(stretch,))
    assert msgspec.json.decode(msgspec.json.encode(before), type=MaterialStatistics) == before


def test_whoever_finds_something_is_named() -> None:
    """A change is written down with the process whose thread made it and its method then."""
    instance = plain([(3, 2, 5)], (7, 7))
    incumbent = Incumbent(instance, first(instance))
    now = iter(range(100))
    trace = Trace([incumbent], lambda: float(next(now)))

    def step(phase: Phase, on: Incumbent, stop: Stop, effort: Effort) -> None:
        del phase, stop
        effort.by(Method.COLUMNS)
        effort.did(WorkDone(rounds=2, columns=7))
        on.raise_bound(1)

    trace.watched(3, step)(Phase.PROVE, incumbent, Stop(), Effort(1.0, 0))
    incumbent.raise_bound(2)
    material = only(trace.statistics())
    assert [(one.process, one.method, one.bound) for one in material.course] == [
        (0, Method.CONSTRUCTION, 0),
        (3, Method.COLUMNS, 1),
        (0, Method.QUICK, 2),
    ]
    assert [(one.process, one.work.columns) for one in material.stretches] == [(3, 7)]


def point(number: int) -> TracePoint:
    """Return a point that is told from others by its time."""
    return TracePoint(
        elapsed_s=float(number),
        process=0,
        method=Method.ANNEALING,
        unplaced=0,
        value=9,
        bound=1,
        cuts=number,
        setups=1,
        sawing_s=10_000 - number,
    )


@given(st.integers(1, 2_000), st.integers(2, MOST_POINTS))
def test_a_long_course_is_thinned_evenly(length: int, most: int) -> None:
    """First and last stay, no point is told twice, and gaps differ by one place at most."""
    points = [point(number) for number in range(length)]
    kept = thinned(points, most)
    assert len(kept) == min(length, most)
    assert kept[0] == points[0]
    assert kept[-1] == points[-1] or length == 1
    gaps = {round(after.elapsed_s - before.elapsed_s) for before, after in pairwise(kept)}
    assert min(gaps, default=1) >= 1
    assert max(gaps, default=1) - min(gaps, default=1) <= 1


def test_works_add_up() -> None:
    """Counts add up, solves follow each other, and the later linear program counts."""
    notes = Notes()
    notes.add(WorkDone(tries=2, lp_value=1.5))
    notes.add(WorkDone(tries=3, attempts=1))
    assert notes.work == WorkDone(tries=5, attempts=1, lp_value=1.5)

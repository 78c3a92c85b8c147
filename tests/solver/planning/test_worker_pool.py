"""A second process that dies in mid-run: the run goes on, and ends with a plan."""

import os
import signal
import sys
import threading
from pathlib import Path

import pytest

from shared.saw import verify
from solver.budget.phase import Phase
from solver.budget.stop import Budget
from solver.outcome import Better, Done, Event, RunProgress
from solver.planning.scheduler import LIVES
from solver.planning.worker_pool import WorkerPool
from solver.run import run
from tests.benchmarks.neutral import load

LIST = Path(__file__).parents[2] / "benchmarks" / "workshop" / "shop28.json"
(BENCHMARK,) = load(LIST)
"""A list that is not proven within these tests, so that no run ends early."""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")


def kill(pool: WorkerPool) -> int | None:
    """Kill the process of the only worker; return its number, ``None`` if it was gone already."""
    pid = pool.workers[0].pid
    if pid is None:
        return None
    try:
        os.kill(pid, signal.SIGKILL)
    except ProcessLookupError:
        return None
    return pid


def test_a_mate_that_is_killed_is_started_again_and_the_run_ends_with_a_plan() -> None:
    """Killed while it proves; a new process takes its place, the plan can be sawn."""
    events: list[Event] = []
    killed: list[int | None] = []

    def say(event: Event) -> None:
        events.append(event)
        if isinstance(event, RunProgress) and event.phase is Phase.PROVE and not killed:
            killed.append(kill(pool))

    with WorkerPool(1) as pool:
        pool.wait_warm()
        plan = run(BENCHMARK.job, Budget(time_s=1.5, workers=2), say, pool=pool)
        again = pool.workers[0].pid
    assert killed != []
    assert killed[0] is not None
    assert again not in (None, killed[0])
    assert plan is not None
    assert verify(plan) == ()
    assert plan.unplaced == ()
    assert isinstance(events[-1], Done)
    assert [one.plan for one in events if isinstance(one, Better)][-1] == plan


def test_a_mate_that_dies_ever_again_is_left_out() -> None:
    """However often it is killed, the run lasts as long as it may, and ends with a plan."""
    events: list[Event] = []
    killed: set[int] = set()
    over = threading.Event()

    def kill_on() -> None:
        while not over.wait(0.02):
            pid = kill(pool)
            if pid is not None:
                killed.add(pid)

    with WorkerPool(1) as pool:
        killer = threading.Thread(target=kill_on)
        killer.start()
        plan = run(BENCHMARK.job, Budget(time_s=1.0, workers=2), events.append, pool=pool)
        over.set()
        killer.join()
    assert len(killed) in (LIVES, LIVES + 1)  # the first may die before it has a task
    assert plan is not None
    assert verify(plan) == ()
    assert plan.unplaced == ()
    assert isinstance(events[-1], Done)

"""How time, gap and memory grow with the list: ``python -m tests.benchmarks.scaling``.

[PARTS ...] [--time-limit 60] [--workers 2] [--seed 0]

Plans the lists of `tests.benchmarks.furniture` of 100, 200, 500 and 1,000 parts, each in a
fresh process, with the compiled search ready before the clock starts. Prints for each: time
to the first plan; sheets and proven bound after 2, 10, 30 and 60 s; the gap at the end; the
peak memory of all processes; and the longest a stop took, asked after 1, 5 and 15 s of runs
of their own, until the run has returned its best plan.
"""

import argparse
import json
import math
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass

from shared.job import Job
from shared.plan import Plan
from shared.saw import verify
from solver.budget.stop import Budget, Stop
from solver.outcome import Better, Event, RunProgress
from solver.planning.steps import KERNEL, SOLVER
from solver.planning.worker_pool import WorkerPool
from solver.run import run
from tests.benchmarks.furniture import furniture
from tests.benchmarks.memory import MemoryWatch

SIZES = (100, 200, 500, 1000)
LOOKS_S = (2.0, 10.0, 30.0, 60.0)
STOPS_S = (1.0, 5.0, 15.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What came of one list; ``looks`` are (seconds, sheets, bound).

    ``stop_s`` is not a number where every run had ended before it was asked to.
    """

    parts: int
    types: int
    first_s: float
    looks: list[tuple[float, int, int]]
    peak_mb: float
    stop_s: float
    sound: bool


class Course:
    """Hears a run, and notes how many sheets it needed and had proven at what time."""

    def __init__(self) -> None:
        self.first_s = float("nan")
        self._points: list[tuple[float, int, int]] = []

    def __call__(self, event: Event) -> None:
        """Note where the one material stands."""
        if isinstance(event, RunProgress):
            self._points.append((event.elapsed_s, event.value, event.bound))
        elif isinstance(event, Better):
            proof = event.plan.proof
            if math.isnan(self.first_s):
                self.first_s = event.elapsed_s
            self._points.append((event.elapsed_s, proof.value, proof.bound))

    def at(self, seconds: float) -> tuple[float, int, int]:
        """Return (seconds, sheets, bound) as known by then; zeros before the first plan."""
        past = [point for point in self._points if point[0] <= seconds]
        sheets = min((value for _, value, _ in past), default=0)
        return seconds, sheets, max((bound for *_, bound in past), default=0)


def measure(parts: int, limits: Budget) -> Row:
    """Plan one list to the limit, then again for each stop."""
    job = furniture(parts)
    KERNEL.wait()
    SOLVER.wait()
    with WorkerPool(limits.workers - 1) as pool:
        pool.wait_warm()
        course = Course()
        with MemoryWatch() as memory:
            plan = run(job, limits, course, pool=pool)
        assert plan is not None
        stops = list(_stops(job, limits, pool))
    return Row(
        parts=parts,
        types=len(job.parts),
        first_s=course.first_s,
        looks=[course.at(seconds) for seconds in _looks(limits)],
        peak_mb=memory.peak_mb,
        stop_s=max(stops, default=float("nan")),
        sound=_is_sound(plan),
    )


def _looks(limits: Budget) -> list[float]:
    """Return when to look: the usual times within the limit, and the limit itself."""
    limit = limits.time_s or 0.0
    return sorted({limit, *(seconds for seconds in LOOKS_S if seconds < limit)})


def _stops(job: Job, limits: Budget, pool: WorkerPool) -> Iterator[float]:
    """Yield how long a stop took, asked at several times."""
    for after in STOPS_S:
        if after < (limits.time_s or 0.0):
            took = _stop(job, limits, pool, after)
            if took is not None:
                yield took


def _stop(job: Job, limits: Budget, pool: WorkerPool, after: float) -> float | None:
    """Return the time from asking a run to stop to its plan; ``None`` if it had ended."""
    stop, asked = Stop(), list[float]()

    def ask() -> None:
        asked.append(time.perf_counter())
        stop.ask()

    timer = threading.Timer(after, ask)
    timer.start()
    plan = run(job, limits, lambda event: None, pool=pool, stop=stop)
    ended = time.perf_counter()
    timer.cancel()
    assert plan is not None
    return ended - asked[0] if asked and asked[0] < ended else None


def _is_sound(plan: Plan) -> bool:
    return not verify(plan) and not plan.unplaced


def line(row: Row) -> str:
    """Return one line of the table."""
    looks = "  ".join(f"{s:g} s {sheets}/{bound}" for s, sheets, bound in row.looks)
    _, sheets, bound = row.looks[-1]
    return (
        f"{row.parts:5} parts ({row.types} sizes)  first {row.first_s:.3f} s"
        f"  sheets/bound: {looks}  gap {sheets - bound}"
        f"  peak {row.peak_mb:.0f} MB  stop {row.stop_s:.3f} s"
        f"  {'sound' if row.sound else 'UNSOUND'}"
    )


def _in_a_fresh_process(parts: int, asked: argparse.Namespace) -> Row:
    words = ["--time-limit", str(asked.time_limit), "--workers", str(asked.workers)]
    command = [sys.executable, "-m", "tests.benchmarks.scaling", str(parts), "--once", *words]
    command += ["--seed", str(asked.seed)]
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
    return Row(**json.loads(done.stdout.splitlines()[-1]))


def arguments(words: list[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.scaling")
    parser.add_argument("parts", nargs="*", type=int, default=list(SIZES), metavar="PARTS")
    parser.add_argument("--time-limit", type=float, default=60.0, metavar="S")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    parser.add_argument("--seed", type=int, default=0, metavar="N")
    parser.add_argument("--once", action="store_true", help=argparse.SUPPRESS)
    return parser.parse_args(words)


def main(words: list[str] | None = None) -> int:
    """Measure every list; 0 if all plans are sound."""
    asked = arguments(words)
    if asked.once:
        limits = Budget(time_s=asked.time_limit, workers=asked.workers, seed=asked.seed)
        print(json.dumps(asdict(measure(asked.parts[0], limits))))
        return 0
    rows = []
    for parts in asked.parts:
        rows.append(_in_a_fresh_process(parts, asked))
        print(line(rows[-1]), flush=True)
    return 0 if all(row.sound for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main())

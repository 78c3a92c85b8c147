"""How long a stop takes: ``python -m tests.benchmarks.stopping``.

The worker process is asked, as the window asks it, to plan jobs of 58 and of 500 parts, and
to stop at several moments of the run. Printed are the seconds from the word to stop to the
line that says the run is done; the best plan has come before that. Asked for: 0.2 s.
"""

import argparse
import contextlib
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from typing import NamedTuple

from shared.job import Job
from shared.saw import verify
from solver.budget.stop import Budget
from solver.line import surroundings
from solver.planning.compiling import cache_folder, fill
from solver.wire import (
    ANSWERS,
    REQUESTS,
    Answer,
    BetterAnswer,
    DoneAnswer,
    PlanRequest,
    ProgressAnswer,
    StopRequest,
)
from tests.benchmarks.furniture import furniture

PARTS = (58, 500)
PATIENCE_S = 30.0
"""As in the window; so rounds are short, and every phase is met early."""
MOMENTS_S = (0.0, 0.1, 0.5, 0.8, 1.1, 2.0, 3.5, 4.0, 4.5, 5.0, 5.4, 9.5, 10.5, 11.5)
"""Seconds of the run after which the word comes; most are moments of a proof."""
ASKED_S = 0.2
WARM_S = 20.0
"""Time of a first run that nobody measures; it loads all there is to load."""


class Stopped(NamedTuple):
    """One stop: when it came, in which phase, how long it took, and whether a plan stood."""

    moment_s: float
    phase: str
    took_s: float
    sound: bool


class Line:
    """A worker, and its answers with the time at which each was read."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "solver"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=surroundings(),
        )
        self.heard: list[tuple[float, Answer]] = []
        self._news = threading.Condition()
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            at = time.monotonic()
            with self._news:
                self.heard.append((at, ANSWERS.decode(line)))
                self._news.notify_all()

    def send(self, request: PlanRequest | StopRequest) -> float:
        """Send a request; return when it was sent."""
        assert self.process.stdin is not None
        at = time.monotonic()
        self.process.stdin.write(REQUESTS.encode(request))
        self.process.stdin.flush()
        return at

    def wait(self, kind: type, run: int) -> float:
        """Wait for the first answer of that kind to that run; return when it was read."""

        def found() -> float | None:
            answers = (at for at, one in self.heard if isinstance(one, kind) and _run(one) == run)
            return next(answers, None)

        with self._news:
            self._news.wait_for(lambda: found() is not None)
            at = found()
        assert at is not None
        return at


def _run(answer: Answer) -> int:
    return int(getattr(answer, "run", -1))


@contextlib.contextmanager
def worker() -> Iterator[Line]:
    """Start a worker, and end it."""
    line = Line()
    try:
        yield line
    finally:
        line.process.kill()
        line.process.wait()


def stop_at(line: Line, run: int, job: Job, moment_s: float, limits: Budget) -> Stopped | None:
    """Let a job be planned for so long, and stop it; ``None`` if it ended before."""
    line.heard.clear()
    began = line.send(PlanRequest(run=run, job=job, limits=limits))
    first = line.wait(BetterAnswer, run)
    time.sleep(max(0.0, moment_s - (first - began)))
    if any(isinstance(one, DoneAnswer) for _, one in line.heard):
        return None
    asked = line.send(StopRequest(run=run))
    done = line.wait(DoneAnswer, run)
    phases = [str(one.event.phase) for _, one in line.heard if isinstance(one, ProgressAnswer)]
    plans = [one.event.plan for _, one in line.heard if isinstance(one, BetterAnswer)]
    sound = not verify(plans[-1]) and not plans[-1].unplaced
    return Stopped(moment_s, phases[-1] if phases else "first plan", done - asked, sound)


def measure(line: Line, job: Job, limits: Budget, repeats: int, begin: int) -> list[Stopped]:
    """Stop a job at every moment, so many times."""
    moments = [moment for _ in range(repeats) for moment in MOMENTS_S]
    stops = (stop_at(line, begin + n, job, moment, limits) for n, moment in enumerate(moments))
    return [stop for stop in stops if stop is not None]


def tell(stops: list[Stopped], parts: int) -> bool:
    """Print the stops of a job; return whether each took no longer than asked for."""
    if not stops:
        print(f"{parts} parts: every run ended before it was stopped")
        return True
    for stop in stops:
        sound = "sound" if stop.sound else "NO SOUND PLAN"
        print(f"  after {stop.moment_s:5.1f} s, {stop.phase:12}  {stop.took_s:6.3f} s  {sound}")
    seconds = [stop.took_s for stop in stops]
    print(
        f"{parts} parts: {len(stops)} stops, median {statistics.median(seconds):.3f} s,"
        f" worst {max(seconds):.3f} s (asked for: {ASKED_S} s)",
        flush=True,
    )
    return max(seconds) <= ASKED_S and all(stop.sound for stop in stops)


def main() -> int:
    """Measure and print; 0 if no stop took longer than asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.stopping")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    parser.add_argument("--repeats", type=int, default=1, metavar="N")
    parser.add_argument("--parts", type=int, nargs="+", default=PARTS, metavar="N")
    asked = parser.parse_args()
    limits = Budget(time_s=None, patience_s=PATIENCE_S, workers=asked.workers)
    within = True
    fill(cache_folder())
    with worker() as line:
        line.send(PlanRequest(run=0, job=furniture(58), limits=limits))
        time.sleep(WARM_S)
        line.send(StopRequest(run=0))
        line.wait(DoneAnswer, 0)
        for number, parts in enumerate(asked.parts, 1):
            stops = measure(line, furniture(parts), limits, asked.repeats, 1_000 * number)
            within &= tell(stops, parts)
    return 0 if within else 1


if __name__ == "__main__":
    sys.exit(main())

"""Whether odd numbers make proofs slow: ``python -m tests.benchmarks.exotic``.

[--folder DIR] [--most-parts 40] [--runs 3] [--time-limit 10] [--workers 2] [--only NAME ...]

Takes the workshop lists of up to 40 parts, whose sizes are round, and measures the time until
their stock is proven least; then the same lists

- with a kerf of 1.83 mm, as a thin blade measures;
- with sizes as a board gives them that measures 0.703 in where 3/4 in (18 mm on metric lists)
  was nominal: what stands between two boards is longer by twice the difference (every second
  row, in its length), what meets one board is wider by it once (every third row, in its
  width). A part that would not fit its sheet any more is left as it is.

Both take sizes apart in the smallest units: the common divisor falls to a few ticks. Every
list is run several times with other seeds; what counts is the median. A run that ends without
proof counts its whole limit, and is told. The last line gives the median of all ratios.
"""

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import NamedTuple

from shared.job import Job
from shared.lengths import INCH, MM, Length
from shared.parts import Part
from solver.budget.stop import Budget, Stop
from solver.outcome import Better, Event
from solver.planning.steps import KERNEL, SOLVER
from solver.planning.worker_pool import WorkerPool
from solver.prepare.instances import prepare
from solver.run import run
from tests.benchmarks.neutral import Benchmark, load_folder

WORKSHOP = Path(__file__).parent / "workshop"
THIN_KERF: Length = 183 * MM // 100
MEASURED: Length = 703 * INCH // 1000


class Timing(NamedTuple):
    """Median seconds to the proof, how many runs proved, and ticks of the common divisor."""

    seconds: float
    proofs: int
    unit: int


def thin_kerf(job: Job) -> Job:
    """Return the job with a thin blade's measured kerf."""
    return replace(job, shop=replace(job.shop, kerf=THIN_KERF))


def measured_board(job: Job) -> Job:
    """Return the job with the sizes that a measured thickness gives."""
    thinner = _nominal(job) - MEASURED
    rows = [_shifted(job, number, part, thinner) for number, part in enumerate(job.parts, 1)]
    return replace(job, parts=tuple(rows))


def _nominal(job: Job) -> Length:
    """Return the nominal thickness: 3/4 in where the sheet is whole inches, else 18 mm."""
    return 3 * INCH // 4 if job.stock[0].length % INCH == 0 else 18 * MM


def _shifted(job: Job, number: int, part: Part, thinner: Length) -> Part:
    longer = replace(
        part,
        length=part.length + (2 * thinner if number % 2 == 0 else 0),
        width=part.width + (thinner if number % 3 == 0 else 0),
    )
    fits = not prepare(replace(job, parts=(longer,))).unplaced
    return longer if fits else part


def timed(job: Job, limits: Budget, runs: int, pool: WorkerPool) -> Timing:
    """Run a job several times, each until its stock is proven or the time is over."""
    seconds = [_to_proof(job, replace(limits, seed=seed), pool) for seed in range(runs)]
    (instance,) = prepare(job).instances
    proven = [one for one in seconds if one is not None]
    limit = limits.time_s or 0.0
    return Timing(median(limit if s is None else s for s in seconds), len(proven), instance.unit)


def _to_proof(job: Job, limits: Budget, pool: WorkerPool) -> float | None:
    """Return the seconds to the first proven plan."""
    stop, proven = Stop(), list[float]()

    def say(event: Event) -> None:
        if isinstance(event, Better) and event.plan.proof.proven:
            proven.append(event.elapsed_s)
            stop.ask()

    run(job, limits, say, pool=pool, stop=stop)
    return proven[0] if proven else None


CHANGES: dict[str, Callable[[Job], Job]] = {"kerf 1.83": thin_kerf, "board 0.703": measured_board}


def measured(
    lists: Sequence[Benchmark], limits: Budget, runs: int
) -> Iterator[tuple[Benchmark, Timing, list[Timing]]]:
    """Yield each list with its timing as it is, and with each change."""
    KERNEL.wait()
    SOLVER.wait()
    with WorkerPool(limits.workers - 1) as pool:
        pool.wait_warm()
        for benchmark in lists:
            as_it_is = timed(benchmark.job, limits, runs, pool)
            jobs = [change(benchmark.job) for change in CHANGES.values()]
            yield benchmark, as_it_is, [timed(job, limits, runs, pool) for job in jobs]


def line(benchmark: Benchmark, as_it_is: Timing, changed: list[Timing], runs: int) -> str:
    """Return one line of the table."""
    said = [f"{benchmark.name:8} {parts_of(benchmark.job):3} parts  round {_say(as_it_is, runs)}"]
    for name, timing in zip(CHANGES, changed, strict=True):
        said.append(f"{name} {_say(timing, runs)} ratio {timing.seconds / as_it_is.seconds:.2f}")
    return "  ".join(said)


def _say(timing: Timing, runs: int) -> str:
    unproven = "" if timing.proofs == runs else f", {timing.proofs} of {runs} proven"
    return f"{timing.seconds:.3f} s (unit {timing.unit}{unproven})"


def parts_of(job: Job) -> int:
    """Return how many copies a job needs."""
    return sum(part.copies for part in job.parts)


def arguments(words: list[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.exotic")
    parser.add_argument("--folder", type=Path, default=WORKSHOP)
    parser.add_argument("--most-parts", type=int, default=40, metavar="N")
    parser.add_argument("--runs", type=int, default=3, metavar="N")
    parser.add_argument("--time-limit", type=float, default=10.0, metavar="S")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    parser.add_argument("--only", nargs="*", metavar="NAME")
    return parser.parse_args(words)


def main(words: list[str] | None = None) -> int:
    """Measure; 0 if there was anything to measure, else 2."""
    asked = arguments(words)
    found = [b for b in load_folder(asked.folder) if parts_of(b.job) <= asked.most_parts]
    lists = [b for b in found if not asked.only or b.name in asked.only]
    if not lists:
        print("There are no such lists.", file=sys.stderr)
        return 2
    limits = Budget(time_s=asked.time_limit, workers=asked.workers)
    ratios: dict[str, list[float]] = {name: [] for name in CHANGES}
    for benchmark, as_it_is, changed in measured(lists, limits, asked.runs):
        print(line(benchmark, as_it_is, changed, asked.runs), flush=True)
        for name, timing in zip(CHANGES, changed, strict=True):
            ratios[name].append(timing.seconds / as_it_is.seconds)
    said = ", ".join(f"{name} {median(found):.2f}" for name, found in ratios.items())
    print(f"{len(lists)} lists of up to {asked.most_parts} parts; median ratios: {said}")
    return 0


if __name__ == "__main__":
    sys.exit(main())

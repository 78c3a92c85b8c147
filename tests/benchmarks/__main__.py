"""Plan every neutral instance of a folder, and print how good and how fast that was.

python -m tests.benchmarks FOLDER [--time-limit 10 | --work N] [--workers 2] [--seed 0]
                                  [--plans DIR] [--json FILE] [--only oriented|turning]

With ``--work N`` the work is counted, so many tries a step, by one process: the same version
makes the same plans, whatever else the machine does. Each line then ends with a digest of the
plan, so that two versions can be compared line by line; seconds say nothing there.

Each plan is written, read back, and sawn again from the file's text alone: that is what
``sound`` says. ``seconds_first`` is the time to the first plan, ``seconds_last`` to the
last one that took fewer sheets or less sawing. The compiled search is made ready before
the clock starts, as in the window's warm worker.
"""

import argparse
import hashlib
import json
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import read_plan, save_plan
from shared.pace import LayoutPace
from shared.plan import Plan
from shared.saw import verify
from solver.budget.statistics import Statistics
from solver.budget.stop import Budget
from solver.outcome import Better, Done, Event
from solver.planning.steps import KERNEL, SOLVER
from solver.planning.worker_pool import WorkerPool
from solver.run import run
from tests.benchmarks.neutral import (
    CUT_S,
    SETUP_S,
    Benchmark,
    in_usual_shop,
    in_whole_usual_shop,
    load,
    targets,
)

SHOPS: dict[str, Callable[[Benchmark], Benchmark]] = {
    "any": lambda benchmark: benchmark,
    "usual": in_usual_shop,
    "whole": in_whole_usual_shop,
}
DIGITS = 16
"""Of a digest: enough to tell plans apart, and to be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What came of one instance."""

    name: str
    variant: str
    sheets: int
    bound: int
    proven: bool
    cuts: int
    least_cuts: int
    setups: int
    seconds_first: float
    seconds_last: float
    sound: bool
    digest: str
    """Of the plan's file, to the byte."""
    statistics: Statistics | None


class Clock:
    """Hears the events of a run: when plans came that are better as plans, and statistics."""

    def __init__(self) -> None:
        self.first_s = 0.0
        self.last_s = 0.0
        self.statistics: Statistics | None = None
        self._least: tuple[int, int, int] | None = None

    def __call__(self, event: Event) -> None:
        """Note the time of a plan that is better than the ones before, and how the run ended."""
        if isinstance(event, Done):
            self.statistics = event.statistics
        if not isinstance(event, Better):
            return
        worth = weighed(event.plan)
        if self._least is None:
            self.first_s = event.elapsed_s
        if self._least is None or worth < self._least:
            self._least, self.last_s = worth, event.elapsed_s


def setups(plan: Plan) -> int:
    """Count distinct pairs of level and size sawn off."""
    return len({(cut.level, cut.size) for cut in plan.cuts})


def weighed(plan: Plan) -> tuple[int, int, int]:
    """Return parts on no sheet, sheets, and seconds of sawing; less is better."""
    left = sum(missing.copies for missing in plan.unplaced)
    seconds = CUT_S * len(plan.cuts) + SETUP_S * setups(plan)
    return left, len(plan.sheets), seconds


def plan_one(benchmark: Benchmark, limits: Budget, pool: WorkerPool, folder: Path) -> Row:
    """Plan an instance, write its plan, and saw it again from there."""
    clock = Clock()
    plan = run(benchmark.job, limits, clock, pool=pool)
    assert plan is not None
    file = folder / f"{label(benchmark)}.json"
    save_plan(file, plan)
    again = read_plan(file)
    return Row(
        name=benchmark.name,
        variant=benchmark.variant,
        sheets=len(again.sheets),
        bound=again.proof.bound,
        proven=again.proof.proven,
        cuts=len(again.cuts),
        least_cuts=again.proof.least_cuts,
        setups=setups(again),
        seconds_first=round(clock.first_s, 4),
        seconds_last=round(clock.last_s, 3),
        sound=not verify(again, benchmark.job.shop) and not again.unplaced,
        digest=hashlib.sha256(file.read_bytes()).hexdigest()[:DIGITS],
        statistics=clock.statistics,
    )


def label(benchmark: Benchmark) -> str:
    """Return the name of an instance with its variant."""
    return "-".join(word for word in (benchmark.name, benchmark.variant) if word)


def instances(folder: Path, only: str | None) -> Iterator[tuple[Benchmark, int | None]]:
    """Yield the instances of a folder with their published sheet counts, if any."""
    for path in sorted(folder.glob("*.json")):
        published = targets(path)
        for benchmark in load(path):
            if only is None or benchmark.variant in ("", only):
                yield benchmark, published.get(benchmark.variant)


def line(row: Row, target: int | None, limits: Budget) -> str:
    """Return one line of the table; without seconds where work is counted."""
    proof = "proven" if row.proven else f">= {row.bound}"
    least = f">= {row.least_cuts}" if row.least_cuts else ""
    goal = "" if target is None else f"  target {target} {'met' if row.sheets <= target else '-'}"
    name = "-".join(word for word in (row.name, row.variant) if word)
    first, last = f"first {row.seconds_first:7.4f} s", f"last {row.seconds_last:6.2f} s"
    measured = f"{first}  {last}" if limits.work is None else row.digest
    return (
        f"{name:24} {row.sheets:4} sheets {proof:7} {row.cuts:5} cuts {least:8}"
        f" {row.setups:4} set-ups  {measured}  {'sound' if row.sound else 'UNSOUND'}{goal}"
    )


def totals(rows: list[Row], known: list[int | None], limits: Budget) -> Iterator[str]:
    """Yield the last lines of the table; without seconds where work is counted."""
    slowest = max((row.seconds_first for row in rows), default=0.0)
    yield (
        f"{len(rows)} plans: {sum(r.sheets for r in rows)} sheets, bounds"
        f" {sum(r.bound for r in rows)}, {sum(r.proven for r in rows)} proven,"
        f" {sum(r.cuts for r in rows)} cuts (>= {sum(r.least_cuts for r in rows)} of"
        f" {sum(r.cuts for r in rows if r.least_cuts)} where a bound is known),"
        f" {sum(r.setups for r in rows)} set-ups,"
        f" {sum(r.sound for r in rows)} sound"
        + (f"; slowest first plan {slowest:.4f} s" if limits.work is None else "")
    )
    published = [(row, goal) for row, goal in zip(rows, known, strict=True) if goal is not None]
    if published:
        met = [row for row, goal in published if row.sheets <= goal]
        yield (
            f"{len(met)} of {len(published)} published sheet counts met"
            f" ({sum(row.proven for row in met)} of these proven)"
        )


def run_all(
    found: Iterable[tuple[Benchmark, int | None]], limits: Budget, plans: Path
) -> list[Row]:
    """Plan all instances and print a line for each, then the totals."""
    rows: list[Row] = []
    known: list[int | None] = []
    with WorkerPool(limits.workers - 1) as pool:
        pool.wait_warm()
        for benchmark, target in found:
            rows.append(plan_one(benchmark, limits, pool, plans))
            known.append(target)
            print(line(rows[-1], target, limits), flush=True)
    for said in totals(rows, known, limits):
        print(said)
    return rows


def arguments(words: list[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks")
    parser.add_argument("folder", type=Path)
    most = parser.add_mutually_exclusive_group()
    most.add_argument("--time-limit", type=float, default=10.0, metavar="S")
    most.add_argument("--work", type=int, metavar="N", help="count tries a step, in one process")
    parser.add_argument("--workers", type=int, default=2, metavar="N")
    parser.add_argument("--seed", type=int, default=0, metavar="N")
    parser.add_argument("--plans", type=Path, metavar="DIR")
    parser.add_argument("--json", type=Path, metavar="FILE")
    parser.add_argument("--only", choices=("oriented", "turning"))
    parser.add_argument(
        "--shop",
        choices=SHOPS,
        default="any",
        help="whose limits every cut keeps; whole: whose pace sawing is weighed by, too",
    )
    return parser.parse_args(words)


def limits_of(asked: argparse.Namespace) -> Budget:
    """Return how long, or how much, an instance is worked on."""
    if asked.work is not None:
        return Budget(time_s=None, work=asked.work, seed=asked.seed)
    return Budget(time_s=asked.time_limit, workers=asked.workers, seed=asked.seed)


def main(words: list[str] | None = None) -> int:
    """Run the benchmark; 0 if every plan is sound, 1 if one is not, 2 if nothing could run."""
    asked = arguments(words)
    found = list(instances(asked.folder, asked.only))
    found = [(SHOPS[asked.shop](benchmark), target) for benchmark, target in found]
    if not found:
        print(f"{asked.folder}: there are no instances here.", file=sys.stderr)
        return 2
    limits = limits_of(asked)
    most = f"{asked.time_limit:g} s" if limits.work is None else f"{limits.work} tries a step"
    print(f"{most} an instance, {limits.workers} workers, seed {limits.seed};", end=" ")
    pace = LayoutPace.of(found[0][0].job.shop)
    print(f"weights {pace.cut_s} s a cut, {pace.setup_s} s a set-up, {pace.skim_s} s more a skim")
    KERNEL.wait()
    SOLVER.wait()
    with tempfile.TemporaryDirectory() as kept:
        plans = asked.plans or Path(kept)
        try:
            atomic.make_folder(plans)
            rows = run_all(found, limits, plans)
            if asked.json is not None:
                atomic.save(
                    asked.json, json.dumps([asdict(row) for row in rows], indent=1).encode()
                )
        except FileProblem as problem:
            print(problem, file=sys.stderr)
            return 2
    return 0 if all(row.sound for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main())

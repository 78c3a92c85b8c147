"""Put the cuts of given plans in order, in all three modes; print how good and how fast that was.

python -m tests.benchmarks.sequencing INSTANCES PLANS [--time-limit 10] [--loose 12] [--old FOLDER]
    [--mode BY_SHEET]

``PLANS`` is what ``python -m tests.benchmarks INSTANCES --plans PLANS`` wrote; they are sawn in the
usual shop, with the saw of their instance. Seconds are those that hang on the order: set-ups,
measuring, rails and lifting, from the records of the cuts in it. ``old`` are those of a plan in
``--old``, NAME.MODE.json, ``quick`` of the first order, ``end`` of the last, ``least`` of any
order, as far as that is proven; walking as little as can be, only once the order is the best.
Each order is sawn by the simulated saw.
"""

import argparse
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from layout_app.store.plan_file import read_plan
from shared.asked import CutsToOrder
from shared.cuts.sequence import saw_up
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import sheets_of
from shared.making.lifting import Moved
from shared.making.recording import records
from shared.making.timing import Seconds, worked
from shared.plan import Plan
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import Ordered
from tests.benchmarks.neutral import load

LIFTS = {Moved.LAID, Moved.TURNED}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What came of one plan in one mode; seconds are those that hang on the order."""

    name: str
    mode: SawingOrder
    cuts: int
    changes: int
    lifts: int
    old: int | None
    quick: int
    end: int
    least: int | None
    first_s: float
    best_s: float
    last_s: float
    sound: bool

    @property
    def proven(self) -> bool:
        """Whether no order takes less."""
        return self.least is not None and self.end <= self.least

    @property
    def near(self) -> bool:
        """Whether that is proven, or within 5 % of what is proven."""
        return self.least is not None and 100 * self.end <= 105 * self.least


def hanging(seconds: Seconds) -> int:
    """Return the seconds that hang on the order of the cuts."""
    return seconds.setting + seconds.measuring + seconds.rails + seconds.lifting


def order_one(name: str, job: Job, plan: Plan, seconds: float, old: Plan | None) -> Row:
    """Put the cuts of one plan in order and saw them."""
    began = time.monotonic()
    stop = Stop().within(seconds)
    orders = put_in_order(CutsToOrder(job=job, sheets=sheets_of(plan)), stop)
    quick = best = next(orders)
    first = better = time.monotonic() - began
    for found in orders:
        if found.seconds < best.seconds or found.order != best.order:
            better = time.monotonic() - began
        best = found
    last = time.monotonic() - began
    sawn = saw_up(job, best.sheets, plan.proof, plan.unplaced, order=best.order)
    took = worked(sawn, job.shop).seconds
    rest = took.total - hanging(took)
    return Row(
        name=name,
        mode=job.shop.sawing,
        cuts=len(sawn.cuts),
        changes=tally(sawn, job.shop).setup_changes,
        lifts=sum(one.moved in LIFTS for one in records((sawn,), job.shop)),
        old=None if old is None else hanging(worked(old, job.shop).seconds),
        quick=_hanging(job, quick),
        end=took.total - rest,
        least=None if best.least_s < 0 else best.least_s - rest,
        first_s=first,
        best_s=better,
        last_s=last,
        sound=not verify(sawn) and len(sawn.cuts) == len(best.order),
    )


def _hanging(job: Job, found: Ordered) -> int:
    return hanging(worked(saw_up(job, found.sheets, order=found.order), job.shop).seconds)


def rows(asked: argparse.Namespace, modes: list[SawingOrder]) -> Iterator[Row]:
    """Yield a row for each plan and mode."""
    plans, old = asked.plans, asked.old
    for path in sorted(asked.instances.glob("*.json")):
        for benchmark in load(path):
            name = "-".join(word for word in (benchmark.name, benchmark.variant) if word)
            if not (plans / f"{name}.json").exists():
                continue
            saw, plan = benchmark.job.shop, read_plan(plans / f"{name}.json")
            for mode in modes:
                shop = replace(
                    USUAL_SHOP, kerf=saw.kerf, tool=saw.tool, loose=asked.loose, sawing=mode
                )
                before = None if old is None else old / f"{name}.{mode.name}.json"
                old_plan = read_plan(before) if before is not None and before.exists() else None
                yield order_one(
                    name, replace(benchmark.job, shop=shop), plan, asked.time_limit, old_plan
                )


def main(words: list[str] | None = None) -> int:
    """Run; 1 if an order is not sound."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.sequencing")
    parser.add_argument("instances", type=Path)
    parser.add_argument("plans", type=Path)
    parser.add_argument("--time-limit", type=float, default=10.0, metavar="S")
    parser.add_argument("--loose", type=int, default=12, metavar="N")
    parser.add_argument("--old", type=Path, metavar="FOLDER", help="plans in orders to compare")
    parser.add_argument("--mode", choices=[mode.name for mode in SawingOrder], help="only this")
    asked = parser.parse_args(words)
    modes = [mode for mode in SawingOrder if asked.mode in {None, mode.name}]
    found: list[Row] = []
    for row in rows(asked, modes):
        found.append(row)
        print(_line(row), flush=True)
    for mode in modes:
        print(_summary(mode, [row for row in found if row.mode is mode]))
    return 0 if all(row.sound for row in found) else 1


def _line(row: Row) -> str:
    how = "proven" if row.proven else "near" if row.near else "FAR"
    return (
        f"{row.name:10} {row.mode:13} {row.cuts:4} cuts  old {_or_dash(row.old)}"
        f"  quick {row.quick:5}  end {row.end:5}  least {_or_dash(row.least)} {how:6}"
        f" {row.changes:4} changes {row.lifts:4} lifts"
        f"  first {row.first_s:6.3f} s  best {row.best_s:6.2f} s  last {row.last_s:6.2f} s"
        f"  {'sound' if row.sound else 'UNSOUND'}"
    )


def _or_dash(seconds: int | None) -> str:
    return f"{'-' if seconds is None else seconds:>5}"


def _summary(mode: SawingOrder, mine: list[Row]) -> str:
    """Return the sums of a mode; old orders are held against the ends of the same plans."""
    ends = sum(row.end for row in mine if row.old is not None)
    old = sum(row.old for row in mine if row.old is not None)
    less = f" ({100 - 100 * ends / old:.1f} % less than the old {old})" if old else ""
    return (
        f"{mode}: {len(mine)} plans, {sum(row.cuts for row in mine)} cuts,"
        f" quick {sum(row.quick for row in mine)} s, end {sum(row.end for row in mine)} s{less},"
        f" better than quick on {sum(row.end < row.quick for row in mine)},"
        f" worse on {sum(row.end > row.quick for row in mine)};"
        f" {sum(row.proven for row in mine)} proven,"
        f" {sum(row.near for row in mine)} proven or within 5 %;"
        f" slowest first {max((row.first_s for row in mine), default=0.0):.3f} s"
    )


if __name__ == "__main__":
    sys.exit(main())

"""Put the cuts of given plans in order, in both modes, and print how good and how fast that was.

python -m tests.benchmarks.sequencing INSTANCES PLANS [--time-limit 10] [--loose 12]

``PLANS`` is what ``python -m tests.benchmarks INSTANCES --plans PLANS`` wrote. Each order is
sawn by the simulated saw. ``first`` is the time to the first order, ``last`` to the end.
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
from shared.plan import Plan
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import Ordered
from tests.benchmarks.neutral import load


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What came of one plan in one mode."""

    name: str
    mode: SawingOrder
    cuts: int
    setups: int
    changes: int
    bound: int
    first_s: float
    last_s: float
    sound: bool

    @property
    def near(self) -> bool:
        """Whether the set-up changes are proven fewest, or within 5 % of what is proven."""
        return 100 * self.changes <= 105 * self.bound


def order_one(name: str, job: Job, plan: Plan, mode: SawingOrder, seconds: float) -> Row:
    """Put the cuts of one plan in order and saw them."""
    job = replace(job, shop=replace(job.shop, sawing=mode))
    began = time.monotonic()
    orders = put_in_order(CutsToOrder(job=job, sheets=sheets_of(plan)), Stop().within(seconds))
    best = next(orders)
    first = time.monotonic() - began
    best = [best, *orders][-1]
    sawn = saw_up(job, best.sheets, plan.proof, plan.unplaced, order=best.order)
    return Row(
        name=name,
        mode=mode,
        cuts=len(sawn.cuts),
        setups=tally(sawn, job.shop).setups,
        changes=tally(sawn, job.shop).setup_changes,
        bound=best.bound,
        first_s=first,
        last_s=time.monotonic() - began,
        sound=is_sound(sawn, best),
    )


def is_sound(plan: Plan, ordered: Ordered) -> bool:
    """Whether the simulated saw takes the plan, and it has the set-up changes it claims."""
    return not verify(plan) and len(plan.cuts) == len(ordered.order)


def rows(instances: Path, plans: Path, seconds: float, loose: int) -> Iterator[Row]:
    """Yield a row for each plan and mode."""
    for path in sorted(instances.glob("*.json")):
        for benchmark in load(path):
            file = plans / f"{'-'.join(w for w in (benchmark.name, benchmark.variant) if w)}.json"
            if not file.exists():
                continue
            job, plan = benchmark.job, read_plan(file)
            job = replace(job, shop=replace(job.shop, loose=loose))
            for mode in SawingOrder:
                yield order_one(file.stem, job, plan, mode, seconds)


def main(words: list[str] | None = None) -> int:
    """Run; 1 if an order is not sound."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.sequencing")
    parser.add_argument("instances", type=Path)
    parser.add_argument("plans", type=Path)
    parser.add_argument("--time-limit", type=float, default=10.0, metavar="S")
    parser.add_argument("--loose", type=int, default=12, metavar="N")
    asked = parser.parse_args(words)
    found: list[Row] = []
    for row in rows(asked.instances, asked.plans, asked.time_limit, asked.loose):
        found.append(row)
        print(
            f"{row.name:16} {row.mode:10} {row.cuts:4} cuts {row.setups:4} set-ups"
            f" {row.changes:4} changes >= {row.bound:4} {'near' if row.near else 'FAR'}"
            f"  first {row.first_s:6.3f} s  last {row.last_s:6.2f} s"
            f"  {'sound' if row.sound else 'UNSOUND'}",
            flush=True,
        )
    for mode in SawingOrder:
        mine = [row for row in found if row.mode is mode]
        print(
            f"{mode}: {len(mine)} plans, {sum(r.cuts for r in mine)} cuts,"
            f" {sum(r.setups for r in mine)} distinct set-ups,"
            f" {sum(r.changes for r in mine)} changes (>= {sum(r.bound for r in mine)}),"
            f" {sum(r.changes == r.bound for r in mine)} proven,"
            f" {sum(r.near for r in mine)} proven or within 5 %,"
            f" slowest first {max((r.first_s for r in mine), default=0.0):.3f} s"
        )
    return 0 if all(row.sound for row in found) else 1


if __name__ == "__main__":
    sys.exit(main())

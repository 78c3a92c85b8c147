"""What going round defects saves: ``python -m tests.benchmarks.defects``.

[--time-limit 8] [--without around|bands|anew]

Plans twenty lists of `tests.benchmarks.furniture` on sheets with defects, always the same ones:
on *lot* lists every sheet has the same one to three defects, on *own* lists up to six sheets of
one's own cost nothing and have some, three rows with defects of their own each, and sound sheets
can be bought for 60.00. Knots are 40 to 160 mm long and 40 to 120 mm wide, so are what is broken
off at a corner or an edge. ``--without`` leaves a part of the method out: all of it, so that each
sheet is used on one clear rectangle; the bands across the defects, so that only full strips
beside them are left; or the second arrangement, with one sheet less than the first one found.
Prints for each list sheets, cost and bound (hundredths on own lists), and minutes at the saw.
"""

import argparse
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from random import Random
from unittest.mock import patch

from shared.cuts.tally import tally
from shared.job import Job
from shared.lengths import MM
from shared.saw import verify
from shared.stock import NoGo
from solver.budget.stop import Budget
from solver.material import around
from solver.planning import detours
from solver.planning.steps import KERNEL, SOLVER
from solver.prepare.instances import Prepared
from solver.run import run
from solver.search.constructive import first
from solver.solutions.incumbent import Incumbent
from tests.benchmarks.furniture import furniture

LISTS = 20
SIZES = (12, 20, 30, 45, 60)
LENGTH, WIDTH = 2440, 1220
PRICE = 6000


def defects(rng: Random) -> tuple[NoGo, ...]:
    """Return one to three defects: knots, or what is broken off at a corner or an edge."""
    found = []
    for _ in range(rng.randint(1, 3)):
        kind = rng.choice(("knot", "knot", "corner", "edge"))
        length, width = rng.randint(40, 160), rng.randint(40, 120)
        if kind == "knot":
            x, y = rng.randint(150, LENGTH - 150 - length), rng.randint(100, WIDTH - 100 - width)
        elif kind == "corner":
            x, y = rng.choice((0, LENGTH - length)), rng.choice((0, WIDTH - width))
        else:
            x, y = rng.randint(100, LENGTH - 100 - length), rng.choice((0, WIDTH - width))
        found.append(NoGo(x=x * MM, y=y * MM, length=length * MM, width=width * MM))
    return tuple(found)


def lists() -> Iterator[Job]:
    """Yield the lists: lot and own by turns."""
    for seed in range(LISTS):
        job, rng = furniture(SIZES[seed // 2 % len(SIZES)], seed), Random(seed)
        (sheet,) = job.stock
        if seed % 2 == 0:
            yield replace(job, name=f"lot{seed}", stock=(replace(sheet, no_go=defects(rng)),))
            continue
        mine = (
            replace(sheet, id=f"b{n}", at_hand=rng.randint(1, 2), price=0, no_go=defects(rng))
            for n in range(3)
        )
        yield replace(job, name=f"own{seed}", stock=(*mine, replace(sheet, price=PRICE)))


def on_clear_rectangles(prepared: Prepared) -> list[Incumbent]:
    """Return incumbents that nobody arranges around defects."""
    return [Incumbent(instance, first(instance)) for instance in prepared.instances]


def line(job: Job, limits: Budget) -> tuple[str, bool]:
    """Plan a list; return what came of it, and whether the plan is sound."""
    plan = run(job, limits, lambda event: None)
    assert plan is not None
    counts, proof = tally(plan, job.shop), plan.proof
    sound = not verify(plan, job.shop) and not plan.unplaced
    return (
        f"{job.name:6} {sum(part.copies for part in job.parts):3} parts"
        f"  {counts.sheets:2} sheets  value {proof.value:5} bound {proof.bound:5}"
        f"  {counts.minutes:3} min  {'sound' if sound else 'UNSOUND'}",
        sound,
    )


def main(words: list[str] | None = None) -> int:
    """Plan every list; 0 if all plans are sound."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.defects")
    parser.add_argument("--time-limit", type=float, default=8.0, metavar="S")
    parser.add_argument("--without", choices=("around", "bands", "anew"))
    asked = parser.parse_args(words)
    KERNEL.wait()
    SOLVER.wait()
    with ExitStack() as less:
        if asked.without == "around":
            less.enter_context(patch("solver.run.incumbents_of", on_clear_rectangles))
        elif asked.without == "bands":
            less.enter_context(patch.object(around, "_cells", lambda *_: ()))
        elif asked.without == "anew":
            less.enter_context(patch.object(detours, "carried_back", lambda *_: None))
        sound = True
        for job in lists():
            told, is_sound = line(job, Budget(time_s=asked.time_limit))
            print(told, flush=True)
            sound &= is_sound
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())

"""Whether heavy boards are sawn near their middle first: ``python -m tests.soak.halving --n 200``.

Plans made-up jobs whose boards are heavier than one turns alone, and looks at each board's cuts of
the first level by themselves: the first after the trim should be the nearest to the middle, but for
those that are as near within a kerf and 2 mm, which a half may be wider. Prints each that is not,
and how many boards came apart into halves of several strips; `tests.soak.equal_parts` counts what
equal parts are only what remains.
"""

import argparse
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from random import Random

from layout_app.cli.check import wrong_trees
from shared.job import Job
from shared.lengths import MM, Length
from shared.plan import Cut, CutKind, Plan, PlanSheet
from shared.shop import CutRule, FirstCut
from solver.planning.steps import KERNEL, SOLVER
from tests.soak.equal_parts import Sawing, made, some_job

ALONE_G = (46_000, 46_000, 20_000)
"""What is turned alone; 20 kg want halves of halves."""


def heavy_job(seed: int) -> Job:
    """Return a made-up job on 25 mm MDF of 769 kg/m3 (makers' tables), 57 kg a board."""
    job, rng = some_job(seed), Random(seed)
    stock = replace(job.stock[0], thickness=25 * MM, density=769)
    first = rng.choice([FirstCut.RIP, FirstCut.RIP, FirstCut.CROSSCUT])
    shop = replace(job.shop, turn_g=rng.choice(ALONE_G))
    return replace(job, stock=(stock,), shop=shop, rule=CutRule(first=first))


def counted(plans: Iterable[tuple[str, Plan]]) -> Counter[str]:
    """Count boards, those whose first cut is nearest, and those in halves; print what is wrong."""
    count: Counter[str] = Counter()
    for name, plan in plans:
        count["plans"] += 1
        count["other trees"] += len(list(wrong_trees(plan)))
        count["equal parts with stock left"] += len(list(Sawing(plan).remaining(count)))
        for sheet in plan.sheets:
            cuts = [cut for cut in plan.cuts if cut.sheet == sheet.id]
            first = [cut for cut in cuts if cut.level == 1 and cut.kind is not CutKind.TRIM]
            if not first:
                continue
            count["boards"] += 1
            count["in halves"] += any(cut.piece != sheet.id for cut in first)
            off = [_off_middle(cut, sheet, first[0].rect.length == sheet.length) for cut in first]
            kerf = plan.shop.kerf if plan.shop is not None else 0
            nearest = off[0] <= min(off) + 2 * (kerf + 2 * MM)
            before = [cut for cut in cuts if cut.number < first[0].number]
            right = nearest and all(cut.kind is CutKind.TRIM for cut in before)
            count["nearest first"] += right
            if not right:
                print(f"{name}, sheet {sheet.id}: {[one // (2 * MM) for one in off]} mm off")
    return count


def _off_middle(cut: Cut, sheet: PlanSheet, rips: bool) -> Length:
    """Return twice how far the blade's middle is from that of the trimmed board."""
    rect, trims = cut.rect, sheet.trims
    if rips:
        return abs(2 * rect.y + rect.width - sheet.width - trims.near)
    return abs(2 * rect.x + rect.length - sheet.length - trims.start)


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description="Looks where heavy boards are sawn first.")
    parser.add_argument("--n", type=int, default=200)
    parser.add_argument("--first", type=int, default=0, metavar="SEED")
    parser.add_argument("--work", type=int, default=20, metavar="N")
    asked = parser.parse_args()
    KERNEL.wait()
    SOLVER.wait()
    jobs = map(heavy_job, range(asked.first, asked.first + asked.n))
    print(dict(counted(made(jobs, asked.work))))


if __name__ == "__main__":
    main()

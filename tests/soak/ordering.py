"""Orders of few cuts against the records of all orders: ``python -m tests.soak.ordering --n 2000``.

Draws sheets with up to eight cuts and a shop for each, saws them up in every order that the mode
allows, and takes the least of what the records say. Counts where that is what the search ends
with, where it is proven, and where a bound is above it. A line with ! is an error. With ``--tours
12``, orders of up to so many cuts against tours of a general program instead.
"""

import argparse
from collections import Counter
from collections.abc import Iterable, Iterator

from shared.asked import CutsToOrder
from solver.budget.stop import Stop
from solver.cut_order.least import least_of
from solver.cut_order.quick import quick
from solver.cut_order.rows import by_rows
from solver.cut_order.task import A_LIFT, Task, task_of
from tests.solver.cut_order.paced_cuts import Paced, paced_cuts
from tests.solver.cut_order.tours import least_seconds, some_cuts

Found = tuple[list[int], int]
"""An order and a bound."""
SECONDS = 30.0


def found_by_rows(task: Task, stop: Stop) -> Iterator[Found]:
    """Yield the quick order, then what comes of it."""
    given = quick(task, stop)
    yield given, 0
    yield from by_rows(task, given, stop.within(SECONDS))


def compare(seeds: Iterable[int], most: int, *, faces: bool = False) -> Counter[str]:
    """Compare jobs that have at most so many orders with all of these, and count."""
    count: Counter[str] = Counter()
    for seed in seeds:
        made = paced_cuts(seed, 8, faces=faces)
        orders = made.orders(most)
        if not orders or not task_of(made.asked).groups:
            count["left out"] += 1
            continue
        for fault in _compare(made, orders, count, faces):
            print(f"! {seed}: {fault}")
            count[f"! {fault}"] += 1
    return count


def _compare(
    made: Paced, orders: list[list[str]], count: Counter[str], faces: bool
) -> Iterator[str]:
    task = task_of(made.asked)
    number = {one.key: place for place, one in enumerate(task.problem.made)}
    records = [made.seconds(order).seconds.total for order in orders]
    worths = [task.worth(number[key] for key in order) for order in orders]
    seconds = [worth % A_LIFT if task.lift else worth for worth in worths]
    over = [record - its for record, its in zip(records, seconds, strict=True)]
    before = over[0]
    if not faces and any(one != before for one in over):
        yield "records and the clock differ"
    # Turning over is in the records alone; what was made before counts there as well.
    best = min(worths)
    *_, (order, bound) = found_by_rows(task, Stop())
    counts, least = task.worth(order), least_of(task, Stop())
    count["compared"] += 1
    count[f"in mode {made.job.shop.sawing}"] += 1
    count["proven"] += bound == counts
    count["found"] += counts == best
    count["least of any order met"] += least == best
    if bound > best:
        yield "a bound is above the best order"
    if least > best:
        yield "the least is above the best order"
    if counts < best:
        yield "an order is better than all"


def compare_tours(seeds: Iterable[int], most: int) -> Counter[str]:
    """Compare jobs of at most so many cuts with the tours of a general program, and count."""
    count: Counter[str] = Counter()
    for seed in seeds:
        made = some_cuts(seed, most)
        task = task_of(CutsToOrder(job=made.job, sheets=made.sheets))
        *_, (order, bound) = found_by_rows(task, Stop())
        least, counts = least_seconds(made.job, made.sheets), task.worth(order)
        agrees = bound == counts == least
        count["agree" if agrees else "differ"] += 1
        if not agrees:
            print(f"! {seed}: {made.cuts} cuts, {counts} s, at least {bound} s, tour {least} s")
    return count


def main() -> None:
    """Compare and print."""
    parser = argparse.ArgumentParser(description="Compares orders of few cuts with all orders.")
    parser.add_argument("--n", type=int, default=200)
    parser.add_argument("--first", type=int, default=0, metavar="SEED")
    parser.add_argument("--most", type=int, default=300, help="orders of a job")
    parser.add_argument("--tours", type=int, default=0, metavar="CUTS", help="compare with tours")
    parser.add_argument("--faces", action="store_true", help="draw parts whose face is shown")
    asked = parser.parse_args()
    seeds = range(asked.first, asked.first + asked.n)
    if asked.tours:
        print(dict(compare_tours(seeds, asked.tours)))
        return
    print(dict(compare(seeds, asked.most, faces=asked.faces)))


if __name__ == "__main__":
    main()

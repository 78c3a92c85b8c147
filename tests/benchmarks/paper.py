"""How quick paper is: ``python -m tests.benchmarks.paper [--parts 100] [--times 9]``.

A job of furniture parts is planned once, without search. Then, by the clock, the median of
several runs: the drawing of a sheet as SVG; all sheets; composing the pack; writing it as PDF.
Asked for: 2 s for the whole pack of 100 parts (composed, PDF, every SVG), 20 ms for the SVG of
a sheet.
"""

import argparse
import statistics
import time
from collections.abc import Callable
from typing import TypeVar

from layout_app.paper.all_sheets import job_page
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.rendering import pdf, with_fonts
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from layout_app.paper.wish import ExportWish
from shared.drawing import draw_sheet
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.furniture import furniture

WHOLE_S, SHEET_S = 2.0, 0.020
"""Asked for."""
T = TypeVar("T")


def clocked(work: Callable[[], T]) -> tuple[T, float]:
    """Return what work gives, and the seconds it took."""
    start = time.perf_counter()
    made = work()
    return made, time.perf_counter() - start


def planned(parts: int) -> Matter:
    """Return a job of so many parts with its first plan."""
    job = furniture(parts)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    if plan is None:
        raise RuntimeError("no plan")
    return matter_of(job, plan)


def sheet_seconds(matter: Matter) -> list[float]:
    """Return how long each sheet takes from the plan to the text of its SVG."""
    style, job, plan = matter.style, matter.job, matter.plan

    def made(sheet: str) -> str:
        return document(drawing_page(draw_sheet(plan, sheet, style), style, job))

    return [clocked(lambda sheet=one.id: made(sheet))[1] for one in plan.sheets]


def whole(matter: Matter, paper: Paper) -> dict[str, float]:
    """Return the seconds of each step of the whole pack."""
    job, plan, style = matter.job, matter.plan, matter.style
    fresh, drawn = clocked(lambda: matter_of(job, plan))
    pages, composed = clocked(lambda: pack_pages(fresh, ExportWish(paper=paper)))
    _, written = clocked(lambda: pdf(pages, job.name))
    _, sheets = clocked(lambda: [document(drawing_page(one, style, job)) for one in fresh.drawings])
    _, together = clocked(lambda: document(job_page(fresh.drawings, style, job)))
    steps = {"records": drawn, "pages": composed, "PDF": written}
    return steps | {"SVG of sheets": sheets, "SVG of the job": together}


def main() -> None:
    """Print medians and worst cases."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--parts", type=int, default=100)
    asked.add_argument("--times", type=int, default=9)
    wishes = asked.parse_args()
    with_fonts()
    matter = planned(wishes.parts)
    cuts, sheets = len(matter.plan.cuts), len(matter.plan.sheets)
    print(f"{wishes.parts} parts, {sheets} sheets, {cuts} cuts, {wishes.times} runs")
    for paper in Paper:
        runs = [whole(matter, paper) for _ in range(wishes.times)]
        steps = {name: statistics.median(one[name] for one in runs) for name in runs[0]}
        took = statistics.median(sum(one.values()) for one in runs)
        told = ", ".join(f"{name} {seconds:.3f}" for name, seconds in steps.items())
        print(f"{paper.name}: {took:.3f} s of {WHOLE_S} ({told})")
    each = [seconds for _ in range(wishes.times) for seconds in sheet_seconds(matter)]
    middle, most = 1000 * statistics.median(each), 1000 * max(each)
    print(f"SVG of a sheet: {middle:.1f} ms of {1000 * SHEET_S:.0f}, at most {most:.1f}")


if __name__ == "__main__":
    main()

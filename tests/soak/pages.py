"""How many pages a cut pack takes, and how full they are: ``python -m tests.soak.pages``.

Plans eight lists in the usual shop (``--lists N`` the first so many, ``--seconds S`` each), puts
them on A4 with their labels, and prints for each how many parts, cuts and pages there are, the
pages of each chapter with how full each is, and the pages under half full that are not the last
of their chapter. Full is what share of the height between head and foot anything stands beside.
"""

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path

from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import HEAD, MARGIN, Paper
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.wish import ExportWish
from layout_app.store.project_file import read_project
from shared.building import Build
from shared.job import Job
from shared.lengths import LengthStyle, Unit
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import in_whole_usual_shop, load
from tests.layout_app.paper.ink_spread import heights
from tests.soak.reading import LISTS

ASSETS = Path(__file__).parents[2] / "assets"
NAMED = {"shop05": 12, "shop03": 12, "shop26": 18, "shop15": 18, "shop12": 0, "shop07": 0}
"""Lists of 25, 27, 45, 48, 30 and 82 parts, and how many pages they may take; 0: not said."""
HALF = 0.5
STEP = 1.0
"""Full is counted in slices of so many mm."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A page: its chapter, and the share of its height that is used."""

    chapter: str
    full: float


def filled(page: ink.Page) -> Filled:
    """Say how full a page is, and to which chapter it belongs."""
    found = [one for one in page.items if isinstance(one, ink.Group) and one.name == "content"]
    top, bottom = MARGIN + HEAD, page.width - MARGIN
    used: set[int] = set()
    for low, high in heights(found or page.items):
        used.update(range(int(max(low, top) / STEP), int(min(high, bottom) / STEP) + 1))
    return Filled(chapter_of(page), min(1.0, len(used) * STEP / (bottom - top)))


def chapter_of(page: ink.Page) -> str:
    """Name the chapter of a page."""
    heading = page.title.rpartition(": ")[2]
    return "Sheets" if heading.startswith("Sheet") else heading


def thin(pages: Sequence[Filled]) -> list[int]:
    """Return the numbers of pages under half full that are not the last of their chapter."""
    following = [*(one.chapter for one in pages[1:]), ""]
    return [
        number
        for number, (one, after) in enumerate(zip(pages, following, strict=True), 1)
        if one.full < HALF and one.chapter == after
    ]


def jobs() -> Iterator[tuple[str, Job, Build]]:
    """Yield lists of the benchmark in the usual shop, and the projects that come along."""
    style = LengthStyle(unit=Unit.MM, decimals=1)
    for name in NAMED:
        job = in_whole_usual_shop(load(LISTS / f"{name}.json")[0]).job
        yield name, replace(job, style=style), Build()
    for path in sorted(ASSETS.glob("*.ripfirst.json")):
        project = read_project(path)
        yield path.name.partition(".")[0], project.job, project.build


def told(name: str, made: Matter, paper: Paper = Paper.A4) -> tuple[str, bool]:
    """Say what the pack of a plan takes; and whether that is too much."""
    pages = [filled(page) for page in pack_pages(made, ExportWish(paper=paper))]
    parts = sum(part.copies for part in made.job.parts)
    lines = [f"{name}: {parts} parts, {len(made.told)} cuts, {len(pages)} pages"]
    for chapter, of in groupby(pages, lambda one: one.chapter):
        shares = " ".join(f"{one.full:.0%}" for one in of)
        lines.append(f"  {chapter}: {len(shares.split())} ({shares})")
    most = NAMED.get(name) or len(pages)
    under = thin(pages)
    if under:
        lines.append(f"  under half full: {', '.join(map(str, under))}")
    return "\n".join(lines), len(pages) > most or bool(under)


def main() -> int:
    """Print all; returns 1 if any pack is too long or a page too empty."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lists", type=int, default=8)
    parser.add_argument("--seconds", type=float, default=4.0)
    arguments = parser.parse_args()
    bad = False
    for name, job, build in list(jobs())[: arguments.lists]:
        plan = run(job, Budget(time_s=arguments.seconds), lambda _: None)
        assert plan is not None
        lines, too_much = told(name, matter_of(job, plan, build=build))
        print(lines, flush=True)
        bad = bad or too_much
    return int(bad)


if __name__ == "__main__":
    raise SystemExit(main())

"""Read neutral benchmark instances (see README.md beside this file) as jobs.

One material and one stock row without price; no trims. Seconds per cut and set-up are the
benchmark's weights, four to one, and a skim costs nothing extra because it counts cuts.
"""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from shared.job import Job
from shared.lengths import INCH, MM
from shared.parts import GrainRule, Part
from shared.practice import USUAL_SHOP
from shared.shop import Shop
from shared.stock import SheetGrain, Stock

MATERIAL = "sheet"
TICKS = {"1": MM, "0.1 mm": MM // 10, "1/32 in": INCH // 32}
"""Ticks of one integer, by the unit's name; without a unit it is read as 1 mm."""

CUT_S, SETUP_S = 60, 15


class Benchmark(NamedTuple):
    """A job to plan: name of the instance, variant ("" for a workshop list), and the job."""

    name: str
    variant: str
    job: Job


def load(path: Path) -> list[Benchmark]:
    """Read one instance file: one benchmark, or one for each target of the literature."""
    data = json.loads(path.read_text("utf-8"))
    return [
        Benchmark(data["name"], variant, _job(data, variant))
        for variant in data.get("targets", {"": None})
    ]


def in_usual_shop(benchmark: Benchmark) -> Benchmark:
    """Return a benchmark with the limits of common practice; kerf and pace stay."""
    usual, job = USUAL_SHOP, benchmark.job
    shop = replace(
        job.shop,
        rails=usual.rails,
        overhang=usual.overhang,
        guide=usual.guide,
        carry=usual.carry,
        hold=usual.hold,
    )
    return benchmark._replace(job=replace(job, shop=shop))


def in_whole_usual_shop(benchmark: Benchmark) -> Benchmark:
    """Return a benchmark in the shop of common practice, its pace too; only the kerf stays."""
    job = benchmark.job
    shop = replace(USUAL_SHOP, tool=job.shop.tool, kerf=job.shop.kerf)
    return benchmark._replace(job=replace(job, shop=shop))


def load_folder(folder: Path) -> Iterator[Benchmark]:
    """Yield all benchmarks of a folder in order of file names."""
    for path in sorted(folder.glob("*.json")):
        yield from load(path)


def targets(path: Path) -> dict[str, int]:
    """Return the published sheet count of each variant; empty for a workshop list."""
    data = json.loads(path.read_text("utf-8"))
    return {variant: goal["sheets"] for variant, goal in data.get("targets", {}).items()}


def _job(data: dict[str, Any], variant: str) -> Job:
    tick = TICKS[data["unit"]]
    parts = tuple(
        _part(f"p{number}", row, tick, variant) for number, row in enumerate(data["parts"], 1)
    )
    shop = Shop(kerf=data["kerf"] * tick, cut_s=CUT_S, setup_s=SETUP_S, skim_s=0)
    return Job(name=data["name"], parts=parts, stock=(_stock(data["sheet"], tick),), shop=shop)


def _part(name: str, row: dict[str, Any], tick: int, variant: str) -> Part:
    return Part(
        id=name,
        name=name,
        copies=row["copies"],
        length=row["length"] * tick,
        width=row["width"] * tick,
        material=MATERIAL,
        grain_rule=GrainRule.EITHER if _may_turn(row, variant) else GrainRule.ALONG_LENGTH,
    )


def _may_turn(row: dict[str, Any], variant: str) -> bool:
    return bool(row["may_turn"]) if variant == "" else variant == "turning"


def _stock(sheet: dict[str, int], tick: int) -> Stock:
    return Stock(
        id="s1",
        name="sheet",
        material=MATERIAL,
        length=sheet["length"] * tick,
        width=sheet["width"] * tick,
        thickness=18 * MM,
        grain=SheetGrain.ALONG_L,
    )

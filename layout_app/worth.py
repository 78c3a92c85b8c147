"""How good a plan is, in the order of the goals, and what sawing it takes."""

from typing import NamedTuple

from shared.job import Job
from shared.plan import Offcut, Plan


class Worth(NamedTuple):
    """Compared from left to right; less is better.

    Copies on no sheet; price in hundredths; sheets, of the materials whose sheets all
    cost the same; seconds of sawing; and the largest keepable offcut in square ticks,
    negative.
    """

    unplaced: int
    price: int
    sheets: int
    seconds: int
    best_offcut: int


def worth(job: Job, plan: Plan) -> Worth:
    """Measure a plan of a job."""
    best = best_offcut(plan)
    return Worth(
        unplaced=sum(row.copies for row in plan.unplaced),
        price=sum(sheet.price for sheet in plan.sheets),
        sheets=sum(not _has_prices(job, sheet.material) for sheet in plan.sheets),
        seconds=seconds(job, plan),
        best_offcut=0 if best is None else -best.rect.area,
    )


def _has_prices(job: Job, material: str) -> bool:
    return len({row.price for row in job.stock if row.material == material}) > 1


def seconds(job: Job, plan: Plan) -> int:
    """Return the time of sawing at the shop's pace, in seconds."""
    shop = job.shop
    return shop.cut_s * len(plan.cuts) + shop.setup_s * setups(plan) + shop.skim_s * skims(plan)


def setups(plan: Plan) -> int:
    """Count the distinct set-ups of a plan."""
    return len({cut.setup for cut in plan.cuts})


def skims(plan: Plan) -> int:
    """Count the cuts in which the blade runs partly in air."""
    return sum(min(cut.length, cut.width) < cut.kerf for cut in plan.cuts)


def best_offcut(plan: Plan) -> Offcut | None:
    """Return the largest offcut worth keeping, if there is one."""
    keepers = (offcut for offcut in plan.offcuts if offcut.keep)
    return max(keepers, key=lambda offcut: offcut.rect.area, default=None)


def yield_share(plan: Plan) -> float:
    """Return the share of the sheets' area that becomes parts, 0 to 1."""
    stock = sum(sheet.rect.area for sheet in plan.sheets)
    return sum(one.rect.area for one in plan.placements) / stock if stock else 0.0

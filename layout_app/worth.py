"""How good a plan is, in the order of the goals."""

from typing import NamedTuple

from layout_app.wording import best_offcut
from shared.job import Job
from shared.plan import Plan
from shared.saw import beyond_limits
from solver.sequencing.tally import tally


class Worth(NamedTuple):
    """Compared from left to right; less is better.

    Cuts that the shop's limits forbid; copies on no sheet; price in hundredths; sheets, of
    the materials whose sheets all cost the same; seconds of sawing; and the largest keepable
    offcut in square ticks, negative.
    """

    beyond: int
    unplaced: int
    price: int
    sheets: int
    seconds: int
    best_offcut: int


def worth(job: Job, plan: Plan) -> Worth:
    """Measure a plan of a job."""
    best = best_offcut(plan)
    return Worth(
        beyond=sum(1 for _ in beyond_limits(plan, job.shop)),
        unplaced=sum(row.copies for row in plan.unplaced),
        price=sum(sheet.price for sheet in plan.sheets),
        sheets=sum(
            not sheet.piece and not _has_prices(job, sheet.material) for sheet in plan.sheets
        ),
        seconds=tally(plan, job.shop).seconds,
        best_offcut=0 if best is None else -best.rect.area,
    )


def _has_prices(job: Job, material: str) -> bool:
    rows = (row for row in job.stock if row.material == material and not row.is_piece)
    return len({row.price for row in rows}) > 1

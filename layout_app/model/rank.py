"""How good a plan is, in the order of the goals."""

from typing import NamedTuple

from layout_app.model.broken_sets import breaks
from layout_app.model.locks import Held
from layout_app.model.merge_plan import with_bounds
from layout_app.model.sawing import Sawn
from layout_app.model.words.wording import best_offcut
from shared.costs import Spent, costs_of, spent
from shared.cuts.tally import layout_seconds
from shared.job import Job
from shared.plan import Plan
from shared.progress import changed_in
from shared.saw import beyond_limits


class Worth(NamedTuple):
    """Compared from left to right; less is better.

    Cuts that the shop's limits forbid; copies on no sheet; what the sheets cost, and what is
    taken from the rack; sheets, of the materials whose sheets all cost the same; blocks of
    matched sets beyond the fewest there have to be; seconds of sawing as far as the layout decides
    them; and the largest keepable offcut in square ticks, negative.
    """

    beyond: int
    unplaced: int
    spent: Spent
    sheets: int
    breaks: int
    seconds: int
    best_offcut: int

    @property
    def before_sawing(self) -> tuple[int, int, Spent, int, int]:
        """All that is compared before the sawing is."""
        return self.beyond, self.unplaced, self.spent, self.sheets, self.breaks


def worth(job: Job, plan: Plan) -> Worth:
    """Measure a plan of a job."""
    best = best_offcut(plan)
    return Worth(
        beyond=sum(1 for _ in beyond_limits(plan, job.shop)),
        unplaced=sum(row.copies for row in plan.unplaced),
        spent=spent(job, (sheet.stock for sheet in plan.sheets)),
        sheets=sum(
            not sheet.piece and not _has_costs(job, sheet.material) for sheet in plan.sheets
        ),
        breaks=breaks(job, plan),
        seconds=layout_seconds(plan, job.shop),
        best_offcut=0 if best is None else -best.rect.area,
    )


def better_of(shown: Sawn, new: Sawn) -> Sawn:
    """Return what of a project and its new plan is shown: the old plan stays unless it is beaten.

    Then what was proven about the job stands beside it.
    """
    if beats(new, shown) or new.project.layout == shown.project.layout:
        return new
    return with_bounds(shown, new.project.proof)


def beats(new: Sawn, shown: Sawn) -> bool:
    """Say whether a plan may take the place of what is shown, and is better.

    It may not if it changes a cut that is made, or moves what is locked.
    """
    if new.plan is None or "" in new.problems or _lets_go(new, shown):
        return False
    made = shown.project.progress
    if changed_in(made, new.plan) is not None or new.project.progress.past != made.past:
        return False
    job = shown.project.job
    return shown.plan is None or worth(job, new.plan) < worth(job, shown.plan)


def _lets_go(new: Sawn, shown: Sawn) -> bool:
    """Say whether a plan moves what is locked."""
    in_force = Held(shown.project).in_force
    return bool(in_force) and not set(in_force) <= set(Held(new.project).in_force)


def _has_costs(job: Job, material: str) -> bool:
    """Whether the sheets of a material cost differently, so that their number decides nothing."""
    return len({*costs_of(job, material).each.values()}) > 1

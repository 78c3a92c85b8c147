"""Which sheets a change of one row leaves as they lie, and what is freed if that does not do."""

from collections.abc import Set
from dataclasses import dataclass, replace

from layout_app.model.project import Project
from layout_app.model.rank import worth
from layout_app.model.sawing import Sawn
from shared.costs import Spent
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Sparing:
    """A run that leaves sheets alone which a change did not touch.

    Attributes
    ----------
    sheets
        Ids of the sheets left alone.
    before
        The plan before the change: the new one is to take no more stock.
    job
        The job it was a plan of.
    widened
        Whether one sheet more than was touched is planned again already.
    """

    sheets: frozenset[str]
    before: Plan
    job: Job
    widened: bool = False

    def takes_more(self, job: Job, plan: Plan | None) -> bool:
        """Say whether a plan leaves more parts out than the one before, or takes more stock."""
        return plan is None or _stock(job, plan) > _stock(self.job, self.before)

    def leaves_out(self, job: Job, plan: Plan | None) -> bool:
        """Say whether a plan leaves more parts out than the one before."""
        return plan is None or worth(job, plan).unplaced > worth(self.job, self.before).unplaced

    def wider(self, project: Project) -> "Sparing | None":
        """Return it with the least filled sheet planned again too; ``None`` if none is left."""
        materials = _planned(project, self.sheets)
        free = [
            sheet
            for sheet in project.layout.sheets
            if sheet.id in self.sheets
            and not sheet.yours
            and sheet.id not in project.progress.sheets
            and project.job.stock_row(sheet.stock).material in materials
        ]
        if not free:
            return None
        least = min(free, key=lambda sheet: _filled(project.job, sheet))
        return replace(self, sheets=self.sheets - {least.id}, widened=True)


def untouched(
    before: Sawn,
    project: Project,
    under_way: Sparing | None,
    broken: Set[str] = frozenset(),
) -> Sparing | None:
    """Return what a change of a row leaves alone; ``None`` if there was no plan before it.

    ``under_way`` is what a run left alone that has not ended: what it planned is planned on.
    Sheets on which matched sets are ``broken`` that need not be are planned again. Once cuts
    are ticked a sheet from which nothing left stays as well.
    """
    if before.plan is None or before.problems:
        return None
    lay = {sheet.id: sheet for sheet in before.project.layout.sheets}
    begun = bool(project.progress.made)
    sheets = frozenset(
        sheet.id
        for sheet in project.layout.sheets
        if sheet.id in lay
        and sheet.id not in broken
        and sheet.tree is not None
        and _stays(lay[sheet.id], sheet, begun=begun)
    )
    if under_way is None:
        return Sparing(sheets=sheets, before=before.plan, job=before.project.job)
    return replace(under_way, sheets=sheets & under_way.sheets)


def is_settled(project: Project, sparing: Sparing) -> bool:
    """Say whether nothing is to be planned: all sheets are left alone, and all parts lie."""
    waits = any(not one.sent for one in project.layout.waiting)
    return not waits and {sheet.id for sheet in project.layout.sheets} <= sparing.sheets


def _stays(before: LayoutSheet, now: LayoutSheet, *, begun: bool) -> bool:
    if not begun:
        return before == now
    lay = {one.key for one in before.placements}
    return lay == {one.key for one in now.placements}


def _stock(job: Job, plan: Plan) -> tuple[int, Spent, int]:
    measured = worth(job, plan)
    return measured.unplaced, measured.spent, measured.sheets


def _planned(project: Project, left: frozenset[str]) -> set[str]:
    """Return the materials of which something is planned again."""
    job, layout = project.job, project.layout
    rows = (job.stock_row(sheet.stock) for sheet in layout.sheets if sheet.id not in left)
    parts = (job.part(one.part).material for one in layout.waiting if not one.sent)
    return {*(row.material for row in rows), *parts}


def _filled(job: Job, sheet: LayoutSheet) -> float:
    """Return which share of a sheet its parts take."""
    return sum(one.rect.area for one in sheet.placements) / job.stock_row(sheet.stock).whole.area

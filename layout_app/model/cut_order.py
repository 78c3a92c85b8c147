"""The order of the cuts: when it has to be looked for, and how it comes into the project."""

from dataclasses import replace

from layout_app.model.locks import asked
from layout_app.model.project import Project
from layout_app.model.sawing import order_of
from shared.asked import CutsToOrder
from shared.check import plannable
from shared.cuts.by_hand import borne_out
from shared.layout import Layout, LayoutSheet
from shared.parts import Copy
from solver.outcome import Ordered


def is_in_order(project: Project) -> bool:
    """Say whether the cuts of what lies there are in order, or there are none."""
    layout = project.layout
    return layout.sawing is project.job.shop.sawing or not _cuttable(project)


def _cuttable(project: Project) -> tuple[LayoutSheet, ...]:
    usable = {part.id for part in plannable(project.job).parts}
    return tuple(
        sheet
        for sheet in project.layout.sheets
        if sheet.tree is not None and all(one.part in usable for one in sheet.placements)
    )


def to_order(project: Project) -> CutsToOrder:
    """Return what is to be put in order; what is yours, held or begun stays where it lies."""
    around = asked(project)
    job, sheets = plannable(project.job), _cuttable(project)
    fixed = {sheet.id for sheet in (*around.kept, *around.held)}
    return CutsToOrder(
        job=job,
        sheets=sheets,
        fixed=frozenset(fixed),
        before=project.layout.before,
        made=order_of(job, sheets, project)[: len(project.progress.fixed)],
    )


def with_order(project: Project, ordered: Ordered) -> Project:
    """Return the project with its cuts in that order, and its strips as they are sawn off."""
    new = {sheet.id: sheet for sheet in ordered.sheets}
    layout = replace(
        project.layout,
        sheets=tuple(new.get(sheet.id, sheet) for sheet in project.layout.sheets),
        order=ordered.order,
        before=borne_out(project.layout.before, ordered.order),
        sawing=project.job.shop.sawing,
        least_s=ordered.least_s,
    )
    return replace(project, layout=layout)


def same_parts(one: Layout, other: Layout) -> bool:
    """Say whether two layouts have the same parts on the same sheets, wherever they lie there."""
    return _parts_by_sheet(one) == _parts_by_sheet(other)


def _parts_by_sheet(layout: Layout) -> dict[str, tuple[str, frozenset[Copy]]]:
    return {
        sheet.id: (sheet.stock, frozenset(one.key for one in sheet.placements))
        for sheet in layout.sheets
    }

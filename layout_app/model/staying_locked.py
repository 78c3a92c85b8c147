"""What of a sheet that can't be cut has to stay where it is, since it is locked."""

from layout_app.model.project import Project
from shared.cuts.sequence import layout_sheet
from shared.geometry import Rect
from shared.holding import frozen, frozen_areas, standing
from shared.layout import Hold, LayoutSheet, Scope
from shared.parts import Copy


class StayingLocked:
    """The locks of a sheet that were in force with its last cuts, and what they keep in place.

    While the sheet can't be cut they are not in force; they are again once it can be.
    """

    def __init__(self, project: Project, sheet_id: str) -> None:
        self._sheet = project.layout.sheet(sheet_id)
        self.copies: frozenset[Copy] = frozenset()
        self.areas: tuple[Rect, ...] = ()
        self._locks: tuple[Hold, ...] = ()
        if any(hold.sheet == sheet_id for hold in project.layout.holds):
            self._find(project)

    def are_kept(self, after: Project) -> bool:
        """Say whether all of them are in force in a project as it would be."""
        if not self._locks:
            return True
        in_force, _ = standing(after.job, after.layout)
        return set(self._locks) <= set(in_force)

    def _find(self, project: Project) -> None:
        job, sheet = project.job, self._sheet
        stock, kerf = job.stock_row(sheet.stock), job.shop.kerf
        mine = tuple(hold for hold in project.layout.holds if hold.sheet == sheet.id)
        lay = as_last_cut(project, sheet.id)
        if lay is None:
            self.copies = _named(mine, sheet)
            return
        in_force, _ = standing(job, project.layout.with_sheet(lay))
        still = set(sheet.placements)
        for hold in in_force:
            fast = frozen(lay, stock, kerf, [hold])
            if hold in mine and still.issuperset(fast):
                self._locks += (hold,)
                self.copies |= {one.key for one in fast}
                self.areas += frozen_areas(lay, stock, kerf, [hold])


def as_last_cut(project: Project, sheet_id: str) -> LayoutSheet | None:
    """Return a sheet as it lay with its last cuts; ``None`` where none are known."""
    sheet = project.layout.sheet(sheet_id)
    if sheet.known_cuts is None:
        return None
    stock, kerf = project.job.stock_row(sheet.stock), project.job.shop.kerf
    return layout_sheet(sheet.id, stock, kerf, sheet.known_cuts, yours=sheet.yours)


def _named(holds: tuple[Hold, ...], sheet: LayoutSheet) -> frozenset[Copy]:
    """Return what locks name where no cuts are known; all that lies there for the whole sheet."""
    if any(hold.scope is Scope.SHEET for hold in holds):
        return frozenset(one.key for one in sheet.placements)
    lying = {one.key: one for one in sheet.placements}
    return frozenset(
        hold.key
        for hold in holds
        if hold.key in lying and (hold.lies is None or hold.lies == lying[hold.key])
    )

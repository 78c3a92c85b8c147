"""Taking a repair of a sheet that can't be cut: one step, whatever it moves; and what it costs."""

from functools import cached_property

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.cost import Cost, Costing
from layout_app.model.merge_plan import with_layout
from layout_app.model.repairing import Repair, repaired
from layout_app.model.sawing import saw
from layout_app.model.staying_locked import as_last_cut


def repair_sheet(doc: Document, repair: Repair) -> bool:
    """Lay the parts of a sheet as a repair says, and set aside what it says, as one step."""
    if repair.sheet not in {one.id for one in doc.layout.sheets}:
        return False
    after = repaired(doc.project, repair)
    return doc.push(Edit(f"repair sheet {repair.sheet}", after, Consequence.PLAN_ON))


class RepairCosts:
    """What repairs of a sheet cost against the cuts it had before it could not be cut any more."""

    def __init__(self, doc: Document, sheet: str) -> None:
        self._project, self._sheet = doc.project, sheet

    def of(self, repair: Repair) -> Cost | None:
        """Return what a repair takes more than the last cuts did.

        ``None`` where other parts lay there then, or some are set aside: that is no comparison.
        """
        if self._costing is None or repair.aside:
            return None
        return self._costing.of(repaired(self._project, repair))

    @cached_property
    def _costing(self) -> Costing | None:
        last = as_last_cut(self._project, self._sheet)
        now = {one.key for one in self._project.layout.sheet(self._sheet).placements}
        if last is None or {one.key for one in last.placements} != now:
            return None
        layout = self._project.layout.with_sheet(last)
        sawn = saw(with_layout(self._project, layout))
        known = sawn.plan is not None and self._sheet in {one.id for one in sawn.plan.sheets}
        return Costing(sawn) if known else None

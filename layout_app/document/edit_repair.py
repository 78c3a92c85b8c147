"""Taking a repair of a sheet that can't be cut: one step, whatever it moves."""

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.repairing import Repair, repaired


def repair_sheet(doc: Document, repair: Repair) -> bool:
    """Lay the parts of a sheet as a repair says, and set aside what it says, as one step."""
    if repair.sheet not in {one.id for one in doc.layout.sheets}:
        return False
    after = repaired(doc.project, repair)
    return doc.push(Edit(f"repair sheet {repair.sheet}", after, Consequence.PLAN_ON))

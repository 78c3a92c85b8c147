"""Edits of the order of cuts: a cut earlier or later, and the planned order again.

Planning has nothing to do with them: what lies on which sheet stays the same.
"""

from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.merge_plan import with_layout
from layout_app.model.move_cut import Moving


def move_cut(doc: Document, number: int, to: int, moving: Moving | None = None) -> bool:
    """Give a cut another number, or say what stands in the way; the others keep their order.

    What it saws off changes place on its sheet with it.
    """
    if doc.plan is None or number == to or not doc.plan.has_cut(number):
        return False
    moving = moving or Moving(doc.project, doc.plan)
    if to not in moving.places(number):
        doc.said.emit(moving.why_not(number, to))
        return False
    when = "earlier" if to < number else "later"
    after = with_layout(doc.project, moving.moved(number, to))
    return doc.push(Edit(f"cut {number} {when}, as cut {to}", after, Consequence.NOTHING))


def restore_order(doc: Document) -> bool:
    """Forget what was set by hand of the order: it is looked for, because it is not known."""
    if not doc.layout.before:
        return False
    after = with_layout(doc.project, replace(doc.layout, before=(), sawing=None))
    return doc.push(Edit("restore the planned order", after, Consequence.NOTHING))

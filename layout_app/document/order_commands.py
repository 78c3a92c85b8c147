"""The maker's changes of the order of cuts: a cut earlier or later, and the planned order again."""

from dataclasses import replace

from layout_app.document.document import Consequence, Document
from layout_app.document.layout_commands import LayoutChange
from layout_app.model.move_cut import Moving
from layout_app.model.project import Project
from shared.job import Job
from shared.layout import Layout


class MoveCut(LayoutChange):
    """Make a cut earlier or later; what it saws off changes place on its sheet with it."""

    def __init__(self, document: Document, text: str, layout: Layout) -> None:
        super().__init__(document, text)
        self._layout = layout

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Take the new order."""
        del job, layout
        return self._layout

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Nothing is to be planned: what lies on which sheet is the same."""
        del before, after
        return Consequence.NOTHING


class RestoreOrder(LayoutChange):
    """Forget what was set by hand of the order."""

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Have the order looked for again."""
        del job
        return replace(layout, before=(), sawing=None)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Nothing is to be planned; the order is looked for because it is not known."""
        del before, after
        return Consequence.NOTHING


def move_cut(doc: Document, number: int, to: int, moving: Moving | None = None) -> bool:
    """Give a cut another number, or say what stands in the way; the others keep their order."""
    if doc.plan is None or number == to or not doc.plan.has_cut(number):
        return False
    moving = moving or Moving(doc.project, doc.plan)
    if to not in moving.places(number):
        doc.said.emit(moving.why_not(number, to))
        return False
    when = "earlier" if to < number else "later"
    return doc.push(MoveCut(doc, f"cut {number} {when}, as cut {to}", moving.moved(number, to)))


def restore_order(doc: Document) -> bool:
    """Take back what was set by hand of the order of cuts."""
    if not doc.layout.before:
        return False
    return doc.push(RestoreOrder(doc, "restore the planned order"))

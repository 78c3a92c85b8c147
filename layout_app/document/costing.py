"""What changes of a document cost, before they are made and after."""

from layout_app.document.document import Document
from layout_app.model.cost import Cost, Costing
from layout_app.model.project import Project


def cost_of(doc: Document, after: Project) -> Cost | None:
    """Return what a changed project takes more than what is shown; `Costing.of` says when none.

    What is known of the project that is shown is found out once for each of its states.
    """
    if not (_LAST and _LAST[0].sawn is doc.sawn):
        _LAST[:] = [Costing(doc.sawn)]
    return _LAST[0].of(after)


_LAST: list[Costing] = []

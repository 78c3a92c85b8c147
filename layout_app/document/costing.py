"""What changes of a document cost, before they are made and after."""

from layout_app.document.document import Document
from layout_app.model.cost import Cost, Costing
from layout_app.model.project import Project
from shared.layout import Layout


def cost_of(doc: Document, after: Project) -> Cost | None:
    """Return what a changed project takes more than what is shown; `Costing.of` says when none.

    What is known of the project that is shown is found out once for each of its states.
    """
    if not (_LAST and _LAST[0].sawn is doc.sawn):
        _LAST[:] = [Costing(doc.sawn)]
    return _LAST[0].of(after)


def note_told(after: Project) -> None:
    """Remember that it was said beside a part what this project takes more."""
    _TOLD[:] = [after.layout]


def was_told(after: Project) -> bool:
    """Say whether it was said of this very layout, as it lies now, before it was made."""
    return any(layout is after.layout for layout in _TOLD)


_LAST: list[Costing] = []
_TOLD: list[Layout] = []

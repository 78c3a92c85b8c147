"""A plan made by a test, taken as the planner's."""

from layout_app.document.document import Document
from layout_app.model.merge_plan import adopted
from layout_app.model.sawing import saw
from shared.plan import Plan


def adopt(document: Document, plan: Plan) -> None:
    """Let a plan of the current job replace the layout, as one that the worker sends does."""
    document.adopt(saw(adopted(document.project, plan)))

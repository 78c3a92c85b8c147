"""Holding and releasing as undo steps: nothing on the bench moves, planning goes around it."""

from collections.abc import Collection
from dataclasses import replace

from layout_app.document.commands import Change
from layout_app.document.document import Consequence, Document
from layout_app.model.locks import asked, with_holds, without_holds
from layout_app.model.merge_plan import after_hands
from layout_app.model.project import Project
from shared.layout import Hold


class HoldFast(Change):
    """Hold parts, strips or sheets."""

    def __init__(self, document: Document, text: str, holds: Collection[Hold]) -> None:
        super().__init__(document, text)
        self._holds = tuple(holds)

    def change(self, project: Project) -> Project:
        """Add the holds; a bound that was proven without them is still one."""
        return replace(project, layout=with_holds(project.layout, self._holds))

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Let planning that is under way start over around them."""
        return _unless_same(before, after, Consequence.PLAN_ON)


class LetGo(Change):
    """Release what is held."""

    def __init__(self, document: Document, text: str, holds: Collection[Hold]) -> None:
        super().__init__(document, text)
        self._holds = frozenset(holds)

    def change(self, project: Project) -> Project:
        """Take the holds away, and what was proven with them."""
        released = replace(project, layout=without_holds(project.layout, self._holds))
        return released if asked(project) == asked(released) else after_hands(released)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan again what is free now."""
        return _unless_same(before, after, Consequence.PLAN_ANEW)


def _unless_same(before: Project, after: Project, consequence: Consequence) -> Consequence:
    """Leave planning alone when it has to go around the same things as before."""
    return Consequence.NOTHING if asked(before) == asked(after) else consequence

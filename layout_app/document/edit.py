"""An edit: one change of the maker's, and the step on the undo stack that it becomes.

The plan belongs to the edit that caused it: undo brings back what was shown before, and redo what
was shown after, with every improvement that had come in, and neither asks the planner.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import Final, Protocol
from weakref import ref

from PySide6.QtGui import QUndoCommand

from layout_app.model.made_so import made_otherwise
from layout_app.model.progress_edits import other_saw, would_change
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw, with_progress
from shared.job import Job
from shared.progress import Progress

TICKED_SINCE: Final = (
    "Cuts were ticked since the rest was planned anew: untick them before you take it back."
)


class Consequence(Enum):
    """What a change of the maker's means for planning."""

    NOTHING = auto()
    """Only words changed; a run that is under way goes on."""
    PLAN_ANEW = auto()
    """The sheets that are not yours are planned again."""
    PLAN_TOUCHED = auto()
    """The sheets that the change touched are planned again, and no other that can stay."""
    PLAN_ON = auto()
    """A run that is under way starts over around what is yours now."""
    STOP = auto()
    """What is shown has its plan already; a run that is under way ends."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One change of the maker's that is not made yet.

    Attributes
    ----------
    text
        What undo and redo call it.
    after
        What the project becomes; already sawn where that was worked out before.
    consequence
        What it means for planning.
    alter
        What it does to the job, if it is a change of the job: done to another job, it is that
        change there.
    brings_ticks
        Whether each side of it has ticks of its own, so that it is undone only while no other is
        set. Else ticks stand outside undo: whichever side is shown, they are those of now.
    retells
        Whether cuts that are made may be told another way by it: the maker has said that they
        were made so.
    says
        Sentences of what it does besides, to be said once it is made.
    """

    text: str
    after: Project | Sawn
    consequence: Consequence
    alter: Callable[[Job], Job] | None = None
    brings_ticks: bool = False
    retells: bool = False
    says: tuple[str, ...] = ()


class Shown(Protocol):
    """What a step needs of its document."""

    @property
    def sawn(self) -> Sawn:
        """What is shown."""

    def edit(self, sawn: Sawn, consequence: Consequence) -> None:
        """Show the result of the maker's change."""


class Step(QUndoCommand):
    """An edit on the undo stack: remembers what is shown on the other side of it."""

    def __init__(self, document: Shown, edit: Edit) -> None:
        super().__init__(edit.text)
        # The document owns its steps: were they to hold it too, neither would end in order.
        self._to_document = ref(document)
        self.brings_ticks, self._retells = edit.brings_ticks, edit.retells
        self._other = edit.after if isinstance(edit.after, Sawn) else saw(edit.after)
        self._consequence = edit.consequence
        self._is_new, self._is_slim = True, False
        self._ticks = document.sawn.project.progress

    def refusal(self) -> str:
        """Say in one sentence why it cannot be done, or undone, now; ``""`` if it can."""
        shown = self._document.sawn
        project = shown.project
        if self.brings_ticks:
            return "" if _ticks(project.progress) == _ticks(self._ticks) else TICKED_SINCE
        ahead = self._ahead()
        said = other_saw(project, ahead.project) or would_change(project.progress, ahead)
        return said or ("" if self._retells else made_otherwise(shown, ahead))

    def redo(self) -> None:
        """Do it; the second time from memory."""
        other, document = self._ahead(), self._document
        consequence = self._consequence if self._is_new else Consequence.STOP
        self._other, self._is_new = document.sawn, False
        document.edit(other, consequence)
        self._ticks = document.sawn.project.progress

    def undo(self) -> None:
        """Show again what was there before, without solving."""
        self.redo()

    def slim(self) -> None:
        """Keep the project of the other side only: its plan is sawn again when it is shown."""
        self._other, self._is_slim = Sawn(project=self._other.project), True

    @property
    def _document(self) -> Shown:
        """The document it belongs to, which lives at least as long."""
        document = self._to_document()
        assert document is not None
        return document

    def _ahead(self) -> Sawn:
        """Return what is on the other side of the step, with the ticks of now."""
        if self._is_slim:
            self._other, self._is_slim = saw(self._other.project), False
        if self._is_new or self.brings_ticks:
            return self._other
        return with_progress(self._other, self._document.sawn.project.progress)


def _ticks(progress: Progress) -> Progress:
    """Return progress without what was answered to an offer, which is no tick."""
    return replace(progress, declined=(), taken=())

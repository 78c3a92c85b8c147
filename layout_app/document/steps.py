"""A step of the maker's that can be taken back, unless that would change a cut that is made."""

from enum import Enum, auto

from PySide6.QtGui import QUndoCommand


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


class Step(QUndoCommand):
    """Base of all undo steps."""

    def refusal(self) -> str:
        """Say in one sentence why it cannot be done, or undone, now; ``""`` if it can."""
        raise NotImplementedError

    def slim(self) -> None:
        """Keep less of what it needs, now that many steps were taken since."""

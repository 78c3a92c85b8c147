"""A step of the maker's that can be taken back, unless that would change a cut that is made."""

from PySide6.QtGui import QUndoCommand


class Step(QUndoCommand):
    """Base of all undo steps."""

    def refusal(self) -> str:
        """Say in one sentence why it cannot be done, or undone, now; ``""`` if it can."""
        raise NotImplementedError

    def slim(self) -> None:
        """Keep less of what it needs, now that many steps were taken since."""

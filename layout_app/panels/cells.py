"""What a table's model offers to the editor of its cells."""

from collections.abc import Sequence
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QModelIndex, QPersistentModelIndex

Index = QModelIndex | QPersistentModelIndex


@runtime_checkable
class Cells(Protocol):
    """A model whose cells are typed or chosen in."""

    def heading(self, index: Index) -> str:
        """Return the words above a cell."""

    def choices(self, index: Index) -> Sequence[str]:
        """Return all that may be chosen in a cell, when nothing else may be written."""

    def suggestions(self, index: Index) -> Sequence[str]:
        """Return words to complete what is typed in a cell with."""

    def change(self, index: Index, text: str) -> None:
        """Put text into a cell; ValueError with a sentence if it cannot be read."""

"""The bench as assistive technology sees it: a drawing area, with the tray and rulers within it.

Of a scroll area Qt itself shows the viewport and the scroll bars only, not what else lies in it.
"""

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QAbstractScrollArea, QAccessibleWidget, QWidget


class DrawingArea(QAccessibleWidget):
    """A scroll area whose children are what lies beside its viewport and says what it is."""

    def __init__(self, area: QAbstractScrollArea) -> None:
        super().__init__(area, QAccessible.Role.Canvas)
        self._area = area

    def childCount(self) -> int:
        """Return how many children it has."""
        return len(self._within())

    def child(self, index: int) -> QAccessibleInterface:
        """Return one of its children."""
        within = self._within()
        if not 0 <= index < len(within):
            return None  # type: ignore[return-value]  # as Qt has it; its stub knows no null
        return QAccessible.queryAccessibleInterface(within[index])

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """Return which of its children it is; -1 if none."""
        within = self._within()
        return next((n for n, one in enumerate(within) if one is child.object()), -1)

    def _within(self) -> list[QWidget]:
        """Return the widgets beside the viewport that are seen and have something to say."""
        area = self._area
        return [
            one
            for one in area.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
            if one.accessibleName() and one.isVisibleTo(area)
        ]


def show_as_drawing_area(kind: type[QAbstractScrollArea]) -> None:
    """Let assistive technology see views of a kind as drawing areas."""

    def made(_key: str, seen: QObject) -> QAccessibleInterface | None:
        return DrawingArea(seen) if isinstance(seen, kind) else None

    QAccessible.installFactory(made)

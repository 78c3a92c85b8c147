"""A line of widgets in two parts: the second goes below the first where both have no room."""

from collections.abc import Sequence

from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QWidget

Direction = QBoxLayout.Direction


class TwoParts(QBoxLayout):
    """Two rows of widgets, side by side or one below the other.

    Parameters
    ----------
    first, second
        The widgets of each part from left to right; ``None`` is free room.
    filling
        The widget of the first part that takes what room is left, and may be cut short.
    """

    def __init__(
        self,
        first: Sequence[QWidget | None],
        second: Sequence[QWidget | None],
        filling: QWidget | None = None,
    ) -> None:
        super().__init__(Direction.LeftToRight)
        self._widgets, self._filling = (*first, *second), filling
        for part in (first, second):
            self.addLayout(_row(part, filling), 1 if {None, filling} & set(part) else 0)

    def suit(self, width: int) -> None:
        """Stand side by side if there is room in so many pixels."""
        there = [one for one in self._widgets if one is not None and not one.isHidden()]
        need = sum(one.sizeHint().width() for one in there if one is not self._filling)
        fits = need + self.spacing() * (len(there) + 1) <= width
        self.setDirection(Direction.LeftToRight if fits else Direction.TopToBottom)


def _row(widgets: Sequence[QWidget | None], filling: QWidget | None) -> QHBoxLayout:
    row = QHBoxLayout()
    for widget in widgets:
        if widget is None:
            row.addStretch(1)
        else:
            row.addWidget(widget, 1 if widget is filling else 0)
    if filling not in widgets and None not in widgets:
        row.addStretch(1)
    return row

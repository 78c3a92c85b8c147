"""Scrolls the bench while something is held at its edges, as the pointer steers it."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QPoint, QTimer
from PySide6.QtWidgets import QAbstractScrollArea, QScrollBar

EDGE_PX = 36
"""How near an edge the pointer has to be; in a small view a sixth of it."""
TICK_MS, WAIT_MS = 16, 260
"""How often it scrolls, and how long the pointer stays near an edge before it does."""
SLOW_PX, FAST_PX = 70.0, 1300.0
"""Pixels a second, where the edge region begins and at the very edge."""
BACK_PX = 2
"""So far the pointer has to come back to stop it."""


@dataclass(slots=True)
class _Side:
    """One direction: where the pointer was last, how deep it is, and how long it waits yet."""

    last: int | None = None
    deep: float = 0.0
    waits_ms: int | None = None
    rest: float = 0.0

    def follow(self, at: int, size: int) -> None:
        """Take note of the pointer, in pixels of a view so large in this direction."""
        deep = _deep(at, size)
        came = 0 if self.last is None else (at - self.last) * (1 if deep > 0 else -1)
        outside = not 0 <= at <= size
        if deep == 0.0 or came <= -BACK_PX:
            self.waits_ms = None
        elif self.waits_ms is None and (came > 0 or (self.last is not None and not self.deep)):
            self.waits_ms = 0 if outside else WAIT_MS
        elif self.waits_ms is not None and outside:
            self.waits_ms = 0
        if deep == 0.0 or self.last is None or abs(at - self.last) >= BACK_PX or came > 0:
            self.last = at
        self.deep = deep

    def step(self) -> int:
        """Return by how many pixels to scroll after a tick."""
        if self.waits_ms is None:
            return 0
        self.waits_ms -= TICK_MS
        if self.waits_ms > 0:
            return 0
        self.waits_ms = 0
        speed = SLOW_PX + (FAST_PX - SLOW_PX) * self.deep**2
        self.rest += (speed if self.deep > 0 else -speed) * TICK_MS / 1000
        by = int(self.rest)
        self.rest -= by
        return by


class EdgeScrolling(QObject):
    """Follows the pointer of a gesture near the four edges of a view.

    It begins once the pointer has stayed near an edge for a moment, or has gone beyond it; the
    nearer the edge, the faster. It ends when the pointer comes back, however little, when the
    gesture ends, and where there is nothing more to scroll. A gesture that begins near an edge
    scrolls nothing until the pointer goes farther out.

    Parameters
    ----------
    moved
        Called after each step, since something else lies under the pointer now.
    """

    def __init__(self, view: QAbstractScrollArea, moved: Callable[[], None]) -> None:
        super().__init__(view)
        self._view, self._moved = view, moved
        self._sides = _Side(), _Side()
        self._timer = QTimer(self, interval=TICK_MS)
        self._timer.timeout.connect(self.tick)

    @property
    def active(self) -> bool:
        """Whether it scrolls, or is about to."""
        return self._timer.isActive()

    def follow(self, at: QPoint) -> None:
        """Take note of the pointer, in pixels of the viewport."""
        port = self._view.viewport().size()
        if at.x() > port.width():  # over the tray: there is nothing to scroll to
            self.stop()
            return
        for side, place, size in zip(
            self._sides, (at.x(), at.y()), (port.width(), port.height()), strict=True
        ):
            side.follow(place, size)
        if all(side.waits_ms is None for side in self._sides):
            self._timer.stop()
        elif not self._timer.isActive():
            self._timer.start()

    def stop(self) -> None:
        """Scroll no further, and forget where the pointer was."""
        self._timer.stop()
        self._sides = _Side(), _Side()

    def tick(self) -> None:
        """Scroll by what a tick takes."""
        bars = self._view.horizontalScrollBar(), self._view.verticalScrollBar()
        gone = [_scroll(bar, side.step()) for bar, side in zip(bars, self._sides, strict=True)]
        if any(gone):
            self._moved()


def _scroll(bar: QScrollBar, by: int) -> bool:
    """Move a bar, and say whether it moved."""
    before = bar.value()
    bar.setValue(before + by)
    return bar.value() != before


def _deep(at: int, size: int) -> float:
    """Return how deep in an edge region a place is: -1 and 1 at the edges and beyond them."""
    edge = min(EDGE_PX, size // 6)
    if at < edge:
        return -min(1.0, (edge - at) / edge)
    return min(1.0, (at - (size - edge)) / edge) if at > size - edge else 0.0

"""Resize a part with keys: its edges are in the hand, arrows move them, Return keeps the size."""

from PySide6.QtCore import QPointF, Qt

from layout_app.bench.frame import to_rectf
from layout_app.bench.interaction import ARROWS, GestureHand
from layout_app.bench.resizing import Resizing
from layout_app.bench.spots import Edge
from layout_app.model.stops import Way, ends, high, low, stretched
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement

HOW_TO_RESIZE = (
    "Return keeps the size, Esc leaves it. Arrows move the far edges, with Shift to the next stop;"
    " E takes the near edges, P pushes aside what lies behind."
)


class ResizingByKeys(Resizing):
    """The far edges of a part in the hand, or the near ones; the pointer moves none."""

    def __init__(self, hand: GestureHand, placement: Placement) -> None:
        super().__init__(hand, placement, Edge.RIGHT | Edge.BOTTOM)
        self._far, self._pushes = True, False
        self._ground = hand.sheets.ground(placement.sheet, placement.key)

    @property
    def pushes(self) -> bool:
        """Whether what lies behind the edge gives way to it, as a key has switched it."""
        return self._pushes

    def appear(self) -> None:
        """Show the part as it is, and what is said of it."""
        self._lay(self.rect)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Leave the edges where keys have put them."""

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Move an edge by the finest step, with Shift to a stop; take the others; push or not."""
        if key == Qt.Key.Key_E:
            self._far = not self._far
        elif key == Qt.Key.Key_P:
            self._pushes = not self._pushes
            self.heed()
        elif key in ARROWS:
            way, onward = ARROWS[key]
            jumps = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
            self._lay(self._stop(way, onward) if jumps else self._step(way, onward))
        else:
            return False
        return True

    def _at(self, way: Way) -> Length:
        return high(self.rect, way) if self._far else low(self.rect, way)

    def _step(self, way: Way, onward: bool) -> Rect:
        return self._ended(
            way, self._at(way) + (self._ground.step if onward else -self._ground.step)
        )

    def _stop(self, way: Way, onward: bool) -> Rect:
        """Return it with the edge at the next stop; as it is where there is none."""
        here = self._at(way)
        found = ends(self.rect, self._ground, way, far=self._far)
        ahead = [at for at in found if (at > here if onward else at < here)]
        return self._ended(way, min(ahead, key=lambda at: abs(at - here), default=here))

    def _ended(self, way: Way, at: Length) -> Rect:
        """Return it with the edge elsewhere, at least a finest step from the edge across."""
        rect, least = self.rect, self._ground.step
        if self._far:
            return stretched(rect, way, low(rect, way), max(at, low(rect, way) + least))
        return stretched(rect, way, min(at, high(rect, way) - least), high(rect, way))

    def _lay(self, rect: Rect) -> None:
        """Show it so, in sight, with the words at its far corner."""
        stand = self.hand.sheets.stand(self._placement.sheet)
        seen = to_rectf(rect).translated(stand.x, stand.y)
        self.hand.screen.reveal(seen)
        self._show(rect, seen.bottomRight())

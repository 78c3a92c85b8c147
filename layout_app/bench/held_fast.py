"""A hand on something that is held: it does not move, and the bench says why."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt

from layout_app.bench.bubble import Bubble
from layout_app.bench.interaction import Interaction

if TYPE_CHECKING:
    from layout_app.bench.hand import Hand


class HeldFast(Interaction):
    """A drag that moves nothing; a sentence stands at the pointer, and then in the status line."""

    cursor = Qt.CursorShape.ForbiddenCursor

    def __init__(self, hand: "Hand", reason: str) -> None:
        super().__init__(hand)
        self._reason = reason
        self._bubble = Bubble(hand.scene.theme)
        self._bubble.say((reason,), good=False)
        self.show(self._bubble)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Follow the pointer with the sentence."""
        self.hand.put_bubble(self._bubble, point)

    def finish(self) -> None:
        """Say it where it can be read after the pointer has gone on."""
        self.hand.document.said.emit(self._reason)

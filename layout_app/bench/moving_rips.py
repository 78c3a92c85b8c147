"""Move a rip earlier or later: its tag is dragged along the edge of the sheet."""

from PySide6.QtCore import QLineF, QPointF

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import Stand, to_mm
from layout_app.bench.interaction import GestureHand, Interaction
from layout_app.bench.overlays import Lines
from layout_app.document import edit_layout
from layout_app.model.snapping import Way, high, low


class MovingRip(Interaction):
    """A first-level piece in the hand; a heavy line shows where it would go in."""

    def __init__(self, hand: GestureHand, sheet: str, index: int) -> None:
        super().__init__(hand)
        self._stand = hand.sheets.stand(sheet)
        self._index = self.to = index
        self._pieces = hand.sheets.first_pieces(sheet)
        self._way = hand.sheets.way_of(sheet)
        self._line, self._bubble = Lines(hand.scene.theme, heavy=True), Bubble(hand.scene.theme)
        self.show(self._line, self._bubble)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Find the place between the pieces that is nearest to the pointer."""
        x, y = self._stand.point(point)
        at = x if self._way is Way.X else y
        middles = [(low(rect, self._way) + high(rect, self._way)) // 2 for rect in self._pieces]
        before = sum(middle < at for middle in middles)
        self.to = before - 1 if before > self._index else before
        self._show(point)

    def finish(self) -> None:
        """Change the order of the pieces; the strips change place with it."""
        edit_layout.move_rip(self.hand.document, self._stand.sheet, self._index, self.to)

    def _show(self, point: QPointF) -> None:
        stays, rect = self.to == self._index, self._pieces[self.to]
        between = low(rect, self._way) if self.to < self._index else high(rect, self._way)
        line = _across(self._stand, self._way, to_mm(between))
        self._line.show_lines([] if stays else [line])
        place = f"goes to place {self.to + 1} of {len(self._pieces)}"
        words = "stays where it is" if stays else place
        held = self.hand.document.held
        barred = held.bars_rip(self._stand.sheet, self._index, self.to)
        self._bubble.say((barred or words,), good=not barred)
        self.hand.put_bubble(self._bubble, point)


def _across(stand: Stand, way: Way, at: float) -> QLineF:
    over = stand.length / 40
    if way is Way.X:
        return QLineF(stand.x + at, stand.y - over, stand.x + at, stand.y + stand.width + over)
    return QLineF(stand.x - over, stand.y + at, stand.x + stand.length + over, stand.y + at)

"""A rubber band on free ground: it selects the parts that it touches."""

from enum import Enum, auto

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_app.bench.interaction import GestureHand, Interaction
from layout_app.bench.overlays import IN_HAND, Overlay, outline, united
from layout_app.look import pens
from layout_app.look.theme import Theme
from shared.parts import Copy


class Press(Enum):
    """What a press means for what is selected."""

    ONE = auto()
    """This and nothing else."""
    ADD = auto()
    """This as well."""
    TOGGLE = auto()
    """This if it is not selected yet, no longer if it is."""


class Band(Interaction):
    """A rectangle from where free ground was pressed to the pointer.

    Parameters
    ----------
    start
        Where it was pressed, in the scene.
    how
        What becomes of what was selected before.
    """

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, hand: GestureHand, start: QPointF, how: Press = Press.ONE) -> None:
        super().__init__(hand)
        self._start, self._how = start, how
        self._before = hand.document.selection.parts if how is not Press.ONE else frozenset[Copy]()
        self.touched: frozenset[Copy] = frozenset()
        self._lying = [(key, rect) for key in _lying(hand) for rect in hand.scene.rects_of([key])]
        self._drawn = BandDrawn(hand.scene.theme)
        self.show(self._drawn)

    def move(self, point: QPointF, *, free: bool = False) -> None:
        """Stretch the band to the pointer, and outline what it touches."""
        band = QRectF(self._start, point).normalized()
        touched = {key for key, rect in self._lying if rect.intersects(band)}
        toggles = self._how is Press.TOGGLE
        self.touched = self._before ^ touched if toggles else self._before | touched
        self._drawn.draw(band, [rect for key, rect in self._lying if key in self.touched])

    def finish(self) -> None:
        """Select what was touched."""
        self.hand.document.selection.select_parts(self.touched)


class BandDrawn(Overlay):
    """A dashed rectangle, and outlines of what it touches."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, IN_HAND)
        self._band, self._rects = QRectF(), list[QRectF]()

    def draw(self, band: QRectF, rects: list[QRectF]) -> None:
        """Draw a band and the rectangles of the scene that it touches."""
        self._band, self._rects = band, rects
        self.bound(united([band, *rects]), 4.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint outlines as of selected parts, then the band."""
        accent = self.theme.accent
        outline(painter, self.theme, self._rects)
        painter.fillRect(self._band, pens.brush(accent, 20))
        painter.setPen(pens.pen(accent, 1.5, Qt.PenStyle.DashLine))
        painter.drawRect(self._band)


def _lying(hand: GestureHand) -> list[Copy]:
    """Return all copies that lie on sheets."""
    sheets = hand.document.layout.sheets
    return [one.key for sheet in sheets for one in sheet.placements]

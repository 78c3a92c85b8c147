"""What is said beside the pointer: a small card with a tick or a cross."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from layout_app.bench.overlays import WORDS, Overlay
from layout_app.look import pens
from layout_app.look.theme import Theme

WIDEST_PX = 330
"""Most width of a line of a bubble."""
LEAST_LINE_PX = 60
"""No line is broken to less than this, however narrow the view."""
SIZES_PX = (12, 11, 10, 9)
"""Text sizes, the best first: the smaller ones where the view is too low for all lines."""
ASIDE_PX = 14
"""How far from the pointer the card begins."""
SIGN_PX, PAD_PX = 42, 13
"""What a card is wider than its longest line, and higher than all its lines."""
WIDE_ROOM = QSizeF(1e6, 1e6)

Line = tuple[str, bool]
"""A line, and whether it is in bold."""


def pitch(size: int) -> int:
    """Return how far it is from line to line, in pixels."""
    return round(size * 1.42)


def set_in(lines: Sequence[str], room: QSizeF) -> tuple[int, list[Line]]:
    """Break lines so that their card fits a room in pixels; the first is in bold.

    They shrink where the room is low; at the least size the last lines give way, and an
    ellipsis says so.

    Returns
    -------
    tuple[int, list[Line]]
        The text size, and the lines as they are written.
    """
    width = max(LEAST_LINE_PX, min(WIDEST_PX, room.width() - SIGN_PX))
    size, broken = SIZES_PX[0], list[Line]()
    for size in SIZES_PX:
        broken = list(_broken(lines, size, width))
        if PAD_PX + len(broken) * pitch(size) <= room.height():
            return size, broken
    fitting = max(1, int((room.height() - PAD_PX) // pitch(size)))
    kept, (last, bold) = broken[: fitting - 1], broken[fitting - 1]
    more = f"{last.rstrip('.,…')}…" if fitting < len(broken) else last
    return size, [*kept, (cut_short(more, size, width, bold=True), bold)]


def _broken(lines: Sequence[str], size: int, width: float) -> Iterator[Line]:
    for index, line in enumerate(lines):
        yield from ((one, index == 0) for one in _wrapped(line, size, width))


def _wrapped(line: str, size: int, width: float) -> list[str]:
    """Break a line at its spaces where it gets too wide; what has none is cut short."""
    lines = [""]
    for word in line.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and not fits(longer, size, width, bold=True):
            lines.append(word)
        else:
            lines[-1] = longer
    return [cut_short(one, size, width, bold=True) for one in lines]


def fits(words: str, size: int, width: float, *, bold: bool = False) -> bool:
    """Say whether words are no wider than so many pixels at a text size in pixels."""
    return pens.em_width(words, bold=bold) * size <= width


def cut_short(words: str, size: int, width: float, *, bold: bool = False) -> str:
    """Return words that are not too wide."""
    if fits(words, size, width, bold=bold):
        return words
    metrics = QFontMetricsF(pens.font(size, bold=bold))
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, width / 1.03)


class Bubble(Overlay):
    """Words beside the pointer, with a tick or a cross; the same size at every zoom."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, WORDS)
        self._said: tuple[str, ...] = ()
        self._room = WIDE_ROOM
        self._size, self._lines = SIZES_PX[0], list[Line]()
        self._good = True
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    @property
    def lines(self) -> tuple[str, ...]:
        """What is said, line by line, as it was given."""
        return self._said

    @property
    def words(self) -> str:
        """What is said."""
        return " ".join(line for line, _ in self._lines)

    def say(self, lines: Sequence[str], *, good: bool) -> None:
        """Say something: the first line is in bold; long ones are broken."""
        if (tuple(lines), good) != (self._said, self._good):
            self._said, self._good = tuple(lines), good
            self._set()

    def covers(self, scale: float) -> QRectF:
        """Return what it covers of the scene at a scale in pixels a millimetre."""
        corner = self.pos() + self.bounds.topLeft() / scale
        return QRectF(corner, self.bounds.size() / scale)

    def suit(self, room: QSizeF) -> None:
        """Be no larger than a view of that size in pixels."""
        if room != self._room:
            self._room = room
            self._set()

    def _set(self) -> None:
        self._size, self._lines = set_in(self._said, self._room)
        wide = max((pens.em_width(line, bold=b) for line, b in self._lines), default=0.0)
        high = pitch(self._size) * len(self._lines) + PAD_PX
        self.bound(QRectF(ASIDE_PX, ASIDE_PX, wide * self._size + SIGN_PX, high))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint a small card with the words."""
        theme, size = self.theme, self._size
        card = self.bounds.adjusted(1, 1, -1, -1)
        name = theme.graphite if self._good else theme.warning
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(pens.brush(theme.card))
        painter.setPen(pens.pen(name, 1.5))
        painter.drawRoundedRect(card, 4, 4)
        self._paint_sign(painter, QPointF(card.left() + 15, card.top() + 15), name)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for index, (line, bold) in enumerate(self._lines):
            painter.setFont(pens.font(size, bold=bold))
            painter.setPen(pens.colour(name if bold else theme.graphite))
            place = QPointF(card.left() + 30, card.top() + 6 + pitch(size) * index)
            painter.drawStaticText(place, pens.written(line, size, bold=bold))

    def _paint_sign(self, painter: QPainter, at: QPointF, name: str) -> None:
        painter.setPen(pens.pen(name, 2.5))
        x, y = at.x(), at.y()
        if self._good:
            painter.drawPolyline([QPointF(x - 5, y), QPointF(x - 1, y + 4), QPointF(x + 6, y - 5)])
        else:
            painter.drawLine(QLineF(x - 5, y - 5, x + 5, y + 5))
            painter.drawLine(QLineF(x - 5, y + 5, x + 5, y - 5))

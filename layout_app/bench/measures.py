"""Words on the bench while something is in the hand: distances, each beside its line."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_app.bench.frame import Stand, to_mm
from layout_app.bench.overlays import IN_HAND, PLATE_PX, Overlay, paint_plate
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.landing import Guide
from layout_app.model.stops import Distance, SnapGround, Way, gaps, running
from shared.geometry import Rect
from shared.lengths import LengthStyle, format_length

PAD_PX, OFF_PX = 4, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenMeasure:
    """A line of the scene and the words beside it; ``plate`` is their ground in the scene."""

    line: QLineF
    words: str
    plate: QRectF


class Board:
    """Finds places for words beside their lines, so that none lies on another.

    Parameters
    ----------
    sight
        What is seen of the scene.
    scale
        Pixels a millimetre.
    style
        How lengths are written.
    """

    def __init__(self, sight: QRectF, scale: float, style: LengthStyle) -> None:
        self._sight, self._scale, self.style = sight, scale, style
        self.written: list[WrittenMeasure] = []

    def write(self, line: QLineF, words: str, at: QPointF, *, along_x: bool) -> None:
        """Write beside a point of a line, on the side that is free; where none is, not at all."""
        for plate in self._plates(words, at, along_x=along_x):
            if not any(plate.intersects(one.plate) for one in self.written):
                self.written.append(WrittenMeasure(line=line, words=words, plate=plate))
                return

    def _plates(self, words: str, at: QPointF, *, along_x: bool) -> Iterator[QRectF]:
        """Yield places on one side of the line and on the other, all in sight."""
        length = (pens.em_width(words, bold=True) * PLATE_PX + 2 * PAD_PX) / self._scale
        width, off = (PLATE_PX + 2 * PAD_PX) / self._scale, OFF_PX / self._scale
        beyond = width / 2 + off if along_x else length / 2 + off
        for far in (1, 2.2):
            for side in (-1, 1) if along_x else (1, -1):
                step = side * beyond * far
                middle = at + (QPointF(0, step) if along_x else QPointF(step, 0))
                plate = QRectF(0, 0, length, width)
                plate.moveCenter(middle)
                yield _inside(plate, self._sight)


def written(
    stand: Stand,
    rect: Rect,
    ground: SnapGround,
    guides: Iterable[tuple[Guide, str]],
    board: Board,
) -> list[WrittenMeasure]:
    """Return what is written round a rectangle on a sheet: gaps, running positions, stops."""
    for gap in gaps(rect, ground):
        _write(board, stand, gap, format_length(gap.length, board.style))
    for one in running(rect, ground):
        _write(board, stand, one, f"{one.way} {format_length(one.length, board.style)}")
    for guide, words in guides:
        line = line_of(stand, guide)
        board.write(line, words, line.p2(), along_x=guide.way is Way.Y)
    return board.written


def line_of(stand: Stand, guide: Guide) -> QLineF:
    """Return a guide over the whole sheet."""
    at, over = to_mm(guide.at), stand.length / 60
    if guide.way is Way.X:
        x = stand.x + at
        return QLineF(x, stand.y - over, x, stand.y + stand.width + over)
    y = stand.y + at
    return QLineF(stand.x - over, y, stand.x + stand.length + over, y)


def _write(board: Board, stand: Stand, one: Distance, words: str) -> None:
    line, along_x = _drawn(stand, one), one.way is Way.X
    at = line.p1() if one.running else line.center()
    board.write(line, words, at, along_x=along_x)


def _drawn(stand: Stand, one: Distance) -> QLineF:
    """Return the line of a distance in the scene."""
    start, end, across = to_mm(one.start), to_mm(one.end), to_mm(one.across)
    if one.way is Way.X:
        return QLineF(stand.x + start, stand.y + across, stand.x + end, stand.y + across)
    return QLineF(stand.x + across, stand.y + start, stand.x + across, stand.y + end)


def _inside(plate: QRectF, sight: QRectF) -> QRectF:
    """Return a plate moved into what is in sight."""
    x = min(max(plate.x(), sight.left()), sight.right() - plate.width())
    y = min(max(plate.y(), sight.top()), sight.bottom() - plate.height())
    return QRectF(x, y, plate.width(), plate.height())


class Measures(Overlay):
    """Thin lines with ticks at their ends, and words on plates."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, IN_HAND + 2)
        self._written: list[WrittenMeasure] = []
        self._covered = QRectF()

    @property
    def words(self) -> tuple[str, ...]:
        """What is written."""
        return tuple(one.words for one in self._clear())

    @property
    def places(self) -> tuple[QRectF, ...]:
        """Where words have a place in the scene, also those that give way."""
        return tuple(one.plate for one in self._written)

    @property
    def plates(self) -> tuple[QRectF, ...]:
        """Where it is written, in the scene."""
        return tuple(one.plate for one in self._clear())

    def give_way(self, covered: QRectF) -> None:
        """Leave out the words that would lie partly below a place of the scene."""
        before, self._covered = self._clear(), covered
        if self._clear() != before:
            self.update()

    def _clear(self) -> list[WrittenMeasure]:
        return [one for one in self._written if not one.plate.intersects(self._covered)]

    def show_written(self, written: Sequence[WrittenMeasure]) -> None:
        """Show these words and lines, and no others."""
        if list(written) == self._written:
            return
        self._written = list(written)
        bounds = QRectF()
        for one in self._written:
            line = QRectF(one.line.p1(), one.line.p2()).normalized()
            bounds = bounds.united(one.plate).united(line.adjusted(0, 0, 1e-3, 1e-3))
        self.bound(bounds, 6.0 if self._written else 0.0)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint lines first, so that no line runs through words."""
        painter.setPen(pens.pen(self.theme.pencil, 1.0))
        scale = option.levelOfDetailFromTransform(painter.worldTransform())
        for one in self._written:
            painter.drawLines([one.line, *_ticks(one.line, 4.0 / scale)])
        for one in self._clear():
            self._paint_words(painter, one)

    def _paint_words(self, painter: QPainter, one: WrittenMeasure) -> None:
        paint_plate(painter, self.theme, one.plate, one.words, self.theme.pencil)


def _ticks(line: QLineF, half: float) -> list[QLineF]:
    """Return short strokes across the ends of a line."""
    if line.length() == 0:
        return []
    normal = line.normalVector().unitVector()
    dx, dy = normal.dx() * half, normal.dy() * half
    ends = (line.p1(), line.p2())
    return [QLineF(p.x() - dx, p.y() - dy, p.x() + dx, p.y() + dy) for p in ends]

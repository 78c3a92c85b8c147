"""Rulers along the bench in the maker's units, with a mark where the pointer is."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from layout_app.bench.frame import to_mm
from layout_app.look import pens
from layout_app.look.theme import Theme
from shared.lengths import INCH, MM, Length, LengthStyle, Unit, format_length, step

RULER_PX = 22
FINE_PX, WRITTEN_PX = 5.0, 58.0
"""Least distance of two ticks, and of two that are written."""
TICKS_PX = (7.0, 11.0, 18.0)
"""How long a tick is: a fine one, one between, one that is written."""
TEXT_PX, BEHIND_PX = 10, 3
"""Size of a number, and how far behind its tick it begins."""
MARK_PX = 9.0
"""How long the mark of the pointer is: it ends below the numbers."""
LADDERS: dict[Unit, tuple[Length, ...]] = {
    Unit.INCH: (
        *(INCH // part for part in (64, 32, 16, 8, 4, 2)),
        *(INCH * inches for inches in (1, 3, 6, 12, 24, 48, 96)),
    ),
    Unit.MM: (MM // 2, *(MM * number for number in (1, 5, 10, 50, 100, 500, 1000, 5000))),
}
"""Distances of ticks; each is a multiple of the one before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Graduation:
    """Distances of the finest ticks, of longer ones, and of those with a number, in ticks."""

    fine: Length
    middle: Length
    written: Length


def graduation(scale: float, style: LengthStyle) -> Graduation:
    """Return how a ruler is divided at a scale in pixels a millimetre.

    No finer than the maker's units are shown.
    """
    rungs = [rung for rung in LADDERS[style.unit] if rung >= step(style)]
    fine = _first(rungs, FINE_PX, scale)
    written = _first([rung for rung in rungs if rung >= fine], WRITTEN_PX, scale)
    between = [rung for rung in rungs if fine < rung < written]
    return Graduation(fine=fine, middle=between[0] if between else written, written=written)


def _first(rungs: list[Length], least_px: float, scale: float) -> Length:
    return next((rung for rung in rungs if to_mm(rung) * scale >= least_px), rungs[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a ruler shows: a stretch of a sheet.

    Attributes
    ----------
    zero
        Where its zero is, in pixels along the ruler.
    start, end
        From where to where it is divided, in ticks from its zero.
    scale
        Pixels a millimetre.
    """

    zero: float
    start: Length
    end: Length
    scale: float
    style: LengthStyle


class Ruler(QWidget):
    """A ruler above the bench, or left of it when ``upright``."""

    def __init__(self, theme: Theme, parent: QWidget, *, upright: bool) -> None:
        super().__init__(parent)
        self.theme, self.upright = theme, upright
        self.reading: Reading | None = None
        self.mark_px: float | None = None
        self._face: QPixmap | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName("Ruler across the sheets" if upright else "Ruler along the sheets")

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme, self._face = theme, None
        self.update()

    def show_reading(self, reading: Reading | None, mark_px: float | None) -> None:
        """Show a stretch of a sheet, and a mark at so many pixels along the ruler."""
        if reading != self.reading:
            self.reading, self._face = reading, None
            self.update()
        if mark_px != self.mark_px:
            self.mark_px = mark_px
            self.update()

    def sizeHint(self) -> QSize:
        """Return the room it needs."""
        return QSize(RULER_PX, RULER_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the divided edge, and the mark over it."""
        ratio = self.devicePixelRatio()
        if self._face is None or self._face.size() != self.size() * ratio:
            self._face = self._painted(ratio)
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._face)
        if self.mark_px is not None:
            painter.setPen(pens.pen(self.theme.accent, 3.0))
            painter.drawLine(self._tick(self.mark_px, MARK_PX))
        painter.end()

    def _painted(self, ratio: float) -> QPixmap:
        face = QPixmap(self.size() * ratio)
        face.setDevicePixelRatio(ratio)
        face.fill(pens.colour(self.theme.paper))
        painter = QPainter(face)
        painter.setPen(pens.pen(self.theme.rule))
        length = self.height() if self.upright else self.width()
        painter.drawLine(self._line((0, RULER_PX - 0.5), (length, RULER_PX - 0.5)))
        if self.reading is not None:
            self.divide(painter, self.reading, length)
        painter.end()
        return face

    def divide(self, painter: QPainter, reading: Reading, length: int) -> None:
        """Paint the ticks of so many pixels, and the numbers that are seen whole there."""
        dots, parts = reading.scale / MM, graduation(reading.scale, reading.style)
        low = max(reading.start, round((-WRITTEN_PX - reading.zero) / dots))
        high = min(reading.end, round((length - reading.zero) / dots))
        lines, numbers = [], []
        for at in range(-(-low // parts.fine) * parts.fine, high + 1, parts.fine):
            along = reading.zero + at * dots
            level = 2 if at % parts.written == 0 else 1 if at % parts.middle == 0 else 0
            lines.append(self._tick(along, TICKS_PX[level]))
            if level == 2:
                numbers.append((along, format_length(at, reading.style)))
        painter.setPen(pens.pen(self.theme.pencil))
        painter.drawLines(lines)
        painter.setPen(pens.colour(self.theme.graphite))
        painter.setFont(pens.font(TEXT_PX))
        for along, words in numbers:
            if self._is_whole(along, words, length):
                self._write(painter, along, words)

    def _is_whole(self, along: float, words: str, length: int) -> bool:
        """Say whether a number is in sight with its tick: a part of it would be another number."""
        room = BEHIND_PX + pens.em_width(words) * TEXT_PX
        return room <= along <= length if self.upright else 0 <= along <= length - room

    def _write(self, painter: QPainter, along: float, words: str) -> None:
        """Write a number behind its tick; on an upright ruler it runs upwards."""
        if not self.upright:
            painter.drawText(QPointF(along + BEHIND_PX, TEXT_PX), words)
            return
        painter.save()
        painter.translate(TEXT_PX, along - BEHIND_PX)
        painter.rotate(-90.0)
        painter.drawText(QPointF(0, 0), words)
        painter.restore()

    def _tick(self, along: float, long_px: float) -> QLineF:
        return self._line((along, RULER_PX - long_px), (along, RULER_PX))

    def _line(self, start: tuple[float, float], end: tuple[float, float]) -> QLineF:
        """Return a line between points given as along the ruler and from its outer edge."""
        if self.upright:
            start, end = start[::-1], end[::-1]
        return QLineF(*start, *end)

"""The small sign on each part that says whether its grain rule is met, in pixels.

Met: a bundle of three fine lines that runs as the grain runs. Broken: the bundle is parted in
the middle and struck through from corner to corner. Absent: a ring. Shapes tell them apart.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QPainter

from layout_app.bench.frame import to_mm
from layout_app.look import pens
from layout_app.look.theme import Theme
from shared.drawing import GrainSign, RuleState, Space

LONG_PX, ACROSS_PX = 15.0, 8.0
"""Room a sign takes along the grain and across it."""
INSET_PX = 4.0
"""Between a sign and the edges of its part."""
LEAST_PX = 30.0
"""Parts that are narrower than this have no sign."""
GAP_PX = 3.0
"""Half of what a broken bundle is parted by."""
LINES = ((-3.0, 0.28), (0.0, 0.0), (3.0, 0.16))
"""Distance of each line from the middle in pixels, and how much of it lacks at its ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenSign:
    """A sign and the room it found."""

    sign: GrainSign
    space: Space


def placed_signs(
    signs: Sequence[GrainSign], scale: float, taken: Sequence[Space]
) -> list[WrittenSign]:
    """Find room for signs in a corner of their parts, clear of what is taken.

    ``scale`` is in pixels a millimetre; a sign that finds no room is left out.
    """
    found = ((sign, _spot(sign, scale, taken)) for sign in signs)
    return [WrittenSign(sign=sign, space=space) for sign, space in found if space]


def paint_grain_signs(painter: QPainter, written: Sequence[WrittenSign], theme: Theme) -> None:
    """Paint signs; the painter's origin is the sheet's reference corner."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for one in written:
        _paint(painter, one, theme)
    painter.restore()


def _spot(sign: GrainSign, scale: float, taken: Sequence[Space]) -> Space | None:
    rect = sign.rect
    x, y, length, width = (to_mm(one) * scale for one in (rect.x, rect.y, rect.length, rect.width))
    if min(length, width) < LEAST_PX:
        return None
    size = (LONG_PX, ACROSS_PX) if sign.along_x else (ACROSS_PX, LONG_PX)
    ys = (y + width - INSET_PX - size[1], y + INSET_PX)
    xs = (x + length - INSET_PX - size[0], x + INSET_PX)
    spots = (Space(x=at, y=down, length=size[0], width=size[1]) for down, at in product(ys, xs))
    return next((spot for spot in spots if not any(spot.meets(one) for one in taken)), None)


def _paint(painter: QPainter, one: WrittenSign, theme: Theme) -> None:
    space, state = one.space, one.sign.state
    middle = QPointF(space.x + space.length / 2, space.y + space.width / 2)
    if state is RuleState.ABSENT:
        painter.setPen(pens.pen(theme.graphite))
        painter.drawEllipse(middle, 2.5, 2.5)
        return
    broken = state is RuleState.BROKEN
    painter.setPen(pens.pen(theme.warning if broken else theme.graphite, 1.4))
    for start, end in _bundle(broken=broken):
        painter.drawLine(_line(middle, start, end, along_x=one.sign.along_x))
    if broken:
        half = (LONG_PX / 4, ACROSS_PX / 2)
        painter.setPen(pens.pen(theme.warning, 2.2))
        stroke = ((-half[0], half[1]), (half[0], -half[1]))
        painter.drawLine(_line(middle, *stroke, along_x=one.sign.along_x))


def _bundle(*, broken: bool) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the lines of a bundle about its middle, as points along the grain and across it."""
    for across, lack in LINES:
        end = LONG_PX / 2 * (1 - lack)
        if broken:
            yield (-end, across), (-GAP_PX, across)
            yield (GAP_PX, across), (end, across)
        else:
            yield (-end, across), (end, across)


def _line(
    middle: QPointF, start: tuple[float, float], end: tuple[float, float], *, along_x: bool
) -> QLineF:
    ends = (start, end) if along_x else (start[::-1], end[::-1])
    return QLineF(middle + QPointF(*ends[0]), middle + QPointF(*ends[1]))

"""What a sheet looks like in millimetres: rectangles, grain and hatching, ready to paint."""

from collections.abc import Iterable

from PySide6.QtCore import QRectF
from PySide6.QtGui import QBrush, QPainterPath

from layout_app.bench.frame import to_mm, to_rectf, to_ticks
from layout_app.look import pens
from layout_app.look.theme import Theme
from shared.drawing import Box, GrainLine, Role, SheetDrawing, hatch
from shared.drawing.hatch import Stroke

HATCH_PX = 6.0
"""Strokes of hatching are one to two times this far apart on the screen."""
LEAST_PX = 4.0
"""A fall that is thinner on the screen is not hatched, and closer grain is left out."""

LOOSE_ALPHA = 130
"""How strongly a part on a sheet without cuts stands out from the bare wood."""

CROSSED = (Role.WASTE, Role.TRIM)
HATCHED = (Role.KEEPER, *CROSSED)
MARKED = (*HATCHED, Role.LAST_KEEPER, Role.LAST_WASTE, Role.IN_THE_WAY)
"""What is hatched: falls, and places where parts are in each other's way."""
WOOD = (Role.PIECE, Role.KEPT, Role.LEFT)


class Shapes:
    """The boxes of one drawing with their fills, and paths for grain and hatching.

    ``before`` are the shapes this sheet had: grain that is the same is taken from there.
    """

    def __init__(self, drawing: SheetDrawing, theme: Theme, before: "Shapes | None" = None) -> None:
        self.boxes = [(box, to_rectf(box.rect)) for box in drawing.boxes]
        self.fills = [(rect, brush) for box, rect in self.boxes if (brush := _fill(box, theme))]
        self.grain: tuple[GrainLine, ...] = drawing.grain
        self.fine_grain: QPainterPath
        self.heavy_grain: QPainterPath
        if before is not None and before.grain == drawing.grain:
            self.fine_grain, self.heavy_grain = before.fine_grain, before.heavy_grain
        else:
            self.fine_grain = _grain_path(line for line in drawing.grain if not line.heavy)
            self.heavy_grain = _grain_path(line for line in drawing.grain if line.heavy)
        self.ties = QPainterPath()
        _add_strokes(self.ties, ((tie.start, tie.end) for tie in drawing.ties))
        self.by_key = {box.key: rect for box, rect in self.boxes}
        self.kerf_mm = min((min(r.width(), r.height()) for r in self.of(Role.KERF)), default=0.0)
        self._hatching: dict[Role, QPainterPath] = {}
        self._hatched_at = 0.0

    def of(self, *roles: Role) -> list[QRectF]:
        """Return the rectangles of some roles."""
        return [rect for box, rect in self.boxes if box.role in roles]

    def hatching(self, scale: float) -> dict[Role, QPainterPath]:
        """Return hatching for a scale in pixels a millimetre."""
        spacing = _spacing(scale)
        if spacing != self._hatched_at:
            self._hatching = {role: self._hatch(role, spacing, scale) for role in MARKED}
            self._hatched_at = spacing
        return self._hatching

    def _hatch(self, role: Role, spacing: float, scale: float) -> QPainterPath:
        path = QPainterPath()
        for box, rect in self.boxes:
            if box.role is role and min(rect.width(), rect.height()) * scale >= LEAST_PX:
                crossed = role in CROSSED or role is Role.LAST_WASTE
                _add_strokes(path, hatch(box.rect, to_ticks(spacing), crossed=crossed))
        return path


def cross(rect: QRectF) -> QPainterPath:
    """Return the lines from corner to corner that strike a bad place out."""
    path = QPainterPath(rect.topLeft())
    path.lineTo(rect.bottomRight())
    path.moveTo(rect.bottomLeft())
    path.lineTo(rect.topRight())
    return path


def _fill(box: Box, theme: Theme) -> QBrush | None:
    if box.role is Role.PART and box.tint is None:
        return pens.brush(theme.card, LOOSE_ALPHA)
    fills = {
        Role.SHEET: theme.wood,
        Role.WASTE: theme.waste,
        Role.KEEPER: theme.keeper,
        Role.LAST_KEEPER: theme.keeper,
        Role.LAST_WASTE: theme.waste,
        Role.TRIM: theme.trim,
        Role.PART: pens.tint(theme, box.tint),
        **dict.fromkeys(WOOD, theme.wood),
    }
    return pens.brush(fills[box.role]) if box.role in fills else None


def _spacing(scale: float) -> float:
    """Return the distance of strokes in millimetres: a power of two, so that it seldom changes."""
    spacing = 1.0
    while spacing * scale < HATCH_PX:
        spacing *= 2
    while spacing * scale >= 2 * HATCH_PX:
        spacing /= 2
    return spacing


def _grain_path(lines: Iterable[GrainLine]) -> QPainterPath:
    path = QPainterPath()
    for line in lines:
        path.moveTo(to_mm(line.points[0][0]), to_mm(line.points[0][1]))
        for x, y in line.points[1:]:
            path.lineTo(to_mm(x), to_mm(y))
    return path


def _add_strokes(path: QPainterPath, strokes: Iterable[Stroke]) -> None:
    for (x0, y0), (x1, y1) in strokes:
        path.moveTo(to_mm(x0), to_mm(y0))
        path.lineTo(to_mm(x1), to_mm(y1))

"""Scene coordinates: millimetres of the workpieces, sheets one below the other or in columns.

Only here ticks become floats for the screen, and a pointer's place becomes ticks.
"""

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, QRectF

from shared.geometry import Rect
from shared.lengths import MM, Length

LEFT, TOP, RIGHT, BETWEEN = 5.0, 5.5, 10.5, 3.5
"""Margins for tags, title and scale, in units; a unit takes about as many pixels at any width."""
MORE_ABOVE, MORE_BELOW = 2.5, 1.5
"""Further room of a sheet cut across first: its tags lie above it, its scale below, in units."""
UNIT_PX = (6.5, 8.0)
COMMON_ROOM_PX = 900


def to_mm(ticks: Length) -> float:
    """Return ticks as millimetres of the scene."""
    return ticks / MM


def to_ticks(millimetres: float) -> Length:
    """Return the nearest tick."""
    return round(millimetres * MM)


def to_rectf(rect: Rect) -> QRectF:
    """Return a rectangle in millimetres, in the frame it was given in."""
    return QRectF(to_mm(rect.x), to_mm(rect.y), to_mm(rect.length), to_mm(rect.width))


def to_rect(room: QRectF) -> Rect:
    """Return a rectangle in ticks, in the frame it was given in."""
    x, y, length, width = map(to_ticks, (room.x(), room.y(), room.width(), room.height()))
    return Rect(x=x, y=y, length=length, width=width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where one sheet stands in the scene: its reference corner and size in millimetres.

    ``across``: it is cut across first, so that tags lie above it and its scale below.
    """

    sheet: str
    x: float
    y: float
    length: float
    width: float
    across: bool = False

    @property
    def above(self) -> float:
        """Room for title and tags, in units."""
        return TOP + (MORE_ABOVE if self.across else 0.0)

    @property
    def below(self) -> float:
        """Room for the scale, in units."""
        return BETWEEN + (MORE_BELOW if self.across else 0.0)

    @property
    def rect(self) -> QRectF:
        """The sheet in scene coordinates."""
        return QRectF(self.x, self.y, self.length, self.width)

    def point(self, scene: QPointF) -> tuple[Length, Length]:
        """Return a point of the scene in ticks of the sheet's frame."""
        return to_ticks(scene.x() - self.x), to_ticks(scene.y() - self.y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """All sheets as they stand, the room around them, the unit of the margins, and the columns."""

    stands: tuple[Stand, ...]
    bounds: QRectF
    unit: float
    columns: int = 1

    def at(self, scene: QPointF) -> Stand | None:
        """Return the sheet under a point, or close to it."""
        room = 2 * self.unit
        for stand in self.stands:
            if stand.rect.adjusted(-room, -room, room, room).contains(scene):
                return stand
        return None

    def of(self, sheet: str) -> Stand | None:
        """Return where the sheet of that id stands."""
        return next((stand for stand in self.stands if stand.sheet == sheet), None)

    def nearest(self, point: QPointF) -> Stand | None:
        """Return the sheet under a point of the scene, or the one nearest to it."""

        def away(stand: Stand) -> float:
            rect = stand.rect
            dx = max(rect.left() - point.x(), 0.0, point.x() - rect.right())
            dy = max(rect.top() - point.y(), 0.0, point.y() - rect.bottom())
            return dx * dx + dy * dy

        return min(self.stands, key=away, default=None)

    def reach(self, stand: Stand) -> float:
        """Return how far it is from the corner of a sheet to the end of its column."""
        return self.bounds.width() / self.columns - LEFT * self.unit

    def room(self, stand: Stand) -> QRectF:
        """Return a sheet with title, tags and scale."""
        return stand.rect.adjusted(
            -LEFT * self.unit,
            -stand.above * self.unit,
            RIGHT * self.unit,
            stand.below * self.unit,
        )


def lay_out(
    sheets: Sequence[tuple[str, Length, Length]],
    room_px: float = COMMON_ROOM_PX,
    across: Collection[str] = (),
    columns: int = 1,
) -> Floor:
    """Stand sheets (id, length, width in ticks) in columns, from left to right and then down.

    Those of ``across`` are cut across first.

    ``room_px`` is the width of the view: in a narrow one the margins take a larger share,
    so that what is written in them can be read when the columns are as wide as the view.
    """
    longest = max((to_mm(length) for _, length, _ in sheets), default=2440.0)
    unit = longest * _unit_share(room_px / columns)
    pitch = longest + (LEFT + RIGHT) * unit
    stands = tuple(_stands(sheets, unit, across, columns, pitch))
    bottom = max((one.y + one.width for one in stands), default=longest / 2)
    bounds = QRectF(-LEFT * unit, 0.0, columns * pitch, bottom + 2 * BETWEEN * unit)
    return Floor(stands=stands, bounds=bounds, unit=unit, columns=columns)


def columns_in_view(
    sheets: Sequence[tuple[str, Length, Length]],
    width_px: float,
    height_px: float,
    across: Collection[str] = (),
) -> int:
    """Return in how many columns all sheets are shown largest in a view of that size."""

    def scale(columns: int) -> float:
        bounds = lay_out(sheets, width_px, across, columns).bounds
        return min(width_px / bounds.width(), height_px / bounds.height())

    return max(range(1, len(sheets) + 1), key=scale, default=1)


def _unit_share(room_px: float) -> float:
    """Return a unit as a share of the longest sheet, in steps of a tenth."""
    unit_px = min(UNIT_PX[1], max(UNIT_PX[0], room_px / 75))
    share = unit_px / max(room_px - (LEFT + RIGHT) * unit_px, 100.0)
    return float(1.1 ** round(math.log(share, 1.1)))


def _stands(
    sheets: Sequence[tuple[str, Length, Length]],
    unit: float,
    across: Collection[str],
    columns: int,
    pitch: float,
) -> Iterator[Stand]:
    y = 0.0
    for begin in range(0, len(sheets), columns):
        row = [
            Stand(
                sheet=sheet,
                x=column * pitch,
                y=y,
                length=to_mm(length),
                width=to_mm(width),
                across=sheet in across,
            )
            for column, (sheet, length, width) in enumerate(sheets[begin : begin + columns])
        ]
        y += max(one.above for one in row) * unit
        yield from (replace(one, y=y) for one in row)
        y += max(one.width + one.below * unit for one in row)

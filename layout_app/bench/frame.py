"""Scene coordinates: millimetres of the workpieces, sheets one below the other.

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
    """All sheets as they stand, the room around them, and the unit of the margins."""

    stands: tuple[Stand, ...]
    bounds: QRectF
    unit: float

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
) -> Floor:
    """Stand sheets (id, length, width in ticks) one below the other, in order.

    Those of ``across`` are cut across first.

    ``room_px`` is the width of the view: in a narrow one the margins take a larger share,
    so that what is written in them can be read when the sheets are as wide as the view.
    """
    longest = max((to_mm(length) for _, length, _ in sheets), default=2440.0)
    unit = longest * _unit_share(room_px)
    stands = tuple(_stands(sheets, unit, across))
    bottom = stands[-1].y + stands[-1].width if stands else longest / 2
    bounds = QRectF(-LEFT * unit, 0.0, longest + (LEFT + RIGHT) * unit, bottom + 2 * BETWEEN * unit)
    return Floor(stands=stands, bounds=bounds, unit=unit)


def _unit_share(room_px: float) -> float:
    """Return a unit as a share of the longest sheet, in steps of a tenth."""
    unit_px = min(UNIT_PX[1], max(UNIT_PX[0], room_px / 75))
    share = unit_px / max(room_px - (LEFT + RIGHT) * unit_px, 100.0)
    return float(1.1 ** round(math.log(share, 1.1)))


def _stands(
    sheets: Sequence[tuple[str, Length, Length]], unit: float, across: Collection[str]
) -> Iterator[Stand]:
    y = 0.0
    for sheet, length, width in sheets:
        size = to_mm(length), to_mm(width)
        one = Stand(sheet=sheet, x=0.0, y=y, length=size[0], width=size[1], across=sheet in across)
        y += one.above * unit
        yield replace(one, y=y)
        y += one.width + one.below * unit

"""Pictures of the reading page seen from the end of the cut: what leads the saw, what bears."""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.pictures import (
    BAND,
    LINE,
    THICK,
    THIN,
    Picture,
    line,
    mark_v,
    said,
)
from layout_app.paper.pack.setting import words
from layout_app.paper.pens import NARROW
from shared.making.record import Bearers, Bed, Way

BOARD: Final = 3.4
"""How thick a board is drawn, in mm."""
KERF: Final = 1.4
"""How wide a kerf is drawn, in mm."""
TOP: Final = 8.0
"""From the top of a view to the board, in mm."""
APART: Final = 5.0
"""Between two views beside each other, in mm."""
_DASHED: Final = ink.Pen(width=NARROW, dashes=(1.4, 0.9))

Lead = tuple[Way, Bed]
"""What leads the saw, and what it lies on."""

ROW: Final = 3
"""So many views are beside each other at most."""


def leads_picture(leads: Sequence[Lead]) -> Picture:
    """Draw each way in which the saw is led in a job, numbered."""
    columns = min(ROW, max(2, len(leads)))
    rows = [leads[at : at + columns] for at in range(0, len(leads), columns)]
    high = TOP + BOARD + 1.2 + LINE

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        room = (length - (columns - 1) * APART) / columns
        for down, row in enumerate(rows):
            for place, lead in enumerate(row):
                left, top = x + place * (room + APART), y + down * (high + 1)
                number = str(down * columns + place + 1)
                yield words(number, left, top + LINE / 2, 4.0, bold=True)
                yield from _led(lead, ink.Spread(x=left, y=top, length=room, width=high))

    return Picture(len(rows) * (high + 1), draw)


def _led(lead: Lead, room: ink.Spread) -> Iterator[ink.Item]:
    at, top = room.x + 0.55 * room.length, room.y + TOP
    right = room.x + room.length - 1
    if lead[1] is Bed.PACKED:
        at = room.x + 0.4 * room.length
    yield ink.Plate(x=room.x + 1, y=top, length=at - room.x - 1, width=BOARD, pen=THIN)
    yield ink.Plate(x=at + KERF, y=top, length=right - at - KERF, width=BOARD, pen=THIN)
    yield from _DRAWN[lead[0]](lead[1], at, top, room)
    yield mark_v(room.x + (4.6 if lead[0] is Way.FENCE else 1.8), top)
    under = top + BOARD + LINE / 2 + 0.8
    if lead[0] is not Way.FENCE:
        yield line((at, top - 3.6), (at, top + BOARD), pen=_DASHED)
        yield said("line", at, room.y + LINE / 2 - 0.6)
    yield said("keep", (room.x + at) / 2, under, bold=True)
    yield said("other", (at + right) / 2, under)


def _rail(bed: Bed, at: float, top: float, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw a rail, its heavy edge where the saw runs."""
    high, wide = 1.8, min(11.0, 0.6 * (at - room.x))
    if bed is Bed.WASTE:
        edge = at + KERF
        box = ink.Spread(x=edge, y=top - high, length=wide, width=high)
    else:
        edge = at
        box = ink.Spread(x=edge - wide, y=top - high, length=wide, width=high)
    yield box.plate(fill=BAND, pen=THIN)
    yield line((edge, box.y), (edge, top), pen=ink.Pen(width=0.9))


def _straightedge(bed: Bed, at: float, top: float, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw a straightedge and the base of the saw along it, over the line."""
    high, off, wide = 2.6, 4.0, 5.0
    side = -1 if bed is not Bed.WASTE else 1
    edge = at - off if side < 0 else at + KERF + off
    left = edge - wide if side < 0 else edge
    yield ink.Plate(x=left, y=top - high, length=wide, width=high, fill=BAND, pen=THIN)
    base = (edge, at + KERF + 6) if side < 0 else (at - 6, edge)
    yield ink.Plate(x=base[0], y=top - 1.0, length=base[1] - base[0], width=1.0, fill="#000000")
    del room


def _guide(bed: Bed, at: float, top: float, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw the base of the saw with its edge guide along the edge that the V points to."""
    left = room.x + 0.6
    yield ink.Plate(x=left, y=top - 1.0, length=at + KERF + 5 - left, width=1.0, fill="#000000")
    yield line((left, top - 1.0), (left, top + BOARD), pen=ink.Pen(width=0.9))
    del bed


def _fence(bed: Bed, at: float, top: float, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw the fence of a table saw, and its blade."""
    x, blade = room.x - 0.4, at + KERF / 2
    yield ink.Plate(x=x, y=top - 3.0, length=1.4, width=BOARD + 3.0, fill=BAND, pen=THIN)
    yield line((blade, top - 2.0), (blade, top + BOARD + 2.0), pen=ink.Pen(width=0.9))
    del bed


_DRAWN: Final[dict[Way, Callable[[Bed, float, float, ink.Spread], Iterator[ink.Item]]]] = {
    Way.RAIL: _rail,
    Way.STRAIGHTEDGE: _straightedge,
    Way.EDGE_GUIDE: _guide,
    Way.FENCE: _fence,
}


NARROWEST: Final = 17.0
"""A side is drawn so wide at least, in mm."""


def bearers_picture(borne: Bearers, kept: int, other: int) -> Picture:
    """Draw a cut from its end with the bearers under both sides, to scale unless one is narrow.

    ``kept`` and ``other`` are the extents of both sides at right angles to the cut, in ticks.
    """
    bearer, top = 2.6, 6.0

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        narrow = NARROWEST / (length - KERF)
        share = min(max(kept / (kept + other), narrow), 1 - narrow)
        at, board = x + share * (length - KERF), y + top
        beyond = at + KERF
        yield ink.Plate(x=x, y=board, length=at - x, width=BOARD, pen=THICK)
        yield ink.Plate(x=beyond, y=board, length=x + length - beyond, width=BOARD, pen=THICK)
        yield said("keep", (x + at) / 2, y + 2.6, bold=True)
        yield said("other side", (beyond + x + length) / 2, y + 2.6)
        yield line((at, y), (at, board + BOARD + bearer), pen=_DASHED)
        sides = (borne.keep, at, -(at - x) / kept), (borne.other, beyond, 0.0)
        if other:
            sides = sides[0], (borne.other, beyond, (x + length - beyond) / other)
        for side, edge, scale in sides:
            for far in side:
                middle = edge + far * scale
                yield ink.Plate(
                    x=middle - bearer / 2,
                    y=board + BOARD,
                    length=bearer,
                    width=bearer,
                    fill=BAND,
                    pen=THIN,
                )
            if side:
                number = edge + (min(side) + max(side)) / 2 * scale
                yield said(str(len(side)), number, board + BOARD + bearer + LINE / 2, bold=True)
        yield said("+", at + KERF / 2, board + BOARD + bearer + LINE / 2, bold=True)

    return Picture(top + BOARD + bearer + LINE, draw)

"""Where a part could lie on a sheet, free of all that lies there: nearest first."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shared.geometry import Rect
from shared.lengths import Length

Stretch = tuple[Length, Length]
"""Begin and end, neither of them included."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for a corner, in ticks, and how far it is from where the part lies now.

    The distance is along the sheet and across it together: two moves of a guide or a stop.
    """

    distance: Length
    x: Length
    y: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """What there is of a sheet.

    Attributes
    ----------
    usable
        The sheet less its trims, in ticks, in its own frame.
    others
        What lies there; a kerf has to stay between.
    barred
        Where nothing may lie: defects and what is locked; a part may border on them.
    kerf
        In ticks.
    """

    usable: Rect
    others: tuple[Rect, ...]
    barred: tuple[Rect, ...]
    kerf: Length


def free_spots(floor: Floor, size: tuple[Length, Length], near: Rect) -> Iterator[list[Spot]]:
    """Yield free places of one row after the other for a part of a size along x and y.

    Tried are the part's own place, the edges of the sheet, and beside or in line with what lies
    there. A free place that is nearer than all of these is in line with none of them.
    """
    length, width = size
    usable, kerf = floor.usable, floor.kerf
    xs = _stops(
        (near.x, usable.x, usable.right - length),
        [(one.x, one.right) for one in floor.others],
        [(one.x, one.right) for one in floor.barred],
        (length, kerf),
    )
    ys = _stops(
        (near.y, usable.y, usable.bottom - width),
        [(one.y, one.bottom) for one in floor.others],
        [(one.y, one.bottom) for one in floor.barred],
        (width, kerf),
    )
    xs = _clear_of_edge(xs, usable.x, usable.right - length, kerf)
    ys = _clear_of_edge(ys, usable.y, usable.bottom - width, kerf)
    for y in ys:
        taken = list(_taken(floor, (y, y + width), length))
        yield [
            Spot(distance=abs(x - near.x) + abs(y - near.y), x=x, y=y)
            for x in xs
            if not any(start < x < end for start, end in taken)
        ]


def _stops(
    own: Iterable[Length],
    others: Sequence[Stretch],
    barred: Sequence[Stretch],
    size: tuple[Length, Length],
) -> list[Length]:
    """Return where a part can begin in one direction: its size and the kerf are given."""
    long, kerf = size
    found = set(own)
    for start, end in others:
        found |= {end + kerf, start - kerf - long, start, end - long}
    for start, end in barred:
        found |= {end, start - long}
    return sorted(found)


def _clear_of_edge(
    stops: Iterable[Length], least: Length, most: Length, kerf: Length
) -> list[Length]:
    """Leave out what is off the sheet, or too near its reference edge for the kerf."""
    return [at for at in stops if at == least or least + kerf < at <= most]


def _taken(floor: Floor, band: Stretch, length: Length) -> Iterator[Stretch]:
    """Yield where a part in a band across the sheet cannot begin."""
    kerf = floor.kerf
    for one in floor.others:
        if one.y - kerf < band[1] and band[0] < one.bottom + kerf:
            yield one.x - kerf - length, one.right + kerf
    for one in floor.barred:
        if one.y < band[1] and band[0] < one.bottom:
            yield one.x - length, one.right

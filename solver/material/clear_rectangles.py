"""Rooms on a sheet with bad places: the largest rectangles that keep clear of them.

A sheet is used on one side of its bad places: one clear rectangle of it is a room, and which
one is the solver's choice. What lies before the room is sawn off as waste, once across the
sheet and once in every strip; what lies behind it is not used, as a far trim is not.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis
from shared.stock import Stock
from solver.material.rooms import Room, whole_sheet

MOST_ROOMS = 8
"""Of more clear rectangles the largest are offered."""
MOST_COMPARED = 200


def rooms_of(
    stock: Stock, axes: Iterable[Axis], kerf: Length, reach: Length | None = None
) -> Iterator[Room]:
    """Yield the ways to use a sheet whose first cuts may go in those directions.

    ``reach`` is the longest cut a rail takes, ``None`` for no limit.
    """
    for axis in axes:
        whole = whole_sheet(stock, axis is Axis.CROSSCUT, kerf, reach)
        yield from around(whole) if stock.no_go else (whole,)


def around(whole: Room) -> Iterator[Room]:
    """Yield the rooms of a sheet beside its bad places, the largest first.

    Where some places bar only show faces, rooms that do not keep clear of them follow, for
    parts whose face is not shown.
    """
    stock = whole.stock
    clear = clear_rects(stock.usable, [bad.rect for bad in stock.no_go])
    yield from _rooms(whole, clear)
    hard = [bad.rect for bad in stock.no_go if not bad.show_only]
    if len(hard) < len(stock.no_go):
        more = [rect for rect in clear_rects(stock.usable, hard) if rect not in clear]
        yield from (replace(room, hidden=True) for room in _rooms(whole, more))


def clear_rects(usable: Rect, bad: Sequence[Rect]) -> list[Rect]:
    """Return the largest rectangles that overlap no bad one, none inside another."""
    found = set(_candidates(usable, [rect for rect in bad if rect.overlaps(usable)]))
    ranked = sorted(found, key=lambda rect: (-rect.area, rect.y, rect.x))[:MOST_COMPARED]
    kept: list[Rect] = []
    for rect in ranked:
        if not any(other.contains(rect) for other in kept):
            kept.append(rect)
    return kept[:MOST_ROOMS]


def _candidates(usable: Rect, bad: Sequence[Rect]) -> Iterator[Rect]:
    """Yield, between any two lines that may bound one, the clear rectangles."""
    lefts = {usable.x, *(rect.right for rect in bad)}
    rights = {usable.right, *(rect.x for rect in bad)}
    for left in lefts:
        for right in rights:
            if usable.x <= left < right <= usable.right:
                between = [rect for rect in bad if rect.x < right and rect.right > left]
                for top, bottom in _gaps(usable, between):
                    yield Rect(x=left, y=top, length=right - left, width=bottom - top)


def _gaps(usable: Rect, bad: Sequence[Rect]) -> Iterator[tuple[Length, Length]]:
    """Yield the gaps between bad rectangles from the near edge to the far one."""
    at = usable.y
    for rect in sorted(bad, key=lambda one: one.y):
        if rect.y > at:
            yield at, rect.y
        at = max(at, rect.bottom)
    if at < usable.bottom:
        yield at, usable.bottom


def _rooms(whole: Room, rects: Sequence[Rect]) -> Iterator[Room]:
    for rect in rects:
        room = _room(whole, rect)
        if min(room.length, room.width) > whole.kerf:
            yield room


def _room(whole: Room, rect: Rect) -> Room:
    """Return a clear rectangle of a sheet as a room."""
    usable = whole.stock.usable
    along = _side(whole.kerf, (usable.x, usable.right), (rect.x, rect.right))
    across = _side(whole.kerf, (usable.y, usable.bottom), (rect.y, rect.bottom))
    if whole.transposed:
        along, across = across, along
    return replace(
        whole,
        length=along[1],
        width=across[1],
        exact=(whole.exact[0] and not along[2], whole.exact[1] and not across[2]),
        trimmed=(whole.trimmed[0] or along[0] > 0, whole.trimmed[1] or across[0] > 0),
        beyond=(whole.beyond[0] + along[2], whole.beyond[1] + across[2]),
        before=(along[0], across[0]),
    )


def _side(
    kerf: Length, usable: tuple[Length, Length], clear: tuple[Length, Length]
) -> tuple[Length, Length, Length]:
    """Return what lies before the room, with a kerf, the room with a kerf, and what is behind.

    A waste piece is a kerf wide at least, or there is none.
    """
    begin = clear[0]
    if begin > usable[0]:
        begin = max(begin, usable[0] + 2 * kerf)
    return begin - usable[0], clear[1] - begin + kerf, usable[1] - clear[1]

"""Bad places of a sheet: what they are called, what keeps clear of them, what they leave."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from enum import StrEnum

from shared.geometry import Rect
from shared.lengths import Length
from shared.stock import NoGo, Stock


class Corner(StrEnum):
    """A corner of a sheet as it is drawn: the reference edge on top."""

    TOP_LEFT = "top left"
    """The reference corner."""
    TOP_RIGHT = "top right"
    BOTTOM_LEFT = "bottom left"
    BOTTOM_RIGHT = "bottom right"


def at_corner(stock: Stock, corner: Corner, length: Length, width: Length) -> NoGo:
    """Return the bad place of a damaged corner, its size in ticks along x and y."""
    right = corner in (Corner.TOP_RIGHT, Corner.BOTTOM_RIGHT)
    bottom = corner in (Corner.BOTTOM_LEFT, Corner.BOTTOM_RIGHT)
    return NoGo(
        x=stock.length - length if right else 0,
        y=stock.width - width if bottom else 0,
        length=length,
        width=width,
    )


def place_name(bad: NoGo, sheet: Rect) -> str:
    """Return what a bad place is called by where it lies on the untrimmed sheet."""
    rect = bad.rect
    ends = rect.x <= sheet.x or rect.right >= sheet.right
    edges = rect.y <= sheet.y or rect.bottom >= sheet.bottom
    if ends and edges:
        return "damaged corner"
    return "damaged edge" if ends or edges else "knot or flaw"


def barred_by(no_go: Iterable[NoGo], rect: Rect, *, show: bool) -> NoGo | None:
    """Return the first bad place that a part lies on and must not.

    Parameters
    ----------
    no_go
        Bad places of the sheet.
    rect
        Where the part lies.
    show
        Whether its face is shown.
    """
    barring = (bad for bad in no_go if bad.bars(show=show))
    return next((bad for bad in barring if bad.rect.overlaps(rect)), None)


def covers(rects: Iterable[Rect], whole: Rect) -> bool:
    """Say whether rectangles together hide all of another one, exactly."""
    over = [rect for rect in rects if rect.overlaps(whole)]
    xs = _lines(
        [whole.x, whole.right, *(x for r in over for x in (r.x, r.right))], whole.x, whole.right
    )
    ys = _lines(
        [whole.y, whole.bottom, *(y for r in over for y in (r.y, r.bottom))], whole.y, whole.bottom
    )
    hidden: set[tuple[int, int]] = set()
    for rect in over:
        columns = _between(xs, rect.x, rect.right)
        rows = _between(ys, rect.y, rect.bottom)
        hidden |= {(column, row) for column in columns for row in rows}
    return len(hidden) == (len(xs) - 1) * (len(ys) - 1) > 0


def _lines(places: Iterable[Length], low: Length, high: Length) -> list[Length]:
    return sorted({place for place in places if low <= place <= high})


def _between(lines: Sequence[Length], low: Length, high: Length) -> range:
    """Return the numbers of the gaps between lines that lie from ``low`` to ``high``."""
    return range(bisect_left(lines, low), bisect_left(lines, min(high, lines[-1])))

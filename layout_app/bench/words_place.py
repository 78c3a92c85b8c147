"""Where words stand beside the pointer: behind the way of the drag, off what is written there."""

from collections.abc import Iterator, Sequence
from itertools import product

from PySide6.QtCore import QPointF, QRectF

FARTHER_PX = (0.0, 40.0, 90.0, 150.0)
"""How far words give way, if what is near is taken."""
LEASH_PX = 40.0


class Trail:
    """Follows the pointer on a leash: so the way of a drag does not change with every tremor."""

    def __init__(self) -> None:
        self._end: QPointF | None = None

    def way(self, at: QPointF) -> QPointF:
        """Return the way the pointer has come of late, in pixels, now that it is at a point."""
        end = at if self._end is None else self._end
        way = at - end
        far = (way.x() ** 2 + way.y() ** 2) ** 0.5
        if far > LEASH_PX:
            end = at - way * (LEASH_PX / far)
        self._end = end
        return at - end


def place(
    at: QPointF, size: QRectF, port: QRectF, way: QPointF, taken: Sequence[QRectF] = ()
) -> QPointF:
    """Return where the origin of words comes to stand, all in pixels of the view.

    Parameters
    ----------
    at
        The pointer.
    size
        The words from their origin, as they lie right and below of the pointer.
    port
        What is seen.
    way
        Where the drag goes; (0, 0) for none.
    taken
        Places that the words keep off.
    """
    for origin in _origins(at, size, way):
        words = size.translated(origin)
        if port.contains(words) and not any(words.intersects(one) for one in taken):
            return origin
    return _pulled_in(next(_origins(at, size, way)), size, port)


def _origins(at: QPointF, size: QRectF, way: QPointF) -> Iterator[QPointF]:
    """Yield where words could stand: nearest first, and first those behind the drag."""
    corners = sorted(
        product((1, -1), (1, -1)), key=lambda side: side[0] * way.x() + side[1] * way.y()
    )
    for farther, (right, below) in product(FARTHER_PX, corners):
        x = at.x() + farther if right > 0 else at.x() - size.right() - size.left() - farther
        y = at.y() + farther if below > 0 else at.y() - size.bottom() - size.top() - farther
        yield QPointF(x, y)


def _pulled_in(origin: QPointF, size: QRectF, port: QRectF) -> QPointF:
    x = min(origin.x(), port.right() - size.right())
    y = min(origin.y(), port.bottom() - size.bottom())
    return QPointF(max(x, port.left() - size.left()), max(y, port.top() - size.top()))

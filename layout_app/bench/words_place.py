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
    origins = [_pulled_in(one, size, port) for one in _origins(at, size, way)]
    apart = [one for one in origins if not size.translated(one).contains(at)]
    return min(apart or origins, key=lambda one: _covered(size.translated(one), taken))


def _covered(words: QRectF, taken: Sequence[QRectF]) -> float:
    """Return how much words would cover of what is taken, in square pixels."""
    shared = (words.intersected(one) for one in taken)
    return sum(one.width() * one.height() for one in shared)


def _origins(at: QPointF, size: QRectF, way: QPointF) -> Iterator[QPointF]:
    """Yield where words could stand: nearest first, and first those behind the drag."""
    corners = sorted(
        product((1, -1), (1, -1)), key=lambda side: side[0] * way.x() + side[1] * way.y()
    )
    farther = sorted(product(FARTHER_PX, FARTHER_PX), key=sum)
    for (along, across), (right, below) in product(farther, corners):
        x = at.x() + along if right > 0 else at.x() - size.right() - size.left() - along
        y = at.y() + across if below > 0 else at.y() - size.bottom() - size.top() - across
        yield QPointF(x, y)


def _pulled_in(origin: QPointF, size: QRectF, port: QRectF) -> QPointF:
    x = min(origin.x(), port.right() - size.right())
    y = min(origin.y(), port.bottom() - size.bottom())
    return QPointF(max(x, port.left() - size.left()), max(y, port.top() - size.top()))

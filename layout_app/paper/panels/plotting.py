"""From a piece to its picture: to scale, but what is narrow is drawn wide enough for its name."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final

from shared.geometry import Rect
from shared.lengths import Length

HALVINGS: Final = 12
"""How often the interval that holds the largest scale is halved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Least:
    """From ``low`` to ``high``, in ticks, at least so many mm are drawn."""

    low: Length
    high: Length
    mm: float


class Ruler:
    """Where places along one side of a piece, in ticks, are drawn, in mm from its first corner."""

    def __init__(self, stops: Sequence[Length], leasts: Sequence[Least], scale: float) -> None:
        self._stops, self._scale = stops, scale
        steps = [scale * (b - a) for a, b in pairwise(stops)]
        for least in sorted(leasts, key=lambda one: one.high - one.low):
            _widen(steps, stops, least)
        self._at = list(accumulate(steps, initial=0.0))

    @property
    def length(self) -> float:
        """Of all that is drawn, in mm."""
        return self._at[-1]

    def at(self, place: float) -> float:
        """Return where a place is drawn; beyond the ends the scale goes on."""
        if place <= self._stops[0]:
            return (place - self._stops[0]) * self._scale
        if place >= self._stops[-1]:
            return self._at[-1] + (place - self._stops[-1]) * self._scale
        step = bisect_right(self._stops, place) - 1
        low, high = self._stops[step : step + 2]
        share = (place - low) / (high - low)
        return self._at[step] + share * (self._at[step + 1] - self._at[step])

    def squeezed(self, room: float) -> "Ruler":
        """Return the same with all steps shorter, if there is no room for it."""
        if self.length > room:
            by = room / self.length
            self._at = [by * at for at in self._at]
            self._scale *= by
        return self


def _widen(steps: list[float], stops: Sequence[Length], least: Least) -> None:
    """Make the steps within a stretch longer, each by its share, until they are long enough."""
    within = [at for at, (a, b) in enumerate(pairwise(stops)) if least.low <= a and b <= least.high]
    long = sum(steps[at] for at in within)
    if long < least.mm:
        ticks = sum(stops[at + 1] - stops[at] for at in within)
        for at in within:
            steps[at] += (least.mm - long) * (stops[at + 1] - stops[at]) / ticks


@dataclass(frozen=True, slots=True)
class Plot:
    """A piece as it is drawn: its first corner at 0, 0, in mm."""

    x: Ruler
    y: Ruler


def stops_of(rects: Sequence[Rect]) -> tuple[list[Length], list[Length]]:
    """Return where rectangles begin and end, along x and along y."""
    xs = {at for one in rects for at in (one.x, one.right)}
    ys = {at for one in rects for at in (one.y, one.bottom)}
    return sorted(xs), sorted(ys)


def plot(
    rects: Sequence[Rect],
    leasts: tuple[Sequence[Least], Sequence[Least]],
    room: tuple[float, float],
) -> Plot:
    """Return the largest plot of a piece that has room, in mm along x and along y.

    ``rects`` are the piece, first, and what becomes of it; ``leasts`` are along x and along y.
    Where parts of it are drawn wider than they are, the piece as a whole keeps its proportions as
    far as there is room.
    """
    found = _largest(rects, leasts, room)
    sides = (rects[0].length, found.x.length), (rects[0].width, found.y.length)
    scale = max(drawn / ticks for ticks, drawn in sides)
    more = [min(free, scale * ticks) for free, (ticks, _) in zip(room, sides, strict=True)]
    if all(drawn > 0.99 * long for long, (_, drawn) in zip(more, sides, strict=True)):
        return found
    whole = _whole(rects[0], more)
    longer = [[*some, one] for some, one in zip(leasts, whole, strict=True)]
    return _largest(rects, (longer[0], longer[1]), room)


def _whole(piece: Rect, more: Sequence[float]) -> tuple[Least, Least]:
    return (
        Least(low=piece.x, high=piece.right, mm=more[0]),
        Least(low=piece.y, high=piece.bottom, mm=more[1]),
    )


def _largest(
    rects: Sequence[Rect],
    leasts: tuple[Sequence[Least], Sequence[Least]],
    room: tuple[float, float],
) -> Plot:
    """Return the plot of the largest scale, of one for both directions, that has room."""
    stops, whole = stops_of(rects), rects[0]

    def plotted(scale: float) -> Plot:
        first, second = (Ruler(*one, scale) for one in zip(stops, leasts, strict=True))
        return Plot(first, second)

    high = min(room[0] / whole.length, room[1] / whole.width)
    low, found = 0.0, plotted(high)
    if _fits(found, room):
        return found
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        found = plotted(middle)
        low, high = (middle, high) if _fits(found, room) else (low, middle)
    found = plotted(low)
    return Plot(found.x.squeezed(room[0]), found.y.squeezed(room[1]))


def _fits(plotted: Plot, room: tuple[float, float]) -> bool:
    return plotted.x.length <= room[0] + 1e-9 and plotted.y.length <= room[1] + 1e-9

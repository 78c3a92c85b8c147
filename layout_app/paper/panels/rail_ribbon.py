"""What leads the saw along a line, as a picture shows it: a ribbon with a heavy edge, or dashes."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from layout_app.paper import ink
from layout_app.paper.panels.plotting import Ruler
from layout_app.paper.pens import CUT
from shared.drawing.lettering import Space
from shared.geometry import Rect
from shared.making.entry import led_on
from shared.making.record import Way
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import Instruction

RIBBON: Final = 1.6
"""A rail is drawn so wide, in mm, and with the only cut of a panel as wide as it is."""
WIDEST: Final = 7.0
BEYOND: Final = 1.5
"""It reaches so far beyond the piece at both ends, in mm."""
BACK: Final = 0.9
"""A straightedge lies at least so far from its line, in mm."""
HEAVY: Final = 0.7
"""Width of the edge that leads, in mm."""
GREY: Final = "#c4c4c4"
DASHES: Final = (1.6, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The line of a cut in a picture, in mm.

    Attributes
    ----------
    rip
        It runs across the page.
    at, ends
        Where it lies, and from where to where it runs.
    edge
        Where the edge lies that leads the saw, or ``None`` at the table saw.
    side
        On which side of its edge that lies: -1 above or left of it, 1 below or right of it.
    wide
        How wide it is drawn; 0 for an edge guide, whose edge is that of the piece.
    """

    rip: bool
    at: float
    ends: tuple[float, float]
    edge: float | None
    side: int
    wide: float

    def ribbon(self) -> Iterator[tuple[ink.Item, Space]]:
        """Yield the ribbon, and the room it takes."""
        if self.edge is None or not self.wide:
            return
        low = min(self.edge, self.edge + self.side * self.wide)
        start, long = self.ends[0] - BEYOND, self.ends[1] - self.ends[0] + 2 * BEYOND
        x, y = (start, low) if self.rip else (low, start)
        length, width = (long, self.wide) if self.rip else (self.wide, long)
        yield (
            ink.Plate(x=x, y=y, length=length, width=width, fill=GREY),
            Space(x=x, y=y, length=length, width=width),
        )

    def drawn(self) -> Iterator[ink.Item]:
        """Yield the line, and the edge that leads the saw."""
        dashes = DASHES if self.edge is None else ()
        yield self._stroke(self.at, ink.Pen(width=CUT, dashes=dashes), 0.0)
        if self.edge is not None:
            yield self._stroke(self.edge, ink.Pen(width=HEAVY), BEYOND if self.wide else 0.0)

    def _stroke(self, at: float, pen: ink.Pen, more: float) -> ink.Item:
        ends = self.ends[0] - more, self.ends[1] + more
        line = tuple((end, at) if self.rip else (at, end) for end in ends)
        return ink.Strokes(lines=(line,), pen=pen)


def led_side(told: Instruction) -> int:
    """Return on which side of the line what leads the saw lies: -1 or 1 as in `Line`."""
    near = led_on(told.stroke, told.record.bed) is Keep.NEAR
    turned = told.record.mirrored and told.stroke.axis is Axis.CROSSCUT
    return -1 if near is not turned else 1


def depth_of(told: Instruction) -> float:
    """Return how far from the line what leads the saw reaches in a picture, in mm, at least."""
    if told.record.way in {Way.FENCE, Way.EDGE_GUIDE}:
        return 0.0
    return RIBBON + (2 * BACK if told.record.way is Way.STRAIGHTEDGE else 0.0)


def led_by(
    told: Instruction,
    *,
    at: float,
    ends: tuple[float, float],
    ruler: Ruler,
    start: Rect,
    alone: bool,
    free: float,
) -> Line:
    """Return the line of a cut with what leads the saw.

    Parameters
    ----------
    at, ends
        Where the line lies, and from where to where it runs, in mm.
    ruler
        Of the direction across the cut.
    start
        The piece at this cut as it lies, in ticks.
    alone
        Whether it is the only cut of the picture.
    free
        How far back a straightedge may lie, in mm, so that a name has room behind it.
    """
    record, rip = told.record, told.stroke.axis is Axis.RIP
    side, turned = led_side(told), record.mirrored and not rip
    line = Line(rip=rip, at=at, ends=ends, edge=at, side=side, wide=RIBBON)
    if record.way is Way.FENCE:
        return replace(line, edge=None, wide=0.0)
    low, high = (start.y, start.bottom) if rip else (start.x, start.right)
    if record.way is Way.EDGE_GUIDE:
        return replace(line, edge=ruler.at(high if turned else low), wide=0.0)
    laid = record.rail
    wide = RIBBON
    if alone and laid is not None and laid.width:
        per_tick = abs(ruler.at(high) - ruler.at(low)) / max(1, high - low)
        wide = min(max(RIBBON, per_tick * laid.width), WIDEST)
    if record.way is Way.STRAIGHTEDGE and laid is not None:
        edge = ruler.at(high - laid.edge_at if turned else low + laid.edge_at)
        back = max(BACK, min(side * (edge - at), free - wide))
        return replace(line, edge=at + side * back, wide=wide)
    return replace(line, edge=at, wide=wide)

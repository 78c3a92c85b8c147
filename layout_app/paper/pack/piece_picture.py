"""The small picture of a cut: the piece as it lies, what is sawn off, the rail on its line."""

from collections.abc import Iterator

from layout_app.paper import ink
from layout_app.paper.pens import BLACK_AND_WHITE, HATCH
from shared.drawing.hatch import hatch
from shared.geometry import Rect
from shared.lengths import MM
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import Instruction
from shared.telling.outcome import PieceFate

OUT = 3.0
"""How far the rail's line reaches beyond the piece, in mm."""
HATCHING = 2.2
"""From line to line, in mm of paper."""
SHADE = "#d9d9d9"
"""Of what is sawn off and used."""


def piece_picture(told: Instruction, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw the piece to scale in the middle of a frame, room left for the rail's ends."""
    piece = told.stroke.piece
    free = frame.length - 2 * OUT - 2, frame.width - 2 * OUT - 2
    scale = min(free[0] * MM / piece.length, free[1] * MM / piece.width) / MM
    view = _View(piece, frame, scale)
    yield view.plate(piece, fill="#ffffff")
    waste = told.near.end in {PieceFate.WASTE, PieceFate.KEEPER}
    if told.stroke.near.area:
        yield view.plate(told.stroke.near, fill="" if waste else SHADE)
    if waste:
        spacing = max(1, int(HATCHING / scale))
        lines = tuple(
            tuple(view.spot(*spot) for spot in line)
            for line in hatch(told.stroke.near, spacing, crossed=True)
        )
        yield ink.Strokes(lines=lines, pen=ink.Pen(width=HATCH))
    yield view.plate(told.stroke.cut.rect, fill=BLACK_AND_WHITE.kerf)
    yield view.plate(piece, pen=ink.Pen(width=0.5))
    yield _rail(told, view)
    yield _face_mark(told, view)


def _rail(told: Instruction, view: "_View") -> ink.Item:
    """Draw the line the rail lies on, from edge to edge; dashed at the table saw."""
    cut = told.stroke.cut
    side = told.rail_side or cut.keep
    near = side is Keep.NEAR
    left, top = view.spot(cut.rect.x, cut.rect.y)
    right, bottom = view.spot(cut.rect.right, cut.rect.bottom)
    if told.stroke.axis is Axis.RIP:
        y = top if near else bottom
        line = (left - OUT, y), (right + OUT, y)
    else:
        x = left if near else right
        line = (x, top - OUT), (x, bottom + OUT)
    dashes = () if told.rail_side else (2.0, 1.2)
    return ink.Strokes(lines=(line,), pen=ink.Pen(width=0.9, dashes=dashes))


def _face_mark(told: Instruction, view: "_View") -> ink.Item:
    """Pencil the V on the edge the size is measured from."""
    x, y = view.spot(told.stroke.piece.x, told.stroke.piece.y)
    if told.stroke.axis is Axis.RIP:
        line = (x + 3.5, y - 2.4), (x + 5, y), (x + 6.5, y - 2.4)
    else:
        line = (x - 2.4, y + 1.5), (x, y + 3), (x - 2.4, y + 4.5)
    return ink.Strokes(lines=(line,), pen=ink.Pen(width=0.5))


class _View:
    """Maps a piece's ticks to mm of the page."""

    def __init__(self, piece: Rect, frame: ink.Spread, scale: float) -> None:
        self._piece, self._scale = piece, scale
        self._x = frame.x + (frame.length - piece.length * scale) / 2
        self._y = frame.y + (frame.width - piece.width * scale) / 2

    def spot(self, x: float, y: float) -> ink.Spot:
        """Map a point."""
        return (
            self._x + (x - self._piece.x) * self._scale,
            self._y + (y - self._piece.y) * self._scale,
        )

    def plate(self, rect: Rect, *, fill: str = "", pen: ink.Pen | None = None) -> ink.Plate:
        """Map a rectangle."""
        x, y = self.spot(rect.x, rect.y)
        return ink.Plate(
            x=x,
            y=y,
            length=rect.length * self._scale,
            width=rect.width * self._scale,
            fill=fill,
            pen=pen,
        )

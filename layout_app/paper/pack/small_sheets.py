"""All sheets of a job in small, in a grid that fills what is free of a page."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from layout_app.paper import ink
from layout_app.paper.pack.book import TEXT, Book
from layout_app.paper.pack.setting import LEADING, length_of, shortened, words
from layout_app.paper.pens import HATCH, NARROW, OUTLINE
from shared.drawing import Box, Role, SheetDrawing, hatch
from shared.geometry import Rect
from shared.lengths import Length

GAP = 5.0
"""Between two pictures, in mm."""
CAPTION = 1.2 * LEADING * TEXT
"""Height of the line above a picture, in mm."""
LEAST = 25.0
"""The longest sheet is drawn at least so many mm long, or none is."""
LITTLE = 0.8
"""So much smaller may pictures be for the sake of a grid as wide as the page."""
HATCHING = 2.2
"""From line to line, in mm of paper."""
SHADE = "#d9d9d9"
LEGEND = "Grey: parts. Hatched one way: offcuts to keep. Crossed: waste."
FALLS = {Role.WASTE: True, Role.TRIM: True, Role.KEEPER: False}


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """So many pictures in a row, each in a cell; lengths in mm, ``scale`` in mm a tick."""

    columns: int
    rows: int
    length: float
    width: float
    scale: float


def put_sheets(book: Book, drawings: Sequence[SheetDrawing]) -> None:
    """Fill what is free of the page with all sheets, if they can be large enough to be seen."""
    above = 0.6 * TEXT + LEADING * TEXT
    room = book.room
    grid = best_grid(drawings, room.length, room.width - above)
    if grid is None:
        return
    book.gap(0.6 * TEXT)
    book.paragraph(LEGEND)
    book.put(_high(grid), lambda x, y, _: _pictures(drawings, grid, x, y))


def sheets_page(drawings: Sequence[SheetDrawing], length: float, width: float) -> ink.Page | None:
    """Return a page of all sheets that is so many mm long and at most as wide, if they are seen."""
    grid = best_grid(drawings, length, width)
    if grid is None:
        return None
    items = tuple(_pictures(drawings, grid, 0.0, 0.0))
    return ink.Page(length=length, width=round(_high(grid) + OUTLINE, 2), items=items)


def _high(grid: Grid) -> float:
    return grid.rows * (grid.width + GAP) - GAP


def _pictures(drawings: Sequence[SheetDrawing], grid: Grid, x: float, y: float) -> list[ink.Item]:
    return [
        _picture(drawing, _corner(grid, place, x, y), grid)
        for place, drawing in enumerate(drawings)
    ]


def best_grid(drawings: Sequence[SheetDrawing], length: float, width: float) -> Grid | None:
    """Return the grid with the largest pictures, or ``None`` where none is large enough.

    A wider one is taken for pictures that are little smaller.
    """
    if not drawings:
        return None
    longest = max(drawing.rect.length for drawing in drawings)
    widest = max(drawing.rect.width for drawing in drawings)
    grids = [
        _grid(columns, ceil(len(drawings) / columns), (length, width), (longest, widest))
        for columns in range(1, len(drawings) + 1)
    ]
    most = max(grid.scale for grid in grids)
    least = max(LEAST / longest, LITTLE * most)
    return next((grid for grid in reversed(grids) if grid.scale >= least), None)


def _grid(
    columns: int, rows: int, room: tuple[float, float], largest: tuple[Length, Length]
) -> Grid:
    length = (room[0] - (columns - 1) * GAP) / columns
    width = (room[1] - (rows - 1) * GAP) / rows - CAPTION
    scale = min((length - OUTLINE) / largest[0], (width - OUTLINE) / largest[1])
    high = CAPTION + largest[1] * scale + OUTLINE
    return Grid(columns=columns, rows=rows, length=length, width=high, scale=scale)


def _corner(grid: Grid, place: int, x: float, y: float) -> ink.Spot:
    row, column = divmod(place, grid.columns)
    return x + column * (grid.length + GAP), y + row * (grid.width + GAP)


def _picture(drawing: SheetDrawing, corner: ink.Spot, grid: Grid) -> ink.Item:
    said = shortened(_caption(drawing, grid.length), grid.length, TEXT, bold=True)
    view = _View(corner[0] + OUTLINE / 2, corner[1] + CAPTION, grid.scale)
    items = [words(said, corner[0], corner[1] + CAPTION / 2, TEXT, bold=True), *view.drawn(drawing)]
    return ink.Group(name=f"sheet-{drawing.sheet}", items=tuple(items))


def _caption(drawing: SheetDrawing, room: float) -> str:
    """Name a sheet, and as much of what it is as has room, whole words of the title each."""
    name = f"Sheet {drawing.sheet}"
    if drawing.problem:
        return f"{name}: not planned yet"
    known = drawing.title.split(", ")
    titles = (f"{name}: {', '.join(known[:count])}" for count in range(len(known), 0, -1))
    return next((one for one in titles if length_of(one, TEXT, bold=True) <= room), name)


class _View:
    """Draws the boxes of a sheet with its corner at a place of the page, in mm."""

    def __init__(self, x: float, y: float, scale: float) -> None:
        self._x, self._y, self._scale = x, y, scale

    def drawn(self, drawing: SheetDrawing) -> Iterator[ink.Item]:
        """Draw falls, then parts with their names, then the outline."""
        names = {label.key: label.lines[0] for label in drawing.labels if label.lines}
        falls = [box for box in drawing.boxes if box.role in FALLS]
        yield from (self._plate(box.rect) for box in falls)
        yield from self._hatching(falls)
        for box in drawing.boxes:
            if box.role is Role.PART:
                yield self._plate(box.rect, SHADE)
                yield from self._name(box, names.get(box.key, ""))
        yield self._plate(drawing.rect, pen=OUTLINE)

    def _plate(self, rect: Rect, fill: str = "", pen: float = NARROW) -> ink.Item:
        x, y = self._spot(rect.x, rect.y)
        length, width = rect.length * self._scale, rect.width * self._scale
        return ink.Spread(x=x, y=y, length=length, width=width).plate(fill, ink.Pen(width=pen))

    def _hatching(self, falls: Sequence[Box]) -> Iterator[ink.Item]:
        spacing = max(1, int(HATCHING / self._scale))
        lines = [
            tuple(self._spot(*spot) for spot in line)
            for box in falls
            for line in hatch(box.rect, spacing, crossed=FALLS[box.role])
        ]
        if lines:
            yield ink.Strokes(lines=tuple(lines), pen=ink.Pen(width=HATCH))

    def _name(self, box: Box, name: str) -> Iterator[ink.Item]:
        """Write a name in the middle of its part, along or down, where there is room for it."""
        x, y = self._spot(box.rect.x + box.rect.length / 2, box.rect.y + box.rect.width / 2)
        length, width = box.rect.length * self._scale, box.rect.width * self._scale
        if name and length_of(name, TEXT) + 2 <= length and width >= LEADING * TEXT:
            yield words(name, x, y, TEXT, anchor=ink.Anchor.MIDDLE)

    def _spot(self, x: float, y: float) -> ink.Spot:
        return self._x + x * self._scale, self._y + y * self._scale

"""A sheet's diagram fitted into a frame of a page, with its scale stated and a bar to check it."""

from dataclasses import dataclass

from layout_app.paper import ink
from layout_app.paper.letters import width_of
from layout_app.paper.matter import Matter
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pens import BLACK_AND_WHITE, COLOURED, NARROW, TEXT, Hand
from layout_app.paper.svg import Titled, titled
from shared.drawing import SheetDrawing
from shared.lengths import Unit

SCALES = (*range(1, 31), 32, 34, 36, 38, 40, 45, 50, 60, 75, 100, 150, 200, 500, 1000)
"""1 to so many: the reducing scales of ISO 5455 (1:2, 1:5, 1:10, 1:20, 1:50 ...) and, since these
leave too much of a page empty, whole numbers between; 1:12 and 1:24 are an inch to the foot."""
BAR_ROOM = 7.0
"""Height of the line with the scale and its bar, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """A drawing on paper: items in the frame of the page, and 1 to how many it is drawn."""

    items: tuple[ink.Item, ...]
    scale: int


def fit_sheet(
    drawing: SheetDrawing, matter: Matter, frame: ink.Spread, *, black: bool = True
) -> Fitting:
    """Fit a sheet and all its words into a frame, as large as a scale of the series allows."""
    room = ink.Spread(x=frame.x, y=frame.y, length=frame.length, width=frame.width - BAR_ROOM)
    made, scale = _largest(drawing, matter, room, black=black)
    group = ink.Group(
        name=f"drawing-{drawing.sheet}",
        items=made.items,
        x=room.x - made.around.x / scale,
        y=room.y - made.around.y / scale,
        scale=1 / scale,
    )
    bar = check_bar(frame.x, room.bottom + BAR_ROOM / 2, scale, matter.style.unit)
    return Fitting(items=(group, *bar), scale=scale)


def _largest(
    drawing: SheetDrawing, matter: Matter, room: ink.Spread, *, black: bool
) -> tuple[Titled, int]:
    """Draw at ever smaller scales until all has room; text keeps its size on paper."""
    bare = drawing.rect
    least = max(to_mm(bare.length) / room.length, to_mm(bare.width) / room.width)
    for scale in (one for one in SCALES if one >= least):
        hand = Hand(size=TEXT * scale, colours=BLACK_AND_WHITE if black else COLOURED)
        made = titled(drawing, hand, matter.style, matter.job)
        around = made.around
        if around.length <= room.length * scale and around.width <= room.width * scale:
            return made, scale
    raise ValueError(f"sheet {drawing.sheet} is too large for the page")


def check_bar(x: float, y: float, scale: int, unit: Unit) -> tuple[ink.Item, ...]:
    """Draw a bar of a stated length on paper, the scale before it; y is its middle, in mm."""
    words = f"Scale 1:{scale}"
    start = x + width_of(words, bold=True) * TEXT + 2 * TEXT
    length, said = (50.8, "2 in") if unit is Unit.INCH else (50.0, "50 mm")
    lines = (
        ((start, y), (start + length, y)),
        ((start, y - 1.5), (start, y + 1.5)),
        ((start + length, y - 1.5), (start + length, y + 1.5)),
    )
    told = f"This bar measures {said} where the printer kept the scale."
    return (
        ink.Words(text=words, x=x, y=y, size=TEXT, bold=True),
        ink.Group(
            name="check-bar",
            title=told,
            items=(ink.Strokes(lines=lines, pen=ink.Pen(width=2 * NARROW)),),
        ),
        ink.Words(text=told, x=start + length + TEXT, y=y, size=TEXT),
    )


def fitted_page(drawing: SheetDrawing, matter: Matter, paper: Paper, *, black: bool) -> ink.Page:
    """Compose a sheet on a page of paper that lies, with scale and check bar, banner on top."""
    book = Book(paper, matter.job.name, matter.banner)
    book.turn(f"Sheet {drawing.sheet}", lying=True)
    book.fill(fit_sheet(drawing, matter, book.whole(), black=black).items)
    (page,) = book.pages()
    return page

"""A sheet's diagram fitted into a frame of a page, with its scale stated and a bar to check it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from layout_app.look.theme import Theme
from layout_app.paper import ink
from layout_app.paper.diagram import Lost
from layout_app.paper.letters import width_of
from layout_app.paper.matter import Matter
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pens import BLACK_AND_WHITE, COLOURED, NARROW, TEXT, PaperHand
from layout_app.paper.titled import Titled, titled
from shared.drawing import SheetDrawing
from shared.lengths import Unit
from shared.shop import Axis

SCALES = (*range(1, 31), 32, 34, 36, 38, 40, 45, 50, 60, 75, 100, 150, 200, 500, 1000)
"""1 to so many: the reducing scales of ISO 5455 (1:2, 1:5, 1:10, 1:20, 1:50 ...) and, since these
leave too much of a page empty, whole numbers between; 1:12 and 1:24 are an inch to the foot."""
SMALLER = 1.5
"""So much smaller may a sheet be drawn for the sake of the list below it; else that goes on on
the next page."""
SIZES = tuple(share * TEXT for share in (1.0, 0.8, 0.64, 0.5, 0.4, 0.32, 0.25))
"""Text sizes in mm: the smaller ones where more numbers stand in a row than a page has room for."""
LEAST_SHARE = 2.0
"""A sheet is drawn at most so many times smaller than it could be without words; rather these
are smaller."""
COLOURS = {True: BLACK_AND_WHITE, False: COLOURED}
BESIDE, ABOVE_BELOW = 4.8, 4.0
"""Tags and the scale of rips take at least so much beside a sheet, in text sizes; title and facts
above and below it."""
BELOW = 4.0
"""Free below each of several sheets on a page, in mm."""
BAR_ROOM = 7.0
"""Height of the line with the scale and its bar, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """A drawing on paper.

    Attributes
    ----------
    items
        In the frame of the page.
    scale
        1 to how many it is drawn.
    left_over
        What found no room on the page of the list below the sheet, one sentence each.
    lost
        What does not stand where it belongs on the sheet.
    """

    items: tuple[ink.Item, ...]
    scale: int
    left_over: tuple[str, ...] = ()
    lost: Lost
    frame: ink.Spread

    @property
    def lying(self) -> bool:
        """Whether it was made for what is wider than high."""
        return self.frame.length > self.frame.width


Sheets = list[SheetDrawing]
"""Sheets that are sawn alike, drawn by the first of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Sheets below each other at one scale, all that is written of them on the page.

    Attributes
    ----------
    items
        In the frame of their top left corner.
    height
        What they take, in mm.
    lost
        Of each as with `Fitting`.
    """

    sheets: tuple[Sheets, ...]
    items: tuple[ink.Item, ...]
    scale: int
    height: float
    lost: tuple[Lost, ...]
    frame: ink.Spread

    @property
    def lying(self) -> bool:
        """Whether they were made for what is wider than high."""
        return self.frame.length > self.frame.width

    def draw(self, x: float, y: float, length: float) -> list[ink.Item]:
        """Return the items where the top left corner is there."""
        del length
        return [ink.Group(name="sheets", items=self.items, x=x, y=y)]


def fit_sheet(
    drawing: SheetDrawing,
    matter: Matter,
    frame: ink.Spread,
    *,
    black: bool = True,
    alone: bool = False,
    equal: Sequence[SheetDrawing] = (),
) -> Fitting:
    """Fit a sheet and all its words into a frame, as large as a scale of the series allows.

    ``equal`` sheets are sawn alike and drawn by it.

    ``alone``: no page follows that a long list could go on on; rather long names are shortened,
    then all is written smaller.
    """
    room = ink.Spread(x=frame.x, y=frame.y, length=frame.length, width=frame.width - BAR_ROOM)
    found = _largest([drawing, *equal], matter, room, COLOURS[black], alone=alone)
    if found is None:
        raise ValueError(f"sheet {drawing.sheet} is too large for the page")
    made, scale = found
    group = ink.Group(
        name=f"drawing-{drawing.sheet}",
        layer=f"Sheet {drawing.sheet}",
        items=made.items,
        x=room.x - made.around.x / scale,
        y=room.y - made.around.y / scale,
        scale=1 / scale,
    )
    bar = check_bar(frame.x, room.bottom + BAR_ROOM / 2, scale, matter.style.unit)
    return Fitting(
        items=(group, *bar),
        scale=scale,
        left_over=made.left_over,
        lost=made.lost,
        frame=frame,
    )


_Found = tuple[Titled, int]


def _largest(
    sheets: Sheets, matter: Matter, room: ink.Spread, colours: Theme, *, alone: bool
) -> _Found | None:
    """Return the sheet at the largest scale; text keeps its size on paper, where it can."""
    best: _Found | None = None
    for size in SIZES:
        for brief in (False, True):
            hand = PaperHand(size=size, colours=colours)
            fitting = list(_fitting(sheets, matter, room, hand, brief=brief))
            whole = next((found for found in fitting if not found[0].left_over), None)
            best = best or next(iter(fitting), None)
            if whole or (best and brief and not alone):
                return whole or best
            if not fitting:
                break
    return best


def _fitting(
    sheets: Sheets, matter: Matter, room: ink.Spread, hand: PaperHand, *, brief: bool
) -> Iterator[_Found]:
    """Yield the sheet at ever smaller scales, until it and all its words have room."""
    drawing, *equal = sheets
    bare, first = drawing.rect, 0
    least = max(to_mm(bare.length) / room.length, to_mm(bare.width) / room.width)
    most = LEAST_SHARE * max(1.0, least)
    start = max(1.0, least, _least([sheets], room, hand.size))
    for scale in (one for one in SCALES if start <= one <= most):
        if first and scale > SMALLER * first:
            return
        drawn, deep = replace(hand, size=hand.size * scale), room.width * scale
        made = titled(
            *(drawing, drawn, matter.style, matter.job),
            deep=deep,
            brief=brief,
            equal=equal,
            long=room.length * scale,
        )
        if made.around.length <= room.length * scale and made.around.width <= deep:
            first = first or scale
            yield made, scale
            if not made.left_over:
                return


def fit_stack(
    sheets: Sequence[Sheets], matter: Matter, frame: ink.Spread, most: float
) -> Stack | None:
    """Stack sheets in a frame at the largest scale that has room for all that is said of them.

    ``None`` if that would be smaller than one to ``most``.
    """
    room = replace(frame, width=frame.width - BAR_ROOM - len(sheets) * BELOW)
    start = _least(sheets, room, TEXT)
    for scale in (one for one in SCALES if start <= one <= most):
        hand = PaperHand(size=TEXT * scale, colours=BLACK_AND_WHITE)
        made = [
            titled(first, hand, matter.style, matter.job, equal=equal, long=frame.length * scale)
            for first, *equal in sheets
        ]
        height = BAR_ROOM + sum(one.around.width / scale + BELOW for one in made)
        long = max(one.around.length for one in made) / scale
        if height <= frame.width and long <= frame.length:
            return Stack(
                sheets=tuple(sheets),
                items=(
                    *_stacked(sheets, made, scale),
                    *check_bar(0, height - BAR_ROOM / 2, scale, matter.style.unit),
                ),
                scale=scale,
                height=height,
                lost=tuple(one.lost for one in made),
                frame=frame,
            )
    return None


def _least(sheets: Sequence[Sheets], room: ink.Spread, size: float) -> float:
    """Return a scale that sheets in a stack cannot be larger than, 1 to how many.

    ``size`` is the text size on paper in mm; ``inf`` where words alone have no room.
    """
    drawn = [first for first, *_ in sheets]
    free = room.width - len(drawn) * ABOVE_BELOW * size
    if free <= 0:
        return inf
    long = max(to_mm(one.rect.length) / (room.length - _beside(one) * size) for one in drawn)
    return max(long, sum(to_mm(one.rect.width) for one in drawn) / free)


def _beside(drawing: SheetDrawing) -> float:
    """Return what at least stands left and right of a sheet, in text sizes."""
    rips = bool(drawing.marks) and drawing.marks[0].axis is Axis.RIP
    return BESIDE if rips else 0.0


def _stacked(sheets: Sequence[Sheets], made: Sequence[Titled], scale: int) -> Iterator[ink.Item]:
    down = 0.0
    for (first, *_), one in zip(sheets, made, strict=True):
        yield ink.Group(
            name=f"drawing-{first.sheet}",
            layer=f"Sheet {first.sheet}",
            items=one.items,
            x=-one.around.x / scale,
            y=down - one.around.y / scale,
            scale=1 / scale,
        )
        down += one.around.width / scale + BELOW


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
            layer="Bar to check the scale",
            title=told,
            items=(ink.Strokes(lines=lines, pen=ink.Pen(width=2 * NARROW)),),
        ),
        ink.Words(text=f"{said} if printed true to scale", x=start + length + TEXT, y=y, size=TEXT),
    )


def lies(drawing: SheetDrawing) -> bool:
    """Say whether a sheet is drawn on a page that lies; one that is wider than long stands."""
    return drawing.rect.length >= drawing.rect.width


def fitted_page(drawing: SheetDrawing, matter: Matter, paper: Paper, *, black: bool) -> ink.Page:
    """Compose a sheet on a page of paper, with scale and check bar, banner on top."""
    book = Book(paper, matter.job.name, matter.banner, matter.identity)
    book.turn(f"Sheet {drawing.sheet}", lying=lies(drawing))
    book.fill(fit_sheet(drawing, matter, book.whole(), black=black, alone=True).items)
    (page,) = book.pages()
    return page

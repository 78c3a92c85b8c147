"""The first page: what is made, what it takes, what was assumed, what to mind; each sheet small."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from layout_app.model.words.minute_words import HEADING, where_they_go, whose_seconds
from layout_app.model.words.wording import (
    counted,
    effort_sentence,
    numbers_in_words,
    priced_words,
    proof_note,
    proof_sentence,
    sheet_names,
)
from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import LARGE, TEXT, TITLE, Book
from layout_app.paper.pack.setting import LEADING, length_of, shortened, words
from layout_app.paper.pack.tables import Align, TableColumn
from layout_app.paper.pens import HATCH, NARROW, OUTLINE
from shared.cautions import DEFER
from shared.cuts.tally import tally
from shared.drawing import Box, Role, SheetDrawing, hatch
from shared.geometry import Rect
from shared.lengths import (
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_mark,
    format_pair,
    step,
    with_unit,
)
from shared.making.straightedge import nearer
from shared.practice import not_measured
from shared.shop import ABSENT, RunsOn, Shop
from shared.stock import Stock

ROUNDED = "The sum is rounded up to a full minute, each kind so that they add up to it."


def put_cover(book: Book, matter: Matter) -> None:
    """Put the cover on a page of its own."""
    book.turn("Cut pack")
    book.paragraph(matter.job.name or "Cut pack", TITLE, bold=True)
    book.gap(2)
    for sentence in figures(matter):
        book.paragraph(sentence, LARGE)
    _minutes(book, matter)
    if matter.unplaced:
        book.heading("Not placed")
        book.points(matter.unplaced)
    _stock(book, matter)
    given = "Taken as given", tuple(assumptions(matter))
    chapters = given, ("First of all", (DEFER,))
    if not book.fits(chapters):
        put_sheets(book, matter.drawings)
        book.chapters(chapters)
        return
    book.chapters(chapters)
    put_sheets(book, matter.drawings)


def _minutes(book: Book, matter: Matter) -> None:
    """Put a table of the kinds of work, so that minutes can be added up."""
    shop = matter.job.shop
    takes = tally(matter.plan, shop)
    rows = [
        (share.kind, str(share.minutes), share.counted)
        for share in where_they_go(takes.took, takes.counts, shop)
    ]
    if not rows:
        return
    columns = (
        TableColumn(heading="Kind of work", share=2),
        TableColumn(heading="min", share=0.6, align=Align.RIGHT),
        TableColumn(heading="How often, and how long", share=7),
    )
    book.headed_table(HEADING, columns, rows)
    book.paragraph(f"{ROUNDED} {whose_seconds(shop)}")


def figures(matter: Matter) -> Iterator[str]:
    """Say how much it takes: stock, proof, sawing, parts, price."""
    plan, job = matter.plan, matter.job
    if plan.sheets:
        uncut = tuple(matter.uncut)
        yield f"{proof_sentence(plan, uncut)}."  # the price of all sheets follows below
        yield f"{effort_sentence(plan, job, uncut)}."
        changes = counted(tally(plan, job.shop).setup_changes, "set-up change")
        yield f"{matter.ordered or f'{changes} in the order of the cards'}."
    parts, done = sum(part.copies for part in job.parts), len(plan.finished)
    to_saw = f": {done} {'is' if done == 1 else 'are'} done, {parts - done} to saw" if done else ""
    yield f"{counted(parts, 'part')} of {counted(len(job.parts), 'kind')}{to_saw}."
    if matter.made:
        cuts = counted(len(matter.made), "cut is", "cuts are")
        yield f"{cuts} made already ({numbers_in_words(matter.made)})."
    bought = matter.bought
    if bought.price:
        yield f"Price of the sheets: {priced_words(bought.price, bought.unpriced)}."
    yield from not_planned(matter)


def not_planned(matter: Matter) -> Iterator[str]:
    """Say which sheets have no cuts yet, and that their boards have to be there all the same."""
    loose, counted_too = tuple(matter.uncut), matter.bought.unplanned
    if loose:
        yield f"Not planned yet: {sheet_names(loose)}, without cuts."
    if counted_too:
        yield f"Counted with what is taken and bought all the same: {sheet_names(counted_too)}."


def assumptions(matter: Matter) -> Iterator[str]:
    """Say what every size in the pack rests on: kerf, rounding, trims, allowances."""
    job, style = matter.job, matter.style
    fine = replace(style, denominator=64, decimals=2)
    yield f"Kerf of the {job.shop.tool}: {_long(job.shop.kerf, fine)}."
    if job.shop.table is not None:
        yield f"Kerf of the {job.shop.table.tool}: {_long(job.shop.table.kerf, fine)}."
    yield from _led(job.shop, style)
    yield from _devices(job.shop, style)
    unit = "inches" if style.unit is Unit.INCH else "millimetres"
    yield (
        f"All sizes in {unit}, L before W; L runs along the grain where a part has one."
        " Sizes are worked out exactly and rounded once, where they are written."
    )
    yield off_the_mark(style)
    yield "In the list of offcuts sizes are rounded down: none is smaller than is said."
    yield "Cut sizes leave room for edge bands. Blanks are cut larger, and finished later."
    if not matter.uncut and (note := proof_note(matter.plan)):
        yield note


def _led(shop: Shop, style: LengthStyle) -> Iterator[str]:
    """Say which rails or straightedges there are, and which edge of the base runs along these."""
    on_rail = shop.runs_on is RunsOn.RAIL
    if shop.rails:
        each = [_written(rail.length, style) for rail in shop.rails]
        counts = [f"{rail.count} x " if rail.count > 1 else "" for rail in shop.rails]
        there = ", ".join(map("".join, zip(counts, each, strict=True)))
        lie = f"; each {_written(shop.rail_width, style)} wide" if shop.rail_width else ""
        side = f", {shop.rail_side} of the blade" if on_rail else ""
        yield f"{'Rails' if on_rail else 'Straightedges'}: {there}{lie}{side}."
    if not on_rail and shop.base is not None:
        near = _long(nearer(shop.base, shop.rail_side), style)
        yield (
            f"The {shop.rail_side} edge of the saw's base runs along the straightedge,"
            f" {near} from the blade's nearer face."
        )
        if not_measured(shop.base, shop.kerf):
            yield "That base is common practice, not measured: measure yours before you saw."


def _devices(shop: Shop, style: LengthStyle) -> Iterator[str]:
    """Say what the cards may ask for: guide and stop with their reach, square, support."""
    name = "Guide" if shop.runs_on is RunsOn.RAIL else "Edge guide"
    said = [
        f"{device} from {format_length(span.least, style)} to {_written(span.most, style)}"
        for device, span in ((name, shop.guide), ("stop", shop.stop))
        if span is not None and span != ABSENT
    ]
    if shop.square:
        said.append(f"longest square {_written(shop.square, style)}")
    said.append(f"under the sheets {shop.support}")
    yield f"{said[0][0].upper()}{'; '.join(said)[1:]}."


def _written(length: Length, style: LengthStyle) -> str:
    return with_unit(format_length(length, style), style)


def off_the_mark(style: LengthStyle) -> str:
    """Explain how a size is written that lies between two marks of the rule."""
    if style.unit is Unit.MM:
        fine = format_length(step(style), style)
        return (
            f"Sizes are written in steps of {fine} mm. One that lies clearly between two"
            " marks has one more decimal."
        )
    fine = f"1/{style.denominator}"
    return (
        f"Sizes are written in steps of {fine} in. One that lies clearly between two marks"
        " is shy (a little less) or strong (a little more): 28 11/32 shy."
    )


def _stock(book: Book, matter: Matter) -> None:
    rows = [_stock_row(row, matter.style) for row in matter.taken]
    if rows:
        columns = (
            TableColumn(heading="Material", share=3),
            TableColumn(heading="Sold as", share=2),
            TableColumn(heading="Measured L\N{NO-BREAK SPACE}× W", share=2.4),
            TableColumn(heading="Thickness", share=1.4, align=Align.RIGHT),
            TableColumn(heading="Trims", share=3),
        )
        book.gap(2)
        book.table(columns, rows)


def _stock_row(row: Stock, style: LengthStyle) -> tuple[str, ...]:
    fine = replace(style, denominator=64, decimals=2)
    trims = row.trims
    edges = (
        ("reference edge", trims.near),
        ("far edge", trims.far),
        ("left end", trims.start),
        ("right end", trims.end),
    )
    said = [f"{name} {format_mark(size, fine)}" for name, size in edges if size]
    return (
        row.material,
        row.name,
        format_pair(row.length, row.width, style),
        format_mark(row.thickness, replace(fine, decimals=1)),
        ", ".join(said) or "none",
    )


def _long(length: int, style: LengthStyle) -> str:
    return with_unit(format_mark(length, style), style)


GAP = 5.0
"""Between two pictures, in mm."""
CAPTION = 1.2 * LEADING * TEXT
"""Height of the line above a picture, in mm."""
LEAST = 40.0
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
    book.put(
        grid.rows * (grid.width + GAP) - GAP,
        lambda x, y, _: [
            _picture(drawing, _corner(grid, place, x, y), grid)
            for place, drawing in enumerate(drawings)
        ],
    )


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

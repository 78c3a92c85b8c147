"""Tables of a published plan: sheets, what to buy, parts, offcuts, steps."""

from collections.abc import Iterator
from typing import Final

from layout_app.paper.front_words import not_planned, trimmed
from layout_app.paper.matter import Matter
from layout_app.paper.pack.lists import bands_words, notes_of, sheets_of
from layout_app.paper.published.bands import bands, finest, thickness
from layout_app.paper.published.blocks import Block, Heading, Numbered, Paragraph, Table
from shared.amounts import format_price
from shared.building import BuildStep
from shared.lengths import (
    Length,
    LengthStyle,
    format_down,
    format_length,
    format_mark,
    format_up,
)
from shared.offcuts import Keeper, offcut_side
from shared.parts import Part
from shared.shopping import StockLine
from shared.stock import Stock
from shared.weighing import format_weight, grams

MEASURED: Final = (
    *("Material", "Sold as", "Measured thickness", "Measured L", "Measured W"),
    *("Weight", "Trims"),
)
STOCK: Final = ("Stock", "Material", "L", "W", "Take", "Buy", "Each", "Price")
PARTS: Final = (
    *("Part", "No.", "Finished L", "Finished W", "Cut L", "Cut W"),
    *("Material", "Grain", "Bands", "Sheet", "Note"),
)
WEIGH: Final = (
    "Judge what is too heavy to lift or turn alone, and get help: sheets and pieces have their"
    " weights beside them where the density is known."
)


def measured(matter: Matter) -> Iterator[Block]:
    """Yield the sheets that were taken, as they were measured, and what one weighs."""
    if matter.taken:
        yield Heading(text="Thickness, named and measured", chapter=False)
        rows = tuple(_measured(row, matter.style) for row in matter.taken)
        yield Table(name="Sheets as measured", headings=MEASURED, rows=rows)
        yield Paragraph(text=WEIGH)


def _measured(row: Stock, style: LengthStyle) -> tuple[str, ...]:
    fine = finest(style)
    weight = grams(row.length, row.width, row.thickness, row.density)
    return (
        row.material,
        row.name,
        thickness(row.thickness, style),
        format_mark(row.length, style),
        format_mark(row.width, style),
        f"about {format_weight(weight, style.unit)}" if weight else "not known",
        ", ".join(f"{name} {format_length(size, fine)}" for name, size in trimmed(row.trims))
        or "none",
    )


def to_buy(matter: Matter) -> Iterator[Block]:
    """Yield what is taken from the rack and what is bought."""
    bought = matter.bought
    yield Heading(text="To buy and to take")
    if bought.sheets:
        rows = tuple(_stock(line, matter.style) for line in bought.sheets)
        yield Table(name="Sheets to take and to buy", headings=STOCK, rows=rows)
    for sentence in not_planned(matter):
        yield Paragraph(text=sentence, bold=True)
    yield from bands(matter)
    if matter.build.hardware:
        yield Heading(text="Hardware", chapter=False)
        hardware = tuple((one.name, str(one.count), one.note) for one in matter.build.hardware)
        yield Table(name="Hardware", headings=("What", "No.", "Note"), rows=hardware)


def _stock(line: StockLine, style: LengthStyle) -> tuple[str, ...]:
    row = line.stock
    return (
        *(row.name or row.material, row.material),
        *(format_mark(size, style) for size in (row.length, row.width)),
        *(str(line.used - line.buy), str(line.buy)),
        *(format_price(price) if price else "" for price in (line.each, line.price)),
    )


def cut_list(matter: Matter) -> Iterator[Block]:
    """Yield all parts."""
    yield Heading(text="Cut list")
    yield Paragraph(text="Finished: bands included. Cut: as it leaves the sheet, bands taken off.")
    rows = tuple(_part(part, matter) for part in matter.job.parts)
    yield Table(name="Cut list", headings=PARTS, rows=rows)


def _part(part: Part, matter: Matter) -> tuple[str, ...]:
    style = matter.style
    return (
        part.name or part.id,
        str(part.copies),
        *(finished(size, part, style) for size in (part.length, part.width)),
        *(sawn(size, part, style) for size in (part.cut_length, part.cut_width)),
        part.material,
        part.grain_rule.value,
        bands_words(part.bands, finest(style)),
        sheets_of(part, matter),
        "; ".join(notes_of(part)),
    )


def finished(ticks: Length, part: Part, style: LengthStyle) -> str:
    """Write a planned size of a part: rounded down if it is a fit part."""
    return (format_down if part.fit_allowance else format_mark)(ticks, style)


def sawn(ticks: Length, part: Part, style: LengthStyle) -> str:
    """Write a size as sawn from the sheet: the blank of a fit part is rounded up."""
    return (format_up if part.fit_allowance else format_mark)(ticks, style)


def offcuts(matter: Matter) -> Iterator[Block]:
    """Yield what is worth keeping; sizes are rounded down."""
    kept = matter.kept
    if kept:
        yield Heading(text="Offcuts to keep")
        rows = tuple(_offcut(offcut, matter.style) for offcut in kept)
        headings = ("Piece", "L", "W", "Material", "From sheet")
        yield Table(name="Offcuts to keep", headings=headings, rows=rows)


def _offcut(offcut: Keeper, style: LengthStyle) -> tuple[str, ...]:
    sizes = (offcut_side(size, style) for size in (offcut.length, offcut.width))
    return offcut.piece, *sizes, offcut.material, offcut.sheet or offcut.origin


def steps(matter: Matter) -> Iterator[Block]:
    """Yield what comes after sawing."""
    if matter.build.steps:
        yield Heading(text="After sawing")
        yield Numbered(lines=tuple(_step(step, matter) for step in matter.build.steps))


def _step(step: BuildStep, matter: Matter) -> tuple[str, str]:
    """Return the kind of a step and what is done, with the names of its parts."""
    names = {part.id: part.name or part.id for part in matter.job.parts}
    about = "; ".join(names[part] for part in step.parts if part in names)
    said = " ".join(filter(None, (step.text, f"({about})" if about else "")))
    return step.kind.value.capitalize(), said

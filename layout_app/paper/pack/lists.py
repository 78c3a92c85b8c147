"""Tables of the pack: parts, what to buy, offcuts to keep."""

from collections.abc import Iterator

from layout_app.model.words.wording import counted, priced_words
from layout_app.paper.front_words import not_planned
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book
from layout_app.paper.pack.tables import Align, TableColumn
from shared.amounts import format_price
from shared.banding import FOOT, BandNeed
from shared.lengths import (
    MM,
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_mark,
    round_up,
    with_unit,
)
from shared.offcuts import Keeper, offcut_size
from shared.parts import Bands, GrainRule, Part
from shared.shopping import StockLine
from shared.stock import SheetGrain

EDGES = ("top", "bottom", "left", "right")


def put_parts(book: Book, matter: Matter) -> None:
    """Put the part list of each material: sizes, grain, bands, where each copy lies."""
    materials = list(dict.fromkeys(part.material for part in matter.job.parts))
    for material in materials:
        rows = [_part(part, matter) for part in matter.job.parts if part.material == material]
        book.headed_table(f"Parts of {material}", _PARTS, rows)


_PARTS = (
    TableColumn(heading="No.", share=0.8, align=Align.RIGHT),
    TableColumn(heading="Part", share=3.4),
    TableColumn(heading="Finished L\N{NO-BREAK SPACE}× W", share=3.4),
    TableColumn(heading="Grain", share=1.2),
    TableColumn(heading="Notes", share=5),
    TableColumn(heading="Sheet", share=1.1),
)


_ALONG = {
    GrainRule.ALONG_LENGTH: "along L",
    GrainRule.ALONG_WIDTH: "along W",
    GrainRule.EITHER: "either",
}


def _part(part: Part, matter: Matter) -> tuple[str, ...]:
    style = matter.style
    finished = _marked(part.length, part.width, style)
    sawn = _marked(part.cut_length, part.cut_width, style)
    other = "" if sawn == finished else f"saw {sawn}"
    notes = filter(None, (other, bands_words(part.bands, style), *notes_of(part)))
    return (
        str(part.copies),
        part.name or part.id,
        finished,
        _grain(part, matter),
        "; ".join(notes),
        sheets_of(part, matter),
    )


def _grain(part: Part, matter: Matter) -> str:
    """Say how a part lies to the grain: either way, where no sheet of its material has any."""
    sheets = [row for row in matter.job.stock if row.material == part.material]
    if sheets and all(row.grain is SheetGrain.NONE for row in sheets):
        return _ALONG[GrainRule.EITHER]
    return _ALONG[part.grain_rule]


def _marked(length: Length, width: Length, style: LengthStyle) -> str:
    return f"L {format_mark(length, style)} × W {format_mark(width, style)}"


def bands_words(bands: Bands, style: LengthStyle) -> str:
    """Say which edges are banded, and how thick; ``""`` for none."""
    sizes = [(edge, getattr(bands, edge)) for edge in EDGES]
    banded = [(edge, size) for edge, size in sizes if size]
    thick = {size for _, size in banded}
    if len(banded) == len(EDGES) and len(thick) == 1:
        return f"band {format_length(thick.pop(), style)} all round"
    return ", ".join(f"band {format_length(size, style)} {edge}" for edge, size in banded)


def notes_of(part: Part) -> Iterator[str]:
    """Yield what is to be known of a part besides its sizes."""
    if part.show:
        yield "show face"
    if part.fit_allowance:
        yield "fit part, left oversize: measure its opening first"
    if part.group:
        yield f"matched set {part.group}"
    if part.note:
        yield part.note


def sheets_of(part: Part, matter: Matter) -> str:
    """Name the sheets copies of a part lie on, and say which are done."""
    found = [
        drawing.sheet
        for drawing in matter.drawings
        if any(box.part == part.id for box in drawing.boxes)
    ]
    done = sum(one.part == part.id for one in matter.plan.finished)
    if done:
        found.append("done" if done == part.copies else f"{done} done")
    return ", ".join(found) or "none"


def put_shopping(book: Book, matter: Matter) -> None:
    """Put what is taken from the rack and what is bought: sheets, bands, price."""
    style, bought = matter.style, matter.bought
    columns = (
        TableColumn(heading="Stock", share=3),
        TableColumn(heading="Material", share=2.4),
        TableColumn(heading="L\N{NO-BREAK SPACE}× W", share=2.4),
        TableColumn(heading="Take", share=1, align=Align.RIGHT),
        TableColumn(heading="Buy", share=1, align=Align.RIGHT),
        TableColumn(heading="Each", share=1.4, align=Align.RIGHT),
        TableColumn(heading="Price", share=1.4, align=Align.RIGHT),
    )
    rows = [_stock(line, style) for line in bought.sheets]
    book.headed_table("To buy and to take", columns, rows)
    if bought.price:
        book.paragraph(f"All sheets: {priced_words(bought.price, bought.unpriced)}", bold=True)
    for sentence in not_planned(matter):
        book.paragraph(sentence, bold=True)
    if bought.bands:
        book.headed_table("Edge bands", _BANDS, [_band(need, style) for need in bought.bands])
        book.paragraph(
            "To cut: each strip longer than its edge, to be trimmed flush. With waste: a tenth"
            " more. Both are common practice."
        )
    if matter.build.hardware:
        rows = [(str(one.count), one.name, one.note) for one in matter.build.hardware]
        book.headed_table("Hardware", _HARDWARE, rows)


def put_steps(book: Book, matter: Matter) -> None:
    """Put what comes after sawing, a box to tick before each step."""
    if not matter.build.steps:
        return
    names = {part.id: part.name or part.id for part in matter.job.parts}
    rows = [
        (
            "\N{WHITE SQUARE}",
            step.kind.value,
            "; ".join(names[part] for part in step.parts if part in names),
            step.text,
        )
        for step in matter.build.steps
    ]
    book.headed_table("After sawing", _STEPS, rows)


_HARDWARE = (
    TableColumn(heading="No.", share=0.6, align=Align.RIGHT),
    TableColumn(heading="What", share=3),
    TableColumn(heading="Note", share=3),
)
_STEPS = (
    TableColumn(heading="", share=0.3),
    TableColumn(heading="Step", share=1),
    TableColumn(heading="Parts", share=3),
    TableColumn(heading="What is done", share=5),
)
_BANDS = (
    TableColumn(heading="Thickness", share=1.4),
    TableColumn(heading="Strips", share=1, align=Align.RIGHT),
    TableColumn(heading="Edges", share=2, align=Align.RIGHT),
    TableColumn(heading="To cut", share=2, align=Align.RIGHT),
    TableColumn(heading="With waste", share=2, align=Align.RIGHT),
    TableColumn(heading="Rolls", share=2.4),
)


def _stock(line: StockLine, style: LengthStyle) -> tuple[str, ...]:
    row = line.stock
    return (
        row.name or row.material,
        row.material,
        _marked(row.length, row.width, style),
        str(line.used - line.buy),
        str(line.buy),
        format_price(line.each) if line.each else "",
        format_price(line.price) if line.price else "",
    )


def _band(need: BandNeed, style: LengthStyle) -> tuple[str, ...]:
    return (
        format_length(need.thickness, style),
        str(need.strips),
        _long(need.net, style),
        *(_long(round_up(length, style), style) for length in (need.cut, need.with_waste)),
        f"{counted(need.rolls, 'roll')} of {roll_words(need.roll, style.unit)}",
    )


def roll_words(roll: int, unit: Unit) -> str:
    """Write the length of a roll as it is sold: in feet or in metres."""
    return f"{roll // FOOT} ft" if unit is Unit.INCH else f"{roll // (1000 * MM)} m"


def _long(length: int, style: LengthStyle) -> str:
    return with_unit(format_length(length, style), style)


def put_offcuts(book: Book, matter: Matter) -> None:
    """Put the offcuts worth keeping, those kept earlier too."""
    kept = matter.kept
    if not kept:
        book.heading("Offcuts to keep")
        book.paragraph("None is as large as the shop says is worth keeping.")
        return
    several = len({offcut.material for offcut in kept}) > 1
    cells = [_offcut(offcut, matter, several=several) for offcut in kept]
    beside = 1 if several else 2
    cells += [("", "", "")] * (-len(cells) % beside)
    rows = [sum(cells[at : at + beside], ()) for at in range(0, len(cells), beside)]
    book.headed_table("Offcuts to keep", _OFFCUTS * beside, rows)


_OFFCUTS = (
    TableColumn(heading="Name", share=1),
    TableColumn(heading="L\N{NO-BREAK SPACE}× W, at least", share=2),
    TableColumn(heading="Of", share=1.4),
)


def _offcut(offcut: Keeper, matter: Matter, *, several: bool) -> tuple[str, ...]:
    size = offcut_size(offcut.length, offcut.width, matter.style)
    origin = "" if offcut.sheet else offcut.origin
    return offcut.called, size, ", ".join(filter(None, (offcut.material * several, origin)))

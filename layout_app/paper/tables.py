"""Tables for spreadsheets: parts, cuts, and what to buy.

Each length stands twice: as the maker writes it, with its unit, and as exact millimetres. The
last column says which plan and day a row is of. A plan that is not whole says so in the row
below the headings.

Texts stay texts in a spreadsheet, numbers stay numbers. RFC 4180 says how a cell is written: in
quotes, quotes doubled, rows ended by CR LF. It does not keep a spreadsheet from taking a text
for a formula (CSV injection, as OWASP describes it), so a text that begins with ``= + - @``, or
that holds one of them behind ``, ; |``, gets an apostrophe before it; line breaks and tabs
become spaces. A program that splits rows elsewhere than at commas finds no formula either. The
apostrophe is also put before a text that would be read as another number or as a date (``3/4``,
``1e1``, ``007``). Spreadsheets show it; what stands behind it is as the maker wrote it. Numbers
of ours carry none, negative ones neither.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from io import StringIO
from typing import Final

from layout_app.model.words.wording import counted, sheet_names
from layout_app.paper.cut_rows import Figure, cut_row, millimetres
from layout_app.paper.matter import Matter
from layout_app.paper.pack.lists import EDGES, bands_words, roll_words
from layout_app.paper.plain import one_line
from shared.amounts import format_price
from shared.banding import BandNeed
from shared.drawing import Role
from shared.lengths import Length, LengthStyle, format_length, round_up, with_unit
from shared.parts import Part
from shared.shopping import StockLine
from shared.telling.words import size_words

Cells = tuple[str | int, ...]

PARTS = (
    *("Part", "ID", "Copies", "Copies on sheets", "Sheets"),
    *("Finished L", "Finished W", "Cut L", "Cut W"),
    *("Finished L mm", "Finished W mm", "Cut L mm", "Cut W mm"),
    *("Material", "Grain", "Bands"),
    *(f"Band {edge} mm" for edge in EDGES),
    *("Matched set", "Fit allowance mm", "Show face", "Note"),
)
SHOPPING = (
    *("What", "Name", "Material", "L", "W", "Thickness", "L mm", "W mm", "Thickness mm"),
    *("Take", "Buy", "Price each", "Price", "Needed", "Needed mm", "Note"),
)


def parts_csv(matter: Matter) -> str:
    """Return the part list, a row for each kind of part."""
    return _table(PARTS, _parts(matter), matter)


def cuts_csv(matter: Matter) -> str:
    """Return the record of every cut, in sawing order; places in the frame of the untrimmed sheet.

    A plan without cuts has the heading of their numbers alone.
    """
    rows = [cut_row(told) for told in matter.told]
    headings = tuple(rows[0]) if rows else ("Cut",)
    return _table(headings, (tuple(row.values()) for row in rows), matter)


def shopping_csv(matter: Matter) -> str:
    """Return what to take and to buy: sheets, edge bands by the roll, hardware."""
    bought = matter.bought
    rows = [_stock(line, matter.style) for line in bought.sheets]
    rows += [_band(need, matter.style) for need in bought.bands]
    rows += [
        _line({"What": "hardware", "Name": one.name, "Buy": one.count, "Note": one.note})
        for one in matter.build.hardware
    ]
    return _table(SHOPPING, rows, matter)


def _table(headings: Cells, rows: Iterable[Cells], matter: Matter) -> str:
    """Write a table with plan and day in the last cell of each row, so that all stay rows."""
    told = ((*row, matter.identity) for row in rows)
    return table((*map(str, headings), "Plan"), told, matter.banner)


def _parts(matter: Matter) -> Iterator[Cells]:
    lying = [
        (box.part, drawing.sheet)
        for drawing in matter.drawings
        for box in drawing.boxes
        if box.role is Role.PART
    ]
    for part in matter.job.parts:
        yield _part(part, [sheet for one, sheet in lying if one == part.id], matter.style)


def _part(part: Part, sheets: list[str], style: LengthStyle) -> Cells:
    sizes = (
        *(part.measured_length or part.length, part.measured_width or part.width),
        *(part.cut_length, part.cut_width),
    )
    return (
        *(part.name, part.id, part.copies, len(sheets), _sheets(dict.fromkeys(sheets))),
        *(size_words(size, style) for size in sizes),
        *map(millimetres, sizes),
        *(part.material, part.grain_rule.value, bands_words(part.bands, style)),
        *(millimetres(getattr(part.bands, edge)) for edge in EDGES),
        *(part.group, millimetres(part.fit_allowance), "yes" if part.show else "no", part.note),
    )


def _sheets(names: Iterable[str]) -> str:
    """Name sheets in words, so that no list of them is read as a number."""
    found = list(names)
    return f"sheet{'' if len(found) == 1 else 's'} {', '.join(found)}" if found else "none"


def _stock(line: StockLine, style: LengthStyle) -> Cells:
    row = line.stock
    prices: dict[str, str | int] = {}
    if line.each:
        prices = {"Price each": price(line.each), "Price": price(line.price)}
    return _line(
        {
            "What": "sheet",
            "Name": row.name,
            "Material": row.material,
            **_length("L", row.length, style),
            **_length("W", row.width, style),
            **_length("Thickness", row.thickness, replace(style, denominator=64, decimals=2)),
            "Take": line.used - line.buy,
            "Buy": line.buy,
            **prices,
            "Note": f"{sheet_names(line.unplanned)} not planned yet" if line.unplanned else "",
        }
    )


def _band(need: BandNeed, style: LengthStyle) -> Cells:
    return _line(
        {
            "What": "edge band",
            "Name": f"roll of {roll_words(need.roll, style.unit)}",
            **_length("L", need.roll, style),
            **_length("Thickness", need.thickness, style),
            "Buy": need.rolls,
            "Needed": with_unit(format_length(round_up(need.with_waste, style), style), style),
            "Needed mm": millimetres(need.with_waste),
            "Note": f"for {counted(need.strips, 'strip')}, overhang and a tenth of waste counted",
        }
    )


def _length(heading: str, ticks: Length, style: LengthStyle) -> dict[str, str | int]:
    return {heading: size_words(ticks, style), f"{heading} mm": millimetres(ticks)}


def _line(cells: dict[str, str | int]) -> Cells:
    """Return a row to buy, empty where nothing is said."""
    return tuple(cells.get(heading, "") for heading in SHOPPING)


SIGNS: Final = "=+\\-@＝＋－＠"
"""What formulas begin with, the full-width forms too."""
_UNSEEN: Final = "\\s\\u200b-\\u200f\\ufeff"
_FORMULA: Final = re.compile(rf"(\A|[,;|])(?=[{_UNSEEN}]*[{SIGNS}])")
_MISREAD: Final = re.compile(r"0\d+|\d+[eE]\d+|\d{16,}|\d+(?:\s*[-/.,:]\s*\d+)+")


def text(words: str) -> str:
    """Return words as a cell that no spreadsheet takes for anything else."""
    line = one_line(words)
    guarded = _FORMULA.sub(r"\1'", line)
    return f"'{guarded}" if _MISREAD.fullmatch(line) else guarded


def price(hundredths: int) -> Figure:
    """Return a price as a number with two decimals."""
    return Figure(format_price(hundredths))


def table(headings: Sequence[str], rows: Iterable[Sequence[str | int]], banner: str = "") -> str:
    """Write a table as CSV.

    Every cell stands in quotes, since programs differ in what separates cells. ``banner`` is
    the first cell of a row of its own below the headings. To be saved as UTF-8 with a byte
    order mark, by which spreadsheets know the encoding.
    """
    out = StringIO()
    write = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n").writerow
    write(headings)
    if banner:
        write([text(banner), *[""] * (len(headings) - 1)])
    for row in rows:
        plain = (cell if isinstance(cell, int | Figure) else text(cell) for cell in row)
        write(list(plain))
    return out.getvalue()

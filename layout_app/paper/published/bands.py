"""Edge band that a reader buys: rolls of each material, thickness and width.

Band is sold by its width, which is a little more than the thickness of the board, so that both
sides can be trimmed flush; and it matches the face of its board.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from typing import Final, TypeAlias

from layout_app.model.words.wording import counted
from layout_app.paper.matter import Matter
from layout_app.paper.pack.lists import roll_words
from layout_app.paper.published.blocks import Block, Heading, Paragraph, Table
from shared.banding import BandNeed, band_needs
from shared.lengths import (
    INCH,
    MM,
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_mark,
    round_up,
    with_unit,
)

FLUSH: Final = {Unit.INCH: INCH // 16, Unit.MM: 2 * MM}
"""What a band is wider than its board at least, for both sides together: common practice."""
HEADINGS: Final = (
    *("Band for", "Thickness", "Board", "Width, at least"),
    *("Strips", "To cut", "With waste", "Rolls"),
)
Row: TypeAlias = tuple[str, ...]


def bands(matter: Matter) -> Iterator[Block]:
    """Yield what band is to be bought; nothing where no edge has any."""
    rows = tuple(_rows(matter))
    if not rows:
        return
    unit = matter.style.unit
    flush = with_unit(format_length(FLUSH[unit], matter.style), matter.style)
    yield Heading(text="Edge band", chapter=False)
    yield Table(name="Edge band to buy, by roll", headings=HEADINGS, rows=rows)
    yield Paragraph(
        text="To cut: each strip longer than its edge, to be trimmed flush. With waste: a tenth"
        f" more. Width: the board's thickness and {flush}, to be trimmed on both faces; take the"
        " next width that is sold. All three are common practice."
    )


def finest(style: LengthStyle) -> LengthStyle:
    """Return the style for bands and trims: 64ths or hundredths."""
    return replace(style, denominator=64, decimals=2)


def thickness(board: Length, style: LengthStyle) -> str:
    """Write a measured thickness: to the 64th, or to the tenth and one more decimal."""
    return format_mark(board, replace(style, denominator=64, decimals=1))


def _rows(matter: Matter) -> Iterator[Row]:
    """Yield a row for each roll: what is bought together stands together."""
    thick = _boards(matter)
    parts = sorted(matter.job.parts, key=lambda part: (part.material, part.id))
    for material, group in groupby(parts, key=lambda part: part.material):
        for need in band_needs(tuple(group), matter.style.unit):
            yield _row(material, thick.get(material, 0), need, matter.style)


def _boards(matter: Matter) -> dict[str, Length]:
    """Return the greatest thickness of each material: of the sheets taken, else of any."""
    found: dict[str, Length] = {}
    for row in matter.taken or matter.job.stock:
        found[row.material] = max(row.thickness, found.get(row.material, 0))
    for row in matter.job.stock:
        found.setdefault(row.material, row.thickness)
    return found


def _row(material: str, board: Length, need: BandNeed, style: LengthStyle) -> Row:
    fine = finest(style)
    wide = format_length(round_up(board + FLUSH[style.unit], style), style) if board else ""
    return (
        material,
        format_mark(need.thickness, fine),
        thickness(board, style) if board else "",
        wide,
        str(need.strips),
        *(format_length(round_up(one, style), style) for one in (need.cut, need.with_waste)),
        f"{counted(need.rolls, 'roll')} of {roll_words(need.roll, style.unit)}",
    )

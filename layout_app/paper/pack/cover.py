"""The first page: what is made, what it takes, what was assumed, what to mind."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from layout_app.model.words.wording import (
    counted,
    effort_sentence,
    numbers_in_words,
    priced_words,
    proof_note,
    proof_sentence,
    sheet_names,
)
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import LARGE, TITLE, Book
from layout_app.paper.pack.sheet_pictures import put_sheets
from layout_app.paper.pack.tables import Align, Column
from shared.cautions import CAUTIONS, DEFER
from shared.cuts.tally import tally
from shared.lengths import LengthStyle, Unit, format_pair, format_with_remainder, with_unit
from shared.stock import Stock

AT_EVERY_CUT: Final = (
    "On a card the heavy line is the rail, dashed where the table saw cuts; the V is the edge the"
    " size is measured from; what is grey is used, what is hatched falls away.",
    "Foam or a bearer close to the line on each side, four bearers under a sheet or most of one:"
    " both sides lie still to the end of the cut, and the kerf stays open.",
    "Show face up with a rail: it guards the top edge on its own side, the other side splinters"
    " there. At the table saw the underside splinters. Score what runs across the grain.",
)
"""What the cards do not repeat; common practice, as `shared.telling` says it of each cut."""


def put_cover(book: Book, matter: Matter) -> None:
    """Put the cover on a page of its own."""
    book.turn("Cut pack")
    book.paragraph(matter.job.name or "Cut pack", TITLE, bold=True)
    book.gap(2)
    for sentence in figures(matter):
        book.paragraph(sentence, LARGE)
    if matter.unplaced:
        book.heading("On no sheet")
        book.points(matter.unplaced)
    _stock(book, matter)
    at_cuts = [("At every cut", AT_EVERY_CUT)] if matter.told else []
    mind = (DEFER, *CAUTIONS)
    book.chapters((("Taken as given", tuple(assumptions(matter))), *at_cuts, ("Mind", mind)))
    put_sheets(book, matter.drawings)


def figures(matter: Matter) -> Iterator[str]:
    """Say how much it takes: stock, proof, sawing, parts, price."""
    plan, job = matter.plan, matter.job
    if plan.sheets:
        uncut = tuple(matter.uncut)
        yield f"{proof_sentence(plan, uncut)}."
        yield f"{effort_sentence(plan, job, uncut)}."
        changes = tally(plan, job.shop).setup_changes
        yield f"{counted(changes, 'set-up change')} in the order of the cards."
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
    unit = "inches" if style.unit is Unit.INCH else "millimetres"
    yield (
        f"All sizes in {unit}, L before W; L runs along the grain where a part has one."
        " Sizes are worked out exactly and rounded once, where they are written."
    )
    size = "36 19/32 - 1/64" if style.unit is Unit.INCH else "590.5 - 0.03"
    yield f"What rounding left over stands behind a size: {size} is so far short of the mark."
    yield "Sizes of offcuts are rounded down: none is smaller than is said."
    yield "Sawn sizes: bands are taken off, allowances of blanks are added."
    yield "Running positions count from the trimmed reference edge, the one with the V."
    if not matter.uncut and (note := proof_note(matter.plan)):
        yield note


def _stock(book: Book, matter: Matter) -> None:
    rows = [_stock_row(row, matter.style) for row in matter.taken]
    if rows:
        columns = (
            Column(heading="Material", share=3),
            Column(heading="Sold as", share=2),
            Column(heading="Measured L\N{NO-BREAK SPACE}× W", share=2.4),
            Column(heading="Thickness", share=1.4, align=Align.RIGHT),
            Column(heading="Trims", share=3),
        )
        book.gap(2)
        book.table(columns, rows)


def _stock_row(row: Stock, style: LengthStyle) -> tuple[str, ...]:
    fine = replace(style, denominator=64, decimals=2)
    trims = row.trims
    edges = (("near", trims.near), ("far", trims.far), ("start", trims.start), ("end", trims.end))
    said = [f"{name} {format_with_remainder(size, fine)}" for name, size in edges if size]
    return (
        row.material,
        row.name,
        format_pair(row.length, row.width, style),
        format_with_remainder(row.thickness, fine),
        ", ".join(said) or "none",
    )


def _long(length: int, style: LengthStyle) -> str:
    return with_unit(format_with_remainder(length, style), style)

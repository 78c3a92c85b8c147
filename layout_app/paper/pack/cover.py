"""The first page: what is made, what it takes, what was assumed; each sheet small."""

from dataclasses import replace

from layout_app.model.words.minute_words import HEADING, Share, where_they_go, whose_seconds
from layout_app.paper import ink
from layout_app.paper.front_words import assumptions, figures, trimmed
from layout_app.paper.matter import Matter
from layout_app.paper.pack.blocks import Rows, beside, height, paragraph, points
from layout_app.paper.pack.book import LARGE, TEXT, TITLE, Book
from layout_app.paper.pack.setting import length_of, shortened, two_lines, words
from layout_app.paper.pack.small_sheets import put_sheets
from layout_app.paper.pack.tables import Align, TableColumn, TableRow
from shared.cautions import DEFER
from shared.cuts.tally import tally
from shared.lengths import LengthStyle, format_mark, format_pair
from shared.stock import Stock

ROUNDED = "The sum is rounded up to a full minute, each kind so that they add up to it."
GIVEN = "Taken as given, sheets as measured"
CLOSE = 1.25
"""From line to line, in text sizes: all of it has room on the page."""
LONGEST = 70.0
"""So much of a name is said, in mm; lists and sheets say all of it."""
MAIN = 2
"""So many figures come first, in larger type."""


def put_cover(book: Book, matter: Matter) -> None:
    """Put the cover on a page of its own."""
    book.turn("Cut pack")
    for line in two_lines(matter.job.name or "Cut pack", book.room.length, TITLE):
        book.paragraph(line, TITLE, bold=True)
    book.paragraph(matter.identity)
    book.gap(1.0)
    said = list(figures(matter))
    for place, sentence in enumerate(said[:MAIN]):
        book.paragraph(sentence, LARGE, bold=not place)
    book.paragraph(" ".join(said[MAIN:]))
    book.gap(1.0)
    book.paragraph(DEFER, bold=True)
    if matter.unplaced:
        book.heading("Not placed")
        book.points(matter.unplaced)
    _minutes(book, matter)
    _stock(book, matter)
    book.columns(lambda length: [_given(one, length) for one in assumptions(matter)])
    put_sheets(book, matter.drawings)


def _given(text: str, length: float) -> Rows:
    """Set one thing that was taken as given."""
    (rows,) = points((text,), length, TEXT)
    return [TableRow(CLOSE * TEXT, row.draw) for row in rows]


def _minutes(book: Book, matter: Matter) -> None:
    """Put the kinds of work in lines, so that minutes can be added up."""
    shop = matter.job.shop
    takes = tally(matter.plan, shop)
    shares = where_they_go(takes.took, takes.counts, shop)
    if not shares:
        return
    book.heading(HEADING)
    kinds = max(length_of(share.kind, TEXT) for share in shares)
    number = kinds + max(length_of(str(share.minutes), TEXT, bold=True) for share in shares)
    for share in shares:
        row = _share(share, book.room.length, number + 3 * TEXT)
        book.put(row.height, row.draw)
    book.paragraph(f"{ROUNDED} {whose_seconds(shop)}")


def _share(share: Share, length: float, number: float) -> TableRow:
    """Set a kind of work, its minutes up to ``number`` mm, and how often it is done."""
    start = number + TEXT
    rows = paragraph(share.counted, length - start, TEXT, leading=CLOSE)

    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        middle = y + CLOSE * TEXT / 2
        minutes = words(
            str(share.minutes), x + number, middle, TEXT, bold=True, anchor=ink.Anchor.END
        )
        items = [words(share.kind, x, middle, TEXT), minutes]
        return [*items, *beside([rows], 0.0).draw(x + start, y, length)]

    return TableRow(height(rows), draw)


def _stock(book: Book, matter: Matter) -> None:
    rows = [_stock_row(row, matter.style) for row in matter.taken]
    if rows:
        columns = (
            TableColumn(heading="Material", share=3),
            TableColumn(heading="Sold as", share=2),
            TableColumn(heading="L\N{NO-BREAK SPACE}× W", share=2.4),
            TableColumn(heading="Thickness", share=1.4, align=Align.RIGHT),
            TableColumn(heading=f"Trims{_seen(matter)}", share=3),
        )
        book.heading(GIVEN)
        book.table(columns, rows)


def _seen(matter: Matter) -> str:
    """Say how ends are called where a sheet lies with its show face down."""
    return ", show face up" if any(drawing.mirrored for drawing in matter.drawings) else ""


def _stock_row(row: Stock, style: LengthStyle) -> tuple[str, ...]:
    fine = replace(style, denominator=64, decimals=2)
    said = [f"{name} {format_mark(size, fine)}" for name, size in trimmed(row.trims)]
    return (
        shortened(row.material, LONGEST, TEXT),
        shortened(row.name, LONGEST, TEXT),
        format_pair(row.length, row.width, style),
        format_mark(row.thickness, replace(fine, decimals=1)),
        ", ".join(said) or "none",
    )

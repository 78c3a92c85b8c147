"""How the pages of a job read: each term and sign with a picture from this very job.

Only what the job needs is explained. The published plan explains the same terms.
"""

from collections.abc import Sequence
from typing import Final

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack import reading_terms as terms
from layout_app.paper.pack.at_every_cut import put_cautions
from layout_app.paper.pack.blocks import Rows, paragraph
from layout_app.paper.pack.book import TEXT, Book
from layout_app.paper.pack.tables import TableRow

READING: Final = "How to read these pages"
_CLOSE: Final = 1.2
"""From line to line, in text sizes: all of it has room on a page."""
_BELOW: Final = 1.9
"""Below a term, in mm."""


def put_reading(book: Book, matter: Matter) -> None:
    """Put the terms with their pictures in columns, then the cautions of the job."""
    book.turn(READING)
    found = tuple(terms.terms_of(matter))
    book.columns(lambda length: [_block(one, length) for one in found])
    put_cautions(book, matter)


def _block(one: terms.Term, length: float) -> Rows:
    """Set a term: its name, its picture, and what is said of it."""
    rows = paragraph(one.name, length, TEXT, bold=True, leading=_CLOSE) if one.name else []
    if one.picture is not None:
        picture = one.picture

        def draw(x: float, y: float, _: float) -> Sequence[ink.Item]:
            items = tuple(picture.draw(x, y, length))
            return [ink.Group(name=f"term {one.name}", items=items)]

        rows.append(TableRow(picture.height, draw))
    for text in one.said:
        rows += paragraph(text, length, TEXT, leading=_CLOSE)
    return [*rows, TableRow(_BELOW, lambda *_: [])]

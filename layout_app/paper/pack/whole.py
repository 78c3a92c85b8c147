"""The whole pack, and the pages of it that can be had alone."""

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book
from layout_app.paper.pack.cover import put_cover
from layout_app.paper.pack.labels import label_pages
from layout_app.paper.pack.lists import put_offcuts, put_parts, put_shopping, put_steps
from layout_app.paper.pack.reading import put_reading
from layout_app.paper.pack.sheet_pages import put_diagrams
from layout_app.paper.panels.putting import put_panels
from layout_app.paper.wish import ExportWish

LIST = 60.0
"""The lists begin on a page that has so much free, in mm."""


def pack_pages(matter: Matter, wish: ExportWish | None = None) -> tuple[ink.Page, ...]:
    """Compose cover, how it reads, lists, diagrams, panels of cuts, labels on paper of one kind."""
    wish = wish or ExportWish()
    book = Book(wish.paper, matter.job.name, matter.banner, matter.identity)
    put_cover(book, matter)
    put_reading(book, matter)
    book.follow("Lists", LIST)
    put_parts(book, matter)
    put_shopping(book, matter)
    put_offcuts(book, matter)
    put_steps(book, matter)
    put_diagrams(book, matter)
    if matter.told:
        put_panels(book, matter)
    labels = label_pages(matter, wish.labels, wish.paper, before=book.next_number - 1)
    return book.pages(behind=len(labels)) + labels

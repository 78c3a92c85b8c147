"""The whole pack, and the pages of it that can be had alone."""

from layout_app.paper import ink
from layout_app.paper.fitting import fit_sheet
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cards import put_cards
from layout_app.paper.pack.cover import put_cover
from layout_app.paper.pack.lists import put_offcuts, put_parts, put_shopping


def pack_pages(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Compose cover, lists, diagrams, cut cards and offcuts on paper of one kind."""
    book = Book(paper, matter.job.name, matter.banner)
    put_cover(book, matter)
    book.turn("Lists", lying=True)
    put_parts(book, matter)
    put_shopping(book, matter)
    put_offcuts(book, matter)
    put_diagrams(book, matter)
    if matter.told:
        book.turn("Cut cards")
        put_cards(book, matter)
    return book.pages()


def put_diagrams(book: Book, matter: Matter) -> None:
    """Put each sheet on a page of its own, lying."""
    for drawing in matter.drawings:
        book.turn(f"Sheet {drawing.sheet}", lying=True)
        book.fill(fit_sheet(drawing, matter, book.whole()).items)

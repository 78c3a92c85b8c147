"""What a PDF says of itself: title, language, day, and bookmarks.

Qt writes the pages, and can say none of this; names and rules are those of ISO 32000-1. Equal
pages of one day give equal bytes: nothing here depends on the clock, and the file's identifier
is a digest of what it holds.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from io import BytesIO
from typing import Final

from pypdf import PdfWriter
from pypdf.generic import (
    BooleanObject,
    DictionaryObject,
    Fit,
    IndirectObject,
    NameObject,
    TextStringObject,
)

from layout_app.paper import ink
from layout_app.paper.pdf_structure import PANEL, add_structure, panel_title, reading_of
from layout_app.paper.plain import one_line

POINTS: Final = 72 / 25.4
"""Points to the millimetre."""
VERSION: Final = "%PDF-1.7"
"""ISO 32000-1."""
_SUBSET: Final = re.compile(rb"/FontName /(Q[A-Z]{5})\+([\w-]+)")
_IDENTIFIER: Final = re.compile(rb"/ID \[ <[0-9a-f]+> <[0-9a-f]+> \]")
LANGUAGE: Final = "en"
ABOVE: Final = 3.0
"""So much of a page is shown above what a bookmark leads to, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bookmark:
    """Leads to a page, and ``top`` mm down on it; those ``below`` stand under its title."""

    title: str
    page: int
    top: float = 0.0
    below: tuple["Bookmark", ...] = ()


def bookmarks(pages: Sequence[ink.Page]) -> Iterator[Bookmark]:
    """Yield a bookmark for each chapter, and below it those of its panels.

    A panel whose first row stands in another column than its picture has one.
    """
    begins = [
        place
        for place, page in enumerate(pages)
        if page.chapter and (not place or page.chapter != pages[place - 1].chapter)
    ]
    for first, end in zip(begins, [*begins[1:], len(pages)], strict=True):
        panels: dict[str, Bookmark] = {}
        for place in range(first, end):
            for title, top in _panels(pages[place].items):
                panels.setdefault(title, Bookmark(title=title, page=place, top=top))
        yield Bookmark(title=pages[first].chapter, page=first, below=tuple(panels.values()))


def _panels(items: Sequence[ink.Item]) -> Iterator[tuple[str, float]]:
    """Yield what panels are called, and where they begin, in mm from the top of their page."""
    for item in items:
        if not isinstance(item, ink.Group):
            continue
        if item.name.startswith(PANEL):
            top = min((room.y for _, room in ink.words_on([item])), default=0.0)
            yield panel_title(item.name), top
        else:
            yield from _panels(item.items)


def finished_pdf(written: bytes, pages: Sequence[ink.Page], title: str, day: date) -> bytes:
    """Return a PDF as Qt wrote it with all that it says of itself.

    Parameters
    ----------
    written
        The PDF.
    pages
        What it was painted from, page by page.
    title
        What readers show in place of the name of its file.
    day
        On which it counts as made.
    """
    document = PdfWriter(clone_from=BytesIO(written))
    document.pdf_header = VERSION
    midnight = f"D:{day:%Y%m%d}000000Z"
    document.metadata = {
        "/Title": one_line(title),
        "/Creator": "Ripfirst",
        "/CreationDate": midnight,
        "/ModDate": midnight,
    }
    root = document.root_object
    del root["/Metadata"]  # it would say the same once more, and says nothing
    root[NameObject("/Lang")] = TextStringObject(LANGUAGE)
    shows = {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    root[NameObject("/ViewerPreferences")] = DictionaryObject(shows)
    document.page_mode = "/UseOutlines"
    add_structure(document, reading_of(pages))
    for mark in bookmarks(pages):
        _lead(document, mark, pages, None)
    out = BytesIO()
    document.write(out)
    return _steady(out.getvalue())


def _steady(made: bytes) -> bytes:
    """Return a PDF with names of its own for what Qt names otherwise each time.

    The names of embedded fonts begin with six letters that tell subsets of one font apart (9.6.4);
    the file's identifier may be a digest of it (14.4). Neither changes where anything stands.
    """
    for number, (name, tag) in enumerate(sorted({found[::-1] for found in _SUBSET.findall(made)})):
        made = made.replace(b"/%b+%b" % (tag, name), b"/AAAAA%c+%b" % (ord("A") + number, name))
    digest = sha256(_IDENTIFIER.sub(b"", made)).hexdigest()[:32].encode()
    return _IDENTIFIER.sub(b"/ID [ <%b> <%b> ]" % (digest, digest), made)


def _lead(
    document: PdfWriter, mark: Bookmark, pages: Sequence[ink.Page], above: IndirectObject | None
) -> None:
    """Add a bookmark and those below it; it leaves the scale as the reader has it."""
    top = max(0.0, pages[mark.page].width - mark.top + ABOVE) * POINTS
    made = document.add_outline_item(
        title=one_line(mark.title),
        page_number=mark.page,
        parent=above,
        fit=Fit.xyz(left=0, top=round(top, 1)),
        is_open=False,
    )
    for below in mark.below:
        _lead(document, below, pages, made)

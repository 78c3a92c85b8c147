"""What a PDF says of itself, read by readers that are not ours: pypdf and PDFium."""

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

import pypdf
import pypdfium2 as pdfium
import pytest

from layout_app.paper import ink
from layout_app.paper.exporting import made_files
from layout_app.paper.matter import Matter
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.pdf_document import POINTS, bookmarks
from layout_app.paper.rendering import pdf
from layout_app.paper.wish import ExportWish
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import planned, small_job

DAY = date(2001, 2, 3)


@pytest.fixture(scope="module")
def matter() -> Matter:
    """The small job with its first plan, put on paper on a day long ago."""
    job = small_job()
    return replace(matter_of_plan(job, planned(job)), day=DAY)


@pytest.fixture(scope="module")
def written(matter: Matter, qapp) -> bytes:
    """Its cut pack."""
    ((_, data),) = made_files(matter, ("pdf",), ExportWish())
    return data


def test_the_same_plan_gives_the_same_bytes(matter: Matter, written: bytes) -> None:
    """Nothing in a PDF tells the time: its only date is the day of its pages, at midnight UTC.

    Fonts are named anew in each run by Qt, here for a second time.
    """
    ((_, again),) = made_files(matter, ("pdf",), ExportWish())
    assert again == written
    assert set(re.findall(rb"\d{14}(?=Z)", written)) == {b"20010203000000"}
    assert not re.search(rb"\d{4}-\d\d-\d\dT\d\d", written)
    ((_, later),) = made_files(replace(matter, day=date(2001, 2, 4)), ("pdf",), ExportWish())
    ids = [pypdf.PdfReader(io.BytesIO(one)).trailer["/ID"][0] for one in (written, later)]
    assert ids[0] != ids[1]


def test_a_pdf_names_title_language_and_no_author(matter: Matter, written: bytes) -> None:
    """ISO 32000-1: 14.3.3 title and author, 14.9.2 language, 12.2 the title shown by readers."""
    read = pypdf.PdfReader(io.BytesIO(written), strict=True)
    root = read.trailer["/Root"]
    assert read.metadata is not None
    assert read.metadata.title == f"Trial: cut pack, {matter.identity}"
    assert read.metadata.author is None
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/PageMode"] == "/UseOutlines"
    other = pdfium.PdfDocument(written)
    assert other.get_metadata_dict()["Title"] == read.metadata.title
    assert len(other) == len(read.pages)


def test_bookmarks_lead_to_chapters(matter: Matter, written: bytes) -> None:
    """Each chapter has one, in the order of the pages, and it leads to where that begins."""
    pages = pack_pages(matter)
    begins = [
        (page.chapter, place)
        for place, page in enumerate(pages)
        if not place or page.chapter != pages[place - 1].chapter
    ]
    read = pypdf.PdfReader(io.BytesIO(written))
    found = [(one.title, read.get_destination_page_number(one)) for one in _flat(read.outline)]
    assert [one for one in found if one in begins] == begins
    assert begins[0][0] == "Cut pack"
    assert {"Sheet 1", "Labels"} <= {title for title, _ in begins}
    document = pdfium.PdfDocument(written)
    other = [one.get_title() for one in document.get_toc()]
    assert other == [title for title, _ in found]


def _flat(outline: Sequence[object]) -> Iterator[pypdf.generic.Destination]:
    for one in outline:
        if isinstance(one, list):
            yield from _flat(one)
        else:
            assert isinstance(one, pypdf.generic.Destination)
            yield one


def test_bookmarks_of_panels_lead_to_the_piece(qapp) -> None:
    """By the piece and its first cut, below their chapter, a little above where they begin."""

    def panel(name: str, down: float) -> ink.Group:
        return ink.Group(name=name, items=(ink.Words(text="Piece", x=20, y=down, size=4),))

    content = ink.Group(name="content", items=(panel("panel-1-1", 30), panel("panel-1b-2-7", 150)))
    pages = [
        ink.Page(length=210, width=297, items=(), chapter="Cut pack"),
        ink.Page(length=210, width=297, items=(content,), chapter="Cuts"),
        ink.Page(length=210, width=297, items=(panel("panel-2-9", 40),), chapter="Cuts"),
    ]
    assert [(one.title, len(one.below)) for one in bookmarks(pages)] == [
        ("Cut pack", 0),
        ("Cuts", 3),
    ]
    read = pypdf.PdfReader(io.BytesIO(pdf(pages, "Panels", DAY)))
    _, _, below = read.outline
    assert isinstance(below, list)
    told = [(one.title, read.get_destination_page_number(one)) for one in below]
    assert told == [("1, cut 1", 1), ("1b-2, cut 7", 1), ("2, cut 9", 2)]
    tops = [297 - float(one.top) / POINTS for one in below]
    for top, begins in zip(tops, (30, 150, 40), strict=True):
        assert begins - 8 < top < begins


def test_words_are_read_in_the_order_of_the_page(matter: Matter, written: bytes) -> None:
    """A reader that keeps the order of a page's content reads its words as they were set.

    PDFium sorts what stands on one line by its place, and finds the same letters. Spaces apart,
    which both reckon from where letters stand, and marks of direction, which leave no ink.
    """
    read, other = pypdf.PdfReader(io.BytesIO(written)), pdfium.PdfDocument(written)
    for page, one, two in zip(pack_pages(matter), read.pages, other, strict=True):
        said = "".join(_bare(words.text) for words, _ in ink.words_on(page.items))
        assert _bare(one.extract_text()) == said, page.title
        assert sorted(_bare(two.get_textpage().get_text_range())) == sorted(said), page.title


def _bare(text: str) -> str:
    return "".join(text.replace("\N{LEFT-TO-RIGHT MARK}", "").split())

"""What a PDF says of itself, read by readers that are not ours: pypdf and PDFium."""

import io
import re
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import pypdf
import pypdfium2 as pdfium
import pytest

from layout_app.paper import ink, rendering
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
    assert begins[-1][0] == "Labels"
    assert any("sheet 1" in title.casefold() for title, _ in begins)
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
    """By the piece and its first cut, below their chapter, a little above where they begin.

    One whose first row stands in another column has one.
    """

    def panel(name: str, down: float) -> ink.Group:
        return ink.Group(name=name, items=(ink.Words(text="Piece", x=20, y=down, size=4),))

    content = ink.Group(name="content", items=(panel("panel-1-1", 30), panel("panel-1b-2-7", 150)))
    goes_on = panel("panel-1b-2-7", 12)
    pages = [
        ink.Page(length=210, width=297, items=(), chapter="Cut pack"),
        ink.Page(length=210, width=297, items=(content,), chapter="Cuts"),
        ink.Page(length=210, width=297, items=(goes_on, panel("panel-2-9", 40)), chapter="Cuts"),
    ]
    assert [(one.title, len(one.below)) for one in bookmarks(pages)] == [
        ("Cut pack", 0),
        ("Cuts", 3),
    ]
    read = pypdf.PdfReader(io.BytesIO(pdf(pages, "Panels", DAY)))
    _, _, below = read.outline
    assert isinstance(below, list)
    told = [(one.title, read.get_destination_page_number(one)) for one in below]
    assert told == [
        ("Sheet 1, cut 1", 1),
        ("Piece 1b-2, cut 7", 1),
        ("Sheet 2, cut 9", 2),
    ]
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


def test_the_structure_reads_every_word_once_and_in_order(matter: Matter, written: bytes) -> None:
    """Tagged as ISO 32000-1 has it (14.7, 14.8): words in elements, all else an artifact.

    The elements of a page hold its marked words from first to last, and the tree that leads
    back names the same elements (14.7.4.4).
    """
    read = pypdf.PdfReader(io.BytesIO(written), strict=True)
    root = read.trailer["/Root"]
    tree = root["/StructTreeRoot"]
    assert root["/MarkInfo"]["/Marked"]
    (whole,) = tree["/K"]
    leaves = list(_leaves(whole))
    parents = tree["/ParentTree"]["/Nums"]
    heads = 0
    for place, (page, composed) in enumerate(zip(read.pages, pack_pages(matter), strict=True)):
        mine = [(number, one) for ref, number, one in leaves if ref == page.indirect_reference]
        assert [number for number, _ in mine] == list(range(len(mine))), composed.title
        assert page["/StructParents"] == parents[2 * place] == place
        assert list(parents[2 * place + 1].get_object()) == [one for _, one in mine]
        told = _marked(page.get_contents().get_data())
        assert told == [(one.get_object()["/S"], number) for number, one in mine]
        heads += sum(kind in {"/H1", "/H2"} for kind, _ in told)
        words = [one.text for one, _ in ink.words_on(_read_aloud(composed, place))]
        in_one = [text for text in words if "\N{LEFT-TO-RIGHT MARK}" not in text]
        assert len(in_one) <= len(mine) <= len(in_one) + 3 * (len(words) - len(in_one))
    assert heads > 5


def _leaves(
    element: pypdf.generic.PdfObject,
) -> Iterator[tuple[object, int, pypdf.generic.PdfObject]]:
    """Yield page, number and element of all marked words, in the order of the structure."""
    said = element.get_object()
    for one in said["/K"]:
        if isinstance(one, int):
            yield said.raw_get("/Pg"), int(one), element
        else:
            assert one.get_object().raw_get("/P") == said.indirect_reference
            yield from _leaves(one)


def _marked(content: bytes) -> list[tuple[str, int]]:
    """Return kind and number of what is marked; each text stands inside of one mark (14.6)."""
    found, inside = [], ""
    marks = rb"^(?:(/\w+) (?:<</MCID (\d+)>> BDC|BMC)|(EMC)|(BT))$"
    for mark in re.finditer(marks, content, re.MULTILINE):
        if mark[1]:
            assert not inside
            inside = mark[1].decode()
            found += [(inside, int(mark[2]))] if mark[2] else []
        elif mark[3]:
            assert inside
            inside = ""
        else:
            assert inside
    assert not inside
    return found


def _read_aloud(page: ink.Page, place: int) -> list[ink.Item]:
    """Return what a voice reads of a page: its head on the first page only."""
    return [
        one
        for one in page.items
        if not place or not isinstance(one, ink.Group) or one.name != "head"
    ]


def test_a_third_reader_finds_the_structure(matter: Matter, written: bytes, tmp_path: Path) -> None:
    """Poppler, where it is installed, reads the words of all chapters from the structure alone."""
    pdfinfo = shutil.which("pdfinfo")
    if pdfinfo is None:
        pytest.skip("Poppler's pdfinfo is not installed")
    path = tmp_path / "pack.pdf"
    path.write_bytes(written)
    done = subprocess.run(
        [pdfinfo, "-struct-text", str(path)], capture_output=True, check=True, timeout=60
    )
    told = _bare(done.stdout.decode()).replace('"', "")
    assert done.stderr == b""
    for place, page in enumerate(pack_pages(matter)):
        assert f"Sect{_bare(page.chapter)}" in told
        for words, _ in ink.words_on(_read_aloud(page, place)):
            assert _bare(words.text).replace('"', "") in told


def test_marks_change_nothing_that_is_seen(matter: Matter, written: bytes) -> None:
    """Each page is dot for dot what Qt wrote before it was marked."""
    pages = pack_pages(matter)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rendering, "finished_pdf", lambda made, *_: made)
        plain = list(pdfium.PdfDocument(pdf(pages, "Plain", DAY)))
    marked = list(pdfium.PdfDocument(written))
    for one, other in zip(plain[:3] + plain[-1:], marked[:3] + marked[-1:], strict=True):
        assert (one.render().to_numpy() == other.render().to_numpy()).all()

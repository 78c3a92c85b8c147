"""The PDF read by two readers that are not ours: boxes, fonts, words and where their ink is."""

import io
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np
import pypdf
import pypdfium2 as pdfium
import pytest
from numpy.typing import NDArray

from layout_app.paper import ink
from layout_app.paper.fitting import fitted_page
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.rendering import pdf
from shared.lengths import Unit
from tests.layout_app.paper import packs

POINT = 25.4 / 72
"""One point of a PDF in mm (ISO 32000-1, 8.3.2.3)."""
SIZES = {Paper.A4: (210.0, 297.0), Paper.A3: (297.0, 420.0), Paper.LETTER: (215.9, 279.4)}
"""In mm: ISO 216; Letter is 8.5 by 11 in (ANSI/ASME Y14.1)."""
DOTS = 300
SEED = 0
MM_DOTS = DOTS / 25.4


@dataclass(frozen=True, slots=True)
class Printed:
    """A pack: the pages that were composed, and the PDF's bytes."""

    pages: tuple[ink.Page, ...]
    content: bytes


@pytest.fixture(scope="module", params=tuple(Paper), ids=lambda paper: paper.name)
def paper(request: pytest.FixtureRequest) -> Paper:
    """Each size of paper."""
    return request.param


@pytest.fixture(scope="module")
def printed(paper: Paper, qapp) -> Printed:
    """The pack of a random job with hostile names, and a page that lies."""
    lying = Book(paper, "Lying")
    lying.turn("Wide", lying=True)
    lying.paragraph("This page is wider than high.", bold=True)
    pages = (*packs.pages(SEED, paper), *lying.pages())
    return Printed(pages, pdf(pages, "Random pack"))


def test_pages_have_the_size_of_their_paper(printed: Printed, paper: Paper) -> None:
    """To half a point, upright or lying; the box that is printed is the whole page."""
    read = pypdf.PdfReader(io.BytesIO(printed.content))
    assert len(read.pages) == len(printed.pages)
    lying = set()
    for page, composed in zip(read.pages, printed.pages, strict=True):
        box = page.mediabox
        size = float(box.width) * POINT, float(box.height) * POINT
        assert sorted(size) == pytest.approx(SIZES[paper], abs=POINT / 2 + 0.01)
        assert (size[0] > size[1]) is (composed.length > composed.width)
        assert page.cropbox == box
        lying.add(size[0] > size[1])
    assert lying == {True, False}


def test_every_font_is_embedded(printed: Printed) -> None:
    """Each has a font file in the PDF (ISO 32000-1, 9.9)."""
    read = pypdf.PdfReader(io.BytesIO(printed.content))
    fonts = [font for page in read.pages for font in _descriptors(page)]
    assert len(fonts) >= 2 * len(read.pages)
    for font in fonts:
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(font), font


def _descriptors(page: pypdf.PageObject) -> Iterator[dict[str, object]]:
    for font in page["/Resources"]["/Font"].values():
        found = font.get_object()
        within = [one.get_object() for one in found.get("/DescendantFonts", [])] or [found]
        for one in within:
            yield one["/FontDescriptor"].get_object()


def test_words_stand_where_they_were_set(printed: Printed) -> None:
    """Every letter of plain words lies in the room of a line that has it, to 0.5 mm."""
    document = pdfium.PdfDocument(printed.content)
    checked = 0
    for page, read in zip(printed.pages, document, strict=True):
        rooms = list(ink.words_on(page.items))
        least = np.array([(room.x, room.y) for _, room in rooms]) - 0.5
        most = np.array([(room.right, room.bottom) for _, room in rooms]) + 0.5
        plain = [_plain(words.text) for words, _ in rooms]
        for letter, x, y in _letters(read, page.width):
            near = np.flatnonzero(((least <= (x, y)) & (most >= (x, y))).all(axis=1))
            assert any(letter in plain[place] for place in near), (page.title, letter, x, y)
            checked += 1
    assert checked > 3000


def _letters(page: pdfium.PdfPage, width: float) -> Iterator[tuple[str, float, float]]:
    """Yield the plain letters of a page with their middle in mm from its top left corner."""
    text = page.get_textpage()
    height = page.get_height()
    for index in range(text.count_chars()):
        letter = text.get_text_range(index, 1)
        left, bottom, right, top = text.get_charbox(index)
        if letter.isascii() and letter.isalnum() and right > left:
            yield letter, (left + right) / 2 * POINT, (height - (bottom + top) / 2) * POINT


def _plain(text: str) -> str:
    return unicodedata.normalize("NFKD", text)


def test_every_plain_line_is_found_as_text(printed: Printed) -> None:
    """Names of parts and numbers of cuts too: a search in a viewer finds each, where it is."""
    document = pdfium.PdfDocument(printed.content)
    found = 0
    for page, read in zip(printed.pages, document, strict=True):
        text = read.get_textpage()
        for words, room in ink.words_on(page.items):
            if words.text.isascii() and words.text.isprintable() and len(words.text.split()) == 1:
                said = text.get_text_bounded(*_bounds(room, read.get_height())).split()
                assert "".join(said) == words.text, (page.title, words.text, said)
                found += 1
    assert found > 50


def _bounds(room: ink.Spread, height: float) -> tuple[float, float, float, float]:
    """Return left, bottom, right, top in points from the page's lower left corner."""
    slack = 0.5
    return (
        (room.x - slack) / POINT,
        height - (room.bottom + slack) / POINT,
        (room.right + slack) / POINT,
        height - (room.y - slack) / POINT,
    )


def test_every_part_and_every_cut_is_told(printed: Printed) -> None:
    """Each part's name stands in the lists, each cut has its box and its tag."""
    matter = packs.matter(SEED)
    pages = zip(printed.pages, pdfium.PdfDocument(printed.content), strict=True)
    texts = {"lists": "", "cuts": "", "sheet": ""}
    for page, read in pages:
        for kind in texts:
            if kind in page.title.rpartition(": ")[2].casefold():
                texts[kind] += "\n" + read.get_textpage().get_text_bounded()
    for part in matter.job.parts:
        name = part.name or part.id
        if name.isascii() and name.isprintable():
            assert "".join(name.split()) in "".join(texts["lists"].split())
    for cut in matter.plan.cuts:
        assert str(cut.number) in texts["cuts"].split()
        assert str(cut.number) in texts["sheet"].split()


def rendered(content: bytes, number: int) -> NDArray[np.uint8]:
    """Return a page as rows of grey, 300 dots to the inch."""
    page = pdfium.PdfDocument(content)[number]
    return np.asarray(page.render(scale=DOTS / 72, grayscale=True).to_numpy()).squeeze()


def _diagram(printed: Printed) -> int:
    return next(n for n, page in enumerate(printed.pages) if "sheet 1" in page.title.casefold())


def test_ink_is_where_the_boxes_are(printed: Printed) -> None:
    """The corners of every part that no tag covers are dark on the rendered page, to 0.3 mm."""
    number = _diagram(printed)
    grey = rendered(printed.content, number)
    parts, discs = _shapes(printed.pages[number].items)
    corners = [
        (x, y)
        for part in parts
        for x in (part.x, part.right)
        for y in (part.y, part.bottom)
        if all(hypot(x - tag.x, y - tag.y) > tag.length / 2 + 0.3 for tag in discs)
    ]
    assert len(corners) > len(parts) > 10
    slack = int(0.3 * MM_DOTS) + 1
    for x, y in corners:
        row, column = int(y * MM_DOTS), int(x * MM_DOTS)
        near = grey[row - slack : row + slack + 1, column - slack : column + slack + 1]
        assert near.min() < 128, (x, y)


def _shapes(
    items: tuple[ink.Item, ...], x: float = 0.0, y: float = 0.0, scale: float = 1.0
) -> tuple[list[ink.Spread], list[ink.Spread]]:
    """Return parts with a whole outline, and discs, at their place on the page."""
    parts: list[ink.Spread] = []
    discs: list[ink.Spread] = []
    for item in items:
        if isinstance(item, ink.Group):
            at = x + scale * item.x, y + scale * item.y, scale * item.scale
            more = _shapes(item.items, *at)
            parts, discs = parts + more[0], discs + more[1]
        elif isinstance(item, ink.Plate) and item.name.startswith("part:"):
            if item.pen and not item.pen.dashes:
                size = scale * item.length, scale * item.width
                parts.append(_spread(x + scale * item.x, y + scale * item.y, *size))
        elif isinstance(item, ink.Disc):
            around = 2 * scale * item.radius
            discs.append(_spread(x + scale * item.x, y + scale * item.y, around, around))
    return parts, discs


def _spread(x: float, y: float, length: float, width: float) -> ink.Spread:
    return ink.Spread(x=x, y=y, length=length, width=width)


@pytest.mark.parametrize("seed", [0, 3], ids=["millimetres", "inches"])
def test_the_check_bar_is_as_long_as_it_says(seed: int, paper: Paper, qapp) -> None:
    """50 mm, or 2 in, between the middles of its ends on the rendered page, to 0.1 mm."""
    matter = packs.matter(seed)
    page = fitted_page(matter.drawings[0], matter, paper, black=True)
    grey = rendered(pdf([page], "bar"), 0)
    said = next(w for w, _ in ink.words_on(page.items) if w.text.endswith("true to scale"))
    inches = matter.style.unit is Unit.INCH
    assert said.text == f"{'2 in' if inches else '50 mm'} if printed true to scale"
    row = int((said.y - 1.0) * MM_DOTS)
    dark = np.flatnonzero(grey[row, : int((said.x - 1.0) * MM_DOTS)] < 128)
    ends = [group.mean() for group in np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)][-2:]
    assert (ends[1] - ends[0]) / MM_DOTS == pytest.approx(50.8 if inches else 50.0, abs=0.1)

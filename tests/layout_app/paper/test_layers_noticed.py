"""Two renderers agree on a drawing, and each layer that is taken from it is noticed by that.

What is compared are pictures without words, and the words as another reader finds them: each
renderer sets letters its own way. Nobody tells the comparison which layer to look at.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from io import StringIO
from math import hypot
from xml.etree import ElementTree

import ezdxf
import pypdfium2 as pdfium
import pytest
from ezdxf import colors, path
from ezdxf.document import Drawing
from ezdxf.entities import Text
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPolygonF

from layout_app.paper import ink
from layout_app.paper.dxf import _LAYER_OF, LAYERS, sheet_dxf
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.pens import TEXT, PaperHand
from layout_app.paper.rendering import pdf
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page, hand_for, titled
from layout_app.paper.wish import ExportWish
from tests.layout_app.paper.drawn_by import (
    Picture,
    by_pdfium,
    by_qt,
    by_resvg,
    greys,
    most_apart,
)
from tests.layout_app.paper.full_sheet import full_matter

DRAWN = (
    "sheet",
    "waste",
    "parts",
    "grain",
    "kept-clear",
    "cuts",
    "match-groups",
    "sizes",
    "pieces",
    "running",
    "reference-edge",
    "numbers",
    "words",
)


@dataclass(frozen=True, slots=True)
class Seen:
    """What one reader makes of a file: how often each letter, and a picture without its words.

    The picture is drawn when it is asked for.
    """

    letters: Counter[str]
    picture: Callable[[], Picture]


def notices(one: Seen, other: Seen, tile: int, most: float) -> Iterator[str]:
    """Yield in what two readers do not agree: letters, or the mean grey of a tile."""
    if one.letters != other.letters:
        yield f"letters: {one.letters - other.letters} {other.letters - one.letters}"
    apart = most_apart(one.picture(), other.picture(), tile)
    if apart > most:
        yield f"a tile is {apart:.1f} of 255 apart"


def letters(texts: Iterator[str]) -> Counter[str]:
    """Count the letters of texts; readers break lines and set spaces as they like."""
    return Counter("".join("".join(text.split()) for text in texts))


def bare(items: tuple[ink.Item, ...]) -> tuple[ink.Item, ...]:
    """Return items without words."""
    return tuple(
        replace(one, items=bare(one.items)) if isinstance(one, ink.Group) else one
        for one in items
        if not isinstance(one, ink.Words)
    )


def without(items: tuple[ink.Item, ...], layer: str) -> tuple[ink.Item, ...]:
    """Return items without the groups of that name."""
    return tuple(
        replace(one, items=without(one.items, layer)) if isinstance(one, ink.Group) else one
        for one in items
        if not (isinstance(one, ink.Group) and one.name == layer)
    )


def svg_letters(page: ink.Page) -> Counter[str]:
    """Read the words of an SVG with an XML reader."""
    root = ElementTree.fromstring(document(page))
    return letters(one.text or "" for one in root.iter("{http://www.w3.org/2000/svg}text"))


def svg_by(draw: Callable[[str, int], Picture], page: ink.Page, length: int) -> Seen:
    """See a page as SVG."""
    text = document(replace(page, items=bare(page.items)))
    return Seen(svg_letters(page), cache(lambda: draw(text, length)))


# --- SVG ---------------------------------------------------------------------------------

SVG_DOTS, SVG_TILE, SVG_MOST = 1500, 20, 5.0
"""Measured: 2.4 between both renderers, 9.1 without the layer that shows least, the grain."""


@cache
def true_size() -> ink.Page:
    """The sheet at true size, in colours."""
    matter = full_matter()
    return drawing_page(matter.drawings[0], matter.style, matter.job, identity=matter.identity)


@cache
def by_the_first() -> Seen:
    """That page by resvg."""
    return svg_by(by_resvg, true_size(), SVG_DOTS)


def test_two_renderers_agree_on_the_svg(qapp) -> None:
    """On words and on every tile of the picture."""
    assert [one.name for one in true_size().items if isinstance(one, ink.Group)] == list(DRAWN)
    qt = svg_by(by_qt, true_size(), SVG_DOTS)
    assert list(notices(by_the_first(), qt, SVG_TILE, SVG_MOST)) == []


@pytest.mark.parametrize("layer", DRAWN)
def test_a_layer_missing_from_the_svg_is_noticed(layer: str, qapp) -> None:
    """Taken from what the second renderer shows."""
    page = replace(true_size(), items=without(true_size().items, layer))
    assert any(notices(by_the_first(), svg_by(by_qt, page, SVG_DOTS), SVG_TILE, SVG_MOST))


# --- PDF ---------------------------------------------------------------------------------

PDF_DOTS, PDF_TILE, PDF_MOST = 5 * 842, 60, 7.5
"""Measured: 4.3 between both renderers, 11.1 without the grain. Five dots a point: PDFium sets
the edges of what is filled to whole dots."""


@cache
def page_of_the_pack() -> ink.Page:
    """The page of the sheet in the cut pack, as long and wide as its PDF is: in whole points."""
    pages = pack_pages(full_matter(), ExportWish(paper=Paper.A4))
    (page,) = [one for one in pages if one.title.endswith(": Sheet 1")]
    point = 25.4 / 72
    length, width = (point * round(side / point) for side in (page.length, page.width))
    return replace(page, length=length, width=width)


def pdf_of(page: ink.Page) -> Seen:
    """See a page as PDF by PDFium."""
    texts = pdfium.PdfDocument(pdf([page], "Page"))[0].get_textpage()
    content = pdf([replace(page, items=bare(page.items))], "Page")
    said = letters(iter([texts.get_text_bounded()]))
    return Seen(said, lambda: by_pdfium(content, 0, PDF_DOTS))


@cache
def pack_page_as_svg() -> Seen:
    """The same page as SVG by resvg."""
    return svg_by(by_resvg, page_of_the_pack(), PDF_DOTS)


def groups(items: tuple[ink.Item, ...]) -> Iterator[str]:
    """Yield the names of all groups."""
    for one in items:
        if isinstance(one, ink.Group):
            yield one.name
            yield from groups(one.items)


def test_the_pdf_shows_the_same_as_the_svg(qapp) -> None:
    """Painted by us, drawn by PDFium; written by us, drawn by resvg."""
    assert set(DRAWN) <= set(groups(page_of_the_pack().items))
    assert list(notices(pack_page_as_svg(), pdf_of(page_of_the_pack()), PDF_TILE, PDF_MOST)) == []


@pytest.mark.parametrize("layer", [*DRAWN, "check-bar"])
def test_a_layer_missing_from_the_pdf_is_noticed(layer: str, qapp) -> None:
    """Taken from the page before it is painted."""
    page = page_of_the_pack()
    less = pdf_of(replace(page, items=without(page.items, layer)))
    assert any(notices(pack_page_as_svg(), less, PDF_TILE, PDF_MOST))


# --- DXF ---------------------------------------------------------------------------------

DXF_DOTS, DXF_TILE, DXF_MOST = 1200, 24, 8.0
"""Measured: 4.9 between both, 15.1 without the parts, whose edges those of cuts lie over."""


def hand() -> PaperHand:
    """How the sheet is drawn in its DXF."""
    return hand_for(full_matter().drawings[0], black=True)


def pen(layer: str) -> ink.Pen:
    """The pen of a layer, as wide and coloured as the file says; colour 7 is black on white."""
    width, colour = LAYERS[layer]
    rgb = (0, 0, 0) if colour == 7 else colors.aci2rgb(colour)
    return ink.Pen(width=width * hand().size / TEXT, colour="#{:02x}{:02x}{:02x}".format(*rgb))


@cache
def outlines() -> Seen:
    """The sheet's lines alone, as an SVG drawn by resvg: what the DXF has to show."""
    matter = full_matter()
    made = titled(matter.drawings[0], hand(), matter.style, matter.job, identity=matter.identity)
    around = made.around
    items = tuple(
        replace(
            group, items=tuple(_lines(group.items, _LAYER_OF[group.name])), x=-around.x, y=-around.y
        )
        for group in made.items
        if isinstance(group, ink.Group)
    )
    page = ink.Page(length=around.length, width=around.width, items=items)
    words = letters(word.text for word, _ in ink.words_on(made.items))
    return Seen(words, cache(lambda: by_resvg(document(page), DXF_DOTS)))


def _lines(items: tuple[ink.Item, ...], layer: str) -> Iterator[ink.Item]:
    disc = next((one for one in items if isinstance(one, ink.Disc)), None)
    for one in items:
        if isinstance(one, ink.Group):
            yield from _lines(one.items, layer)
        elif isinstance(one, ink.Plate | ink.Disc):
            if one.pen or layer == "CUTS":
                yield replace(one, pen=pen(layer), fill="")
        elif isinstance(one, ink.Strokes):
            lines = (
                one.lines if disc is None else tuple(_outside(disc, *line) for line in one.lines)
            )
            yield replace(one, lines=lines, pen=pen(layer))


def _outside(disc: ink.Disc, start: ink.Spot, end: ink.Spot) -> tuple[ink.Spot, ink.Spot]:
    """Return a leader from the rim of its disc."""
    across, down = end[0] - start[0], end[1] - start[1]
    share = min(1.0, disc.radius / hypot(across, down))
    return (start[0] + share * across, start[1] + share * down), end


def dxf_without(layer: str = "") -> Drawing:
    """Read the file with ezdxf, and take what is on a layer from it."""
    read = ezdxf.read(StringIO(sheet_dxf(full_matter().drawings[0], full_matter())))
    model = read.modelspace()
    for entity in list(model.query(f'*[layer=="{layer}"]')):
        model.delete_entity(entity)
    return read


def dxf_of(read: Drawing) -> Seen:
    """See a file as ezdxf reads it."""
    texts = (one.plain_text() for one in read.modelspace().query("TEXT") if isinstance(one, Text))
    return Seen(letters(texts), lambda: painted(read))


def painted(read: Drawing) -> Picture:
    """Paint the paths of a file's lines within the extents it says."""
    left, bottom, _ = read.header["$EXTMIN"]
    right, top, _ = read.header["$EXTMAX"]
    scale = DXF_DOTS / (right - left)
    picture = QImage(DXF_DOTS, round(scale * (top - bottom)), QImage.Format.Format_RGB32)
    picture.fill(0xFFFFFF)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for entity in read.modelspace().query("LWPOLYLINE CIRCLE"):
        layer = read.layers.get(entity.dxf.layer)
        rgb = (0, 0, 0) if layer.color == 7 else colors.aci2rgb(layer.color)
        width = layer.dxf.lineweight / 100 * hand().size / TEXT
        painter.setPen(QPen(QColor(*rgb), width * scale))
        spots = [
            QPointF(scale * (spot.x - left), scale * (top - spot.y))
            for spot in path.make_path(entity).flattening(0.5)
        ]
        painter.drawPolyline(QPolygonF(spots))
    painter.end()
    return greys(picture)


def test_the_dxf_shows_the_same_as_the_svg(qapp) -> None:
    """Every line where the drawing has it, every word as text."""
    assert list(notices(outlines(), dxf_of(dxf_without()), DXF_TILE, DXF_MOST)) == []


@pytest.mark.parametrize("layer", LAYERS)
def test_a_layer_missing_from_the_dxf_is_noticed(layer: str, qapp) -> None:
    """Its entities taken from the file."""
    assert any(notices(outlines(), dxf_of(dxf_without(layer)), DXF_TILE, DXF_MOST))

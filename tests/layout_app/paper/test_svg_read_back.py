"""The SVG read by two readers and drawn by two renderers that are not ours."""

import re
from collections.abc import Callable
from functools import cache, partial
from io import StringIO
from math import ceil
from xml.etree import ElementTree

import numpy as np
import pytest
import resvg_py
import svgelements
from lxml import etree
from numpy.typing import NDArray
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QFont, QFontInfo, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from layout_app.paper.all_sheets import job_page
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.svg import document
from layout_app.paper.titled import TEXT_SHARE, drawing_page
from shared.drawing import SheetDrawing
from shared.lengths import MM
from tests.layout_app.paper import packs

NS = {"svg": "http://www.w3.org/2000/svg"}
LAYERS = (
    "sheet",
    "waste",
    "parts",
    "grain",
    "cuts",
    "sizes",
    "running",
    "reference-edge",
    "numbers",
    "words",
)
Box = tuple[float, float, float, float]
SEEDS = (3, 5)


@pytest.fixture(scope="module", params=SEEDS)
def matter(request: pytest.FixtureRequest) -> Matter:
    """A random job with its plan."""
    return packs.matter(request.param)


@pytest.fixture(scope="module")
def drawing(matter: Matter) -> SheetDrawing:
    """Its first sheet."""
    return matter.drawings[0]


@pytest.fixture(scope="module")
def text(matter: Matter, drawing: SheetDrawing) -> str:
    """That sheet as SVG."""
    return document(drawing_page(drawing, matter.style, matter.job))


def promised(matter: Matter, sheet: str) -> dict[str, list[Box]]:
    """Return what the plan says of a sheet, in mm from its corner.

    A box without width is not drawn (SVG 1.1, 9.2), so cuts without kerf are left out.
    """
    plan = matter.plan
    placed = [one for one in plan.placements if one.sheet == sheet]
    whole = next(one for one in plan.sheets if one.id == sheet)
    return {
        "sheet": [(0.0, 0.0, whole.length / MM, whole.width / MM)],
        "parts": sorted((p.x / MM, p.y / MM, p.length / MM, p.width / MM) for p in placed),
        "cuts": sorted(
            (c.x / MM, c.y / MM, c.length / MM, c.width / MM)
            for c in plan.cuts
            if c.sheet == sheet and c.kerf
        ),
    }


def by_svgelements(text: str, prefix: str = "") -> dict[str, list[Box]]:
    """Read boxes with a reader that knows physical units: CSS pixels of 1/96 in, as mm."""
    tree = svgelements.SVG.parse(StringIO(text), reify=True, ppi=96)
    groups = {group.id: group for group in tree.select(lambda one: bool(one.id))}
    return _from_sheet(
        {
            layer: [_sides(box) for box in groups[f"{prefix}{layer}"].select(_is_box)]
            for layer in ("sheet", "parts", "cuts")
        }
    )


def _is_box(element: object) -> bool:
    return isinstance(element, svgelements.Rect) and bool(element.values.get("id"))


def _sides(box: svgelements.Rect) -> Box:
    x, y, length, width = (side / 96 * 25.4 for side in (box.x, box.y, box.width, box.height))
    return x, y, length, width


def by_lxml(text: str, prefix: str = "") -> dict[str, list[Box]]:
    """Read them with an XML reader, adding up what groups are moved by; user units are mm."""
    root = etree.fromstring(text.encode())
    found = {
        layer: [
            _moved(rect)
            for rect in root.xpath(f"//svg:g[@id='{prefix}{layer}']//svg:rect[@id]", namespaces=NS)
        ]
        for layer in ("sheet", "parts", "cuts")
    }
    return _from_sheet(found)


def _moved(rect: etree._Element) -> Box:
    x, y = float(rect.get("x")), float(rect.get("y"))
    for group in rect.iterancestors():
        move = re.fullmatch(r"translate\(([\d.-]+) ([\d.-]+)\)", group.get("transform") or "")
        assert move or not group.get("transform")
        if move:
            x, y = x + float(move[1]), y + float(move[2])
    return x, y, float(rect.get("width")), float(rect.get("height"))


def _from_sheet(found: dict[str, list[Box]]) -> dict[str, list[Box]]:
    """Return boxes from the corner of the one sheet among them, in order."""
    ((left, top, _, _),) = found["sheet"]
    return {
        layer: sorted((x - left, y - top, *size) for x, y, *size in boxes if min(size) > 0)
        for layer, boxes in found.items()
    }


@pytest.mark.parametrize("read", [by_svgelements, by_lxml])
def test_every_box_is_where_the_plan_says(read, matter: Matter, text: str) -> None:
    """Sheet, parts and kerfs, to 0.01 mm."""
    _compare(read(text), promised(matter, matter.drawings[0].sheet))


@pytest.mark.parametrize("read", [by_svgelements, by_lxml])
def test_every_sheet_of_the_whole_job_too(read, matter: Matter) -> None:
    """In the drawing of all sheets each is read back like one alone."""
    text = document(job_page(matter.drawings, matter.style, matter.job))
    for one in matter.drawings:
        _compare(read(text, f"s{one.sheet}-"), promised(matter, one.sheet))


def _compare(read: dict[str, list[Box]], told: dict[str, list[Box]]) -> None:
    assert all(told.values())
    assert {name: len(boxes) for name, boxes in read.items()} == {
        name: len(boxes) for name, boxes in told.items()
    }
    for name, boxes in told.items():
        assert np.allclose(read[name], boxes, rtol=0, atol=0.01), name


def test_each_number_stands_at_its_cut(matter: Matter, drawing: SheetDrawing, text: str) -> None:
    """A tag lies on the line of its kerf, or its leader ends there; to 0.01 mm."""
    root = ElementTree.fromstring(text)
    groups = root.findall(".//svg:g[@id='numbers']/svg:g", NS)
    cuts = {str(cut.number): cut for cut in matter.plan.cuts if cut.sheet == drawing.sheet}
    assert sorted(g.findtext("svg:text", "", NS) for g in groups) == sorted(cuts)
    for group in groups:
        cut = cuts[group.findtext("svg:text", "", NS)]
        disc, leader = group.find("svg:circle", NS), group.find("svg:path", NS)
        assert disc is not None
        assert group.findtext("svg:title", "", NS) == f"cut {cut.number}"
        spots = [(float(disc.get("cx", "0")), float(disc.get("cy", "0")))]
        if leader is not None:
            ends = re.findall(r"([\d.-]+) ([\d.-]+)", leader.get("d", ""))
            spots = [(float(x), float(y)) for x, y in ends]
        left, top = cut.x / MM, cut.y / MM
        across = [
            top - 0.01 <= y <= top + cut.width / MM + 0.01
            if cut.length > cut.width
            else left - 0.01 <= x <= left + cut.length / MM + 0.01
            for x, y in spots
        ]
        assert any(across), cut.number


def _by_resvg(text: str, length: int) -> QImage:
    """Draw with resvg; letters of the family that Qt takes too, or it would draw none."""
    family = QFontInfo(QFont(["Helvetica", "Arial", "sans-serif"])).family().partition(" [")[0]
    return QImage.fromData(
        QByteArray(
            bytes(
                resvg_py.svg_to_bytes(
                    svg_string=text, width=length, dpi=96.0, sans_serif_family=family
                )
            )
        )
    )


def _by_qt(text: str, length: int) -> QImage:
    renderer = QSvgRenderer(QByteArray(text.encode()))
    box = renderer.viewBoxF()
    picture = QImage(length, ceil(length * box.height() / box.width()), QImage.Format.Format_RGB32)
    picture.fill(0xFFFFFF)
    painter = QPainter(picture)
    renderer.render(painter)
    painter.end()
    return picture


def greys(picture: QImage) -> NDArray[np.float64]:
    """Return a picture as rows of grey from 0 to 255."""
    made = picture.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(bytes(made.constBits()), np.uint8).reshape(made.height(), -1)
    return rows[:, : made.width()].astype(float)


RENDERERS = {"resvg": _by_resvg, "Qt": _by_qt}
DOTS = 600
"""So long are pictures that are compared."""
TILE = 24
"""So many dots, about the height of a letter, may ink be shifted by."""
MOST_APART = 0.25
"""Of the ink of a layer; what was measured is 0.16 for words, and 0.12 without."""
Renderer = Callable[[str], NDArray[np.float64]]


@cache
def drawn(renderer: str, text: str) -> NDArray[np.float64]:
    """Return the greys of a picture by one of the renderers."""
    return greys(RENDERERS[renderer](text, DOTS))


def without(text: str, layer: str) -> str:
    """Return a drawing from which a layer is taken."""
    root = etree.fromstring(text.encode())
    for group in root.xpath(f"//svg:g[@id='{layer}']", namespaces=NS):
        group.getparent().remove(group)
    return etree.tostring(root, encoding="unicode")


def ink(renderer: Renderer, text: str, layer: str) -> NDArray[np.float64]:
    """Return how much a layer changes of each tile of the picture, as sums of grey."""
    change = np.abs(renderer(text) - renderer(without(text, layer)))
    rows, columns = (-(-length // TILE) for length in change.shape)
    padded = np.zeros((rows * TILE, columns * TILE))
    padded[: change.shape[0], : change.shape[1]] = change
    return padded.reshape(rows, TILE, columns, TILE).sum(axis=(1, 3))


def apart(one: Renderer, other: Renderer, text: str, layer: str) -> float:
    """Return the share of a layer's ink that only one of two renderers shows; 1 if none does."""
    first, second = ink(one, text, layer), ink(other, text, layer)
    shown = float((first + second).sum())
    return float(np.abs(first - second).sum()) / shown if shown else 1.0


def filled(drawing: SheetDrawing) -> set[str]:
    """Return the layers that a sheet has something for: one without grain shows none."""
    return {layer for layer in LAYERS if layer != "grain" or drawing.grain}


def test_two_renderers_show_every_layer(text: str, drawing: SheetDrawing, qapp) -> None:
    """What each layer adds to the picture is as much, and at the same places, in both."""
    resvg, qt = (partial(drawn, name) for name in RENDERERS)
    found = {layer: apart(resvg, qt, text, layer) for layer in filled(drawing)}
    assert {layer: share for layer, share in found.items() if share > MOST_APART} == {}


@pytest.mark.parametrize("layer", LAYERS)
def test_a_layer_that_goes_missing_is_noticed(
    layer: str, text: str, drawing: SheetDrawing, qapp
) -> None:
    """Left out by either renderer, or by the drawing itself: that very check says so."""
    resvg, qt = (partial(drawn, name) for name in RENDERERS)
    if layer not in filled(drawing):
        assert not ink(resvg, text, layer).any()
        assert not ink(qt, text, layer).any()
        return

    def forgetful(renderer: Renderer) -> Renderer:
        return lambda shown: renderer(without(shown, layer))

    assert apart(forgetful(resvg), qt, text, layer) > MOST_APART
    assert apart(resvg, forgetful(qt), text, layer) > MOST_APART
    assert apart(resvg, qt, without(text, layer), layer) > MOST_APART


@pytest.mark.parametrize(("words", "most"), [(True, 0.05), (False, 0.02)])
def test_two_renderers_agree(text: str, words: bool, most: float, qapp) -> None:
    """Their pictures differ little on average, least without words: each sets letters its way."""
    shown = text if words else re.sub(r"<text .*?</text>", "", text)
    one, two = (drawn(name, shown) for name in RENDERERS)
    assert one.shape == two.shape
    assert np.abs(one - two).mean() < most * 255


def test_corners_are_dark_in_both(text: str, qapp) -> None:
    """Each renderer draws the corners of all parts at the same places, to two dots."""
    root = etree.fromstring(re.sub(r"<g id=\"tag-.*?</g>", "", text, flags=re.S).encode())
    bare = etree.tostring(root, encoding="unicode")
    one, two = (greys(draw(bare, 900)) for draw in RENDERERS.values())
    scale = 900 / float(root.get("viewBox").split()[2])
    plates = root.xpath("//svg:g[@id='parts']/svg:rect[@stroke-width]", namespaces=NS)
    solid = [plate for plate in plates if not plate.get("stroke-dasharray")]
    assert solid
    for x, y, length, width in map(_moved, solid):
        for spot in ((x, y), (x + length, y), (x, y + width), (x + length, y + width)):
            column, row = (int(scale * value) for value in spot)
            near = slice(row - 1, row + 3), slice(column - 1, column + 3)
            assert one[near].min() < 160, spot
            assert two[near].min() < 160, spot


def test_all_ids_differ_and_stay(matter: Matter) -> None:
    """In the drawing of a whole job too, and from one export to the next."""
    text = document(job_page(matter.drawings, matter.style, matter.job))
    ids = [e.get("id") for e in ElementTree.fromstring(text).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) > 20
    assert all(re.fullmatch(r"[A-Za-z_][A-Za-z0-9_.-]*", str(one)) for one in ids)
    again = matter_of(matter.job, matter.plan)
    assert document(job_page(again.drawings, again.style, again.job)) == text


def test_layers_have_their_names(text: str) -> None:
    """Each stands in the drawing as a group with that id."""
    root = ElementTree.fromstring(text)
    found = {group.get("id") for group in root.iter("{http://www.w3.org/2000/svg}g")}
    assert found >= set(LAYERS)


def test_title_and_description_come_first(text: str, matter: Matter) -> None:
    """A reader that speaks says the drawing's name and what its sizes are (SVG 1.1, 5.4)."""
    root = ElementTree.fromstring(text)
    assert [child.tag.rpartition("}")[2] for child in root[:2]] == ["title", "desc"]
    assert "sheet" in str(root[0].text)
    assert str(root[1].text).startswith("Kerf ")
    for plate in root.findall(".//svg:g[@id='parts']/svg:rect", NS):
        assert plate.findtext("svg:title", "", NS)


ISO_128 = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""Widths of lines in mm of ISO 128-2 (2020), from memory: each the root of two times the last."""


def test_line_widths_are_of_the_series(matter: Matter, drawing: SheetDrawing, text: str) -> None:
    """Fitted so that text has its size on paper, every line is of a width of ISO 128."""
    root = ElementTree.fromstring(text)
    sizes = [float(one.get("font-size", "0")) for one in root.iter(f"{{{NS['svg']}}}text")]
    on_paper = 3.9 / (drawing.rect.length / MM / TEXT_SHARE)
    widths = {float(w) for e in root.iter() if (w := e.get("stroke-width"))}
    assert sizes
    assert len(widths) >= 3
    for width in widths:
        assert min(abs(width * on_paper / one - 1) for one in ISO_128) < 0.02, width


def test_text_stays_text(text: str, drawing: SheetDrawing) -> None:
    """Numbers of all cuts are text, and no letter is drawn as an outline."""
    root = ElementTree.fromstring(text)
    words = [one.text for one in root.iter(f"{{{NS['svg']}}}text")]
    assert all(str(tag.number) in words for tag in drawing.tags)
    filled = [p for p in root.iter(f"{{{NS['svg']}}}path") if p.get("fill") not in {None, "none"}]
    assert filled == []


def test_black_and_white_has_only_greys(matter: Matter, drawing: SheetDrawing) -> None:
    """Every colour has equal red, green and blue; the coloured drawing has others."""

    def coloured(*, black: bool) -> set[str]:
        text = document(drawing_page(drawing, matter.style, matter.job, black=black))
        found = set(re.findall(r"#([0-9a-fA-F]{6})\b", text))
        assert "ffffff" in found
        return {one for one in found if len({one[:2], one[2:4], one[4:]}) > 1}

    assert coloured(black=True) == set()
    assert coloured(black=False)

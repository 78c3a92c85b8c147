"""The SVG read by two readers and drawn by two renderers that are not ours."""

import re
from collections.abc import Callable
from io import StringIO
from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements
from lxml import etree

from layout_app.paper.all_sheets import job_page
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.svg import document
from layout_app.paper.titled import TEXT_SHARE, drawing_page
from shared.drawing import SheetDrawing
from shared.lengths import MM
from tests.layout_app.paper import packs
from tests.layout_app.paper.drawn_by import Picture, by_qt, by_resvg

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
Draw = Callable[[str, int], Picture]
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


WINDOW, DOTS = 20.0, 1000
"""A window of so many mm is drawn so many dots long: 0.02 mm a dot."""


@pytest.mark.parametrize("draw", [by_resvg, by_qt], ids=["resvg", "Qt"])
def test_the_sheet_has_its_size_in_each_renderer(
    draw: Draw, text: str, drawing: SheetDrawing, qapp
) -> None:
    """Seen through a window at both ends, its outline lies where one unit is a mm, to 0.1 mm."""
    root = etree.fromstring(text.encode())
    (sheet,) = root.xpath("//svg:g[@id='sheet']/svg:rect", namespaces=NS)
    x, y, length, width = _moved(sheet)
    for group in root.xpath("/svg:svg/svg:g[not(@id='sheet' or @id='paper')]", namespaces=NS):
        root.remove(group)
    ends = []
    for across, down in ((x, y), (x + length, y + width)):
        left, top = across - WINDOW / 2, down - WINDOW / 2
        root.set("viewBox", f"{left} {top} {WINDOW} {WINDOW}")
        root.set("width", f"{WINDOW}mm")
        root.set("height", f"{WINDOW}mm")
        seen = draw(etree.tostring(root, encoding="unicode"), DOTS)
        ends.append((left + _middle(seen, DOTS // 2), top + _middle(seen.T, DOTS // 2)))
    (left, top), (right, bottom) = ends
    assert right - left == pytest.approx(drawing.rect.length / MM, abs=0.1)
    assert bottom - top == pytest.approx(drawing.rect.width / MM, abs=0.1)


def _middle(seen: Picture, half: int) -> float:
    """Return where the upright line lies that takes up half a window, in mm."""
    dark = np.flatnonzero((seen < 128).mean(axis=0) > 0.4)
    assert len(dark) < half
    return float(dark[0] + dark[-1] + 1) / 2 / DOTS * WINDOW


def test_corners_are_dark_in_both(text: str, qapp) -> None:
    """Each renderer draws the corners of all parts at the same places, to two dots."""
    root = etree.fromstring(re.sub(r"<g id=\"tag-.*?</g>", "", text, flags=re.S).encode())
    bare = etree.tostring(root, encoding="unicode")
    one, two = (draw(bare, 900) for draw in (by_resvg, by_qt))
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

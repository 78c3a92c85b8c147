"""Pages as SVG, at their true size: one user unit is one millimetre.

Presentation attributes only, and the pair by which vector editors know a layer. Words are moved
by hand to stand in the middle, because few readers know ``dominant-baseline``. Any reader takes
the names, words and shapes.
"""

import re
from collections.abc import Sequence
from functools import singledispatch
from xml.etree.ElementTree import Element, SubElement, indent, register_namespace, tostring

from layout_app.paper import ink
from layout_app.paper.millimetres import exact, rounded
from layout_app.paper.plain import clean, one_line

FONT = "Helvetica, Arial, sans-serif"

EDITORS = "http://www.inkscape.org/namespaces/inkscape"
"""The namespace of two attributes: that a group is a layer, and what it is called."""
LAYER = "data-layer"
"""The attribute with a layer's name in an element that is to stand in another document."""
register_namespace("inkscape", EDITORS)

_NOT_NAME = re.compile(r"[^A-Za-z0-9_.-]")


def xml_id(key: str) -> str:
    """Return an id made of a drawing key; other characters are spelled by their number."""
    return _NOT_NAME.sub(lambda found: f"_{ord(found[0]):x}_", key.replace(":", "-"))


def document(page: ink.Page) -> str:
    """Return a page as an SVG document at true size."""
    root = element(page)
    for group in root.iter("g"):
        if LAYER in group.attrib:
            group.set(f"{{{EDITORS}}}groupmode", "layer")
            group.set(f"{{{EDITORS}}}label", group.attrib.pop(LAYER))
    indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, encoding="unicode") + "\n"


def element(page: ink.Page) -> Element:
    """Return a page as an SVG element, to stand alone or in another document."""
    length, width = exact(page.length), exact(page.width)
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "version": "1.1",
            "width": f"{length}mm",
            "height": f"{width}mm",
            "viewBox": f"0 0 {length} {width}",
        },
    )
    _titled(root, page.title)
    if page.description:
        SubElement(root, "desc").text = clean(page.description)
    ground = SubElement(root, "g", {"id": "paper", LAYER: "Paper"})
    SubElement(ground, "rect", {"width": length, "height": width, "fill": "#ffffff", **_pen(None)})
    _fill(root, page.items)
    return root


def _fill(parent: Element, items: Sequence[ink.Item]) -> None:
    for item in items:
        _write(item, parent)


@singledispatch
def _write(item: object, parent: Element) -> None:
    """Put one item; each kind in its own way."""
    raise TypeError(f"no such item: {item!r}")


@_write.register
def _group(item: ink.Group, parent: Element) -> None:
    attributes = {"id": xml_id(item.name)} if item.name else {}
    if item.layer:
        attributes[LAYER] = clean(item.layer)
    moves = f"translate({exact(item.x)} {exact(item.y)})" if item.x or item.y else ""
    sizes = f"scale({exact(item.scale)})" if item.scale != 1.0 else ""
    transform = f"{moves} {sizes}".strip()
    element = SubElement(parent, "g", attributes | ({"transform": transform} if transform else {}))
    _titled(element, item.title)
    _fill(element, item.items)


@_write.register
def _plate(item: ink.Plate, parent: Element) -> None:
    place = {"x": item.x, "y": item.y, "width": item.length, "height": item.width}
    attributes = {"id": xml_id(item.name)} if item.name else {}
    attributes |= {name: exact(value) for name, value in place.items()}
    attributes |= {"fill": item.fill or "none", **_pen(item.pen)}
    if item.opacity < 1.0:
        attributes["fill-opacity"] = rounded(item.opacity)
    _titled(SubElement(parent, "rect", attributes), item.title)


@_write.register
def _strokes(item: ink.Strokes, parent: Element) -> None:
    if item.lines:
        SubElement(parent, "path", {"d": _path(item.lines), "fill": "none", **_pen(item.pen)})


@_write.register
def _patch(item: ink.Patch, parent: Element) -> None:
    if item.outlines:
        closed = "".join(f"{_path((outline,))}Z" for outline in item.outlines)
        SubElement(parent, "path", {"d": closed, "fill": item.fill})


@_write.register
def _disc(item: ink.Disc, parent: Element) -> None:
    place = {"cx": rounded(item.x), "cy": rounded(item.y), "r": rounded(item.radius)}
    SubElement(parent, "circle", {**place, "fill": item.fill or "none", **_pen(item.pen)})


@_write.register
def _words(item: ink.Words, parent: Element) -> None:
    if not item.text:
        return
    x, y, down = item.x, item.y, ink.CAP_MIDDLE * item.size
    place = {"x": rounded(x), "y": rounded(y + down)}
    if item.turned:
        place = {"x": "0", "y": rounded(down)}
        place["transform"] = f"translate({rounded(x)} {rounded(y)}) rotate(-90)"
    attributes = {
        **place,
        "font-size": rounded(item.size),
        "font-family": FONT,
        "fill": item.colour,
    }
    if item.bold:
        attributes["font-weight"] = "bold"
    if item.snug:  # wider fonts are squeezed into the room that was reckoned
        attributes |= {"textLength": rounded(item.length), "lengthAdjust": "spacingAndGlyphs"}
    if item.anchor is not ink.Anchor.START:
        attributes["text-anchor"] = item.anchor.value
    SubElement(parent, "text", attributes).text = one_line(item.text)


def _titled(element: Element, title: str) -> None:
    """Give an element a title, which readers show or speak."""
    if title:
        SubElement(element, "title").text = clean(title)


def _path(lines: Sequence[Sequence[ink.Spot]]) -> str:
    return "".join("M" + "L".join(f"{exact(x)} {exact(y)}" for x, y in line) for line in lines)


def _pen(pen: ink.Pen | None) -> dict[str, str]:
    if pen is None:
        return {"stroke": "none"}  # some readers give a line to what has none
    drawn = {"stroke": pen.colour, "stroke-width": rounded(pen.width)}
    if pen.dashes:
        drawn["stroke-dasharray"] = " ".join(rounded(dash) for dash in pen.dashes)
    if pen.opacity < 1.0:
        drawn["stroke-opacity"] = rounded(pen.opacity)
    return drawn

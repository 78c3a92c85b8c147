"""Building blocks of an SVG document: names, texts and shapes that any reader takes.

Presentation attributes only; text is shifted by hand to stand in the middle, because
few readers know ``dominant-baseline``.
"""

import re
from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement

from layout_app.paper.millimetres import mm, rounded
from shared.drawing import Fitted
from shared.drawing.records import Point
from shared.geometry import Rect

FONT = "Helvetica, Arial, sans-serif"
LETTER_WIDTH = 0.62
"""Width of a letter in text sizes; wider than most, since the reader's font is unknown."""
CAP_MIDDLE = 0.36
"""From the baseline up to the middle of capitals, in text sizes."""

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_NAME = re.compile(r"[^A-Za-z0-9_.-]")


def clean(text: str) -> str:
    """Return text without the characters XML 1.0 forbids (section 2.2)."""
    return _NOT_XML.sub("�", text)


def xml_id(key: str) -> str:
    """Return an id made of a drawing key; other characters are spelled by their number."""
    return _NOT_NAME.sub(lambda found: f"_{ord(found[0]):x}_", key.replace(":", "-"))


def width_of(text: str) -> float:
    """Return the width of text in text sizes, on the safe side."""
    return LETTER_WIDTH * len(text)


def shortened(text: str, room: float) -> str:
    """Return text that is at most that wide in text sizes; what is left out shows as dots."""
    letters = int(room / LETTER_WIDTH)
    return text if len(text) <= letters else text[: letters - 1] + "…"


def group(parent: Element, name: str, **attributes: str) -> Element:
    """Add a named group."""
    return SubElement(parent, "g", {"id": name, **_dashed(attributes)})


def titled(element: Element, title: str) -> Element:
    """Give an element a title, which readers show or speak."""
    SubElement(element, "title").text = clean(title)
    return element


def rectangle(parent: Element, rect: Rect, **attributes: str) -> Element:
    """Add a rectangle of ticks at true size."""
    place = {"x": mm(rect.x), "y": mm(rect.y), "width": mm(rect.length), "height": mm(rect.width)}
    return SubElement(parent, "rect", {**place, **_dashed(attributes)})


def strokes(parent: Element, lines: Sequence[Sequence[Point]], **attributes: str) -> None:
    """Add lines of ticks as one path; nothing when there are none."""
    parts = ["M" + "L".join(f"{mm(x)} {mm(y)}" for x, y in line) for line in lines]
    if parts:
        SubElement(parent, "path", {"d": "".join(parts), "fill": "none", **_dashed(attributes)})


def cross(rect: Rect) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Return the lines from corner to corner of a rectangle, in ticks."""
    falling = (rect.x, rect.y), (rect.right, rect.bottom)
    return falling, ((rect.x, rect.bottom), (rect.right, rect.y))


def words(parent: Element, text: str, x: float, y: float, size: float, **more: str) -> Element:
    """Add a line of text whose capitals have their middle at y; millimetres."""
    place = {"x": rounded(x), "y": rounded(y + CAP_MIDDLE * size), "font-size": rounded(size)}
    element = SubElement(parent, "text", {**place, "font-family": FONT, **_dashed(more)})
    element.text = clean(text)
    return element


def fitted_words(parent: Element, fitted: Fitted, leading: float, **more: str) -> None:
    """Add the lines of a label where it found room; the first line is bold."""
    block, size = fitted.block, fitted.size
    holder = parent
    x, y = block.x, block.y
    if fitted.turned:
        x, y = 0.0, 0.0
        turn = f"translate({rounded(block.x)} {rounded(block.y + block.width)}) rotate(-90)"
        holder = SubElement(parent, "g", {"transform": turn})
    for number, line in enumerate(fitted.lines):
        middle = y + (number + 0.5) * leading * size
        weight = {} if number else {"font-weight": "bold"}
        words(holder, line, x, middle, size, **weight, **more)


def _dashed(attributes: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in attributes.items()}

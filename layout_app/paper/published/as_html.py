"""A published plan as one page of HTML that holds all it needs: no script, no other file.

Both units are on it, the maker's first. Where a browser knows how, a switch shows one of them;
elsewhere they stand below each other.
"""

from collections.abc import Iterator, Sequence
from functools import singledispatch
from typing import TypeAlias
from xml.etree.ElementTree import Element, SubElement, tostring

from layout_app.paper import svg
from layout_app.paper.panels.saying import Bar, Line, RowWords, Sign
from layout_app.paper.plain import one_line
from layout_app.paper.published.as_markdown import (
    UNITS,
    cut_numbers,
    dangers_words,
    said_first,
    sign_words,
)
from layout_app.paper.published.blocks import (
    Block,
    Cuts,
    Document,
    Heading,
    Numbered,
    Paragraph,
    Picture,
    Points,
    Table,
)
from layout_app.paper.published.drawn import LONG
from layout_app.paper.published.style import STYLE
from shared.lengths import Unit

Child: TypeAlias = Element | str
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
"""Nothing is fetched from anywhere."""


def html_of(documents: Sequence[Document]) -> str:
    """Return a page of the same plan in several units, that which comes first on top."""
    first = documents[0]
    head = _element(
        "head",
        Element("meta", {"charset": "utf-8"}),
        Element("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}),
        Element("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        Element("meta", {"name": "color-scheme", "content": "light dark"}),
        _element("title", f"{first.title}, {first.identity}"),
        _style(),
    )
    header = _element("header", _element("h1", first.title), _element("p", said_first(first)))
    main = _element("main", _switch(documents), *map(_article, documents))
    page = _element("html", head, _element("body", header, main), lang="en")
    return f"<!DOCTYPE html>\n{tostring(page, encoding='unicode', method='html')}\n"


def _style() -> Element:
    style = Element("style")
    style.text = STYLE
    return style


def _element(tag: str, *children: Child, **attributes: str) -> Element:
    """Return an element with words and elements in it; ``class_`` stands for its class."""
    named = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
    made = Element(tag, named)
    for child in children:
        if isinstance(child, Element):
            made.append(child)
            continue
        words = one_line(child)
        if len(made):
            made[-1].tail = f"{made[-1].tail or ''}{words}"
        else:
            made.text = f"{made.text or ''}{words}"
    return made


def _switch(documents: Sequence[Document]) -> Element:
    """Return buttons of which one is down: the unit that is shown."""
    made = _element("fieldset", _element("legend", "All sizes in"))
    for place, document in enumerate(documents):
        label = SubElement(made, "label")
        name = {"type": "radio", "name": "unit", "id": f"show-{document.unit}"}
        button = SubElement(label, "input", name | ({} if place else {"checked": "checked"}))
        button.tail = f" {UNITS[Unit(document.unit)]}"
    return made


def _article(document: Document) -> Element:
    unit = document.unit
    made = _element(
        "article",
        _element("h2", f"In {UNITS[Unit(unit)]}"),
        id=unit,
        aria_label=f"The plan in {UNITS[Unit(unit)]}",
    )
    made.extend(_parts(document.opening))
    made.append(_contents(document))
    chapters = iter(range(len(document.chapters)))
    for block, part in zip(document.chapters, _parts(document.chapters), strict=True):
        if isinstance(block, Heading) and block.chapter:
            part.set("id", _anchor(unit, next(chapters)))
        made.append(part)
    return made


def _parts(blocks: Sequence[Block]) -> Iterator[Element]:
    for block in blocks:
        part = _written(block)
        part.tail = "\n"
        yield part


def _contents(document: Document) -> Element:
    names = [one.text for one in document.chapters if isinstance(one, Heading) and one.chapter]
    points = (
        _element("li", _element("a", name, href=f"#{_anchor(document.unit, place)}"))
        for place, name in enumerate(names)
    )
    return _element("nav", _element("ul", *points), aria_label="Chapters")


def _anchor(unit: str, place: int) -> str:
    return f"{unit}-{place + 1}"


@singledispatch
def _written(block: object) -> Element:
    """Write one block; each kind in its own way."""
    raise TypeError(f"no such block: {block!r}")


@_written.register
def _heading(block: Heading) -> Element:
    return _element("h3" if block.chapter else "h4", block.text)


@_written.register
def _paragraph(block: Paragraph) -> Element:
    return _element("p", block.text, **({"class_": "notice"} if block.bold else {}))


@_written.register
def _points(block: Points) -> Element:
    return _element("ul", *(_element("li", line) for line in block.lines))


@_written.register
def _numbered(block: Numbered) -> Element:
    items = (_element("li", _strong(first), _behind(rest)) for first, rest in block.lines)
    return _element("ol", *items)


def _strong(words: str) -> Element:
    return _element("strong", words)


def _behind(words: str) -> Element:
    """Return words that go on behind others on the line."""
    made = _element("span", words)
    if made.text:
        made.text = f" {made.text}"
    return made


@_written.register
def _table(block: Table) -> Element:
    heads = (_element("th", heading, scope="col") for heading in block.headings)
    rows = (
        _element(
            "tr",
            *(
                _element("td", cell, data_heading=heading)
                for heading, cell in zip(block.headings, row, strict=True)
            ),
        )
        for row in block.rows
    )
    return _element(
        "table",
        _element("caption", block.name),
        _element("thead", _element("tr", *heads)),
        _element("tbody", *rows),
    )


@_written.register
def _picture(block: Picture) -> Element:
    drawn = svg.element(block.page)
    for one in drawn.iter():
        one.attrib.pop("id", None)  # one drawing stands on the page in both units
        one.attrib.pop(svg.LAYER, None)
        one.text = one.text and one_line(one.text)
    for size in ("width", "height"):
        drawn.attrib.pop(size)
    if block.page.length < LONG:
        drawn.set("class", "small")
    drawn.set("role", "img")
    drawn.set("aria-label", one_line(block.words))
    figure = _element("figure", drawn)
    if block.whole:
        link = _element("a", "This sheet at true size", href=block.whole)
        figure.append(_element("figcaption", link, ", in the folder of this page."))
    return figure


@_written.register
def _cuts(block: Cuts) -> Element:
    said = block.words
    made = _element("section", _element("h4", said.name), class_="panel")
    made.append(_element("p", f"{said.head}."))
    made.extend(map(_bar, said.bars))
    if said.common:
        made.append(_element("ul", *map(_line, said.common)))
    for row in said.rows:
        made.extend(map(_bar, row.bars))
        made.append(_row(row))
    return made


def _bar(bar: Bar) -> Element:
    return _element("div", _strong(bar.text), _behind(bar.more), class_="bar")


def _row(row: RowWords) -> Element:
    """Write a row of equal cuts: its title, a box to tick for each, and what is said of them."""
    cuts = f"Cut{'s' if len(row.passes) > 1 else ''} {cut_numbers(row)}: {row.title}"
    made = _element("div", class_="row")
    if len(row.passes) == 1:
        made.append(_element("p", _box(cuts)))
    else:
        boxes = (_element("li", _box(f"{one.number}: {one.makes}")) for one in row.passes)
        made.extend((_element("p", cuts), _element("ul", *boxes, class_="passes")))
    lines = [*map(_line, row.lines)]
    if letters := dangers_words(row):
        lines.append(_element("li", letters, class_="danger"))
    made.append(_element("ul", *lines))
    return made


def _box(words: str) -> Element:
    """Return a box to tick, and words behind it that tick it too."""
    return _element("label", Element("input", {"type": "checkbox"}), _behind(words))


def _line(line: Line) -> Element:
    said = f"{sign_words(line)}{line.text}"
    if line.sign is Sign.DANGER:
        return _element("li", said, class_="danger")
    return _element("li", _strong(said) if line.bold else said)

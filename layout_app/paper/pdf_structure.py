"""The structure of a PDF: which words belong together, and which only frame a page.

A tagged PDF (ISO 32000-1, 14.7 and 14.8): chapters and panels are sections, lines are paragraphs or
headings, in the order in which they are read. Lines and hatching, and the head of every page but
the first, are artifacts: a voice that reads leaves them out. What a drawing shows is said by
the words in it and beside it.

Qt writes no structure. It paints words with a pen whose width letters do not use; here that
width says the how many-th words of their page they are, by which they are found in what Qt wrote.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    StreamObject,
    TextStringObject,
)

from layout_app.paper import ink
from layout_app.paper.pack.book import LARGE, TITLE
from layout_app.paper.plain import one_line

NUMBERED: Final = 10_000
"""Width of the pen of the first words of a page: wider than any line, and Qt takes up to 32,767."""
FRAME: Final = "head"
"""Name of the group with what stands at the head of a page."""
_MARKS: Final = re.compile(rb"^(?:([123]\d{4}) w .*|BT|ET)$", re.MULTILINE)


@dataclass(slots=True)
class Element:
    """A part of the structure: its kind, its title, what it holds, on which page it has words."""

    kind: str
    title: str = ""
    below: list["Element"] = field(default_factory=list)
    page: int = 0
    numbers: list[int] = field(default_factory=list)


@dataclass(slots=True)
class Reading:
    """What is read: the whole document, and in which element the words of each page are.

    Words that only frame a page are in none.
    """

    document: Element = field(default_factory=lambda: Element("Document"))
    pages: list[list[Element | None]] = field(default_factory=list)


def reading_of(pages: Sequence[ink.Page], panel: str) -> Reading:
    """Return what is read of pages; groups whose name begins with ``panel`` are sections."""
    reading = Reading()
    section = reading.document
    for place, page in enumerate(pages):
        reading.pages.append([])
        if not place or page.chapter != section.title:
            section = Element("Sect", page.chapter)
            reading.document.below.append(section)
        _read(page.items, place, section, reading.pages[-1], panel)
    return reading


def _read(
    items: Sequence[ink.Item],
    page: int,
    section: Element,
    found: list[Element | None],
    panel: str,
) -> None:
    """Take the words of some items into a section; those on one line are one paragraph."""
    line, down = None, 0.0
    for item in items:
        if isinstance(item, ink.Group):
            line = None
            if item.name == FRAME and page:
                found += [None for _ in _words(item.items)]
                continue
            inner = section
            if item.name.startswith(panel):
                inner = Element("Sect", item.name.removeprefix(panel))
                section.below.append(inner)
            _read(item.items, page, inner, found, panel)
        elif isinstance(item, ink.Words):
            kind = _kind(item)
            if line is None or line.kind != kind or abs(item.y - down) > 0.1 * item.size:
                line, down = Element(kind, page=page), item.y
                section.below.append(line)
            found.append(line)


def _words(items: Sequence[ink.Item]) -> Iterator[ink.Words]:
    for item in items:
        if isinstance(item, ink.Group):
            yield from _words(item.items)
        elif isinstance(item, ink.Words):
            yield item


def _kind(words: ink.Words) -> str:
    if words.bold and words.size >= TITLE:
        return "H1"
    return "H2" if words.bold and words.size >= LARGE else "P"


def add_structure(document: PdfWriter, reading: Reading) -> None:
    """Mark the words in the content of all pages, and add the tree of what they belong to."""
    root = _added(document, _dictionary(Type=NameObject("/StructTreeRoot")))
    made: dict[int, IndirectObject] = {}
    parents = ArrayObject()
    for place, page in enumerate(document.pages):
        content = page["/Contents"].get_object()
        assert isinstance(content, StreamObject)
        data, found = _marked(content.get_data(), reading.pages[place])
        content.set_data(data)
        page[NameObject("/StructParents")] = NumberObject(place)
        refs = ArrayObject()
        for number, element in enumerate(found):
            element.numbers.append(number)
            if id(element) not in made:
                made[id(element)] = _added(document, DictionaryObject())
            refs.append(made[id(element)])
        parents.extend((NumberObject(place), _added(document, refs)))
    pages = [page.indirect_reference for page in document.pages]
    top = _put(document, reading.document, root, pages, made)
    tree = root.get_object()
    assert isinstance(tree, DictionaryObject)
    tree[NameObject("/K")] = top or ArrayObject()
    tree[NameObject("/ParentTree")] = _added(document, _dictionary(Nums=parents))
    catalogue = document.root_object
    catalogue[NameObject("/StructTreeRoot")] = root
    catalogue[NameObject("/MarkInfo")] = _dictionary(Marked=BooleanObject(True))


def _marked(data: bytes, words: Sequence[Element | None]) -> tuple[bytes, list[Element]]:
    """Mark each text of a page by its number on it, all else as an artifact."""
    out, found, at = [b"/Artifact BMC\n"], list[Element](), 0
    element: Element | None = None
    for mark in _MARKS.finditer(data):
        if mark[1]:
            element = words[int(mark[1]) - NUMBERED]
        elif element is not None and mark[0] == b"BT":
            out += (data[at : mark.start()], b"EMC\n/%b " % element.kind.encode())
            out.append(b"<</MCID %d>> BDC\n" % len(found))
            found.append(element)
            at = mark.start()
        elif element is not None:
            out += (data[at : mark.end()], b"\nEMC\n/Artifact BMC")
            at = mark.end()
    out += (data[at:], b"\nEMC\n")
    return b"".join(out), found


def _put(
    document: PdfWriter,
    element: Element,
    above: IndirectObject,
    pages: Sequence[IndirectObject | None],
    made: dict[int, IndirectObject],
) -> IndirectObject | None:
    """Add an element with all below it; nothing of one that holds no words."""
    own = made.get(id(element)) or _added(document, DictionaryObject())
    put = (_put(document, one, own, pages, made) for one in element.below)
    holds = ArrayObject([NumberObject(one) for one in element.numbers])
    holds.extend(one for one in put if one is not None)
    if not holds:
        return None
    said = own.get_object()
    assert isinstance(said, DictionaryObject)
    said.update(_dictionary(Type=NameObject("/StructElem"), S=NameObject(f"/{element.kind}")))
    said.update(_dictionary(P=above, K=holds))
    if element.title:
        said[NameObject("/T")] = TextStringObject(one_line(element.title))
    if element.numbers and (page := pages[element.page]) is not None:
        said[NameObject("/Pg")] = page
    return own


def _dictionary(**said: PdfObject) -> DictionaryObject:
    return DictionaryObject({NameObject(f"/{name}"): value for name, value in said.items()})


def _added(document: PdfWriter, value: PdfObject) -> IndirectObject:
    return document._add_object(value)  # pypdf has no other door for objects of one's own

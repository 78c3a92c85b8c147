"""The structure of a PDF: which words belong together, and which only frame a page.

A tagged PDF (ISO 32000-1, 14.7 and 14.8): chapters and panels are sections, lines are paragraphs or
headings, in the order in which they are read. Lines and hatching, and the head of every page but
the first, are artifacts: a voice that reads leaves them out. What a drawing shows is said by
the words in it and beside it.

Qt writes no structure. It paints words with a pen whose width letters do not use; here that
width says the how many-th words of their page they are, by which they are found in what Qt wrote.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import IO, Any, Final
from zlib import compress

from pypdf import PageObject, PdfWriter
from pypdf.generic import (
    BooleanObject,
    DecodedStreamObject,
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
QUICK: Final = 4
"""How hard content is pressed: at the usual 6 it is a fifteenth smaller and takes twice as long."""
SAME_LINE: Final = 0.5
"""Words so many text sizes higher or lower are of one line."""
PANEL: Final = "panel-"
"""How the names of groups with panels begin; piece and number of the first cut follow."""
FRAME: Final = "head"
"""Name of the group with what stands at the head of a page."""
_MARKS: Final = re.compile(rb"\n(?:([123]\d{4}) w |(BT)(?=\n)|(ET)(?=\n))")


@dataclass(slots=True)
class Element:
    """A part of the structure.

    Attributes
    ----------
    kind, title
        What it is, and how it is called.
    below
        What it holds.
    page, numbers
        On which page it has words itself, and by which marks.
    at
        Its number in the file.
    """

    kind: str
    title: str = ""
    below: list["Element"] = field(default_factory=list)
    page: int = 0
    numbers: list[int] = field(default_factory=list)
    at: int = 0

    @property
    def has_words(self) -> bool:
        """Whether there is anything to read in it."""
        return bool(self.numbers) or any(one.has_words for one in self.below)


@dataclass(slots=True)
class Reading:
    """What is read: the whole document, and in which element the words of each page are.

    Words that only frame a page are in none.
    """

    document: Element = field(default_factory=lambda: Element("Document"))
    pages: list[list[Element | None]] = field(default_factory=list)


def panel_title(name: str) -> str:
    """Return what the panel in a group of that name is called: ``Piece 1b, cut 7``."""
    piece, _, number = name.removeprefix(PANEL).rpartition("-")
    return f"{'Sheet' if piece.isdigit() else 'Piece'} {piece}, cut {number}"


def reading_of(pages: Sequence[ink.Page]) -> Reading:
    """Return what is read of pages: each chapter a section, each panel a section in it."""
    reading = Reading()
    section = reading.document
    for place, page in enumerate(pages):
        reading.pages.append([])
        if not place or page.chapter != section.title:
            section = Element("Sect", page.chapter)
            reading.document.below.append(section)
        _read(page.items, place, section, reading.pages[-1])
    return reading


def _read(
    items: Sequence[ink.Item],
    page: int,
    section: Element,
    found: list[Element | None],
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
            if item.name.startswith(PANEL):
                inner = _panel_in(section, panel_title(item.name))
            _read(item.items, page, inner, found)
        elif isinstance(item, ink.Words):
            kind = _kind(item)
            if line is None or line.kind != kind or abs(item.y - down) > SAME_LINE * item.size:
                line, down = Element(kind, page=page), item.y
                section.below.append(line)
            found.append(line)


def _panel_in(section: Element, title: str) -> Element:
    """Return the section of a panel: a new one, or that which goes on in another column."""
    last = section.below[-1] if section.below else None
    if last is None or last.title != title:
        last = Element("Sect", title)
        section.below.append(last)
    return last


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
    found = [
        _mark(document, page, place, reading.pages[place])
        for place, page in enumerate(document.pages)
    ]
    root = _Spelled()
    at = _added(document, root)
    pages = [_number(page.indirect_reference) for page in document.pages]
    top = _spell(document, reading.document, at, pages)
    lists = (_added(document, _Spelled(_array(one.at for one in mine))) for mine in found)
    leads = b" ".join(b"%d %d 0 R" % pair for pair in enumerate(lists))
    parents = _added(document, _Spelled(b"<< /Nums [ %b ] >>" % leads))
    holds = _array([top] if top else [])
    root.text = b"<< /Type /StructTreeRoot /K %b /ParentTree %d 0 R >>" % (holds, parents)
    catalogue = document.root_object
    catalogue[NameObject("/StructTreeRoot")] = IndirectObject(at, 0, document)
    marked = {NameObject("/Marked"): BooleanObject(True)}
    catalogue[NameObject("/MarkInfo")] = DictionaryObject(marked)


def _mark(
    document: PdfWriter, page: PageObject, place: int, words: Sequence[Element | None]
) -> list[Element]:
    """Mark the words of a page; return the element of each mark."""
    before = page["/Contents"].get_object()
    assert isinstance(before, StreamObject)
    data, found = _marked(before.get_data(), words)
    before.set_data(b"")  # it stays in the file
    after = DecodedStreamObject()
    after.set_data(compress(data, QUICK))
    after[NameObject("/Filter")] = NameObject("/FlateDecode")
    page[NameObject("/Contents")] = IndirectObject(_added(document, after), 0, document)
    page[NameObject("/StructParents")] = NumberObject(place)
    for number, element in enumerate(found):
        element.numbers.append(number)
    return found


def _marked(data: bytes, words: Sequence[Element | None]) -> tuple[bytes, list[Element]]:
    """Mark each text of a page by its number on it, all else as an artifact."""
    out, found, at = [b"/Artifact BMC\n"], list[Element](), 0
    element: Element | None = None
    for mark in _MARKS.finditer(data):
        if mark[1]:
            element = words[int(mark[1]) - NUMBERED]
        elif element is not None and mark[2]:
            out += (data[at : mark.start()], b"\nEMC\n/%b " % element.kind.encode())
            out.append(b"<</MCID %d>> BDC" % len(found))
            found.append(element)
            at = mark.start()
        elif element is not None:
            out += (data[at : mark.end()], b"\nEMC\n/Artifact BMC")
            at = mark.end()
    out += (data[at:], b"\nEMC\n")
    return b"".join(out), found


def _spell(document: PdfWriter, element: Element, above: int, pages: Sequence[int]) -> int:
    """Add an element with all below it; return its number in the file, 0 if it holds no words."""
    if not element.has_words:
        return 0
    own = _Spelled()
    element.at = _added(document, own)
    below = (_spell(document, one, element.at, pages) for one in element.below)
    holds = [b"%d" % number for number in element.numbers]
    holds += [b"%d 0 R" % one for one in below if one]
    page = b" /Pg %d 0 R" % pages[element.page] if element.numbers else b""
    title = b""
    if element.title:
        out = BytesIO()
        TextStringObject(one_line(element.title)).write_to_stream(out)
        title = b" /T " + out.getvalue()
    said = (element.kind.encode(), above, page, title, b" ".join(holds))
    own.text = b"<< /S /%b /P %d 0 R%b%b /K [ %b ] >>" % said
    return element.at


class _Spelled(PdfObject):
    """An object as it stands in the file: thousands of them are spelled out in no time."""

    def __init__(self, text: bytes = b"") -> None:
        self.text = text

    def write_to_stream(self, stream: IO[Any], encryption_key: object = None) -> None:
        """Write it."""
        del encryption_key
        stream.write(self.text)


def _array(numbers: Iterable[int]) -> bytes:
    return b"[ %b ]" % b" ".join(b"%d 0 R" % one for one in numbers)


def _added(document: PdfWriter, value: PdfObject) -> int:
    """Add an object and return its number; pypdf has no other door for objects of one's own."""
    return _number(document._add_object(value))


def _number(reference: IndirectObject | None) -> int:
    assert reference is not None
    return reference.idnum

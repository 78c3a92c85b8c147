"""A published plan on one page of HTML: whole, alone, well-formed, and read back by two readers."""

import re
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from lxml import html

from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.plain import one_line
from layout_app.paper.publish import publish_files
from shared.drawing import draw_loose
from shared.layout import LayoutSheet
from shared.lengths import INCH, Unit
from shared.plan import Placement
from tests.layout_app.paper.matters import hostile_matter
from tests.layout_app.small_job import planned, small_job

VOID = {"meta", "input"}
"""Elements without an end that are on the page (HTML living standard, 13.1.2)."""


@pytest.fixture(scope="module")
def matter() -> Matter:
    """A plan with hostile names, its job in millimetres."""
    return hostile_matter(Unit.MM)


@pytest.fixture(scope="module")
def text(matter: Matter) -> str:
    """The page."""
    return publish_files(matter)["plan.html"].decode()


@pytest.fixture(scope="module")
def page(text: str) -> html.HtmlElement:
    """The page as lxml reads it."""
    return html.document_fromstring(text)


class Nesting(HTMLParser):
    """Goes through a page and notes what does not end where it has to."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Open an element; no attribute may stand twice in it."""
        if len({name for name, _ in attrs}) < len(attrs):
            self.wrong.append(tag)
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Close the last one that is open."""
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


def test_every_element_ends_where_it_has_to(text: str) -> None:
    """Read by the parser of the standard library; the document says that it is HTML."""
    assert text.startswith("<!DOCTYPE html>\n")
    reader = Nesting()
    reader.feed(text)
    reader.close()
    assert not reader.wrong
    assert not reader.open


def test_it_needs_nothing_from_elsewhere(page: html.HtmlElement, text: str) -> None:
    """No script, no address, and a policy that forbids to fetch; links go to files beside it."""
    assert not page.xpath("//script | //link | //img | //iframe | //object | //*[@src]")
    assert not [one for one in page.iter() for name in one.attrib if name.startswith("on")]
    assert "url(" not in text
    assert "@import" not in text
    (policy,) = page.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    assert policy.startswith("default-src 'none'")
    links = page.xpath("//a/@href")
    assert [one for one in links if one.startswith("#")]
    assert all(re.fullmatch(r"#(in|mm)-\d+|sheet-\d-(in|mm)-true-size\.svg", one) for one in links)
    ids = page.xpath("//@id")
    assert len(set(ids)) == len(ids)
    assert {one[1:] for one in links if one.startswith("#")} <= set(ids)


def test_language_title_and_headings_in_order(page: html.HtmlElement, matter: Matter) -> None:
    """One title, no level left out below it (WCAG 2.2, technique H42); the maker's unit first."""
    assert page.get("lang") == "en"
    assert one_line(matter.job.name) in page.findtext("head/title")
    levels = [int(one.tag[1]) for one in page.xpath("//h1 | //h2 | //h3 | //h4")]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert max(b - a for a, b in pairwise(levels)) == 1
    assert [one.text for one in page.iter("h2")] == ["In millimetres", "In inches"]
    assert page.xpath("//input[@checked]/@id") == ["show-mm"]
    assert one_line(matter.identity) in page.findtext("head/title")


def test_drawings_and_tables_have_names(page: html.HtmlElement, matter: Matter) -> None:
    """Each drawing is an image with words; each table has a caption and a heading a column."""
    drawings = page.xpath("//*[local-name()='svg']")
    terms = [name for name in publish_files(matter) if name.startswith("reading-")]
    assert len(drawings) == 2 * (1 + len(matter.drawings)) + len(terms)
    assert all(one.get("role") == "img" and one.get("aria-label") for one in drawings)
    for table in page.iter("table"):
        assert table.findtext("caption")
        heads = [one.text for one in table.iter("th")]
        for row in table.iterfind("tbody/tr"):
            assert [cell.get("data-heading") for cell in row] == heads


def test_hostile_names_are_words(page: html.HtmlElement, matter: Matter) -> None:
    """Every part stands in both lists under its own name, and no name made an element."""
    names = [one_line(part.name) for part in matter.job.parts]
    assert "<script>alert('x')</script> & \"side\" 'B'" in names
    for table in page.xpath("//table[caption='Cut list']"):
        assert [row[0].text for row in table.iterfind("tbody/tr")] == names


def test_each_cut_has_a_box_in_both_units(page: html.HtmlElement, matter: Matter) -> None:
    """Counted against the plan: a box for every cut, beside its number."""
    numbers = [str(cut.number) for cut in matter.plan.cuts]
    for article in page.iter("article"):
        labels = article.xpath(".//label[input/@type='checkbox']/span/text()")
        found = [re.match(r" (?:Cut )?(\d+): ", label) for label in labels]
        assert sorted(one[1] for one in found if one) == sorted(numbers)


def test_a_plan_that_is_not_whole_says_so_at_once() -> None:
    """The banner stands before all else in both units, and why the sheet cannot be cut."""
    job = small_job()
    lying = Placement(part="side", copy=1, sheet="9", x=0, y=0, length=40 * INCH, width=12 * INCH)
    loose = draw_loose(
        job, LayoutSheet(id="9", stock="full", placements=(lying,)), problem="No way."
    )
    matter = matter_of(job, planned(job), loose=(loose,), waiting=("1 × Shelf: a sheet.",))
    page = html.document_fromstring(publish_files(matter)["plan.html"].decode())
    for article in page.iter("article"):
        assert article[1].text == matter.banner
        assert "This sheet cannot be cut: No way." in article.text_content()
        assert "1 × Shelf: a sheet." in article.text_content()

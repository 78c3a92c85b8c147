"""Pages are filled: tables go on over pages in good order, no page is left half empty."""

from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.tables import TOGETHER, TableColumn
from layout_app.paper.pack.whole import pack_pages
from shared.lengths import LengthStyle, Unit
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import in_whole_usual_shop, load
from tests.soak.pages import filled, thin
from tests.soak.reading import LISTS

COLUMNS = (TableColumn(heading="Name", share=1), TableColumn(heading="Note", share=1))


def table_pages(before: int, count: int) -> list[list[str]]:
    """Return the rows on each page of a table that begins so many paragraphs down."""
    book = Book(Paper.A4, "Rows")
    book.turn("Lists")
    for _ in range(before):
        book.paragraph("something else")
    rows = [(f"row {number}", "with a note") for number in range(count)]
    book.headed_table("Table", COLUMNS, rows)
    found = ([w.text for w, _ in ink.words_on(page.items)] for page in book.pages())
    return [[text for text in page if text.startswith("row ")] for page in found]


@pytest.mark.parametrize("before", range(0, 45, 4))
@pytest.mark.parametrize("count", [1, 4, 7, 30, 90])
def test_a_table_is_never_broken_near_its_ends(before: int, count: int) -> None:
    """A few rows stand together on either page, a short table on one; none is lost or doubled."""
    pages = [page for page in table_pages(before, count) if page]
    assert [row for page in pages for row in page] == [f"row {n}" for n in range(count)]
    assert all(len(page) >= min(count, TOGETHER) for page in pages)
    assert len(pages) == 1 or count >= 2 * TOGETHER


@pytest.mark.parametrize("name", ["shop03", "shop15"])
def test_no_page_is_half_empty_but_the_last_of_a_chapter(name: str) -> None:
    """Of 27 and 48 parts; how many pages well-ordered plans take the long trial counts."""
    job = in_whole_usual_shop(load(LISTS / f"{name}.json")[0]).job
    job = replace(job, style=LengthStyle(unit=Unit.MM, decimals=1))
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    pages = [filled(page) for page in pack_pages(matter_of(job, plan))]
    assert len(pages) > 10
    assert not thin(pages), pages

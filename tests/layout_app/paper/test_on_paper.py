"""What goes on paper of a project with a sheet that cannot be cut."""

import re
from collections.abc import Callable
from csv import DictReader
from dataclasses import replace
from io import StringIO

import pytest

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.paper.front_words import figures, not_planned
from layout_app.paper.ink import words_on
from layout_app.paper.matter import Matter
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.lists import put_shopping
from layout_app.paper.publish import publish_files
from layout_app.paper.tables import shopping_csv
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job


def _cover(matter: Matter) -> str:
    return " ".join(figures(matter))


def _lists(matter: Matter) -> str:
    book = Book(Paper.A4, "Trial")
    book.turn("Lists")
    put_shopping(book, matter)
    return " ".join(words.text for page in book.pages() for words, _ in words_on(page.items))


def _published(matter: Matter) -> str:
    return publish_files(matter)["plan-in.md"].decode()


@pytest.fixture(scope="module")
def matter() -> Matter:
    """Two sheets of sides; on the second one lies on another."""
    made = Document(Project(job=replace(small_job(), parts=(part("s", "Side", (40, 12), 12),))))
    adopt(made, planned(made.job))
    project = made.project
    first, second = project.layout.sheets
    ahead, *others = second.placements
    slipped = replace(others[0], x=ahead.x, y=ahead.y)
    laid = replace(second, placements=(ahead, slipped, *others[1:]), tree=None, yours=True)
    return matter_of_sawn(
        saw(replace(project, layout=replace(project.layout, sheets=(first, laid))))
    )


def test_parts_on_a_sheet_that_cannot_be_cut_are_not_said_to_wait(matter: Matter) -> None:
    """They lie on a sheet, and the list of parts says on which; the banner names the sheet."""
    assert matter.unplaced == ()
    assert matter.banner == "NOT A WHOLE PLAN: sheet 2 cannot be cut as drawn."


def test_the_cover_tells_what_some_sheets_take_at_least(matter: Matter) -> None:
    """The price is that of both boards, 2 × 52.00; nothing is said as if sheet 2 took nothing."""
    cover = _cover(matter)
    assert cover.startswith("2 sheets, sheet 2 can't be cut yet. ")
    assert re.findall(r"\w+ \w+ \d+ min", cover) == ["At least 11 min"]
    assert re.findall(r"\d+\.\d\d", cover) == ["104.00"]


def test_a_sheet_without_cuts_is_bought_all_the_same(matter: Matter) -> None:
    """Both sheets are to be had at 52.00 each; the one that is not planned yet is named."""
    (line,) = matter.bought.sheets
    assert (line.buy, line.price, line.unplanned) == (2, 2 * 5200, ("2",))
    *_, row = DictReader(StringIO(shopping_csv(matter)))
    assert (row["Buy"], row["Price"]) == ("2", "104.00")
    assert row["Note"] == "sheet 2 not planned yet"


@pytest.mark.parametrize("said", [_cover, _lists, _published])
def test_paper_says_which_sheet_is_not_planned_yet(
    matter: Matter, said: Callable[[Matter], str]
) -> None:
    """Cover, lists and published plan name it, count its boards, and give one price."""
    text = said(matter)
    assert "Not planned yet: sheet 2, without cuts." in text
    assert "Counted with what is taken and bought all the same: sheet 2." in text
    assert "104.00" in text


def test_a_piece_that_lies_there_is_not_bought_again(matter: Matter) -> None:
    """A piece of an earlier sheet that cannot be cut as it lies is named, and costs nothing."""
    (row,) = matter.job.stock
    piece = replace(row, id="rest", piece="9a", at_hand=1)
    drawn = tuple(
        replace(one, sheet="9a", stock="rest") if one.problem else one for one in matter.drawings
    )
    job = replace(matter.job, stock=(row, piece))
    found = replace(matter, job=job, drawings=drawn)
    assert [line.stock.id for line in found.bought.sheets] == ["full"]
    assert found.bought.price == 5200
    assert list(not_planned(found)) == ["Not planned yet: sheet 9a, without cuts."]

"""Packs of plans that are not whole: each page says what is lacking, nothing leaves its box."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from layout_app.model.words.wording import unplaced_sentences
from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.wish import ExportWish
from shared.drawing import draw_loose
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.plan import Placement
from shared.shop import Shop
from shared.stock import Stock
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper.test_room import CAP_HEIGHT, LEGIBLE, check, sized
from tests.layout_app.small_job import begun_document

LONG = "Apron of the long table by the window " * 8
NO_BREAK = "W" * 300
SIDE = Part(id="side", name="Side", copies=3, length=700 * MM, width=300 * MM, material="ply")
BOARD = Stock(id="b", name="", material="ply", length=2440 * MM, width=1220 * MM, thickness=18 * MM)


def job_of(*parts: Part, board: Stock = BOARD, name: str = "Case") -> Job:
    """Return a job in millimetres."""
    style = LengthStyle(unit=Unit.MM)
    return Job(name=name, parts=parts, stock=(board,), shop=Shop(kerf=3 * MM), style=style)


def planned(job: Job) -> Matter:
    """Return its first plan, with what lies nowhere."""
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(job, plan, waiting=tuple(unplaced_sentences(plan)))


def not_placed() -> Matter:
    """One part is longer than the board."""
    return planned(job_of(SIDE, replace(SIDE, id="long", name=LONG, length=3000 * MM)))


def nothing_placed() -> Matter:
    """All parts are."""
    return planned(job_of(replace(SIDE, name=NO_BREAK, length=3000 * MM)))


def uncuttable() -> Matter:
    """A second sheet has two parts on each other, with long names and a long reason."""
    other = replace(SIDE, id="other", name=LONG)
    whole = planned(job_of(SIDE))
    job = replace(whole.job, parts=(SIDE, other))
    lying = {"sheet": "2", "length": SIDE.length, "width": SIDE.width}
    sheet = LayoutSheet(
        id="2",
        stock="b",
        placements=(
            Placement(part="other", copy=1, x=0, y=0, **lying),
            Placement(part="other", copy=2, x=200 * MM, y=100 * MM, **lying),
        ),
    )
    drawn = draw_loose(job, sheet, frozenset({("other", 1), ("other", 2)}), f"{LONG} in the way.")
    return matter_of(job, whole.plan, loose=(drawn,), waiting=("Other 3 lies nowhere.",))


def half_done() -> Matter:
    """A sheet is begun."""
    return matter_of_sawn(begun_document().sawn)


def long_names() -> Matter:
    """Job, parts, board and notes have names of some 300 letters, with and without words."""
    board = replace(BOARD, name=LONG)
    parts = [
        replace(SIDE, id=f"p{place}", name=name, note=name, width=(90 + 40 * place) * MM)
        for place, name in enumerate((LONG, NO_BREAK, LONG[::-1], "a" * 299))
    ]
    return planned(job_of(*parts, board=board, name=LONG))


def ten_metres() -> Matter:
    """A sheet is 10 m long, its parts are small; so are their names on any page."""
    board = replace(BOARD, length=10_000 * MM)
    small = [
        replace(SIDE, id=f"s{n}", name=f"Slat {n}", length=(500 + n) * MM, width=(30 + n) * MM)
        for n in range(12)
    ]
    return planned(job_of(*small, board=board))


def ten_by_ten() -> Matter:
    """A sheet is 10 m either way."""
    board = replace(BOARD, length=10_000 * MM, width=10_000 * MM)
    return planned(job_of(SIDE, board=board))


def like_a_stamp() -> Matter:
    """A sheet is 40 × 30 mm, its part smaller."""
    board = replace(BOARD, length=40 * MM, width=30 * MM)
    return planned(job_of(replace(SIDE, copies=1, length=20 * MM, width=10 * MM), board=board))


LACKING = {
    not_placed: "parts are not placed",
    nothing_placed: "parts are not placed",
    uncuttable: "sheet 2 cannot be cut as drawn and parts are not placed",
}
BAD = (*LACKING, half_done, long_names, ten_metres, ten_by_ten, like_a_stamp)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda paper: paper.name)
@pytest.mark.parametrize("made", BAD, ids=lambda made: made.__name__)
def test_all_that_is_written_has_room(
    made: Callable[[], Matter], paper: Paper, qapp: object
) -> None:
    """No words on others, none off the page, none too small to be read from 60 cm."""
    del qapp
    pages = pack_pages(made(), ExportWish(paper=paper))
    check(pages, f"{made.__name__} on {paper.name}")
    read = [page for page in pages if page.chapter != "Labels"]
    least = min(size for page in read for _, size in sized(page.items))
    assert CAP_HEIGHT * least >= LEGIBLE


@pytest.mark.parametrize("made", LACKING, ids=lambda made: made.__name__)
def test_each_page_says_what_is_lacking(made: Callable[[], Matter]) -> None:
    """On top of every page, those of labels too."""
    for page in pack_pages(made()):
        said = " ".join(word.text for word, _ in ink.words_on(page.items))
        assert f"NOT A WHOLE PLAN: {LACKING[made]}" in said, page.title


def test_a_sheet_that_cannot_be_cut_says_why_where_it_is_drawn() -> None:
    """Its reason stands below it, at full length; and no cut has a number there."""
    pages = [page for page in pack_pages(uncuttable()) if "heet 2" in page.title]
    said = " ".join(word.text for page in pages for word, _ in ink.words_on(page.items))
    assert "This sheet cannot be cut:" in said
    assert f"{' '.join(LONG.split())} in the way." in said


def test_a_long_list_of_long_names_stays_with_its_sheet() -> None:
    """Names of 300 letters are cut short in the list below the sheet; no page is for it alone."""
    titles = [page.title for page in pack_pages(long_names())]
    assert not any("list" in title and "Sheet" in title for title in titles)

"""Sheets of a pack: equal ones drawn once, several on a page where all can still be read."""

import re
from dataclasses import replace

from layout_app.paper import ink
from layout_app.paper.equal_sheets import together
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.sheet_pages import put_diagrams
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.shop import Shop
from shared.stock import Stock
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper.test_room import CAP_HEIGHT, LEGIBLE, meetings, outside, sized

SHELF = Part(id="s", name="Shelf", copies=8, length=1150 * MM, width=590 * MM, material="ply")
BOARD = Stock(
    id="b",
    name="board",
    material="ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)


def planned(parts: tuple[Part, ...], stock: tuple[Stock, ...]) -> Matter:
    """Return a plan of parts from boards, in millimetres."""
    style = LengthStyle(unit=Unit.MM)
    job = Job(name="Case", parts=parts, stock=stock, shop=Shop(kerf=3 * MM), style=style)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(job, plan)


def pages(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Return the pages of the sheets alone, and hold their words against each other."""
    book = Book(paper, "Case")
    put_diagrams(book, matter)
    for page in book.pages():
        assert not meetings(page)
        assert not outside(page)
        assert min(CAP_HEIGHT * size for _, size in sized(page.items)) >= LEGIBLE
    return book.pages()


def test_equal_sheets_are_drawn_once_with_the_numbers_of_both() -> None:
    """Of two boards with four shelves each one is drawn; each cut of both has its number."""
    matter = planned((SHELF,), (BOARD,))
    assert [[one.sheet for one in group] for group in together(matter.drawings)] == [["1", "2"]]
    (page,) = pages(matter)
    said = [word.text for word, _ in ink.words_on(page.items)]
    assert any(text.startswith("Sheets 1, 2: ") for text in said)
    assert {str(cut.number) for cut in matter.plan.cuts} <= set(said)
    table = {text: place for place, text in enumerate(said) if text.startswith("Cuts of sheet")}
    assert set(table) == {"Cuts of sheet 1", "Cuts of sheet 2"}
    assert any(re.search(r"Piece 1a is 2a on sheet 2", text) for text in said)


def test_sheets_of_other_parts_stand_apart() -> None:
    """A shelf more makes another sheet of the last; another material does too."""
    more = planned((replace(SHELF, copies=9),), (BOARD,))
    assert [len(group) for group in together(more.drawings)] == [2, 1]
    door = replace(SHELF, id="d", name="Door", copies=4, material="MDF")
    both = (BOARD, replace(BOARD, id="m", material="MDF"))
    other = planned((replace(SHELF, copies=4), door), both)
    assert [len(group) for group in together(other.drawings)] == [1, 1]


def test_narrow_offcuts_share_a_page() -> None:
    """Three long narrow offcuts stand on one page, as large as each would be alone."""
    rails = tuple(
        Part(id=f"r{n}", name=f"Rail {n}", length=(1900 + n) * MM, width=200 * MM, material="ply")
        for n in range(3)
    )
    offcuts = tuple(
        replace(BOARD, id=f"o{n}", length=(2000 + n) * MM, width=260 * MM, at_hand=1)
        for n in range(3)
    )
    matter = planned(rails, offcuts)
    assert len(matter.drawings) == 3
    (page,) = pages(matter)
    assert page.title == "Case: Sheets 1, 2, 3"
    scales = [w.text for w, _ in ink.words_on(page.items) if w.text.startswith("Scale 1:")]
    assert len(scales) == 1
    assert int(scales[0].removeprefix("Scale 1:")) <= 13

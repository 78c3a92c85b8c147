"""A sheet fitted to a page: the scale is true, nothing is lost, crowded sheets have room too."""

import re
from io import StringIO

import pytest
import svgelements

from layout_app.paper import ink, svg
from layout_app.paper.fitting import Fitting, fit_sheet, fitted_page
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pens import TEXT
from layout_app.paper.titled import MORE
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.shop import Shop
from shared.stock import Stock
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper import packs
from tests.layout_app.paper.test_room import meetings, outside, sized

PLY = "18 mm ply"
SEEDS = (0, 2, 4, 5)


def crowded(strips: int) -> Matter:
    """Return a job of so many equal strips, sawn off one sheet by as many rips."""
    job = Job(
        name="Slats",
        parts=(
            Part(id="s", name="Slat", copies=strips, length=2400 * MM, width=22 * MM, material=PLY),
        ),
        stock=(
            Stock(
                id="b",
                name="board",
                material=PLY,
                length=2440 * MM,
                width=1220 * MM,
                thickness=18 * MM,
            ),
        ),
        shop=Shop(kerf=3 * MM),
        style=LengthStyle(unit=Unit.MM),
    )
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(job, plan)


def inside(fitting: Fitting) -> list[str]:
    """Return what stands inside the pieces of the sheet."""
    drawn = next(one for one in fitting.items if isinstance(one, ink.Group))
    groups = (one for one in drawn.items if isinstance(one, ink.Group) and one.name == "sizes")
    return [word.text for group in groups for word, _ in ink.words_on(group.items)]


def frame(paper: Paper) -> ink.Spread:
    """Return the room of an empty page that lies."""
    book = Book(paper, "Frame")
    book.turn("Sheet", lying=True)
    return book.whole()


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda paper: paper.name)
def test_more_cuts_than_a_page_has_room_for_are_written_smaller(paper: Paper) -> None:
    """45 rips of one sheet all have their number on its page, in smaller type only there."""
    matter = crowded(45)
    page = fitted_page(matter.drawings[0], matter, paper, black=True)
    assert not meetings(page)
    assert not outside(page)
    words = {word.text for word, _ in ink.words_on(page.items)}
    assert {str(cut.number) for cut in matter.plan.cuts} <= words
    assert len(matter.plan.cuts) > 45
    numbers = [size for word, size in sized(page.items) if word.text in {"1", "23", "46"}]
    assert 0.3 * TEXT <= min(numbers) < TEXT


@pytest.mark.parametrize("seed", SEEDS)
def test_the_stated_scale_is_true_to_another_reader(seed: int) -> None:
    """Length of the sheet on paper times the scale is its length, to 0.01 mm on paper."""
    matter = packs.matter(seed)
    drawing = matter.drawings[0]
    page = fitted_page(drawing, matter, Paper.A4, black=True)
    said = next(w.text for w, _ in ink.words_on(page.items) if w.text.startswith("Scale 1:"))
    tree = svgelements.SVG.parse(StringIO(svg.document(page)), reify=True, ppi=96)
    (box,) = tree.select(lambda one: one.id == f"sheet-{drawing.sheet}")
    on_paper = box.bbox()
    length = (on_paper[2] - on_paper[0]) / 96 * 25.4
    scale = int(said.removeprefix("Scale 1:"))
    assert length == pytest.approx(drawing.rect.length / MM / scale, abs=0.01)


@pytest.mark.parametrize("seed", SEEDS)
def test_alone_on_its_page_a_sheet_tells_all(seed: int) -> None:
    """Where no page follows, the list below the sheet is whole, whatever the names."""
    matter = packs.matter(seed)
    for drawing in matter.drawings:
        page = fitted_page(drawing, matter, Paper.A4, black=False)
        assert not meetings(page)
        assert not outside(page)
        assert MORE not in {word.text for word, _ in ink.words_on(page.items)}


@pytest.mark.parametrize("seed", SEEDS)
def test_what_has_no_room_goes_on_behind(seed: int) -> None:
    """Every letter that stands for a name is explained, on the page or on the one behind it."""
    matter, room = packs.matter(seed), frame(Paper.LETTER)
    for drawing in matter.drawings:
        for alone in (False, True):
            fitting = fit_sheet(drawing, matter, room, alone=alone)
            lines = [word.text for word, _ in ink.words_on(fitting.items)]
            told = [*lines, *fitting.left_over]
            for letter in filter(re.compile("[A-Z]").fullmatch, inside(fitting)):
                assert sum(one.startswith(f"{letter}:") for one in told) == 1, letter
            assert not set(lines) & set(fitting.left_over)
            assert (MORE in lines) is bool(fitting.left_over)


def test_some_lists_are_too_long_for_their_page() -> None:
    """Among random jobs with names of 300 letters there are both kinds."""
    room = frame(Paper.LETTER)
    drawn = [(one, packs.matter(seed)) for seed in (0, 4) for one in packs.matter(seed).drawings]
    assert {bool(fit_sheet(*one, room).left_over) for one in drawn} == {True, False}

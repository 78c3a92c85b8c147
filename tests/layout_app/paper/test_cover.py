"""The cover: columns where they have room, all sheets in small, and nothing that is not said."""

from dataclasses import fields, replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout_app.paper import ink
from layout_app.paper.front_words import assumptions, figures
from layout_app.paper.matter import Matter
from layout_app.paper.pack import blocks
from layout_app.paper.pack.book import MARGIN, Book, Paper
from layout_app.paper.pack.cover import put_cover
from layout_app.paper.pack.small_sheets import LEAST, best_grid
from layout_app.paper.pack.tables import TableRow
from shared.cautions import DEFER
from shared.drawing import Role
from shared.lengths import MM, LengthStyle, Unit
from shared.practice import running_on, usual
from shared.shop import ABSENT, RunsOn, Span
from tests.layout_app.paper import packs
from tests.layout_app.paper.test_room import check

SEEDS = (2, 5, 14, 20)
"""The last one has a title of 300 letters."""
PAPERS = tuple(Paper)


def covers(matter: Matter, paper: Paper) -> tuple[ink.Page, ...]:
    """Return the pages of the cover."""
    book = Book(paper, "Trial", matter.banner)
    put_cover(book, matter)
    return book.pages()


def sheets_on(page: ink.Page) -> dict[str, ink.Group]:
    """Return the pictures of sheets by their number."""
    contents = (item for group in page.items for item in group.items)
    found = [one for one in contents if isinstance(one, ink.Group)]
    return {one.name.removeprefix("sheet-"): one for one in found}


def outline(group: ink.Group) -> ink.Plate:
    """Return the outline of a sheet: what is drawn last."""
    plate = group.items[-1]
    assert isinstance(plate, ink.Plate)
    return plate


@pytest.mark.parametrize("paper", PAPERS, ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_the_cover_says_all_there_is_to_say(seed: int, paper: Paper) -> None:
    """Every sentence stands on it, whichever column it is in, and no words collide."""
    matter = packs.matter(seed)
    pages = covers(matter, paper)
    text = " ".join(words.text for page in pages for words, _ in ink.words_on(page.items))
    plain = " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())
    for said in (*figures(matter), *assumptions(matter), DEFER):
        assert " ".join(said.replace("\N{NO-BREAK SPACE}", " ").split()) in plain
    assert len(pages) == 1
    check(pages, f"cover of job {seed} on {paper.name}")


def test_the_cover_names_what_the_cards_ask_for() -> None:
    """Common practice: rails 180 mm wide, guide and stop with their reach, a 600 mm square."""
    matter = packs.matter(SEEDS[0])
    shop = replace(
        usual(Unit.MM),
        guide=Span(least=150 * MM, most=610 * MM),
        stop=Span(least=0, most=1200 * MM),
        square=600 * MM,
    )
    job, style = replace(matter.job, shop=shop), LengthStyle(unit=Unit.MM)
    metric = replace(matter, job=job, style=style)
    said = list(assumptions(metric))
    assert (
        "Guide from 150 to 610 mm; stop from 0 to 1200 mm; longest square 600 mm;"
        " under the sheets sawhorses." in said
    )
    rails = next(one for one in said if one.startswith("Rails: "))
    assert rails.endswith("; each 180 mm wide, left of the blade.")
    bare = replace(shop, guide=ABSENT, stop=None, square=0)
    assert "Under the sheets sawhorses." in list(
        assumptions(replace(metric, job=replace(job, shop=bare)))
    )


def test_a_base_that_was_never_measured_is_said_to_be_common_practice() -> None:
    """Only as long as it stands as the switch to a straightedge put it."""
    matter = packs.matter(SEEDS[0])
    shop = running_on(matter.job.shop, RunsOn.STRAIGHTEDGE, matter.style.unit)
    assert shop.base is not None
    own = {one.name: getattr(shop.base, one.name) + 1 for one in fields(shop.base)}
    measured = replace(shop, base=replace(shop.base, **own))
    for base, warned in ((shop, True), (measured, False)):
        said = assumptions(replace(matter, job=replace(matter.job, shop=base)))
        assert any("measure yours before you saw" in one for one in said) is warned


@pytest.mark.parametrize("seed", SEEDS)
def test_a3_shows_all_sheets_beside_each_other(seed: int) -> None:
    """Each sheet once, all at one scale, 40 mm long at least; the lowest far down the page."""
    matter = packs.matter(seed)
    (page,) = covers(matter, Paper.A3)
    drawn = sheets_on(page)
    assert list(drawn) == [drawing.sheet for drawing in matter.drawings]
    plates = {sheet: outline(group) for sheet, group in drawn.items()}
    scales = set()
    for drawing in matter.drawings:
        plate = plates[drawing.sheet]
        scales.add(round(1e6 * plate.length / drawing.rect.length, 6))
        scales.add(round(1e6 * plate.width / drawing.rect.width, 6))
        parts = sum(box.role is Role.PART for box in drawing.boxes)
        grey = [
            one for one in drawn[drawing.sheet].items if isinstance(one, ink.Plate) and one.fill
        ]
        assert len(grey) == parts > 0
    assert len(scales) == 1
    assert max(plate.length for plate in plates.values()) >= LEAST
    assert max(plate.y + plate.width for plate in plates.values()) > page.width / 2


@pytest.mark.parametrize(("paper", "columns"), [(Paper.A4, 2), (Paper.LETTER, 2), (Paper.A3, 3)])
def test_words_stand_in_columns(paper: Paper, columns: int) -> None:
    """Two on A4 and Letter, three on A3, of equal length over the whole page."""
    *_, page = covers(packs.matter(5), paper)
    (content,) = (group for group in page.items if group.name == "content")
    dots = {round(item.x, 3) for item in content.items if isinstance(item, ink.Disc)}
    assert len(dots) == columns
    step = (page.length - 2 * MARGIN + 8) / columns
    steps = [b - a for a, b in pairwise(sorted(dots))]
    assert steps == pytest.approx([step] * (columns - 1), abs=0.01)


def test_a_sheet_that_cannot_be_cut_is_said_to_be_unplanned() -> None:
    """Its picture stands with the others."""
    matter = packs.matter(5)
    bad = replace(matter.drawings[0], problem="parts overlap.")
    (page,) = covers(replace(matter, drawings=(bad, *matter.drawings[1:])), Paper.A3)
    caption = sheets_on(page)[bad.sheet].items[0]
    assert isinstance(caption, ink.Words)
    assert caption.text == f"Sheet {bad.sheet}: not planned yet"


@given(number=st.integers(1, 80), length=st.floats(30, 400), width=st.floats(1, 400))
def test_pictures_lie_in_the_room_there_is(number: int, length: float, width: float) -> None:
    """Any number of sheets in any room: the grid has a cell for each and does not leave it."""
    drawings = [packs.matter(5).drawings[0]] * number
    grid = best_grid(drawings, length, width)
    if grid is None:
        return
    assert grid.columns * grid.rows >= number
    assert grid.columns * grid.length + (grid.columns - 1) * 5 <= length + 1e-6
    assert grid.rows * (grid.width + 5) - 5 <= width + 1e-6
    assert LEAST <= grid.scale * drawings[0].rect.length <= grid.length
    assert grid.scale * drawings[0].rect.width < grid.width


@given(heights=st.lists(st.integers(1, 9), min_size=1, max_size=9), number=st.integers(1, 3))
def test_columns_are_as_level_as_their_order_allows(heights: list[int], number: int) -> None:
    """All units in their order; the highest column is no higher than in any other division."""
    units = [[TableRow(float(high), lambda *_: [])] for high in heights]
    found = blocks.columns(units, number)
    assert [row.height for column in found for row in column] == heights
    assert max(map(blocks.height, found)) == _least(heights, number)


def _least(heights: list[int], number: int) -> int:
    """Try every division by recursion."""
    if number == 1 or not heights:
        return sum(heights)
    return min(
        max(sum(heights[:cut]), _least(heights[cut:], number - 1))
        for cut in range(len(heights) + 1)
    )

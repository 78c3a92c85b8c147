"""Panels on pages: every cut once, pages well filled, long names and many passes in their place."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations

import pytest
from shapely import MultiPoint, Polygon, box

from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import MARGIN, TEXT, Book, Paper
from layout_app.paper.panels.gathering import panels_of
from layout_app.paper.panels.putting import put_panels
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.shop import Shop
from shared.stock import Stock
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper import packs
from tests.layout_app.paper.ink_spread import spread_of
from tests.layout_app.paper.panel_pictures import pictures_in
from tests.layout_app.paper.test_room import meetings

SEEDS = (2, 9, 14, 21)
HALF_LINE = 0.251
"""Of the heaviest frame, in mm: its middle lies on the edge of the column."""
COLUMNS = {210.0: 2, 297.0: 3, 215.9: 2}
"""Columns of upright pages by how wide they are, in mm: each of 8 cm and more."""


def pages_of(matter: Matter, paper: Paper) -> tuple[ink.Page, ...]:
    """Return the pages of the panels."""
    book = Book(paper, "Trial")
    put_panels(book, matter)
    return book.pages()


def groups(page: ink.Page, begins: str) -> Iterator[ink.Group]:
    """Yield the groups on a page whose names begin so, in the order in which they are drawn."""
    waiting: list[ink.Item] = list(page.items)
    while waiting:
        item = waiting.pop(0)
        if isinstance(item, ink.Group):
            if item.name.startswith(begins):
                yield item
            waiting = [*item.items, *waiting]


@dataclass(frozen=True)
class Block:
    """What a column holds of a panel: its boxes to tick, and how far its ink reaches, in mm."""

    name: str
    boxes: tuple[int, ...]
    column: int
    spread: Polygon
    drawn: bool

    @property
    def first(self) -> int:
        """Number of the cut with which it begins."""
        return int(self.name.rpartition("-")[2])


def blocks_of(page: ink.Page) -> list[Block]:
    """Return what lies on a page as it is read: down each column, the left one first."""
    wide = (page.length - 2 * MARGIN) / COLUMNS[page.length]
    found = []
    for group in groups(page, "panel-"):
        spots = [spot for one in group.items for spot in spread_of(one)]
        rooms = [room for _, room in ink.words_on([group])]
        spots += [spot for room in rooms for spot in ((room.x, room.y), (room.right, room.bottom))]
        spread = MultiPoint(spots).envelope
        found.append(
            Block(
                name=group.name,
                boxes=tuple(int(one.name.split("-")[1]) for one in groups(of(group), "pass-")),
                column=int((spread.centroid.x - MARGIN) / wide),
                spread=spread,
                drawn=any(pictures_in(group.items)),
            )
        )
    return sorted(found, key=lambda one: (one.column, one.spread.bounds[1]))


def of(group: ink.Group) -> ink.Page:
    """Return a page with nothing but a group."""
    return ink.Page(length=1.0, width=1.0, items=(group,))


def strips(copies: int, name: str) -> Matter:
    """Return strips that are ripped off one sheet, one by one at one setting."""
    part = Part(id="s", name=name, copies=copies, length=2400 * MM, width=22 * MM, material="ply")
    board = Stock(
        id="b", name=name, material="ply", length=2440 * MM, width=1220 * MM, thickness=18 * MM
    )
    shop, style = Shop(kerf=3 * MM), LengthStyle(unit=Unit.MM)
    job = Job(name=name, parts=(part,), stock=(board,), shop=shop, style=style)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    assert not plan.unplaced
    return matter_of(job, plan)


JOBS: dict[str, Callable[[], Matter]] = {
    **{f"random {seed}": partial(packs.matter, seed) for seed in SEEDS},
    "40 passes": partial(strips, 40, "Slat"),
    "300 letters": partial(strips, 12, "W" * 300),
    "300 letters in words": partial(strips, 12, "Slat below the tall window " * 11),
    "40 passes, 300 letters": partial(strips, 40, "a" * 300),
}


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("of", JOBS)
def test_every_block_lies_in_its_column(of: str, paper: Paper) -> None:
    """Within the margins, on no other block, all that is said of a panel in columns in order."""
    pages = pages_of(JOBS[of](), paper)
    for page in pages:
        wide = (page.length - 2 * MARGIN) / COLUMNS[page.length]
        blocks = blocks_of(page)
        for one in blocks:
            left = MARGIN + one.column * wide
            column = box(left, MARGIN, left + wide, page.width - MARGIN)
            assert column.buffer(HALF_LINE).contains(one.spread), (one.name, one.spread.bounds)
        for one, other in combinations(blocks, 2):
            assert one.spread.intersection(other.spread).area < 1e-6, (one.name, other.name)
        assert not meetings(page)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("of", JOBS)
def test_every_cut_has_one_box_in_the_order_of_sawing(of: str, paper: Paper) -> None:
    """Over all columns and pages; on each page on which a panel goes on its piece is drawn."""
    matter = JOBS[of]()
    pages = [blocks_of(page) for page in pages_of(matter, paper)]
    blocks = [one for page in pages for one in page]
    boxes = [number for one in blocks for number in one.boxes]
    assert sorted(boxes) == [one.number for one in matter.told]
    firsts = [one.first for one in blocks]
    assert firsts == sorted(firsts)
    panels = [panel.numbers for panel in panels_of(matter.told)]
    assert [at for at, mine in enumerate(panels) for _ in mine] == [
        next(at for at, mine in enumerate(panels) if number in mine) for number in boxes
    ]
    for page in pages:
        for mine in panels:
            found = [one for one in page if one.first in mine]
            assert not found or found[0].drawn, found[0].name


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_pages_are_well_filled(seed: int, paper: Paper) -> None:
    """All but the last: ink reaches down three fifths of its columns, and half of the page."""
    for page in pages_of(packs.matter(seed), paper)[:-1]:
        blocks, many = blocks_of(page), COLUMNS[page.length]
        top = min(one.spread.bounds[1] for one in blocks)
        depths = [
            max((one.spread.bounds[3] - top for one in blocks if one.column == at), default=0.0)
            for at in range(many)
        ]
        assert sum(depths) / many > 0.6 * (page.width - MARGIN - top)
        assert max(depths) + top > page.width / 2


def test_no_words_of_panels_are_smaller_than_text() -> None:
    """Capitals of 2.8 mm and more, on drawings too."""
    for page in pages_of(packs.matter(9), Paper.A4):
        sizes = {word.size for word, _ in ink.words_on(page.items)}
        assert min(sizes) >= TEXT


def test_what_is_made_is_ticked() -> None:
    """Boxes of cuts that are made have a cross, the others have none."""
    matter = packs.matter(9)
    made = tuple(one.number for one in matter.told[:3])
    found = {
        int(box.name.split("-")[1]): any(isinstance(one, ink.Strokes) for one in box.items)
        for page in pages_of(replace(matter, made=made), Paper.A4)
        for box in groups(page, "pass-")
    }
    assert {number for number, ticked in found.items() if ticked} == set(made)

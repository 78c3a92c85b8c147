"""Panels on pages: every cut once, pages well filled, long names and many passes in their place."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import MARGIN, TEXT, Book, Paper
from layout_app.paper.panels.putting import put_panels
from tests.layout_app.paper import packs
from tests.layout_app.paper.ink_spread import heights

SEEDS = (2, 9, 14, 21)


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


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_every_cut_has_one_box_and_pages_are_half_full(seed: int, paper: Paper) -> None:
    """In the order of sawing over all pages but within equal pieces; the last page may be empty."""
    matter = packs.matter(seed)
    pages = pages_of(matter, paper)
    boxes = [int(one.name.split("-")[1]) for page in pages for one in groups(page, "pass-")]
    assert sorted(boxes) == [one.number for one in matter.told]
    firsts = [int(one.name.rpartition("-")[2]) for page in pages for one in groups(page, "panel-")]
    assert firsts == sorted(firsts)
    for page in pages[:-1]:
        content = [one for one in page.items if isinstance(one, ink.Group)][-1]
        lowest = max(high for _, high in heights(content.items))
        assert lowest > page.width / 2
        assert lowest <= page.width - MARGIN + 0.01


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

"""Cautions of the pack: in full once, short on the cards, and none is lost."""

import re
from collections import Counter
from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cards import HEADING, HOW, letters, put_cards
from shared.shop import Rail, Shop
from tests.layout_app.paper import packs

MARKED = re.compile(r"Mind ([A-Z]+): ")
SEEDS = (2, 5, 9, 14, 21)


def pages_of(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Return the pages of the cards."""
    book = Book(paper, "Trial")
    put_cards(book, matter)
    return book.pages()


def said(items: list[ink.Item]) -> str:
    """Return all words of items on one line."""
    found = " ".join(words.text for words, _ in ink.words_on(items))
    return " ".join(found.replace("\N{NO-BREAK SPACE}", " ").split())


def cards_of(pages: tuple[ink.Page, ...]) -> dict[int, str]:
    """Return the words of each card by the number of its cut."""
    contents = (item for page in pages for group in page.items for item in group.items)
    groups = [one for one in contents if isinstance(one, ink.Group) and one.name.startswith("card")]
    return {int(one.name.removeprefix("card-")): said([one]) for one in groups}


def list_of(pages: tuple[ink.Page, ...]) -> dict[str, str]:
    """Return what stands behind each letter in the list: bold letters, words until the next."""
    found: dict[str, str] = {}
    mark = ""
    for page in pages:
        (content,) = (group for group in page.items if group.name == "content")
        for item in content.items:
            if isinstance(item, ink.Words) and item.bold and item.text.isupper():
                mark = item.text
                assert mark not in found
                found[mark] = ""
            elif isinstance(item, ink.Words) and mark:
                found[mark] += " " + item.text.replace("\N{NO-BREAK SPACE}", " ")
    return {mark: " ".join(text.split()) for mark, text in found.items()}


def plain(text: str) -> str:
    """Return text with plain spaces."""
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_each_caution_of_each_cut_is_found_by_its_mark(seed: int, paper: Paper) -> None:
    """On its card stand its letter, which the list explains in full, or all of it."""
    matter = packs.matter(seed)
    pages = pages_of(matter, paper)
    cards, listed = cards_of(pages), list_of(pages)
    cuts = Counter(one.full for told in matter.told for one in told.cautions)
    assert len(cards) == len(matter.told)
    for told in matter.told:
        card = cards[told.number]
        explained = [(listed[mark], mark) for mark in MARKED.findall(card)]
        assert card.count("Mind ") + card.count("Mind: ") == len(told.cautions)
        for caution in told.cautions:
            if cuts[caution.full] == 1:
                assert f"Mind: {plain(caution.sentence)}" in card
                continue
            (mark,) = (m for text, m in explained if text.startswith(plain(caution.full)))
            assert f"Mind {mark}: {plain(caution.short)}" in card
    assert len(listed) == sum(times > 1 for times in cuts.values())


def test_the_list_stands_once_and_each_page_of_cards_names_its_page() -> None:
    """It begins the first page of the cards, which are some pages of one heading."""
    pages = pages_of(packs.matter(2))
    texts = [said(list(page.items)) for page in pages]
    assert [HEADING in text for text in texts] == [True] + [False] * (len(pages) - 1)
    assert plain(HOW) in texts[0]
    assert "manual comes first" in texts[0]
    assert len(pages) > 5
    assert all("Cut cards (letters of cautions on page 1)" in text for text in texts)


def test_cards_without_cautions_have_no_list() -> None:
    """A shop that limits nothing: no list, no word of letters."""
    bare = packs.matter(2)
    shop = Shop(kerf=bare.job.shop.kerf)
    matter = matter_of(replace(bare.job, shop=shop), bare.plan)
    matter = replace(matter, told=tuple(one for one in matter.told if not one.cautions))
    assert matter.told
    text = " ".join(said(list(page.items)) for page in pages_of(matter))
    assert HEADING not in text
    assert "letters" not in text
    assert "Mind" not in text


def test_a_caution_of_two_materials_has_two_letters() -> None:
    """Scrap is as thick as the sheet, so each thickness has an entry of its own."""
    found = packs.matter(2)
    thick = [replace(one, thickness=2 * one.thickness) for one in found.plan.sheets[:1]]
    plan = replace(found.plan, sheets=(*thick, *found.plan.sheets[1:]))
    shop = replace(found.job.shop, carry=10**9, rails=(Rail(length=10**9),))
    listed = list_of(pages_of(matter_of(replace(found.job, shop=shop), plan)))
    packed = [text for text in listed.values() if "pack behind the piece" in text]
    assert len(packed) == len(set(packed)) == 2


@pytest.mark.parametrize(("place", "said"), [(0, "A"), (25, "Z"), (26, "AA"), (53, "BB")])
def test_letters_go_on_after_z(place: int, said: str) -> None:
    """As columns of a spreadsheet are counted."""
    assert letters(place) == said

"""Cards of the pack: dangers with the sign, handling quiet, and all that a cut has to say."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cards import put_cards
from tests.layout_app.paper import packs

SEEDS = (9, 14, 21)


def pages_of(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Return the pages of the cards."""
    book = Book(paper, "Trial")
    put_cards(book, matter)
    return book.pages()


def plain(text: str) -> str:
    """Return text with single plain spaces."""
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


def solid(text: str) -> str:
    """Return text without spaces in small letters: long words are broken, sentences begin large."""
    return plain(text).replace(" ", "").casefold()


def said(items: list[ink.Item]) -> str:
    """Return all words of items on one line."""
    return plain(" ".join(words.text for words, _ in ink.words_on(items)))


def groups(pages: tuple[ink.Page, ...]) -> Iterator[ink.Group]:
    """Yield the cards in the order in which they lie on the pages."""
    contents = (item for page in pages for group in page.items for item in group.items)
    yield from (one for one in contents if isinstance(one, ink.Group))


def signs(card: ink.Group) -> tuple[int, int]:
    """Count the triangles and the small boxes on a card."""
    lines = [line for one in card.items if isinstance(one, ink.Strokes) for line in one.lines]
    closed = [line for line in lines if line[0] == line[-1]]
    return sum(len(line) == 4 for line in closed), sum(len(line) == 5 for line in closed)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_each_caution_stands_on_the_card_of_its_cut(seed: int, paper: Paper) -> None:
    """In full: behind the danger sign what is one, behind an H in a box what is handling."""
    matter = packs.matter(seed)
    cards = {group.name: group for group in groups(pages_of(matter, paper))}
    for told in matter.told:
        card = cards[f"card-{told.number}"]
        text = said([card])
        assert signs(card) == (len(told.dangers), len(told.handling))
        assert set(told.dangers) | set(told.handling) == set(told.cautions)
        for caution in told.dangers:
            assert f"Danger: {plain(caution.sentence)}" in text
        for caution in told.handling:
            assert f"Handling: {plain(caution.sentence)}" in text


@pytest.mark.parametrize("seed", SEEDS)
def test_a_card_says_all_that_its_cut_has_to_say(seed: int) -> None:
    """Every line of the instruction stands on it, in the order of the numbers."""
    matter = packs.matter(seed)
    cards = [group for group in groups(pages_of(matter)) if group.name.startswith("card-")]
    assert [int(card.name.removeprefix("card-")) for card in cards] == [
        one.number for one in matter.told
    ]
    for told, card in zip(matter.told, cards, strict=True):
        text = solid(said([card]))
        for heading, line in told.lines:
            if heading not in {"sheet", "turn over", "measure"}:
                assert solid(line) in text
        assert solid(told.title) in text or "…" in text
        for line in (told.measure, told.size, *told.checks):
            assert solid(line) in text


def test_a_piece_is_turned_over_on_a_card_of_its_own() -> None:
    """It stands before the card of the cut that needs it, and has no number."""
    matter = packs.matter(2)
    first, second, *rest = matter.told
    turned = replace(second, turn="Turn 1 over, left end to the right; show face down")
    pages = pages_of(replace(matter, told=(first, turned, *rest)))
    found = [group.name for group in groups(pages)][1:4]
    assert found == [f"card-{first.number}", f"turn-{second.number}", f"card-{second.number}"]
    assert "Turn 1 over" in said([card for card in groups(pages) if card.name.startswith("turn")])


@pytest.mark.parametrize("seed", SEEDS)
def test_each_sheet_is_checked_on_a_card_before_its_first(seed: int) -> None:
    """Every sentence of it stands there; no other cut has such a card."""
    matter = packs.matter(seed)
    cards = list(groups(pages_of(matter)))
    names = [group.name for group in cards]
    firsts = [one for one in matter.told if one.sheet_check]
    checks = [name for name in names if name.startswith("check-")]
    assert checks == [f"check-{one.number}" for one in firsts]
    for one in firsts:
        place = names.index(f"check-{one.number}")
        text = solid(said([cards[place]]))
        assert all(solid(line) in text for line in one.sheet_check)
        assert names[place + 1].endswith(f"-{one.number}")


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
def test_what_comes_before_a_cut_is_on_the_page_of_its_card(paper: Paper) -> None:
    """The check of a sheet, and the turning over of a piece, wherever they come."""
    matter = packs.matter(2)
    turned = tuple(replace(told, turn=f"Turn {told.piece} over") for told in matter.told)
    for page in pages_of(replace(matter, told=turned), paper):
        names = [group.name for group in groups((page,))]
        for name, number in (name.rsplit("-", 1) for name in names):
            assert name == "card" or f"card-{number}" in names

"""Cautions of the cuts: in full once, in a list with letters; on the cards short, by these letters.

The list stands before the first card, so it goes to the saw with the cards. What only one cut has
to mind stands in full on its card and has no letter.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from string import ascii_uppercase
from typing import Final

from layout_app.paper.pack.book import Book
from shared.telling import Instruction
from shared.telling.minding import PRACTICE, Caution

CARDS: Final = "Cut cards"
HEADING: Final = "Cautions on the cards"
HOW: Final = (
    "A card names by its letter what its cut has to mind: read here in full what the letters stand"
    " for before you saw. Your saw's manual comes first. Common practice, where no source is named."
)
MIND: Final = "Mind"

Marks = Mapping[str, str]
"""Letters by the full text of what they stand for."""


def marks(told: Iterable[Instruction]) -> dict[str, str]:
    """Give a letter to each caution of more than one cut, in the order of the cuts."""
    counts = Counter(full(caution) for one in told for caution in one.cautions)
    shared = [text for text, cuts in counts.items() if cuts > 1]
    return {text: letters(place) for place, text in enumerate(shared)}


def full(caution: Caution) -> str:
    """Return what holds wherever a caution applies, and its source."""
    named = "" if caution.source == PRACTICE else f" ({caution.source})"
    return f"{caution.full}{named}"


def letters(place: int) -> str:
    """Return A to Z for 0 to 25, then AA, AB and so on."""
    before, last = divmod(place, len(ascii_uppercase))
    return (letters(before - 1) if before else "") + ascii_uppercase[last]


def on_card(caution: Caution, known: Marks) -> str:
    """Say a caution on the card of its cut: by its letter, or in full where it has none."""
    mark = known.get(full(caution))
    return f"{MIND}: {caution.sentence}" if mark is None else f"{MIND} {mark}: {caution.short}"


def begin_cards(book: Book, known: Marks) -> None:
    """Begin the page of the first cards, with what the letters on them stand for.

    All pages of cards name the page with that list.
    """
    if not known:
        book.turn(CARDS)
        return
    book.turn(f"{CARDS} (letters of cautions on page {book.next_number})")
    book.heading(HEADING)
    book.paragraph(HOW)
    book.points(tuple(known), marks=tuple(known.values()))

"""Whether all words of cards and of the walk have room: ``python -m tests.soak.in_room``.

Plans workshop lists (``--lists N``, all 30 if none is said) in three kinds of shops and sets the
words of every cut, in inches and in millimetres: on its card, and on its page of the walk on
screens of three sizes. Prints how many cards there were and on how many a line is cut off; how
many pages, how many whose words need more than their part of it even in the least type, and the
least type that is used on any.
"""

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from PySide6.QtWidgets import QApplication

from layout_app.panels.card_painter import set_on_card
from layout_app.panels.cards import Card, cards_of
from layout_app.walk.blocks import fitting
from layout_app.walk.pages import MOST_OF_BODY, TEXT, words_of
from shared.job import Job
from shared.lengths import LengthStyle, Unit
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import load
from tests.soak.reading import LISTS, shops

EDGE, BODY = 0.03, 0.89 - 0.16
"""Margin of a page of the walk, in shares of its shorter side; what lies between head and foot."""
MOST_AT_LEAST = 0.85
"""The words may take so much of that; the picture has the rest."""
SCREENS = ((1440, 900), (1024, 700), (800, 480))
STYLES = (LengthStyle(unit=Unit.INCH, denominator=32), LengthStyle(unit=Unit.MM, decimals=1))


@dataclass(frozen=True, slots=True)
class Room:
    """What was found of cards and pages; ``least`` is the least type of the pages, in pixels."""

    cards: int
    cut_off: int
    pages: int
    over: int
    least: int


def look(cards: Sequence[Card], screens: Sequence[tuple[int, int]]) -> Room:
    """Set the words of all cards, and of their pages on all screens."""
    cut_off = sum("…" in "".join(set_on_card(card).lines) for card in cards)
    types = [made for screen in screens for made in _pages(cards, screen)]
    over = sum(not fits for _, fits in types)
    return Room(len(cards), cut_off, len(types), over, min(size for size, _ in types))


def _pages(cards: Sequence[Card], screen: tuple[int, int]) -> Iterator[tuple[int, bool]]:
    """Yield for each page the size of its words, and whether they keep to their part of it."""
    wide, high = (side - 2 * EDGE * min(screen) for side in screen)
    body = high * BODY
    for card in cards:
        words = words_of(card.told)
        size = fitting(words, wide, body * MOST_OF_BODY, high * TEXT)
        yield size, words.height(wide, size) <= body * MOST_AT_LEAST


def jobs(number: int) -> Iterator[Job]:
    """Yield the workshop lists in each kind of shop, written in each way."""
    for path in sorted(LISTS.glob("*.json"))[:number]:
        job = load(path)[0].job
        for _, shop in shops(job.shop.kerf):
            yield from (replace(job, shop=shop, style=style) for style in STYLES)


def main() -> int:
    """Look at all lists; returns 1 if anything is cut off."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lists", type=int, default=30)
    application = QApplication.instance() or QApplication([])
    found: list[Room] = []
    for job in jobs(parser.parse_args().lists):
        plan = run(job, Budget(time_s=0.0), lambda _: None)
        assert plan is not None
        found.append(look(cards_of([plan], job), SCREENS))
    cards, cut_off, pages, over = (
        sum(getattr(one, name) for one in found) for name in ("cards", "cut_off", "pages", "over")
    )
    print(f"{cards} cards, a line cut off on {cut_off}")
    print(f"{pages} pages, {over} with more words than room, least type {_least(found)} px")
    del application
    return 1 if cut_off or over else 0


def _least(found: Sequence[Room]) -> int:
    return min(one.least for one in found)


if __name__ == "__main__":
    raise SystemExit(main())

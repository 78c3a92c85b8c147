"""Panels on pages: dangers with the sign, handling quiet, and all that the words of panels say."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.panels.putting import put_panels
from layout_app.paper.panels.saying import BarKind, PanelWords, Sign
from tests.layout_app.paper import packs
from tests.layout_app.paper.panel_reader import panels_in_words

SEEDS = (9, 14, 21)


def pages_of(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Return the pages of the panels."""
    book = Book(paper, "Trial")
    put_panels(book, matter)
    return book.pages()


def solid(text: str) -> str:
    """Return text without spaces: lines are broken anywhere."""
    return "".join(text.replace("\N{NO-BREAK SPACE}", " ").split()).casefold()


def said(items: list[ink.Item]) -> str:
    """Return all words of items behind each other."""
    return solid(" ".join(words.text for words, _ in ink.words_on(items)))


def groups(pages: tuple[ink.Page, ...], begins: str) -> Iterator[ink.Group]:
    """Yield the groups of a kind in the order in which they lie on the pages."""
    for page in pages:
        waiting = [*page.items]
        while waiting:
            one = waiting.pop(0)
            if isinstance(one, ink.Group):
                waiting = [*one.items, *waiting]
                if one.name.startswith(begins):
                    yield one


def signs(group: ink.Group) -> tuple[int, int]:
    """Count the triangles and the boxes with an H in a panel, but not in its picture."""
    lines = [line for one in group.items if isinstance(one, ink.Strokes) for line in one.lines]
    closed = [line for line in lines if line[0] == line[-1]]
    return sum(len(line) == 4 for line in closed), sum(len(line) == 5 for line in closed)


def texts_of(panel: PanelWords) -> Iterator[str]:
    """Yield all that a panel says."""
    yield from (panel.name, panel.head)
    rows = panel.rows
    for bar in (*panel.bars, *(bar for row in rows for bar in row.bars)):
        yield from (bar.text, bar.more)
    for line in (*panel.common, *(line for row in rows for line in row.lines)):
        yield from (line.letter, line.text)
    for row in rows:
        yield from row.dangers
        yield row.title
        yield from (f"{one.number}{one.makes}" for one in row.passes)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_all_words_of_a_panel_stand_on_its_page(seed: int, paper: Paper) -> None:
    """Those of one that goes on on another page stand on either; only names are shortened."""
    matter = packs.matter(seed)
    pages = pages_of(matter, paper)
    text = "|".join(said([group]) for group in groups(pages, "panel-"))
    for panel in panels_in_words(matter):
        for one in texts_of(panel):
            assert solid(one) in text or _named(one, matter), one


def _named(text: str, matter: Matter) -> bool:
    """Say whether a text has a name in it that may be shortened, or is put on otherwise."""
    return any(part.name and part.name[:20] in text for part in matter.job.parts)


@pytest.mark.parametrize("seed", SEEDS)
def test_each_danger_has_its_sign_and_each_handling_its_mark(seed: int) -> None:
    """On every panel, in all its columns: before each line, and beside titles.

    What holds at all its cuts is said again, with its signs, on each page on which it goes on.
    """
    matter = packs.matter(seed)
    pages = [list(groups((page,), "panel-")) for page in pages_of(matter)]
    for panel in panels_in_words(matter):
        begins = [min(one.number for one in row.passes) for row in panel.rows]
        mine = [
            [one for one in page if int(one.name.rpartition("-")[2]) in begins] for page in pages
        ]
        lines = [line for row in panel.rows for line in row.lines]
        lines += list(panel.common) * sum(map(bool, mine))
        dangers = sum(line.sign is Sign.DANGER for line in lines)
        dangers += sum(bool(row.dangers) for row in panel.rows)
        handling = sum(line.sign is Sign.HANDLING for line in lines)
        found = [signs(group) for page in mine for group in page]
        assert (sum(one for one, _ in found), sum(one for _, one in found)) == (dangers, handling)
        pages = [[one for one in page if one not in mine[at]] for at, page in enumerate(pages)]
    assert not any(pages)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
def test_what_comes_before_a_cut_is_on_its_page(paper: Paper) -> None:
    """The check of a sheet, and the turning over of a piece, wherever they come."""
    matter = packs.matter(2)
    turned = tuple(replace(told, turn=f"Turn {told.piece} over") for told in matter.told)
    bars = 0
    pages = [
        (list(groups((page,), "pass-")), said(list(page.items)))
        for page in pages_of(replace(matter, told=turned), paper)
    ]
    for panel in panels_in_words(replace(matter, told=turned)):
        first = panel.rows[0].passes[0].number
        text = next(
            text for boxes, text in pages if any(box.name == f"pass-{first}" for box in boxes)
        )
        for bar in panel.bars:
            assert solid(bar.text) in text
            bars += bar.kind is BarKind.TURN
    assert bars == len(turned)

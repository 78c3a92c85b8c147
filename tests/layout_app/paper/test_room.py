"""Words on paper: none over another, none off the page, none too small to be read."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.pack.labels import label_pages
from tests.layout_app.paper import packs
from tests.layout_app.paper.ink_spread import spread_of

BORDER = 5.0
"""What printers leave free at each side, in mm: common practice."""
CAP_HEIGHT = 0.72
"""Of the usual office font and its kin, in text sizes (their OS/2 tables say 0.716 to 0.729)."""
LEGIBLE = 2.79
"""16 minutes of arc at 600 mm: ISO 9241-303, from memory."""
FEW, MANY = range(10), range(200)
PAPERS = tuple(Paper)


def meetings(page: ink.Page) -> list[tuple[str, str]]:
    """Return the pairs of words that share room, from top to bottom."""
    words = sorted(ink.words_on(page.items), key=lambda found: found[1].y)
    found = []
    for place, (one, room) in enumerate(words):
        for other, beside in words[place + 1 :]:
            if beside.y >= room.bottom:
                break
            if room.meets(beside):
                found.append((one.text, other.text))
    return found


def outside(page: ink.Page) -> list[object]:
    """Return words and spots of lines that a printer might not reach."""
    far, low = page.length - BORDER, page.width - BORDER
    words = [
        word.text
        for word, room in ink.words_on(page.items)
        if min(room.x, room.y) < BORDER or room.right > far or room.bottom > low
    ]
    spots = [
        spot
        for item in page.items
        for spot in spread_of(item)
        if not (BORDER <= spot[0] <= far and BORDER <= spot[1] <= low)
    ]
    return [*words, *spots]


def check(pages: Sequence[ink.Page], where: str) -> None:
    """Hold pages against both."""
    for number, page in enumerate(pages, 1):
        place = f"{where}, page {number}: {page.title[:40]}"
        assert not meetings(page), place
        assert not outside(page), place


@pytest.mark.parametrize("seed", FEW)
def test_no_words_collide_or_leave_the_page(seed: int) -> None:
    """On no page of a random job's pack and labels, whatever its names."""
    paper = PAPERS[seed % len(PAPERS)]
    pages = packs.pages(seed, paper)
    assert len(pages) > 3
    check(pages, f"job {seed} on {paper.name}")


@pytest.mark.soak
@pytest.mark.timeout(900)
@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
def test_no_words_of_many_jobs_collide(paper: Paper) -> None:
    """The same of two hundred jobs on every paper."""
    for seed in MANY:
        check(packs.pages(seed, paper), f"job {seed} on {paper.name}")


@pytest.mark.parametrize("seed", FEW[::3])
def test_the_pack_is_read_from_60_cm(seed: int) -> None:
    """Capitals on covers, lists, diagrams and cards are at least 2.79 mm high; labels are held."""
    for page in without_labels(packs.pages(seed, Paper.LETTER)):
        for word, size in sized(page.items):
            assert CAP_HEIGHT * size >= LEGIBLE, (page.title[:40], word.text[:60], size)


def without_labels(pages: Sequence[ink.Page]) -> list[ink.Page]:
    """Leave out the sheets of labels."""
    found = [page for page in pages if not page.title.endswith("labels")]
    assert len(found) < len(pages)
    return found


def sized(items: Sequence[ink.Item], scale: float = 1.0) -> Iterator[tuple[ink.Words, float]]:
    """Yield all words with their text size on the page, in mm."""
    for item in items:
        if isinstance(item, ink.Group):
            yield from sized(item.items, scale * item.scale)
        elif isinstance(item, ink.Words) and item.text:
            yield item, scale * item.size


FORMS = (
    LabelSheet(),
    LabelSheet(columns=2, rows=7),
    LabelSheet(columns=3, rows=8, left=5, top=5, between_columns=0, borders=True),
    LabelSheet(columns=4, rows=10, left=8, top=21.5, between_columns=0),
    LabelSheet(columns=5, rows=12, left=5, top=10, between_columns=2),
    LabelSheet(columns=1, rows=12),
)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: f"{form.columns} by {form.rows}")
@pytest.mark.parametrize("seed", FEW[::4])
def test_words_keep_to_their_label(seed: int, form: LabelSheet) -> None:
    """Every word but head and foot lies inside one label and on no other word; type is even."""
    paper = Paper.LETTER
    frames = list(form.frames(paper))
    sizes = set()
    for page in label_pages(replace(packs.matter(seed), banner=""), form, paper):
        assert not meetings(page)
        assert len(list(ink.words_on(page.items))) > 3
        for word, room in ink.words_on(page.items):
            if form.top <= word.y <= page.width - form.top:
                assert any(frame.x <= room.x <= room.right <= frame.right for frame in frames)
                assert any(frame.y <= room.y <= room.bottom <= frame.bottom for frame in frames)
                sizes.add(word.size)
    assert len(sizes) == 2
    assert CAP_HEIGHT * max(sizes) >= HELD


HELD = 1.86
"""16 minutes of arc at 400 mm: ISO 9241-303, from memory."""


def test_a_word_on_another_is_found() -> None:
    """The check sees words that share a corner, turned ones too."""
    lying = ink.Words(text="lying across", x=50, y=50, size=4)
    upright = ink.Words(text="upright", x=60, y=55, size=4, turned=True)
    beside = ink.Words(text="apart", x=50, y=60, size=4)
    page = ink.Page(length=100, width=100, items=(lying, upright, beside))
    assert meetings(page) == [("upright", "lying across")]
    assert outside(ink.Page(length=70, width=100, items=(lying,))) == ["lying across"]

"""The pages that explain the others: terms of the very job in pictures, cautions by letter."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest

from layout_app.paper import ink
from layout_app.paper.caution_letters import letters_of
from layout_app.paper.matter import Matter
from layout_app.paper.pack.at_every_cut import BY_LETTER, cautions_once
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.end_views import bearers_picture
from layout_app.paper.pack.reading import put_reading
from layout_app.paper.pack.reading_terms import deepest, terms_of
from layout_app.paper.pack.rule_picture import between_marks, rule_picture
from shared.cautions import DEFER, SUPPORT, cautions_for
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.making.bearing import under
from shared.making.hazards import HAZARDS
from shared.making.record import Bearers, Face, Guard
from shared.shop import RunsOn, Support
from shared.telling.general import in_general
from tests.layout_app.paper import packs
from tests.layout_app.paper.panel_reader import how_to_read
from tests.layout_app.paper.test_room import check

SEEDS = (2, 9, 14, 21)


def pages_of(matter: Matter, paper: Paper = Paper.A4) -> tuple[ink.Page, ...]:
    """Return the pages of the front that explain the others."""
    book = Book(paper, "Trial", matter.banner)
    put_reading(book, matter)
    return book.pages()


def solid(text: str) -> str:
    """Return text without spaces, which no end of a line tells apart."""
    return "".join(text.split())


def text_of(pages: tuple[ink.Page, ...]) -> str:
    """Return all words of pages in their order, without spaces."""
    return solid("".join(one.text for page in pages for one, _ in ink.words_on(page.items)))


def signs(items: tuple[ink.Item, ...]) -> Iterator[str]:
    """Yield the triangles and the boxes with an H among items, in their order."""
    for item in items:
        if isinstance(item, ink.Group):
            yield from signs(item.items) if not item.name.startswith("term") else ()
        elif isinstance(item, ink.Strokes):
            closed = [len(line) for line in item.lines if line[0] == line[-1]]
            yield from ({4: "danger", 5: "handling"}[count] for count in closed)


@pytest.mark.parametrize("paper", tuple(Paper), ids=lambda one: one.name)
@pytest.mark.parametrize("seed", SEEDS)
def test_all_terms_and_cautions_are_readable(seed: int, paper: Paper) -> None:
    """Every sentence stands there, no words collide, and two pages hold them."""
    matter = packs.matter(seed)
    pages = pages_of(matter, paper)
    check(pages, f"front of job {seed} on {paper.name}")
    text = text_of(pages)
    for term in terms_of(matter):
        assert all(solid(said) in text for said in (term.name, *term.said))
    said = [one for one in cautions_for(matter.job.shop) if one != SUPPORT[Support.HORSES]]
    assert all(solid(one) in text for one in (DEFER, *said))
    assert len(pages) <= 2


@pytest.mark.parametrize("seed", SEEDS)
def test_each_caution_stands_once_by_its_letter(seed: int) -> None:
    """With what to do, why, and its source; dangers with the sign, before all handling."""
    matter = packs.matter(seed)
    pages = pages_of(matter)
    text, letters = text_of(pages), letters_of(matter.told)
    found = cautions_once(matter)
    assert [one.letter for one in found] == list(letters.values())
    assert {one.code for told in matter.told for one in told.cautions} == set(letters)
    for rule in HAZARDS:
        assert text.count(solid(rule.reason)) == (rule.code in letters)
    for one, code in zip(found, letters, strict=True):
        assert solid(f"{one.letter}{in_general(code)}{one.reason}") in text
    shown = [sign for page in pages for sign in signs(page.items)]
    assert shown == ["danger" if one.danger else "handling" for one in found]
    assert shown == sorted(shown)
    assert (solid(BY_LETTER) in text) == bool(found)


def test_every_source_is_named() -> None:
    """Common practice in the heading; a long name once, then by the letter where it stands."""
    matter = packs.matter(14)
    first = matter.told[0]
    record = replace(first.record, find_hazards=lambda _: tuple(one.code for one in HAZARDS))
    every = tuple(
        replace(caution, code=rule.code)
        for rule in HAZARDS
        for caution in packs.matter(9).told[0].cautions[:1]
    )
    told = replace(first, record=record, cautions=every)
    found = cautions_once(replace(matter, told=(told,), letters=letters_of((told,))))
    by_letter = {one.letter: one.source for one in found}
    for rule, one in zip(HAZARDS, found, strict=True):
        known = one.source or "common practice"
        named = by_letter.get(known.removeprefix("as at "), known)
        assert named == rule.source


@pytest.mark.parametrize("rule", HAZARDS, ids=lambda one: one.code)
def test_general_words_have_no_figures_and_are_short(rule: object) -> None:
    """At most 15 words a sentence, as on every page; figures stand at the cut."""
    said = in_general(getattr(rule, "code", ""))
    assert not re.search(r"\d", said)
    assert all(len(one.split()) <= 15 for one in re.split(r"(?<=[.;:])\s", said))


def test_only_what_the_job_needs_is_explained() -> None:
    """A straightedge is no rail; turning over, scoring and bearers only where there are such."""
    matter = packs.matter(2)
    shop = replace(matter.job.shop, runs_on=RunsOn.STRAIGHTEDGE)
    led = replace(matter, job=replace(matter.job, shop=shop))
    first, *rest = matter.told

    def with_first(**changes: object) -> Matter:
        told = replace(first, record=replace(first.record, **changes))  # type: ignore[arg-type]
        return replace(matter, told=(told, *rest))

    def has(one: Matter, word: str) -> bool:
        return word in " ".join(how_to_read(one))

    assert has(matter, "the stop undoes the guide")
    assert not has(led, "the stop undoes the guide")
    for changed, word in (
        (with_first(up=Face.BACK), "Turned over"),
        (with_first(guards=(Guard.SCORE,)), "Score the line: Draw a knife"),
    ):
        assert has(changed, word)
        assert not has(matter, word)
    assert has(matter, "Bearers: ")
    bare = tuple(replace(one, record=replace(one.record, bearers=None)) for one in matter.told)
    assert not has(replace(matter, told=bare), "Bearers: ")
    assert how_to_read(replace(matter, told=())) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_names_grow_from_the_sheet_to_the_piece(seed: int) -> None:
    """Each piece lies within the one it is sawn from, and its name has one sign more."""
    chain = deepest(packs.matter(seed).told)
    assert len(chain) > 1
    assert chain[0][0].startswith("sheet ")
    for (parent, outer), (child, inner) in pairwise(chain):
        assert outer.x <= inner.x <= inner.right <= outer.right
        assert outer.y <= inner.y <= inner.bottom <= outer.bottom
        assert child.startswith(parent.removeprefix("sheet "))
        assert inner.area < outer.area


@pytest.mark.parametrize(("kept", "other"), [(300, 1500), (1500, 300), (90, 2400), (700, 700)])
def test_bearers_are_drawn_where_they_are_counted(kept: int, other: int) -> None:
    """As many squares as both figures say, each under its own side of the kerf."""
    borne = Bearers(keep=under(kept * MM), other=under(other * MM))
    items = tuple(bearers_picture(borne, kept * MM, other * MM).draw(0.0, 0.0, 89.0))
    plates = [one for one in items if isinstance(one, ink.Plate)]
    (left, right), squares = plates[:2], plates[2:]
    assert len(squares) == len(borne.keep) + len(borne.other)
    first, last = squares[: len(borne.keep)], squares[len(borne.keep) :]
    assert all(left.x <= one.x + one.length / 2 <= left.x + left.length for one in first)
    assert all(right.x <= one.x + one.length / 2 <= right.x + right.length for one in last)
    said = [one.text for one in items if isinstance(one, ink.Words)]
    assert f"{len(borne.keep)} {len(borne.other)}" == " ".join(filter(str.isdigit, said))


@pytest.mark.parametrize(
    ("ticks", "style", "said", "off"),
    [
        (10 * INCH + INCH * 3 // 128, LengthStyle(unit=Unit.INCH, denominator=16), "strong", 0.375),
        (10 * INCH - INCH * 3 // 128, LengthStyle(unit=Unit.INCH, denominator=16), "shy", -0.375),
        (10 * INCH - INCH // 32, LengthStyle(unit=Unit.INCH, denominator=16), "10 shy", -0.5),
        (3453 * MM // 10, LengthStyle(unit=Unit.MM, decimals=0), "345.3", 0.3),
    ],
)
def test_the_arrow_points_between_the_marks(
    ticks: int, style: LengthStyle, said: str, off: float
) -> None:
    """Shy is before the mark, strong past it, by so many steps of the rule."""
    assert between_marks(ticks, style)
    items = tuple(rule_picture(ticks, style).draw(0.0, 0.0, 100.0))
    stem = next(one for one in items if isinstance(one, ink.Strokes) and _falls(one))
    heading, mark = (one for one in items if isinstance(one, ink.Words))
    assert said in heading.text
    assert style.unit is Unit.MM or heading.text.startswith(f"{mark.text} ")
    offset = (stem.lines[0][0][0] - mark.x) / 10
    assert offset == pytest.approx(off, abs=0.01)


def _falls(strokes: ink.Strokes) -> bool:
    (x, y), (right, low) = strokes.lines[0][0], strokes.lines[0][-1]
    return x == right and low - y == pytest.approx(4.3)

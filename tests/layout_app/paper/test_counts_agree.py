"""What is counted of a plan is the same on paper, in tables, window, walk-through and terminal."""

import re
from collections.abc import Iterator
from csv import DictReader
from io import StringIO
from itertools import pairwise

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model.words.choice_words import figures_of
from layout_app.model.words.order_words import order_words, sequence_words
from layout_app.model.words.wording import summary
from layout_app.panels.ticks import all_cards
from layout_app.paper.front_words import figures
from layout_app.paper.ink import Group, Page, words_on
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.lists import put_offcuts
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.publish import publish_files
from layout_app.paper.published.reader import in_unit
from layout_app.paper.tables import cuts_csv, shopping_csv
from layout_app.planner.live import Standing
from layout_app.planner.status_words import offcut_sentence, proof_sentence, sawing_sentence
from layout_app.walk.moments import CutNow, moments_of
from shared.lengths import Unit
from shared.making.recording import records
from shared.plan import Plan
from solver.outcome import choice_of
from tests.layout_app.small_job import document, part
from tests.properties.test_mistakes import plan_around
from tests.seconds import minutes_of

PATTERNS = {
    "sheets": r"\b(\d+|no)(?: more)? sheets?\b(?! cut)",
    "pieces": r"\b(\d+) pieces? on hand\b",
    "cuts": r"\b(\d+) cuts?\b(?! (?:is|are) made)",
    "made": r"\b(\d+) cuts? (?:is|are) made\b",
    "made now": r"\b(\d+) made\b(?! before)",
    "to go": r"\b(\d+) to go\b",
    "set-ups": r"\b(\d+) set-ups?\b(?! change)",
    "changes": r"\b(\d+) set-up changes?\b",
    "minutes": r"\b(\d+) min(?:utes)?\b",
}


def read(text: str) -> dict[str, set[int]]:
    """Return all numbers of each thing that a text counts."""
    found = {}
    for what, pattern in PATTERNS.items():
        numbers = re.findall(pattern, text.split("needs fewer", maxsplit=1)[0])
        if numbers:
            found[what] = {0 if one == "no" else int(one) for one in numbers}
    return found


def begun_before() -> Document:
    """Return the small job with some cuts ticked, planned again from there, and ticked again."""
    doc = document()
    tick(doc, [1, 2, 4])
    plan_the_rest(doc, {})
    plan_around(doc)
    assert doc.plan is not None
    tick(doc, [doc.plan.cuts[0].number])
    return doc


@pytest.fixture(params=[document, begun_before], ids=["new", "begun before"])
def doc(request: pytest.FixtureRequest, qtbot: QtBot) -> Document:
    """Return a project with a plan of whole sheets, or one of pieces of a sheet cut earlier."""
    del qtbot
    return request.param()


def plan_of(doc: Document) -> Plan:
    """Return the plan that is shown."""
    assert doc.plan is not None
    return doc.plan


def truth(doc: Document) -> dict[str, set[int]]:
    """Count the plan by plain arithmetic; minutes are those of its cuts, begun with nothing set."""
    plan, shop, progress = plan_of(doc), doc.job.shop, doc.progress
    pieces = sum(sheet.piece for sheet in plan.sheets)
    setups = len({cut.setup for cut in plan.cuts})
    settings = [(cut.tool, cut.size) for cut in plan.cuts]
    return {
        "sheets": {len(plan.sheets) - pieces},
        "pieces": {pieces},
        "cuts": {len(plan.cuts)},
        "made now": {len(progress.made)},
        "to go": {len(plan.cuts) - len(progress.made)},
        "made": {len(progress.made) + sum(len(past.cuts) for past in progress.past)},
        "set-ups": {setups},
        "changes": {sum(one != other for one, other in pairwise(settings))},
        "minutes": {minutes_of(records((plan,), shop), shop)},
    }


def told(doc: Document) -> dict[str, str]:
    """Return what each outlet says in words."""
    plan, job = plan_of(doc), doc.job
    return {
        "cover": " ".join(figures(matter_of_sawn(doc.sawn))),
        "terminal": summary(plan, job, order_words(doc.sawn)),
        "status line": f"{proof_sentence(doc.project, plan, Standing())};"
        f" {sawing_sentence(doc.takes)}",
        "heading": sequence_words(doc.sawn, doc.takes),
        "choice": ", ".join(figures_of(choice_of(plan, job))),
    }


def test_all_words_count_the_same(doc: Document) -> None:
    """Whatever an outlet counts, it counts what plain arithmetic does; each names cuts and time."""
    true = truth(doc)
    for outlet, text in told(doc).items():
        found = read(text)
        cuts = "to go" if outlet == "heading" and doc.progress.made else "cuts"
        assert {cuts, "minutes"} <= found.keys(), outlet
        for what, numbers in found.items():
            assert numbers == true[what], f"{outlet}, {what}: {text}"
    counted = {outlet: read(text).keys() for outlet, text in told(doc).items()}
    assert all("sheets" in counted[one] for one in ("cover", "terminal", "status line", "choice"))
    assert all("changes" in counted[one] for one in ("cover", "heading"))


def passes_on(pages: tuple[Page, ...]) -> Iterator[str]:
    """Yield the names of the boxes to tick on some pages."""
    items = [item for page in pages for item in page.items]
    while items:
        item = items.pop()
        if isinstance(item, Group):
            items += item.items
            if item.name.startswith("pass-"):
                yield item.name


def test_pages_tables_and_walk_have_one_of_each(doc: Document) -> None:
    """Boxes, rows and moments of the walk for every cut; a place in the pack for every sheet."""
    plan, matter = plan_of(doc), matter_of_sawn(doc.sawn)
    pages = pack_pages(matter)
    assert sorted(passes_on(pages)) == sorted(f"pass-{cut.number}" for cut in plan.cuts)
    headings = [page.title.rpartition(": ")[2] for page in pages]
    runs = [
        run
        for one in headings
        for run in re.findall(r"[Ss]heets? (\w+(?:, (?!sheets? )\w+)*)", one)
    ]
    named = [name for run in runs for name in run.split(", ")]
    assert sorted(named) == sorted(sheet.id for sheet in plan.sheets)
    walk = [one.card.number for one in moments_of(all_cards(doc)) if isinstance(one, CutNow)]
    numbers = [cut.number for cut in plan.cuts]
    assert [number for number in walk if number in set(numbers)] == numbers
    rows = list(DictReader(StringIO(cuts_csv(matter).lstrip("\ufeff"))))
    assert [int(row["Cut"]) for row in rows] == numbers
    taken = DictReader(StringIO(shopping_csv(matter).lstrip("\ufeff")))
    boards = sum(int(row["Take"]) + int(row["Buy"]) for row in taken if row["What"] == "sheet")
    assert {boards} == truth(doc)["sheets"]


def test_every_page_is_numbered_and_all_are_counted(doc: Document) -> None:
    """Labels come last, and are pages of the pack as well."""
    pages = pack_pages(matter_of_sawn(doc.sawn))
    assert pages[-1].title.endswith(": labels")
    for number, page in enumerate(pages, 1):
        said = " ".join(words.text for words, _ in words_on(page.items))
        assert re.findall(r"page (\d+) of (\d+)", said) == [(str(number), str(len(pages)))]


def offcuts_in_pack(doc: Document) -> str:
    """Return the words of the pack's list of offcuts."""
    book = Book(Paper.A4, "Trial")
    book.turn("Lists")
    put_offcuts(book, matter_of_sawn(doc.sawn))
    return " ".join(words.text for page in book.pages() for words, _ in words_on(page.items))


def test_what_was_kept_earlier_stands_among_the_offcuts() -> None:
    """A piece of an earlier sheet that nothing is sawn from is kept: on paper, line, terminal."""
    doc = document()
    tick(doc, [cut.number for cut in plan_of(doc).cuts])
    kept = max((one for one in plan_of(doc).offcuts if one.keep), key=lambda one: one.rect.area)
    said = offcut_sentence(doc.project, doc.plan)
    plan_the_rest(doc, {})
    edit_parts.add_parts(doc, [part("top", "Top", (95, 47), 1)])
    plan_around(doc)
    assert [sheet.piece for sheet in plan_of(doc).sheets] == [False]
    assert not any(one.keep for one in plan_of(doc).offcuts)
    assert f"{kept.piece} L" in offcuts_in_pack(doc)
    assert "kept earlier" in offcuts_in_pack(doc)
    assert offcut_sentence(doc.project, doc.plan) == said
    assert said.removeprefix("best offcut ") in summary(plan_of(doc), doc.job)
    published = publish_files(matter_of_sawn(doc.sawn))["plan-in.md"].decode()
    assert re.search(rf"\| {kept.piece} \|.*\| kept earlier \|", published)


def test_a_begun_job_is_told_alike_in_both_units(qtbot: QtBot) -> None:
    """How its cuts are made hangs on those before it: the other unit knows them as well."""
    del qtbot
    own = matter_of_sawn(begun_before().sawn)
    assert own.past
    other = in_unit(own, Unit.MM if own.style.unit is Unit.INCH else Unit.INCH)
    assert [one.record for one in other.told] == [one.record for one in own.told]
    assert in_unit(other, own.style.unit).told == own.told

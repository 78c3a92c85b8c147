"""Minutes are one number wherever they are shown: that of the order of cuts that is shown.

Jobs, shops and orders are drawn at random. The number is found by plain arithmetic on records
that the simulated saw accepts. What shows minutes is listed here, and a new place is noticed.
"""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path
from random import Random

from pytestqt.qtbot import QtBot

import layout_app
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.words.choice_words import choices_table, figures_of
from layout_app.model.words.minute_words import HEADING, KINDS, minutes_tip, shares
from layout_app.model.words.order_words import order_words, sequence_words
from layout_app.model.words.wording import effort_sentence, summary
from layout_app.panels.ticks import all_cards
from layout_app.paper.front_words import figures
from layout_app.paper.ink import words_on
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.cover import ROUNDED, put_cover
from layout_app.planner.status_words import sawing_sentence
from shared.cuts.sequence import saw_up
from shared.layout import Layout
from shared.making.recording import records
from shared.making.timing import total_of, worked
from shared.saw import verify
from shared.saw.records import wrong_records
from shared.shop import SawingOrder
from solver.outcome import choice_of
from tests.seconds import minutes_of, seconds_by_kind
from tests.soak.recording import any_job, any_shop
from tests.soak.timing import paced

JOBS = 12
TAKES = re.compile(r"\b(\d+) min\b(?! could be saved)")
"""Minutes of the whole plan, as all sentences write them."""
OF_THE_ORDER = {
    "model/words/choice_words.py",
    "model/words/minute_words.py",
    "model/words/order_words.py",
    "model/words/wording.py",
    "paper/front_words.py",
    "planner/status_words.py",
}
"""Modules whose words tell the minutes of a plan in its order: what they say is read below."""
OF_THE_LAYOUT = {
    "cli/report.py",
    "model/words/cost_words.py",
    "model/words/lock_words.py",
}
"""Those that estimate, before there is an order, what a change of the layout takes more or less;
and the course of planning."""


NO_TIME = {"look/style_sheet.py", "paper/published/style.py"}


def drawn(seed: int) -> Document | None:
    """Return a project with sheets, shop, pace, mode and order drawn; ``None`` if none is cut."""
    rng = Random(seed)
    shop = replace(paced(any_shop(rng), rng), sawing=rng.choice(tuple(SawingOrder)))
    job, sheets = any_job(rng, shop)
    order = [cut.key for cut in saw_up(job, sheets).cuts]
    rng.shuffle(order)
    if not order or verify(saw_up(job, sheets, order=order)):
        return None
    layout = Layout(
        sheets=tuple(sheets), order=tuple(order), sawing=shop.sawing, least_s=rng.randint(-1, 99)
    )
    doc = Document(Project(job=job, layout=layout))
    return doc if doc.plan is not None and not doc.problems else None


def documents(number: int) -> Iterator[Document]:
    """Yield so many of them."""
    found = (doc for seed in range(10_000) if (doc := drawn(seed)) is not None)
    yield from (doc for doc, _ in zip(found, range(number), strict=False))


def told(doc: Document) -> dict[str, str]:
    """Return the words of each outlet that tell how long a plan takes."""
    plan, job = doc.plan, doc.job
    assert plan is not None
    matter, choice = matter_of_sawn(doc.sawn), choice_of(plan, job)
    head, first, _ = choices_table({1: choice, 2: choice}, 1)
    minutes = first.split()[2 + head.split().index("minutes")]
    return {
        "status line": sawing_sentence(doc.takes),
        "its tip": minutes_tip(doc.takes, job.shop).split(":")[0],
        "head of the cards": sequence_words(doc.sawn, doc.takes),
        "cover": " ".join(figures(matter)),
        "effort": effort_sentence(plan, job),
        "command line": summary(plan, job, order_words(doc.sawn)),
        "choice": figures_of(choice)[1],
        "table of choices": f"{minutes} min",
    }


def on_cover(doc: Document) -> list[int]:
    """Return the minutes of each kind of work as the page says them."""
    book = Book(Paper.A4, "Trial")
    put_cover(book, matter_of_sawn(doc.sawn))
    text = " ".join(words.text for page in book.pages() for words, _ in words_on(page.items))
    _, table = text.split(HEADING)
    found = re.findall(rf"\b({'|'.join(KINDS.values())}) (\d+) (?=\w)", table.split(ROUNDED)[0])
    return [int(number) for _, number in found]


def test_minutes_are_one_number(qtbot: QtBot) -> None:
    """Sum of records, worked out, tally, line, cards, cover, terminal and choice agree."""
    del qtbot
    modes = set()
    for doc in documents(JOBS):
        plan, shop = doc.plan, doc.job.shop
        assert plan is not None
        assert doc.takes is not None
        made = records((plan,), shop)
        assert list(wrong_records((plan,), shop, made)) == []
        true, took = minutes_of(made, shop), doc.takes.took
        assert +Counter(asdict(took)) == seconds_by_kind(made, shop)
        assert worked(plan, shop).seconds == total_of(made, shop) == took
        assert total_of((card.record for card in all_cards(doc)), shop) == took
        assert (doc.takes.minutes, choice_of(plan, doc.job).minutes) == (true, true)
        for outlet, text in told(doc).items():
            assert set(TAKES.findall(text)) == {str(true)}, f"{outlet}: {text}"
        assert sum(on_cover(doc)) == sum(minutes for _, minutes in shares(took)) == true
        modes.add(shop.sawing)
    assert modes == set(SawingOrder)


def test_each_place_that_tells_minutes_is_known() -> None:
    """A module of words that begins to tell minutes is added here, and to what is read above."""
    ring = Path(layout_app.__file__).parent
    telling = {
        path.relative_to(ring).as_posix()
        for path in ring.rglob("*.py")
        if " min" in (source := path.read_text("utf-8"))
        and any(re.search(r" min\b", text) for text in _texts(source))
    }
    assert telling - NO_TIME == OF_THE_ORDER | OF_THE_LAYOUT


def _texts(source: str) -> Iterator[str]:
    """Yield the texts in a module that are no docstrings."""
    tree = ast.parse(source)
    said = {id(one.value) for one in ast.walk(tree) if isinstance(one, ast.Expr)}
    for one in ast.walk(tree):
        if isinstance(one, ast.Constant) and isinstance(one.value, str) and id(one) not in said:
            yield one.value

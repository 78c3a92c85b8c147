"""The pack of a job that is half sawn: what is done and made is counted, and told as such."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model.words.wording import numbers_in_words
from layout_app.panels.ticks import all_cards
from layout_app.paper.front_words import assumptions, figures
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.lists import sheets_of
from layout_app.paper.titled import facts
from shared.lengths import INCH
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import begun_document, document
from tests.properties.test_mistakes import plan_around


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the small job, the first side sawn off, and the rest planned anew."""
    del qtbot
    made = begun_document()
    assert plan_the_rest(made, {})
    plan_around(made)
    return made


def test_parts_that_are_done_are_told_apart(doc: Document) -> None:
    """Seven copies less the one that is sawn are those on the sheets; the list says where."""
    matter = matter_of_sawn(doc.sawn)
    assert len(matter.plan.placements) == 6
    assert "7 parts of 2 kinds: 1 is done, 6 to saw." in list(figures(matter))
    told = {part.id: sheets_of(part, matter) for part in matter.job.parts}
    assert told["side"].endswith(", 1 done")
    assert "done" not in told["shelf"]


def test_cuts_that_are_made_are_told(doc: Document) -> None:
    """Those before the new plan, and those ticked of it; in another unit as well."""
    assert "3 cuts are made already (1, 2, 4)." in list(figures(matter_of_sawn(doc.sawn)))
    assert doc.plan is not None
    tick(doc, [doc.plan.cuts[0].number])
    assert doc.plan.cuts[0].number == 5
    assert "4 cuts are made already (1, 2, 4, 5)." in list(figures(matter_of_sawn(doc.sawn)))


def test_what_was_set_keeps_its_name_from_the_plan_before(qtbot: QtBot) -> None:
    """Paper and cards name what was set alike, also once another plan follows seven cuts."""
    del qtbot
    doc = document()
    tick(doc, list(range(1, 8)))
    assert plan_the_rest(doc, {})
    plan_around(doc)
    assert doc.plan is not None
    named = {card.number: card.told.setting.name for card in all_cards(doc)}
    told = {one.number: one.setting.name for one in matter_of_sawn(doc.sawn).told}
    assert list(told) == [cut.number for cut in doc.plan.cuts]
    assert told == {number: named[number] for number in told}
    alone = matter_of_plan(doc.job, doc.plan).told
    assert set(told.values()) != {one.setting.name for one in alone}


def test_nothing_is_said_to_be_done_before_the_first_cut(qtbot: QtBot) -> None:
    """A pack of a fresh plan has no word about it."""
    del qtbot
    said = list(figures(matter_of_sawn(document().sawn)))
    assert "7 parts of 2 kinds." in said
    assert not [one for one in said if "made" in one or "done" in one]


@pytest.mark.parametrize(
    ("numbers", "said"),
    [((1, 2, 3, 4), "1 to 4"), ((1, 2), "1, 2"), ((2, 4, 5, 6, 9), "2, 4 to 6, 9"), ((7,), "7")],
)
def test_runs_of_numbers(numbers: tuple[int, ...], said: str) -> None:
    """Three or more in a row are a run."""
    assert numbers_in_words(numbers) == said


def test_an_odd_kerf_is_told_with_how_it_is_off_the_mark(qtbot: QtBot) -> None:
    """0.087 in is 3/32 less 0.007, over a quarter of 1/64: on the cover and beside each sheet."""
    del qtbot
    matter = matter_of_sawn(document().sawn)
    job = replace(matter.job, shop=replace(matter.job.shop, kerf=INCH * 87 // 1000))
    said = next(assumptions(replace(matter, job=job)))
    assert said == "Kerf of the track saw: 3/32 shy in, exactly 2.2098 mm."
    assert "Kerf 3/32 shy in." in facts(matter.drawings[0], matter.style, job)

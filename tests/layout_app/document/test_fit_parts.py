"""Fit parts: the blank waits, and is cut last, to what was measured."""

from collections.abc import Iterable
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.model.project import Project
from shared.lengths import INCH
from shared.plan import Cut, CutKind
from shared.saw import verify
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, part, planned, small_job
from tests.properties.test_mistakes import plan_around

ALLOWANCE = INCH // 4


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return two sides, and a front that waits for its opening; every cut there is is ticked."""
    del qtbot
    front = replace(part("front", "Front", (20, 10)), fit_allowance=ALLOWANCE)
    job = replace(small_job(), parts=(front, part("side", "Side", (40, 12), 2)))
    made = Document(Project(job=job))
    adopt(made, planned(job))
    assert made.plan is not None
    tick(made, [cut.number for cut in made.plan.cuts])
    return made


@pytest.fixture
def said(doc: Document) -> list[str]:
    """Return what the document says."""
    heard: list[str] = []
    doc.said.connect(heard.append)
    return heard


def passes(cuts: Iterable[Cut]) -> list[Cut]:
    """Return cuts without their keys, which name the parts that come of them."""
    return [replace(cut, key="") for cut in cuts]


def test_measuring_finishes_the_plan(doc: Document) -> None:
    """Both last cuts of the front come behind all that are ticked, and number onward."""
    assert doc.plan is not None
    made = len(doc.plan.cuts)
    assert edit_parts.measure(doc, "front", 20 * INCH + INCH // 8, 10 * INCH)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    new = doc.plan.cuts[made:]
    assert [cut.kind for cut in new] == [CutKind.FINISH, CutKind.FINISH]
    assert [cut.number for cut in new] == [made + 1, made + 2]
    assert {cut.size for cut in new} == {20 * INCH + INCH // 8, 10 * INCH}
    assert doc.progress.made == tuple(range(1, made + 1))


def test_measured_as_large_as_the_blank_needs_one_cut_or_none(doc: Document) -> None:
    """A side that is measured as large as the blank needs no cut there."""
    assert doc.plan is not None
    made = len(doc.plan.cuts)
    edit_parts.measure(doc, "front", 20 * INCH + ALLOWANCE, 10 * INCH)
    assert doc.plan is not None
    assert len(doc.plan.cuts) == made + 1


def test_blank_that_is_too_small_needs_new_stock(doc: Document, said: list[str]) -> None:
    """A front measured an inch longer than its blank is planned again; the ticks stay."""
    before = passes(doc.progress.ticked)
    edit_parts.measure(doc, "front", 21 * INCH + ALLOWANCE, 10 * INCH)
    assert "is too small for L 21 1/4 × W 10 in as measured" in said[-1]
    assert "another blank is planned" in said[-1]
    assert ("front", 1) in {one.key for one in doc.layout.waiting}
    assert passes(doc.progress.ticked) == before
    plan_around(doc)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert doc.plan.unplaced == ()
    assert [sheet.id for sheet in doc.plan.sheets] == ["1", "2"]
    assert passes(doc.plan.cuts[: len(before)]) == before
    (front,) = (one for one in doc.plan.placements if one.part == "front")
    assert front.sheet == "2"
    assert {cut.size for cut in doc.plan.cuts if cut.kind is CutKind.FINISH} >= {
        21 * INCH + ALLOWANCE,
        10 * INCH,
    }


def test_finished_front_is_not_measured_again(doc: Document, said: list[str]) -> None:
    """Once its last cuts are ticked another measure would change them: it is refused."""
    edit_parts.measure(doc, "front", 20 * INCH, 10 * INCH)
    assert doc.plan is not None
    tick(doc, [cut.number for cut in doc.plan.cuts])
    assert not edit_parts.measure(doc, "front", 19 * INCH, 10 * INCH)
    assert "is made, and this would change it" in said[-1]


def test_measuring_is_undone_as_one_step(doc: Document) -> None:
    """Undo lets the front wait again; its blank was never touched."""
    before = doc.plan
    edit_parts.measure(doc, "front", 20 * INCH, 10 * INCH)
    doc.undo()
    assert doc.plan == before


def test_document_of_the_small_job_has_no_fit_part() -> None:
    """A part that is no fit part cannot be too small for what was measured."""
    doc = document()
    side = doc.job.part("side")
    assert side.fit_allowance == 0
    edit_parts.measure(doc, "side", 50 * INCH, 12 * INCH)
    assert doc.job.part("side").length == side.length

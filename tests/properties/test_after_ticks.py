"""Once cuts are ticked: what gets smaller stays put, and what cannot stay is planned from there."""

import gc
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_job, edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import Edit
from layout_app.document.replan_rest import change_the_rest, plan_the_rest
from layout_app.model.pieces_on_hand import touched
from layout_app.model.project import Project
from layout_app.model.replan import half_done
from shared.job import Job
from shared.lengths import MM
from shared.plan import Cut
from shared.progress import changed_in
from shared.saw import verify
from tests.properties.test_mistakes import (
    cuts_made,
    nothing_lost,
    plan_around,
    small_jobs,
    tick_some,
)


@pytest.fixture(scope="module", autouse=True)
def _app(qapp: QApplication) -> Iterator[None]:
    """Have the timers of a document, and collect documents while there is a program."""
    del qapp
    yield
    gc.collect()


def begun(job: Job, data: st.DataObject) -> Document:
    """Return a planned document with some cuts ticked."""
    doc = Document(Project(job=job))
    plan_around(doc)
    assume(doc.plan is not None)
    tick_some(doc, data)
    return doc


def price(doc: Document) -> int:
    """Return what all sheets in use cost."""
    return sum(sheet.price for sheet in doc.plan.sheets) if doc.plan is not None else 0


def sound(doc: Document, made: list[Cut]) -> None:
    """Check that the saw accepts what is shown, and that nothing made or wanted is lost."""
    assert doc.plan is None or verify(doc.plan) == ()
    assert changed_in(doc.progress, doc.plan) is None
    kept = {(cut.number, cut.sheet, cut.rect, cut.kerf) for cut in cuts_made(doc)}
    assert kept == {(cut.number, cut.sheet, cut.rect, cut.kerf) for cut in made}
    nothing_lost(doc)


@settings(max_examples=20)
@given(small_jobs(), st.data())
def test_a_smaller_part_stays_where_it_lies_and_costs_nothing(
    job: Job, data: st.DataObject
) -> None:
    """Any part, shorter or narrower or both: no part moves, no sheet is bought, ticks stay."""
    doc = begun(job, data)
    assume(bool(doc.progress.made))
    part = data.draw(st.sampled_from(doc.job.parts))
    less = st.integers(0, 30).map(lambda mm: mm * MM)
    smaller = replace(
        part, length=part.length - data.draw(less), width=part.width - data.draw(less)
    )
    assume(doc.plan is not None)
    lay = {p.key: (p.sheet, p.x, p.y, p.turned) for p in _placed(doc)}
    made, before = cuts_made(doc), price(doc)
    edit_parts.edit_part(doc, smaller)
    assert {p.key: (p.sheet, p.x, p.y, p.turned) for p in _placed(doc)} == lay
    assert price(doc) <= before
    sound(doc, made)
    doc.undo_stack.clear()


def _placed(doc: Document) -> list[object]:
    return [one for sheet in doc.layout.sheets for one in sheet.placements]


@settings(max_examples=20)
@given(small_jobs(), st.data())
def test_a_kerf_that_changes_under_ticks_is_for_the_rest(job: Job, data: st.DataObject) -> None:
    """Refused on the sheets as they are, it is made for the rest: one step, and undo is exact."""
    doc = begun(job, data)
    refused: list[Edit] = []

    def note(edit: Edit) -> bool:
        refused.append(edit)
        return True

    doc.asks = note
    kerf = data.draw(st.sampled_from([0, 2 * MM, 3 * MM, 4 * MM]))
    made = cuts_made(doc)
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=kerf))
    sound(doc, made)
    if refused and half_done(doc.project, doc.plan, {}) == "":
        [edit] = refused
        assert touched(doc.project)
        before, count = doc.project, doc.undo_stack.count()
        assert change_the_rest(doc, edit)
        assert doc.undo_stack.count() == count + 1
        assert doc.job.shop.kerf == kerf
        sound(doc, made)
        plan_around(doc)
        sound(doc, made)
        assert doc.plan is None or all(cut.kerf == kerf for cut in doc.plan.cuts)
        doc.undo()
        assert doc.project == before
    doc.undo_stack.clear()


@settings(max_examples=20)
@given(small_jobs(), st.data())
def test_random_edits_after_ticks_pass_the_saw(job: Job, data: st.DataObject) -> None:
    """Sizes, copies and mistakes in any order, each planned: the saw accepts every plan."""
    doc = begun(job, data)
    for _ in range(3):
        part = data.draw(st.sampled_from(doc.job.parts))
        size = data.draw(st.integers(60, 500)) * MM
        made = cuts_made(doc)
        edit_parts.edit_part(doc, replace(part, width=size, copies=data.draw(st.integers(1, 3))))
        sound(doc, made)
        if data.draw(st.booleans()) and doc.plan is not None:
            plan_the_rest(doc, {})
        plan_around(doc)
        sound(doc, made)
        if doc.plan is not None:
            tick_some(doc, data)
    doc.undo_stack.clear()

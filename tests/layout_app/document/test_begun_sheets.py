"""Begun sheets whose parts have left them: used up all the same, while their cuts are made."""

from dataclasses import replace

import pytest

from layout_app.document import edit_layout, edit_parts
from layout_app.document.ticks import tick
from layout_app.model.locks import asked
from shared.asked import Settled
from shared.lengths import INCH
from shared.saw import verify
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, planned

pytestmark = pytest.mark.usefixtures("qapp")


def test_bounds_count_a_begun_sheet_whose_parts_have_left() -> None:
    """It is used up, whatever lies on it now: the plan with it keeps to what the saw accepts."""
    doc = document()
    tick(doc, [1])
    for row in doc.job.parts:
        edit_parts.edit_part(doc, replace(row, width=row.width + INCH))
    assert not any(sheet.placements for sheet in doc.layout.sheets)
    doc.take_bounds(planned(doc.job).proof)
    assert doc.plan is not None
    assert doc.project.proof.value == 5200
    assert verify(doc.plan) == ()


def test_a_begun_sheet_whose_parts_have_left_is_not_doubled() -> None:
    """It was laid by hand and stays once; the new plan's own sheet comes beside it."""
    doc = document()
    edit_layout.move_part(doc, "shelf", 3, "1", 60 * INCH, 34 * INCH + INCH // 2)
    tick(doc, [1])
    for row in doc.job.parts:
        edit_parts.edit_part(doc, replace(row, width=row.width + INCH))
    (left,) = doc.layout.sheets
    assert left.yours
    assert not left.placements
    ways = asked(doc.project)
    plan = run(doc.job, Budget(time_s=0.0), lambda event: None, Settled(kept=ways.kept))
    assert plan is not None
    adopt(doc, plan)
    assert [len(sheet.placements) for sheet in doc.layout.sheets] == [0, 7]


@pytest.mark.parametrize("yours", [False, True])
def test_a_sheet_without_parts_goes_when_its_cuts_are_unticked(yours: bool) -> None:
    """It was in the plan as it was begun; one that was laid by hand stays on the bench, empty."""
    doc = document()
    if yours:
        edit_layout.move_part(doc, "shelf", 3, "1", 60 * INCH, 34 * INCH + INCH // 2)
    tick(doc, [1])
    for row in doc.job.parts:
        edit_parts.edit_part(doc, replace(row, width=row.width + INCH))
    doc.take_bounds(planned(doc.job).proof)
    assert doc.plan is not None
    assert [sheet.id for sheet in doc.plan.sheets] == ["1"]
    doc.set_progress(doc.progress.without_ticks([1]))
    assert doc.plan is None
    assert doc.project.proof.value == 0
    assert [sheet.id for sheet in doc.layout.sheets] == (["1"] if yours else [])

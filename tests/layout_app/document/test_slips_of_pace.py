"""A pace that nobody can mean leaves sheets and order as they are, and says one sentence."""

from dataclasses import replace

import pytest

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.model.project import Project
from shared.check import check_job
from shared.issues import Severity
from tests.layout_app.small_job import document


@pytest.mark.parametrize("seconds", [-1, 31_536_000, 2**53])
def test_a_slip_in_a_file_leaves_all_that_lies(seconds: int) -> None:
    """Sheets, also those laid out by hand, are there once the figure is put right; so is undo."""
    good = document()
    sheets = tuple(replace(one, yours=True) for one in good.layout.sheets)
    layout, shop = replace(good.layout, sheets=sheets), good.job.shop
    job = replace(good.job, shop=replace(shop, lift_s=seconds))
    doc = Document(Project(job=job, layout=layout))
    (issue,) = [one for one in check_job(doc.job) if one.severity is Severity.ERROR]
    assert issue.sentence.startswith(f"Seconds for a lift: {seconds:,} is ")
    assert issue.field == "lift_s"
    assert doc.plan is None
    assert doc.layout.sheets == sheets
    assert edit_job.edit_shop(doc, shop)
    assert doc.layout.sheets == sheets
    assert doc.plan is not None
    assert doc.plan.placements == good.plan.placements
    doc.undo_stack.undo()
    assert (doc.plan, doc.layout.sheets) == (None, sheets)


def test_a_slip_in_the_window_is_one_step(qtbot: object) -> None:
    """Whatever sets it, the sheets stay on the bench meanwhile."""
    del qtbot
    doc = document()
    before = doc.layout.sheets
    edit_job.edit_shop(doc, replace(doc.job.shop, cut_s=3_601))
    assert doc.plan is None
    assert set(doc.problems.values()) == {"Sheet 1 waits until the pace is put right."}
    assert doc.layout.sheets == before
    edit_job.edit_shop(doc, replace(doc.job.shop, cut_s=3_600))
    assert doc.layout.sheets == before
    assert doc.plan is not None

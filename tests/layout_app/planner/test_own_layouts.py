"""What the status line says of sheets that are yours, and of sheets that can't be cut."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.model.words.order_words import sequence_words
from layout_app.planner.live import Planning, Standing
from layout_app.planner.status_words import proof_sentence
from layout_app.window.status_line import StatusLine
from shared.check import plannable
from shared.lengths import INCH
from shared.plan import Goal, Proof
from tests.layout_app.adopting import adopt
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document, planned


def said(doc: Document, **proof: object) -> str:
    """Return the sentence about a layout with that proof."""
    project = replace(doc.project, proof=replace(Proof(), **proof))
    return proof_sentence(project, doc.plan, Standing())


@pytest.mark.parametrize(
    ("goal", "bound", "words"),
    [
        (Goal.LEAST_PRICE, 5200, "yours: 2 sheets, 104.00; proven: none for less than 52.00"),
        (Goal.FEWEST_SHEETS, 1, "yours: 2 sheets, 104.00; proven: none with fewer than 1"),
        (Goal.FEWEST_SHEETS, 0, "yours: 2 sheets, 104.00; not proven"),
    ],
)
def test_an_own_layout_is_held_against_the_bound(goal: Goal, bound: int, words: str) -> None:
    """The sheets are called yours, and what no plan can do better than stands beside them."""
    doc = document()
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    assert said(doc, goal=goal, value=2, bound=bound) == words


def test_parts_on_a_spoiled_sheet_lie_on_a_sheet() -> None:
    """Parts whose sheet cannot be cut are not counted as lying on none, and it is paid."""
    doc = document()
    edit_layout.move_part(doc, "shelf", 1, "1", INCH, INCH)
    assert doc.plan is None
    assert said(doc) == "1 sheet, 52.00, sheet 1 can't be cut yet"
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    edit_layout.set_aside(doc, [("shelf", 2)])
    assert said(doc) == (
        "yours: 2 sheets, 104.00, sheet 1 can't be cut yet, 1 part set aside; not everything is"
        " placed"
    )


def test_parts_of_a_row_with_an_error_are_not_planned() -> None:
    """A length is emptied: nothing is claimed as if its copies were none, and undo brings all."""
    doc = document()
    shelf = doc.job.part("shelf")
    edit_parts.edit_part(doc, replace(shelf, length=0))
    adopt(doc, planned(plannable(doc.job)))
    words = said(doc, goal=Goal.LEAST_PRICE, value=5200, bound=5200, proven=True)
    assert words.startswith(
        "1 sheet, 52.00, 3 parts not planned until fixed: for the rest, least price proven"
    )
    doc.undo()
    assert "not planned" not in said(doc)


def test_what_is_proven_beside_a_spoiled_sheet_is_of_the_rest() -> None:
    """No claim covers a sheet that cannot be cut."""
    doc = document()
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    edit_layout.move_part(doc, "shelf", 1, "1", INCH, INCH)
    words = said(doc, goal=Goal.FEWEST_SHEETS, value=1, bound=1, proven=True)
    assert "can't be cut yet; for the rest, fewest proven" in words


def test_a_sheet_that_a_part_leaves_is_cut_as_before() -> None:
    """What is left of a planned sheet has the cuts it had, and is put back among them."""
    doc = document()
    before = doc.plan
    assert before is not None
    for part, copy in (("side", 1), ("shelf", 2), ("side", 4)):
        edit_layout.set_aside(doc, [(part, copy)])
        assert doc.plan is not None
        left = {(cut.level, cut.rect) for cut in doc.plan.cuts}
        assert left <= {(cut.level, cut.rect) for cut in before.cuts}
        doc.undo()


def test_a_spoiled_sheet_takes_time_and_costs_money_too(qtbot: QtBot) -> None:
    """What the other sheet takes is what all takes at least; both sheets at 52.00 are paid."""
    doc, planner = document(), silent_planner()
    status = StatusLine(doc, Planning(doc, planner))
    qtbot.addWidget(status)
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    status.refresh()
    assert status.sawing.text().startswith("about ")
    edit_layout.move_part(doc, "shelf", 1, "1", INCH, INCH)
    status.refresh()
    planner.close()
    assert doc.plan is not None
    assert status.sawing.text().startswith("at least ")
    assert status.proof.text().startswith("yours: 2 sheets, 104.00, sheet 1 can't be cut yet")
    assert "set-up change" in sequence_words(doc.sawn, doc.takes)
    assert ", at least " in sequence_words(doc.sawn, doc.takes)
    assert "about" not in sequence_words(doc.sawn, doc.takes)

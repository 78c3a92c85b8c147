"""What has to be bought is told apart from what lies on the maker's own rack."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.words.wording import material_sentence, proof_sentence
from layout_app.planner import status_words
from layout_app.planner.after_replan import Before, need_words
from layout_app.planner.live import Standing
from shared.job import Job
from shared.lengths import INCH
from shared.parts import Part
from shared.plan import Goal, Plan
from shared.saw import verify
from solver.advice.words import forcing_sentence
from solver.outcome import Forcing
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job


def with_own_offcut(*parts: Part) -> tuple[Job, Plan]:
    """Return the plan of some parts from full sheets of 52.00 and an offcut of one's own."""
    job = small_job()
    rest = replace(
        job.stock[0], id="rest", name="Offcut", length=41 * INCH, width=13 * INCH, price=None
    )
    job = replace(job, parts=parts, stock=(*job.stock, replace(rest, at_hand=1)))
    return job, planned(job)


def test_what_is_bought_is_told_apart_from_what_is_ones_own(qtbot: QtBot) -> None:
    """An offcut that is taken besides is no purchase, and a sheet bought in its place is one."""
    del qtbot
    small, large = part("small", "Small", (40, 12)), part("large", "Large", (90, 40))
    job, plan = with_own_offcut(small, large)
    assert need_words(job, plan, Before()) == (
        "This takes 1 more sheet of birch ply than was planned, to be bought, for Large."
        " This takes 1 more sheet of yours (Offcut, birch ply) than was planned, for Small;"
        " nothing has to be bought for that."
    )
    _, before = with_own_offcut(small)
    dearer, after = with_own_offcut(large)
    assert need_words(dearer, after, Before(before)) == (
        "This takes 1 more sheet of birch ply than was planned, to be bought, for Large."
    )


def test_a_plan_that_buys_nothing_says_so(qtbot: QtBot) -> None:
    """In the status line, on the terminal and on paper: no price of 0.00, and no silence."""
    del qtbot
    job, plan = with_own_offcut(part("small", "Small", (40, 12)))
    assert plan.proof.goal is Goal.LEAST_PRICE
    assert plan.proof.value == 0
    said = "1 sheet, nothing to buy: least price proven"
    assert proof_sentence(plan).startswith(said)
    doc = Document(Project(job=job))
    adopt(doc, plan)
    assert status_words.proof_sentence(doc.project, doc.plan, Standing()).startswith(said)
    assert "birch ply: nothing to buy, least price" in material_sentence(plan.proof.materials[0])


@pytest.mark.parametrize("goal", [Goal.LEAST_PRICE, Goal.LEAST_AREA])
def test_where_nothing_is_bought_nothing_forces_a_sheet(goal: Goal) -> None:
    """What would save a sheet says that, and no amount of 0.00."""
    forcing = Forcing(material="birch ply", goal=goal, value=0, need=0, parts=(), sentence="")
    for proven in (True, False):
        assert forcing_sentence(small_job(), forcing, proven=proven) == (
            "birch ply: nothing has to be bought for it, so nothing can be saved."
        )


def test_a_sheet_without_a_price_that_comes_into_use_by_hand_makes_no_least_price() -> None:
    """The board on the rack costs nothing; with one to be bought beside it, no price is whole."""
    job = small_job()
    own = replace(job.stock[0], id="own", material="board", price=None, at_hand=1)
    more = replace(own, id="more", name="more board", length=80 * INCH, at_hand=None)
    lid = replace(part("lid", "Lid", (40, 12)), material="board")
    job = replace(job, parts=(*job.parts, lid), stock=(*job.stock, own, more))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    assert doc.project.proof.goal is Goal.LEAST_PRICE
    edit_layout.add_sheet(doc, "more")
    sheet = doc.layout.sheets[-1].id
    edit_layout.move_part(doc, "lid", 1, sheet, 0, 0)
    assert doc.plan is not None
    assert {one.stock for one in doc.plan.sheets} == {"full", "more"}
    assert doc.project.proof.goal is Goal.LEAST_COST
    assert verify(doc.plan) == ()

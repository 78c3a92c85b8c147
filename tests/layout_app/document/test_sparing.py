"""A change of one row leaves alone every sheet that it need not touch."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.document.ticks import tick
from layout_app.model.project import Project
from layout_app.model.sparing import Sparing, untouched
from layout_app.planner.live import Planning
from shared.job import Job
from shared.lengths import INCH
from shared.plan import Plan
from shared.saw import verify
from solver.budget.stop import Budget
from solver.outcome import Done, EndReason
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import AtOnce, sawn_of
from tests.layout_app.small_job import part, planned, small_job


class Sparely(AtOnce):
    """A planner that answers each run at once; keeps which sheets it was to spare."""

    def __init__(self) -> None:
        super().__init__()
        self.spared: list[frozenset[str]] = []

    def plan(self, project: Project, limits: Budget, spared: object = ()) -> None:
        """Plan it now."""
        del limits
        assert isinstance(spared, frozenset | tuple)
        self.spared.append(frozenset(spared))
        self.better.emit(sawn_of(project, frozenset(spared)))
        self.done.emit(Done(reason=EndReason.PROVEN, elapsed_s=0.0, statistics=()))


def wide_job() -> Job:
    """Return panels that fill a sheet each, and slats that share a third one."""
    parts = (
        part("top", "Top", (90, 40), 1),
        part("base", "Base", (80, 44), 1),
        part("slat", "Slat", (40, 10), 4),
    )
    return replace(small_job(), parts=parts)


@pytest.fixture
def owner(qtbot: QtBot) -> QObject:
    """Return an owner of what plans."""
    del qtbot
    return QObject()


def desk(owner: QObject, job: Job | None = None) -> tuple[Document, Sparely, Planning]:
    """Return a planned document and who plans it."""
    doc, planner = Document(Project(job=job or wide_job())), Sparely()
    adopt(doc, planned(doc.job))
    return doc, planner, Planning(doc, planner, owner)


def on(doc: Document, part_id: str) -> str:
    """Return the sheet that the first copy of a part lies on."""
    return next(
        one.sheet for sheet in doc.layout.sheets for one in sheet.placements if one.part == part_id
    )


def price(plan: Plan | None) -> int:
    """Return what the sheets of a plan cost."""
    assert plan is not None
    return sum(sheet.price for sheet in plan.sheets)


@pytest.mark.parametrize("length", [85, 95])
def test_a_change_of_one_size_keeps_the_other_sheets(owner: QObject, length: int) -> None:
    """The top gets shorter or longer: the sheets of the base and the slats stay to the tick."""
    doc, planner, planning = desk(owner)
    touched = on(doc, "top")
    others = {sheet.id: sheet for sheet in doc.layout.sheets if sheet.id != touched}
    edit_parts.edit_part(doc, replace(doc.job.part("top"), length=length * INCH))
    assert planner.spared == [frozenset(others)]
    assert {one.id: one for one in doc.layout.sheets if one.id in others} == others
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert price(doc.plan) == 3 * 5200
    assert planning.partial


def test_what_no_longer_fits_takes_the_least_filled_sheet_too(owner: QObject) -> None:
    """A side as long as the sheet has room on the sheet of the slats alone: no sheet is bought."""
    job = wide_job()
    job = replace(job, parts=(part("door", "Door", (90, 44), 1), part("slat", "Slat", (30, 10), 4)))
    job = replace(job, parts=(*job.parts, part("rail", "Rail", (60, 3), 1)))
    doc, planner, _ = desk(owner, job)
    before = price(doc.plan)
    assert on(doc, "rail") == on(doc, "door")
    edit_parts.edit_part(doc, replace(doc.job.part("rail"), width=6 * INCH))
    slats = on(doc, "slat")
    assert slats in planner.spared[0]
    assert slats not in planner.spared[1]
    assert price(doc.plan) == before
    assert on(doc, "rail") == on(doc, "slat")


def test_new_copies_may_need_any_sheet() -> None:
    """One slat more is planned over all sheets, fewer slats over the sheets they lay on."""
    doc = Document(Project(job=wide_job()))
    adopt(doc, planned(doc.job))
    heard: list[Consequence] = []
    doc.edited.connect(heard.append)
    edit_parts.edit_part(doc, replace(doc.job.part("slat"), copies=5))
    edit_parts.edit_part(doc, replace(doc.job.part("slat"), copies=3))
    assert heard == [Consequence.PLAN_ANEW, Consequence.PLAN_TOUCHED]


def test_a_second_change_plans_on_what_the_first_had_begun() -> None:
    """A sheet that a run is planning is no sheet to be spared, though the second left it alone."""
    doc = Document(Project(job=wide_job()))
    adopt(doc, planned(doc.job))
    assert doc.plan is not None
    first = on(doc, "top")
    under_way = Sparing(
        sheets=frozenset({on(doc, "base"), on(doc, "slat")}), before=doc.plan, job=doc.job
    )
    edit_parts.edit_part(doc, replace(doc.job.part("slat"), length=41 * INCH))
    found = untouched(doc.before_edit, doc.project, under_way)
    assert found is not None
    assert found.sheets == {on(doc, "base")}
    assert first not in found.sheets


def test_a_shorter_part_after_ticks_costs_no_sheet_and_moves_nothing(owner: QObject) -> None:
    """With a cut of the slats' sheet ticked nothing is planned, and every part stays put."""
    doc, planner, _ = desk(owner)
    assert doc.plan is not None
    first = next(cut.number for cut in doc.plan.cuts if cut.sheet == on(doc, "slat"))
    tick(doc, range(1, first + 1))
    before, ticked = price(doc.plan), doc.progress.ticked
    corners = {p.key: (p.sheet, p.x, p.y) for p in doc.plan.placements}
    edit_parts.edit_part(doc, replace(doc.job.part("slat"), length=39 * INCH, width=9 * INCH))
    assert planner.spared == []
    assert doc.plan is not None
    assert {p.key: (p.sheet, p.x, p.y) for p in doc.plan.placements} == corners
    assert price(doc.plan) == before
    assert verify(doc.plan) == ()
    assert doc.progress.ticked == ticked

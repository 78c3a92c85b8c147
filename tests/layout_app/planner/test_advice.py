"""What would save a sheet, in the window: looked for when asked, applied when told, undone."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.planner.advice import At, heed
from layout_app.planner.process import PlannerProcess
from layout_app.planner.run import PlannerRun, Work
from layout_app.window.main_window import MainWindow
from shared.changes import Change, ChangeKind, PartSide, SheetEdge
from shared.job import Job
from shared.lengths import INCH, Length
from shared.parts import GrainRule
from shared.plan import Goal, Plan
from shared.saw import verify
from shared.stock import Trims
from solver.budget.stop import Budget
from solver.outcome import AdviceEnded, EndReason, Forcing, Suggestion
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job

WAIT_MS = 30_000
HALF = Change(kind=ChangeKind.SHORTEN, part="half", side=PartSide.WIDTH, amount=INCH // 16)


class Asked(PlannerProcess):
    """A planner that only notes what it is asked; a test answers for it."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[Length | None] = []

    def start(self) -> None:
        """Start no process: what is begun ends when something else is, or it is cancelled."""

    def advise(
        self, project: Project, plan: Plan, limits: Budget, shorten_up_to: Length | None = None
    ) -> PlannerRun:
        """Note the limit."""
        self.asked.append(shorten_up_to)
        return super().advise(project, plan, limits, shorten_up_to)


def tight_job() -> Job:
    """Return two halves of a sheet, which lack one kerf."""
    return replace(small_job(), parts=(part("half", "Half", (96, 24), 2),))


@pytest.fixture
def planner() -> Asked:
    """Return a planner that answers nothing."""
    return Asked()


@pytest.fixture
def window(qtbot: QtBot, planner: Asked) -> Iterator[MainWindow]:
    """Return a window on the two halves, planned on two sheets."""
    document = Document(Project(job=tight_job()))
    adopt(document, planned(document.job))
    made = MainWindow(document, planner=planner)
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def suggestion(change: Change = HALF, sentence: str = "Make Half 1/16 in narrower.") -> Suggestion:
    """Return a suggestion; its plan is not looked at by the window."""
    return Suggestion(
        change=change,
        material="birch ply",
        goal=Goal.FEWEST_SHEETS,
        sheets_before=2,
        sheets=1,
        price_before=10400,
        price=5200,
        smallest=True,
        plan=Plan(),
        sentence=sentence,
        caution="Mind this.",
    )


def looked(found: int = 1) -> AdviceEnded:
    """Return the end of a look."""
    return AdviceEnded(
        reason=EndReason.PROVEN, found=found, ruled_out=3, open=0, elapsed_s=1.0, sentence="So far."
    )


@pytest.mark.parametrize(
    ("change", "differs"),
    [
        (HALF, lambda job: job.part("half").width == 24 * INCH - INCH // 16),
        (
            Change(kind=ChangeKind.TURN, part="half"),
            lambda job: job.part("half").grain_rule is GrainRule.EITHER,
        ),
        (Change(kind=ChangeKind.DROP, part="half"), lambda job: job.part("half").copies == 1),
        (Change(kind=ChangeKind.DROP, part="shelf"), lambda job: len(job.parts) == 1),
        (Change(kind=ChangeKind.KERF, amount=INCH // 16), lambda job: job.shop.kerf == INCH // 16),
        (
            Change(kind=ChangeKind.TRIM, stock="full", edges=(SheetEdge.NEAR,), amount=INCH // 2),
            lambda job: job.stock_row("full").trims == Trims(far=INCH // 4),
        ),
    ],
)
def test_each_change_is_one_step(change: Change, differs: Callable[[Job], bool]) -> None:
    """What is applied changes the job as it says, and one undo brings it back."""
    job = tight_job()
    row = replace(job.stock[0], trims=Trims(near=INCH // 2, far=INCH // 4))
    document = Document(
        Project(
            job=replace(job, parts=(*job.parts, part("shelf", "Shelf", (30, 10))), stock=(row,))
        )
    )
    before = document.job
    assert heed(document, change)
    assert differs(document.job)
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert document.job == before


def test_nothing_is_looked_for_while_a_sheet_cannot_be_cut(
    window: MainWindow, planner: Asked
) -> None:
    """A plan of the other sheets is no measure of what would be saved."""
    edit_layout.move_part(window.document, "half", 2, "2", INCH, INCH)
    edit_layout.add_sheet(window.document, "full")
    edit_layout.move_part(window.document, "half", 1, "3", 0, 0)
    assert window.document.problems.keys() == {"2"}
    window.offers.looking.look()
    assert planner.asked == []
    assert window.offers.looking.at is At.NOTHING
    assert window.offers.looking.sentence == "sheet 2 can't be cut yet"


def test_the_drawer_fills_while_it_is_looked(window: MainWindow, planner: Asked) -> None:
    """The action opens it and asks; what is heard appears, a smaller change in the same row."""
    assert window.drawers.advice.isHidden()
    window.menus.actions["bench.advice"].trigger()
    assert window.drawers.advice.isVisible()
    assert planner.asked == [None]
    assert window.offers.looking.at is At.LOOKING
    larger = replace(HALF, amount=INCH)
    planner.advised.emit(
        Forcing(
            material="birch ply",
            goal=Goal.FEWEST_SHEETS,
            value=2,
            need=1003,
            parts=(),
            sentence="Forced by Half.",
        )
    )
    planner.advised.emit(suggestion(larger, "Make Half 1 in narrower."))
    planner.advised.emit(suggestion())
    assert window.drawers.advice.forcing.text() == "Forced by Half."
    [row] = window.drawers.advice.suggestions
    assert row.sentence.text() == "Make Half 1/16 in narrower."
    assert row.saving.text() == "saves 1 sheet"
    assert row.caution.text() == "Mind this."
    assert row.button.accessibleName() == "Apply: Make Half 1/16 in narrower."
    planner.looked.emit(looked())
    assert window.offers.looking.at is At.NOTHING
    assert window.drawers.advice.looked.text() == "So far."


def test_apply_is_a_step_and_makes_the_list_stale(window: MainWindow, planner: Asked) -> None:
    """Nothing is applied by itself; after Apply the list says that it is stale; undo heals it."""
    window.drawers.advice.open()
    planner.advised.emit(suggestion())
    planner.looked.emit(looked())
    before = window.document.job
    assert window.document.undo_stack.count() == 0
    [row] = window.drawers.advice.suggestions
    row.button.click()
    assert window.document.job.part("half").width == 24 * INCH - INCH // 16
    assert window.document.undo_stack.count() == 1
    assert window.offers.looking.is_stale
    assert not row.button.isEnabled()
    assert window.drawers.advice.doing.text() == "changed since"
    assert window.drawers.advice.again.isVisible()
    window.document.undo_stack.undo()
    assert window.document.job == before
    assert row.button.isEnabled()


def test_a_change_of_the_job_ends_the_look(window: MainWindow, planner: Asked) -> None:
    """An edit belongs to planning: the look gives way, and what comes late is not asked for."""
    window.drawers.advice.open()
    edit_parts.edit_part(window.document, replace(window.document.job.part("half"), copies=3))
    assert window.offers.looking.at is At.NOTHING
    assert planner.work is not Work.ADVICE
    assert window.offers.looking.is_stale


def test_it_waits_for_planning(window: MainWindow, planner: Asked, qtbot: QtBot) -> None:
    """While a plan still gets better, there is nothing to look at yet."""
    window.planning.start()
    window.drawers.advice.open()
    assert window.offers.looking.at is At.WAITING
    assert planner.asked == []
    window.planning.cancel()
    qtbot.waitUntil(lambda: planner.asked == [None])
    assert window.offers.looking.at is At.LOOKING


def test_stop_and_close(window: MainWindow, planner: Asked, qtbot: QtBot) -> None:
    """Stop keeps what was found; Esc puts the drawer away and ends the look."""
    window.drawers.advice.open()
    planner.advised.emit(suggestion())
    window.drawers.advice.stop.click()
    assert window.offers.looking.at is At.NOTHING
    assert planner.work is not Work.ADVICE
    assert len(window.drawers.advice.suggestions) == 1
    window.drawers.advice.again.click()
    assert window.drawers.advice.suggestions == []
    qtbot.keyClick(window.drawers.advice, Qt.Key.Key_Escape)
    assert window.drawers.advice.isHidden()
    assert planner.work is not Work.ADVICE


def test_the_limit_can_be_written(window: MainWindow, planner: Asked, qtbot: QtBot) -> None:
    """Another limit looks again with it; what is no length is said and changes nothing."""
    window.drawers.advice.open()
    assert window.drawers.advice.limit.text() == "1 in"
    window.drawers.advice.limit.setText("1/2")
    qtbot.keyClick(window.drawers.advice.limit, Qt.Key.Key_Return)
    assert planner.asked == [None, INCH // 2]
    window.drawers.advice.limit.setText("much")
    qtbot.keyClick(window.drawers.advice.limit, Qt.Key.Key_Return)
    assert planner.asked == [None, INCH // 2]
    assert window.status.doing.text()


def test_a_planner_that_dies_is_said(window: MainWindow, planner: Asked) -> None:
    """A look that breaks off says why, and can be begun again."""
    window.drawers.advice.open()
    planner.failed.emit("The planner stopped unexpectedly; run again.")
    assert window.offers.looking.at is At.NOTHING
    assert "unexpectedly" in window.drawers.advice.doing.text()
    window.drawers.advice.again.click()
    assert window.offers.looking.at is At.LOOKING


def test_from_the_real_planner(qtbot: QtBot) -> None:
    """Asked, found, applied, planned on one sheet less, and undone."""
    window = MainWindow(limits=Budget(time_s=20.0, patience_s=1.0, workers=1))
    qtbot.addWidget(window)
    window.show()
    window.document.open(Project(job=tight_job()), None)
    window.planning.plan_if_needed()
    document = window.document
    qtbot.waitUntil(lambda: document.plan is not None, timeout=WAIT_MS)
    window.drawers.advice.open()
    qtbot.waitUntil(lambda: window.offers.looking.heard.looked is not None, timeout=WAIT_MS)
    row = next(
        row for row in window.drawers.advice.suggestions if "narrower" in row.sentence.text()
    )
    assert "1/16 in narrower, all 2 of them" in row.sentence.text()
    row.button.click()
    qtbot.waitUntil(lambda: len(document.layout.sheets) == 1, timeout=WAIT_MS)
    assert document.plan is not None
    assert verify(document.plan) == ()
    document.undo_stack.undo()
    assert len(document.layout.sheets) == 2
    document.saved_state.note_saved(document.project, Path("not-written"))
    assert window.close()

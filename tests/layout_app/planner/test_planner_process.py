"""The planner beside the window, as a real process: plans, stops, dies, comes back, ends."""

import os
import signal
import sys
import threading
from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.model.carry_over import every_copy
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.planner.live import Planning
from layout_app.planner.process import DIED, PlannerProcess, spare_workers
from shared.lengths import INCH
from shared.saw import verify
from solver.budget.stop import Budget
from solver.outcome import Done, EndReason
from tests.layout_app.small_job import part, small_job

WAIT_MS = 30_000
SHORT = Budget(time_s=None, work=3, workers=1)
LONG = Budget(time_s=60.0, workers=1)


@pytest.fixture
def planner(qtbot: QtBot) -> Iterator[PlannerProcess]:
    """Return a planner that has said it is ready."""
    made = PlannerProcess()
    with qtbot.waitSignal(made.ready, timeout=WAIT_MS):
        made.start()
    yield made
    made.close()


def long_project() -> Project:
    """Return a project that keeps the planner busy for longer than a test takes."""
    job = small_job()
    odd = tuple(
        replace(part(f"p{n}", f"Part {n}", (7, 5), 3), length=(7 + n) * INCH + n * 1_001)
        for n in range(1, 16)
    )
    return Project(job=replace(job, parts=(*job.parts, *odd)))


def test_plan_comes_joined_and_sawn(planner: PlannerProcess, qtbot: QtBot) -> None:
    """The first answer of a run is a project whose plan passed the saw, every copy on a sheet."""
    with qtbot.waitSignal(planner.better, timeout=WAIT_MS) as heard:
        planner.plan(Project(job=small_job()), SHORT)
    sawn = heard.args[0]
    assert isinstance(sawn, Sawn)
    assert sawn.plan is not None
    assert verify(sawn.plan) == ()
    lying = {p.key for p in sawn.plan.placements}
    assert lying == set(every_copy(small_job()))


def test_run_says_when_it_is_done(planner: PlannerProcess, qtbot: QtBot) -> None:
    """After its last plan a run ends, and nothing is under way."""
    with qtbot.waitSignal(planner.done, timeout=WAIT_MS) as heard:
        planner.plan(Project(job=small_job()), SHORT)
    done = heard.args[0]
    assert isinstance(done, Done)
    assert done.reason in (EndReason.PROVEN, EndReason.WORK)
    assert not planner.running


def test_stop_ends_a_long_run_with_what_it_has(planner: PlannerProcess, qtbot: QtBot) -> None:
    """A stop is heard in the middle of a run that would take a minute."""
    with qtbot.waitSignal(planner.better, timeout=WAIT_MS):
        planner.plan(long_project(), LONG)
    with qtbot.waitSignal(planner.done, timeout=WAIT_MS) as heard:
        planner.stop()
    assert heard.args[0].reason is EndReason.STOPPED


def test_answers_of_another_run_are_dropped(planner: PlannerProcess, qtbot: QtBot) -> None:
    """Only plans of the last job asked for are heard, though the first run had begun."""
    heard: list[Sawn] = []
    planner.better.connect(heard.append)
    planner.plan(long_project(), LONG)
    last = Project(job=small_job())
    with qtbot.waitSignal(planner.done, timeout=WAIT_MS):
        planner.plan(last, SHORT)
    assert heard
    assert all(sawn.project.job == last.job for sawn in heard)


def test_nothing_is_heard_of_a_cancelled_run(planner: PlannerProcess, qtbot: QtBot) -> None:
    """After a cancel neither plans nor an end arrive."""
    heard: list[object] = []
    for news in (planner.better, planner.done, planner.failed, planner.progressed):
        news.connect(heard.append)
    planner.plan(long_project(), LONG)
    planner.cancel()
    with qtbot.waitSignal(planner.done, timeout=WAIT_MS):
        planner.plan(Project(job=small_job()), SHORT)
    assert all(one.project.job == small_job() for one in heard if isinstance(one, Sawn))
    assert sum(isinstance(one, Done) for one in heard) == 1


def test_sheets_that_are_yours_come_back_as_they_were(
    planner: PlannerProcess, qtbot: QtBot
) -> None:
    """The planner's plan is joined with your sheet, which keeps number, places and cuts."""
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 3, "1", 10 * INCH, 0)
    mine = doc.layout.sheets[0]
    with qtbot.waitSignal(planner.better, timeout=WAIT_MS) as heard:
        planner.plan(doc.project, SHORT)
    sawn = heard.args[0]
    assert sawn.project.layout.sheets[0] == mine
    assert not sawn.problems
    assert sawn.project.layout.waiting == ()


@pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")
def test_planner_that_dies_is_started_again(planner: PlannerProcess, qtbot: QtBot) -> None:
    """Killed in the middle of a run, it says so in one sentence, and the next run works."""
    with qtbot.waitSignal(planner.better, timeout=WAIT_MS):
        planner.plan(long_project(), LONG)
    old = planner.pid
    assert old is not None
    with (
        qtbot.waitSignal(planner.ready, timeout=WAIT_MS),
        qtbot.waitSignal(planner.failed, timeout=WAIT_MS) as heard,
    ):
        os.kill(old, signal.SIGKILL)
    assert heard.args == [DIED]
    assert planner.pid != old
    with qtbot.waitSignal(planner.better, timeout=WAIT_MS):
        planner.plan(Project(job=small_job()), SHORT)


def test_planner_that_cannot_start_is_given_up(qtbot: QtBot) -> None:
    """A program that is not there is tried a few times, said once, and nothing hangs."""
    planner = PlannerProcess(command=("no-such-program-anywhere",))
    with qtbot.waitSignal(planner.failed, timeout=WAIT_MS) as heard:
        planner.plan(Project(job=small_job()), SHORT)
    assert heard.args == [DIED]
    planner.close()


def test_close_ends_process_and_threads(planner: PlannerProcess, qtbot: QtBot) -> None:
    """After a close in mid-run no thread of the planner is left."""
    planner.plan(long_project(), LONG)
    planner.close()
    left = [thread.name for thread in threading.enumerate() if "planner" in thread.name]
    assert left == []


def test_one_core_is_left_to_the_window() -> None:
    """The planner may use all cores but one, and always at least one."""
    cores = os.cpu_count() or 1
    assert spare_workers() == max(1, cores - 1)


def test_new_name_during_a_run_does_not_end_it(planner: PlannerProcess, qtbot: QtBot) -> None:
    """A part renamed while the planner works keeps its new name when the plan is adopted."""
    doc = Document(long_project())
    planning = Planning(doc, planner, limits=LONG)
    planning.start()
    qtbot.waitUntil(lambda: doc.plan is not None, timeout=WAIT_MS)
    edit_parts.edit_part(doc, replace(doc.job.part("side"), name="Case side"))
    assert planning.running
    planning.stop()
    qtbot.waitUntil(lambda: not planning.running, timeout=WAIT_MS)
    assert doc.job.part("side").name == "Case side"
    assert doc.plan is not None
    assert doc.plan.parts[0].name == "Case side"

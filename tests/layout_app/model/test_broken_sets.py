"""A match group whose figure breaks though it need not: it is said, and planned whole.

What is right is counted here by hand: eight fronts of 14 by 5 in two rows of four make one block
of 56 3/8 by 10 1/8 with a kerf of 1/8 between them, and that goes onto one sheet of 96 by 48
with room for the sides beside it. `shared.saw` looks at the figure by itself.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytestqt.qtbot import QtBot

from layout_app.cli.main import main
from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.model.broken_sets import breaks, broken_sets
from layout_app.model.carry_over import with_waiting
from layout_app.model.project import Project
from layout_app.model.rank import worth
from layout_app.model.sawing import saw
from layout_app.model.words.choice_words import saved
from layout_app.panels.issues import BROKEN, all_issues
from layout_app.panels.part_card import grid_of
from layout_app.planner import aside
from layout_app.planner.aside import STANDS
from layout_app.store.project_file import save_project
from layout_app.window.main_window import MainWindow
from shared.cuts.matching import matched_sets
from shared.job import Job, MatchGroup
from shared.layout import Layout, sheets_of
from shared.plan import Plan
from shared.saw import verify
from solver.budget.stop import Budget
from tests.layout_app.adopting import adopt
from tests.layout_app.closing import close
from tests.layout_app.small_job import part, planned, small_job

WAIT_MS = 30_000


def loose_job(copies: int = 8) -> Job:
    """Return two sides and fronts that belong to no group."""
    small = small_job()
    front = part("front", "Front", (14, 5), copies)
    return replace(small, parts=(replace(small.parts[0], copies=2), front))


def matched(job: Job, columns: int = 4) -> Job:
    """Return the job with its fronts as a match group of so many in a row."""
    fronts = tuple(replace(one, group="fronts") if one.id == "front" else one for one in job.parts)
    return replace(job, parts=fronts, groups=(MatchGroup(name="fronts", columns=columns),))


def broken(*, by_hand: bool = False, job: Job | None = None) -> Project:
    """Return the fronts as they lay before they were matched, six in a strip and two below."""
    loose = job or loose_job()
    sheet, *more = sheets_of(planned(loose))
    assert not more
    made = matched(loose)
    layout = with_waiting(made, (replace(sheet, yours=by_hand),), Layout())
    project = Project(job=made, layout=layout)
    plan = saw(project).plan
    assert plan is not None
    assert len(plan.matches[0].blocks) > 1
    return project


def with_two_sheets() -> Project:
    """Return the fronts laid out by hand and broken, and a planned sheet with six more sides."""
    project = broken(by_hand=True)
    more = replace(small_job(), parts=(replace(small_job().parts[0], id="more", copies=6),))
    (full,) = sheets_of(planned(more))
    job = replace(project.job, parts=(*project.job.parts, *more.parts))
    sheets = (*project.layout.sheets, replace(full, id="2"))
    return replace(project, job=job, layout=with_waiting(job, sheets, Layout()))


def plan_of(project: Project) -> Plan:
    """Return the plan of a layout that can be cut."""
    sawn = saw(project)
    assert sawn.plan is not None
    assert not sawn.problems
    return sawn.plan


def test_a_whole_figure_is_worth_more_than_minutes_and_less_than_a_sheet() -> None:
    """Of plans that buy as much the one with the fewest blocks is the best."""
    project = broken()
    apart, whole = plan_of(project), planned(project.job)
    assert verify(whole) == ()
    assert [len(one.blocks) for one in whole.matches] == [1]
    assert [(one.told.name, one.fewest) for one in broken_sets(project.job, apart)] == [
        ("fronts", 1)
    ]
    assert breaks(project.job, whole) == 0
    assert worth(project.job, whole) < worth(project.job, apart)
    slow = worth(project.job, whole)._replace(seconds=10**6, best_offcut=0)
    assert slow < worth(project.job, apart)
    dear = slow._replace(sheets=slow.sheets + 1)
    assert worth(project.job, apart) < dear


@settings(max_examples=12, deadline=None)
@given(rows=st.integers(1, 3), columns=st.integers(2, 4))
def test_a_plan_of_the_planner_breaks_no_figure_that_fits(rows: int, columns: int) -> None:
    """A grid of up to 56 3/8 by 15 1/4 fits a sheet whole, and so it lies."""
    job = matched(loose_job(rows * columns), columns)
    plan = planned(job)
    assert not plan.unplaced
    assert breaks(job, plan) == 0


@pytest.mark.parametrize(("copies", "columns"), [(24, 8), (40, 10), (56, 7), (24, 2)])
def test_a_figure_that_has_to_break_is_no_fault_of_the_plan(copies: int, columns: int) -> None:
    """Eight fronts beside each other take 112 7/8, ten 141 1/8, seven 98 3/4: more than 96.

    Twelve above each other take 61 3/8, more than 48. Half of each goes onto one sheet.
    """
    job = matched(loose_job(copies), columns)
    plan = planned(job)
    assert not plan.unplaced
    assert [len(told.blocks) for told in plan.matches] == [2]
    assert broken_sets(job, plan) == ()


def test_what_lies_nowhere_or_stays_as_it_lies_breaks_nothing_needlessly() -> None:
    """Without its third column the grid is two blocks; those of a begun sheet lie as they lie."""
    project = broken()
    whole = planned(project.job)
    gone = {("front", 3), ("front", 7)}
    lying = [one for one in whole.placements if one.key not in gone]
    parted = replace(whole, matches=matched_sets(project.job, lying))
    assert [len(block.copies) for block in parted.matches[0].blocks] == [4, 2]
    assert breaks(project.job, parted) == 0
    apart = plan_of(project)
    stays = replace(apart, sheets=tuple(replace(one, stays=True) for one in apart.sheets))
    assert breaks(project.job, apart) > 0
    assert breaks(project.job, stays) == 0


def test_the_list_and_the_card_say_that_the_figure_breaks() -> None:
    """Neither says that eight fronts in several blocks are one block."""
    project = broken()
    doc = Document(project)
    blocks = len(plan_of(project).matches[0].blocks)
    (issue,) = (one for one in all_issues(doc) if one.code == BROKEN)
    assert (issue.subject, issue.field) == ("front", "group")
    assert f"8 parts lie in {blocks} blocks on sheet 1." in issue.sentence
    assert grid_of(doc.job, "fronts", doc.plan)[1:] == [
        ("grid", "2 rows of 4"),
        ("lies in", f"{blocks} blocks: the figure breaks"),
        ("could lie in 1 block", "L 56 3/8 × W 10 1/8"),
    ]
    adopt(doc, planned(doc.job))
    assert not [one for one in all_issues(doc) if one.code == BROKEN]
    assert grid_of(doc.job, "fronts", doc.plan)[2] == ("1 block", "L 56 3/8 × W 10 1/8")


def test_what_is_offered_names_the_figure() -> None:
    """And one that breaks, the other way round."""
    project = broken()
    apart, whole = plan_of(project), planned(project.job)
    assert "the figure of fronts runs on" in saved(project.job, whole, apart)
    assert "the figure of fronts breaks" in saved(project.job, apart, whole)


def test_the_command_plans_the_figure_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A layout of the planner's that breaks it is replaced."""
    path = tmp_path / "case.ripfirst.json"
    save_project(path, broken())
    assert main(["plan", str(path), "--out", str(tmp_path / "out"), "--work", "50"]) == 0
    assert "the figure breaks" not in capsys.readouterr().out
    assert main(["check", str(tmp_path / "out" / "plan.json")]) == 0
    assert "the figure runs on across 8 parts" in capsys.readouterr().out


def test_the_command_says_that_a_figure_laid_by_hand_breaks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet laid out by hand stays."""
    path = tmp_path / "case.ripfirst.json"
    project = broken(by_hand=True)
    save_project(path, project)
    assert main(["plan", str(path), "--out", str(tmp_path / "out"), "--work", "50"]) == 0
    blocks = len(plan_of(project).matches[0].blocks)
    said = f"Note: Matched set fronts: the figure breaks, 8 parts lie in {blocks} blocks on sheet 1"
    assert said in capsys.readouterr().out


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return an empty window that plans only for a moment."""
    made = MainWindow(Document(), limits=Budget(time_s=5.0, patience_s=0.5, workers=1))
    qtbot.addWidget(made)
    made.show()
    yield made
    close(made)


def is_whole(window: MainWindow) -> bool:
    """Say whether the fronts lie in one block."""
    plan = window.document.plan
    return plan is not None and [len(one.blocks) for one in plan.matches] == [1]


def test_a_group_that_is_typed_later_is_planned_whole(window: MainWindow, qtbot: QtBot) -> None:
    """The fronts were planned one by one; then they get a group, and four in a row."""
    loose = loose_job()
    window.document.open(Project(job=loose), None)
    adopt(window.document, planned(loose))
    edit_parts.edit_part(window.document, replace(loose.part("front"), group="fronts"))
    edit_parts.set_columns(window.document, "fronts", 4)
    qtbot.waitUntil(lambda: is_whole(window), timeout=WAIT_MS)
    assert window.document.undo_stack.index() == 2
    qtbot.waitUntil(lambda: not window.planning.at_work, timeout=WAIT_MS)


def test_a_broken_layout_of_the_planners_is_planned_whole_when_asked(
    window: MainWindow, qtbot: QtBot
) -> None:
    """It was saved like that by an earlier version, and Plan mends it."""
    window.document.open(broken(), None)
    assert not is_whole(window)
    window.menus.actions["bench.plan"].trigger()
    qtbot.waitUntil(lambda: is_whole(window), timeout=WAIT_MS)
    qtbot.waitUntil(lambda: not window.planning.at_work, timeout=WAIT_MS)


@pytest.fixture
def hasty(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a better plan be looked for no longer than so small a job needs."""
    monkeypatch.setattr(aside, "OFFER", Budget(time_s=1.0, workers=1))


@pytest.mark.usefixtures("hasty")
def test_a_layout_by_hand_stays_and_the_whole_figure_is_offered(
    window: MainWindow, qtbot: QtBot
) -> None:
    """That the plan stands is not said beside the offer, nor before it comes."""
    said: list[str] = []
    window.document.said.connect(said.append)
    window.document.open(with_two_sheets(), None)
    window.menus.actions["bench.plan"].trigger()
    qtbot.waitUntil(lambda: bool(window.offers.offering.sentence), timeout=WAIT_MS)
    assert "the figure of fronts runs on" in window.offers.offering.sentence
    assert not is_whole(window)
    assert STANDS not in said
    assert window.offers.offering.take()
    assert is_whole(window)


@pytest.mark.usefixtures("hasty")
def test_a_layout_by_hand_that_nothing_beats_is_said_to_stand(
    window: MainWindow, qtbot: QtBot
) -> None:
    """The answer comes once it is known that no offer does.

    Twelve sides of 40 by 12 are larger than one sheet of 96 by 48, so two sheets are the fewest.
    """
    said: list[str] = []
    window.document.said.connect(said.append)
    job = replace(small_job(), parts=(part("side", "Side", (40, 12), 12),))
    first, *others = sheets_of(planned(job))
    assert len(others) == 1
    layout = with_waiting(job, (replace(first, yours=True), *others), Layout())
    window.document.open(Project(job=job, layout=layout), None)
    window.menus.actions["bench.plan"].trigger()
    qtbot.waitUntil(lambda: STANDS in said, timeout=WAIT_MS)
    assert not window.offers.offering.sentence
    qtbot.waitUntil(lambda: not window.offers.offering.pending, timeout=WAIT_MS)
    assert not window.offers.offering.sentence
    assert said.count(STANDS) == 1

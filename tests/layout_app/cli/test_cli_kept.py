"""What ``ripfirst plan`` keeps of a file: layout by hand, locks, ticks, order, parts set aside."""

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.cli.main import main
from layout_app.model.project import Project
from layout_app.model.sawing import saw, tree_of
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.layout import CutBefore, Hold, Layout, LayoutSheet, Scope, Waiting
from shared.lengths import INCH
from shared.plan import Placement, Plan
from shared.saw import verify
from tests.layout_app.small_job import small_job

SIDES = [(0, 0), (50, 0)]
"""Where two of the four sides lie on the sheet laid out by hand, in inches; no plan lies so."""


def project(*, yours: bool = True, holds: Sequence[Hold] = (), sent: int = 0) -> Project:
    """Return the small job with two sides laid on a sheet; so many shelves are set aside."""
    job = small_job()
    lying = tuple(
        Placement(
            part="side",
            copy=copy,
            sheet="1",
            x=x * INCH,
            y=y * INCH,
            length=40 * INCH,
            width=12 * INCH,
            turned=False,
        )
        for copy, (x, y) in enumerate(SIDES, 1)
    )
    tree = tree_of(job, job.stock[0], lying)
    sheet = LayoutSheet(id="1", stock="full", placements=lying, tree=tree, yours=yours)
    aside = tuple(Waiting(part="shelf", copy=copy, sent=True) for copy in range(1, sent + 1))
    layout = Layout(sheets=(sheet,), holds=tuple(holds), waiting=aside)
    return saw(Project(job=job, layout=layout)).project


def planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], made: Project, *more: str
) -> tuple[int, Plan, str]:
    """Plan a project for no time beyond the first plan; return code, plan and what was said."""
    path, out = tmp_path / "trial.ripfirst.json", tmp_path / "out"
    save_project(path, made)
    words = ["plan", str(path), "--out", str(out), "--time-limit", "0", "--workers", "1"]
    code = main([*words, "--format", "json", *more])
    plan = read_plan(out / "plan.json")
    assert verify(plan) == ()
    return code, plan, capsys.readouterr().out


def sides(plan: Plan) -> list[tuple[int, int]]:
    """Return where the first two sides lie, in inches."""
    found = {one.copy: one for one in plan.placements if one.part == "side" and one.sheet == "1"}
    return [(found[n].x // INCH, found[n].y // INCH) for n in (1, 2) if n in found]


def test_a_layout_by_hand_stays_and_the_rest_is_planned_around_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The two sides lie as they were laid, all other parts are planned, and it is said."""
    code, plan, said = planned(tmp_path, capsys, project())
    assert code == 0
    assert sides(plan) == SIDES
    assert len(plan.placements) == 7
    assert "Kept: 1 sheet laid out by hand." in said


def test_anew_drops_layout_locks_and_what_is_set_aside(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Seven parts fit one sheet, so that is what is planned, and nothing is said to be kept."""
    made = project(sent=1)
    lock = Hold(scope=Scope.SHEET, sheet="1", lies=made.layout.sheets[0].placements[0])
    made = replace(made, layout=replace(made.layout, holds=(lock,)))
    code, plan, said = planned(tmp_path, capsys, made, "--anew")
    assert code == 0
    assert len(plan.sheets) == 1
    assert len(plan.placements) == 7
    assert sides(plan) != SIDES
    assert "Kept" not in said


def test_a_lock_stays(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A locked part of a sheet that was planned lies where it lay."""
    made = project(yours=False)
    lies = made.layout.sheets[0].placements[1]
    lock = Hold(scope=Scope.PART, sheet="1", part="side", copy=2, lies=lies)
    made = replace(made, layout=replace(made.layout, holds=(lock,)))
    code, plan, said = planned(tmp_path, capsys, made)
    assert code == 0
    assert sides(plan)[1] == SIDES[1]
    assert "Kept: 1 lock." in said


@pytest.mark.parametrize("more", [(), ("--anew",)])
def test_ticked_cuts_stand_whatever_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: tuple[str, ...]
) -> None:
    """The sheet with two ticked cuts stays as it lies, and they keep their numbers."""
    made = project(yours=False)
    before = saw(made).plan
    assert before is not None
    made = replace(made, progress=made.progress.with_ticks(before, [1, 2]))
    code, plan, said = planned(tmp_path, capsys, made, *more)
    assert code == 0
    assert plan.cuts[:2] == before.cuts[:2]
    assert sides(plan) == SIDES
    assert "Kept: 2 ticked cuts." in said


def test_a_hand_set_order_stays(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A cut that was moved before another one comes before it; anew it is as planned."""
    made = project()
    free = planned(tmp_path, capsys, made)[1].cuts
    first = free[0].key
    late = next(cut.key for cut in free if cut.sheet != free[0].sheet)
    wished = replace(made, layout=replace(made.layout, before=(CutBefore(first=late, then=first),)))
    _, plan, said = planned(tmp_path, capsys, wished, "--replace")
    again = [cut.key for cut in plan.cuts]
    assert again.index(late) < again.index(first)
    assert "1 change to the cut order" in said


def test_parts_set_aside_are_not_planned_and_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the maker set aside is not placed, which is exit code 1."""
    code, plan, said = planned(tmp_path, capsys, project(sent=2))
    assert code == 1
    assert [(one.part, one.copies) for one in plan.unplaced] == [("shelf", 2)]
    assert "2 × Shelf: set aside" in said
    assert "2 parts set aside." in said


def test_a_sheet_by_hand_that_cannot_be_cut_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The rest is planned and written; which sheet cannot be cut and why is said."""
    made = project()
    sheet = made.layout.sheets[0]
    one, other = sheet.placements
    over = replace(sheet, placements=(one, replace(other, x=20 * INCH)), tree=None)
    code, plan, said = planned(
        tmp_path, capsys, replace(made, layout=replace(made.layout, sheets=(over,)))
    )
    assert code == 1
    assert len(plan.placements) == 5
    assert "Can't be cut yet:\n  Sheet 1: " in said
    assert "sheet 1 can't be cut yet" in said
    figures = said.split("Can't be cut yet:", maxsplit=1)[0]
    assert re.findall(r"\S+ \d+ min\b|\d+\.\d\d\b", figures) == ["104.00", "least 11 min"]
    assert not re.search(r"price|cost|Not placed|--choice", figures)


def test_a_plan_of_the_file_stays_where_planning_finds_none_that_is_better(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Planned again for no time, the plan found with more work is not thrown away."""
    made = project(yours=False)
    code, first, _ = planned(tmp_path, capsys, made)
    assert code == 0
    save_again = planned(tmp_path, capsys, made, "--replace")[1]
    assert save_again == first


def test_nothing_is_advised_while_a_sheet_cannot_be_cut(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What a sheet by hand costs is not known to a plan of the others: it is said instead."""
    made = project()
    one, other = made.layout.sheets[0].placements
    over = replace(made.layout.sheets[0], placements=(one, replace(other, x=20 * INCH)), tree=None)
    path = tmp_path / "a.ripfirst.json"
    save_project(path, replace(made, layout=replace(made.layout, sheets=(over,))))
    assert main(["advise", str(path), "--time-limit", "1"]) == 2
    said = capsys.readouterr()
    assert "sheet 1 can't be cut yet" in said.err
    assert said.out == ""

"""A reader's variant: other sheets, thickness and kerf, nothing of the maker's own lying about."""

from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.cli.main import main
from layout_app.model.project import Project
from layout_app.model.variant import LEAST_TRIM, Variant, varied
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import read_project
from shared.building import Build, Hardware
from shared.check import check_job
from shared.lengths import MM, Unit
from shared.practice import running_on
from shared.saw import verify
from shared.shop import RunsOn
from shared.stock import NoGo, Trims
from tests.layout_app.small_job import small_job
from tests.layout_app.store.test_store import PART, project, written

READER = Variant(
    length=2440 * MM, width=1220 * MM, thickness=18 * MM, kerf=22 * MM // 10, unit=Unit.MM
)
"""A metric sheet and saw, as in the values of workshop practice: 1220 x 2440, 18 and 2.2 mm."""


def test_sheets_thickness_and_kerf_are_the_readers() -> None:
    """Parts, steps and hardware stay; sizes are written in millimetres."""
    build = Build(hardware=(Hardware(name="foot"),))
    made = varied(Project(job=small_job(), build=build), READER)
    sizes = {(row.length, row.width, row.thickness) for row in made.job.stock}
    assert sizes == {(2440 * MM, 1220 * MM, 18 * MM)}
    assert made.job.shop.kerf == 22 * MM // 10
    assert made.job.style.unit is Unit.MM
    assert made.job.parts == small_job().parts
    assert made.build == build


def test_the_makers_own_stock_is_left_out() -> None:
    """Offcuts and bad places are; a trim that makes an edge is never less than kerf and 2 mm."""
    job = small_job()
    knot = NoGo(x=0, y=0, length=MM, width=MM)
    thin = Trims(near=3 * MM, start=3 * MM)
    row = replace(job.stock[0], at_hand=None, no_go=(knot,), trims=thin)
    offcut = replace(row, id="offcut", at_hand=1)
    made = varied(Project(job=replace(job, stock=(row, offcut))), READER)
    (left,) = made.job.stock
    assert left.id == row.id
    assert left.no_go == ()
    assert left.trims.near == left.trims.start == READER.kerf + LEAST_TRIM
    (bought,) = varied(Project(job=replace(job, stock=(offcut,))), READER).job.stock
    assert bought.at_hand is None


def test_only_the_named_material_is_another() -> None:
    """Of other materials a reader has the sheets of the plan."""
    job = small_job()
    other = replace(job.stock[0], id="x", material="other ply")
    made = varied(
        Project(job=replace(job, stock=(*job.stock, other))), replace(READER, material="other ply")
    )
    by_id = {row.id: row for row in made.job.stock}
    assert by_id["x"].length == 2440 * MM
    assert by_id[job.stock[0].id].length == job.stock[0].length


def test_the_readers_blade_is_in_the_makers_base() -> None:
    """Without a rail the nearer faces stay, the farther are one kerf of the reader's away."""
    shop = running_on(small_job().shop, RunsOn.STRAIGHTEDGE, Unit.MM)
    made = varied(Project(job=replace(small_job(), shop=shop)), READER).job
    assert shop.base is not None
    assert made.shop.base == replace(
        shop.base,
        left_far=shop.base.left_near + 22 * MM // 10,
        right_far=shop.base.right_near + 22 * MM // 10,
    )
    assert not [one for one in check_job(made) if one.code == "shop-base-kerf"]
    assert varied(Project(job=replace(small_job(), shop=shop)), Variant()).job.shop == shop


def test_the_command_plans_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The plan passes the simulated saw with the reader's kerf and lies beside the project."""
    path = written(tmp_path, project(parts=[PART | {"copies": 4}]))
    out = tmp_path / "out"
    words = ["variant", str(path), "--out", str(out), "--time-limit", "0", "--workers", "1"]
    words += ["--sheet-length", "2440 mm", "--sheet-width", "1220 mm", "--kerf", "2.2 mm"]
    assert main([*words, "--format", "json"]) == 0
    plan = read_plan(out / "plan.json")
    assert verify(plan) == ()
    assert {cut.kerf for cut in plan.cuts} == {22 * MM // 10}
    assert read_project(out / "variant.ripfirst.json").job.shop.kerf == 22 * MM // 10
    assert "work out anew" in capsys.readouterr().out


@pytest.mark.parametrize(
    "more", [[], ["--kerf", "wide"], ["--kerf", "0"], ["--kerf", "3 mm", "--material", "oak"]]
)
def test_what_cannot_be_varied_is_said_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: list[str]
) -> None:
    """Exit code 2, nothing written."""
    path = written(tmp_path, project(parts=[PART]))
    assert main(["variant", str(path), "--out", str(tmp_path / "out"), *more]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert not (tmp_path / "out").exists()

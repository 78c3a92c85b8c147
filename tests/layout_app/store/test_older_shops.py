"""Shops in files from before rails were counted, and before their width was asked for."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import msgspec
import pytest

from layout_app.model.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import plan_text, read_plan
from layout_app.store.project_file import project_text, read_project
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.plan import Plan
from shared.practice import USUAL_SHOP, USUAL_SHOP_IN, USUAL_TABLE, running_on, usual
from shared.shop import CutRule, Rail, RunsOn, Shop, Support

LATER = (
    *("runs_on", "base", "aside", "rail_width", "rail_side", "splinter_guard"),
    *("stop", "square", "support", "turn_g"),
    *("metre_s", "measure_s", "rail_s", "join_s", "lift_s", "turn_s", "heavy_s"),
)
CUT_S = 60
"""What a cut of any length took by common practice then."""


def as_before(shop: Shop, rails: list[dict[str, int]], cut_s: int = CUT_S) -> dict[str, Any]:
    """Return the raw fields of a shop as they were written before."""
    raw = {name: value for name, value in msgspec.to_builtins(shop).items() if name not in LATER}
    if raw["table"] is not None:
        for name in ("longest", "widest", "heaviest_g"):
            del raw["table"][name]
    return {**raw, "cut_s": cut_s, "rails": rails}


def read(folder: Path, shop: object, unit: Unit = Unit.MM) -> Shop:
    """Return the shop of a project file that holds these raw fields."""
    raw = json.loads(project_text(Project(job=Job(style=LengthStyle(unit=unit)))))
    raw["job"]["shop"] = shop
    path = folder / "old.ripfirst.json"
    path.write_text(json.dumps(raw))
    return read_project(path).job.shop


@pytest.mark.parametrize("unit", Unit)
def test_what_was_not_asked_is_common_practice(tmp_path: Path, unit: Unit) -> None:
    """Width of the rail, stop, square and what is turned alone; sawhorses; one rail of each."""
    rails = [{"length": rail.length, "joined": 1} for rail in USUAL_SHOP.rails]
    shop = read(tmp_path, as_before(usual(unit), rails), unit)
    assert shop == usual(unit)
    assert (shop.support, shop.runs_on) == (Support.HORSES, RunsOn.RAIL)


def test_seconds_of_ones_own_for_a_cut_are_for_any_length(tmp_path: Path) -> None:
    """What common practice said is told apart now; what the maker said is left alone."""
    raw = as_before(USUAL_SHOP, [], cut_s=90)
    raw["setup_s"], raw["unguided_s"], raw["skim_s"] = 75, 100, 30
    shop = read(tmp_path, raw)
    assert (shop.cut_s, shop.metre_s) == (90, 0)
    assert (shop.setup_s, shop.unguided_s, shop.skim_s) == (75, 100, 30)
    assert (shop.measure_s, shop.rail_s, shop.join_s) == (20, 20, 120)
    assert (shop.lift_s, shop.turn_s, shop.heavy_s) == (20, 15, 60)


def test_seconds_that_were_common_practice_are_told_apart(tmp_path: Path) -> None:
    """60 s for any cut were those of a cut of 1 m: 45 s, and 15 s for its metre."""
    shop = read(tmp_path, as_before(USUAL_SHOP, []))
    assert (shop.cut_s, shop.metre_s) == (45, 15)
    assert shop.cut_s + shop.metre_s == CUT_S


def test_figures_of_today_are_left_alone(tmp_path: Path) -> None:
    """60 s for a cut and 0 for its metres, where a file says both, are what it says."""
    raw = msgspec.to_builtins(replace(USUAL_SHOP, cut_s=60, metre_s=0, lift_s=0))
    shop = read(tmp_path, raw)
    assert (shop.cut_s, shop.metre_s, shop.lift_s) == (60, 0, 0)


def test_no_run_goes_to_the_table_saw_by_itself(tmp_path: Path) -> None:
    """No largest piece was given for it, and none is taken: a saved plan stays what it was."""
    raw = as_before(replace(USUAL_SHOP, table=USUAL_TABLE), [])
    table = read(tmp_path, raw).table
    assert table is not None
    assert (table.longest, table.widest, table.heaviest_g) == (0, 0, 0)


def test_what_sets_no_limit_still_sets_none(tmp_path: Path) -> None:
    """What a file says is no matter is not replaced by a figure."""
    raw = msgspec.to_builtins(replace(USUAL_SHOP, stop=None, square=0, rail_width=0, turn_g=0))
    shop = read(tmp_path, raw)
    assert (shop.stop, shop.square, shop.rail_width, shop.turn_g) == (None, 0, 0, 0)


def test_rails_of_one_length_were_listed_twice(tmp_path: Path) -> None:
    """One of 1400 mm alone and two of them joined are two rails, of which both can be joined."""
    long, short = 1400 * MM, 800 * MM
    rails = [{"length": long, "joined": 1}, {"length": short}, {"length": long, "joined": 2}]
    assert read(tmp_path, as_before(USUAL_SHOP, rails)).rails == (
        Rail(length=long, joined=2, count=2),
        Rail(length=short),
    )


@pytest.mark.parametrize("rails", [[{"length": 1.5}], ["long"], [{"length": 1, "wide": 2}], 7])
def test_rails_that_are_none_are_refused_in_place(tmp_path: Path, rails: Any) -> None:
    """What is wrong with them is said of the place where it stands in the file."""
    with pytest.raises(FileProblem, match=r"job\.shop\.rails"):
        read(tmp_path, as_before(USUAL_SHOP, rails))


def test_a_saw_without_a_rail_comes_back(tmp_path: Path) -> None:
    """Base, straightedges and the gear put aside are in the file, lengths in ticks or as text."""
    shop = running_on(USUAL_SHOP_IN, RunsOn.STRAIGHTEDGE, Unit.INCH)
    raw = msgspec.to_builtins(shop)
    assert read(tmp_path, raw, Unit.INCH) == shop
    raw["base"]["left_near"], raw["aside"]["kerf"] = "1 1/2", "2.2 mm"
    assert read(tmp_path, raw, Unit.INCH) == shop


def test_a_plan_from_before_has_them_too(tmp_path: Path) -> None:
    """The shop that a plan names is read as that of a project."""
    raw = json.loads(plan_text(Plan(shop=USUAL_SHOP, rule=CutRule())))
    raw["shop"] = as_before(USUAL_SHOP, [])
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(raw))
    assert read_plan(path).shop == replace(USUAL_SHOP, rails=())
